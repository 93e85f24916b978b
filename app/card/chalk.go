package card

import (
	"fmt"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"grainstack/app/paper"
	"grainstack/app/session"
	"grainstack/slicing/chalk"
	"grainstack/slicing/job"
	"grainstack/slicing/phrase"
	"grainstack/slicing/unit"
)

// NewChalk is the card of what the maker marks on the piece with a brush.
func NewChalk(b Bench) *Card {
	c := newCard(0, "Chalk", chalkLine,
		newSticks(b),
		newMeasure(b, quantity{Name: "brush", Moves: "its radius on the piece", Range: job.Range{Kind: unit.Lengths, Step: 0.5, Least: 1, Most: 80, Low: 3, High: 30},
			Value: func(s State) float64 { return s.View.Brush.Radius },
			View:  func(_ State, v float64) { b.Look(func(view *session.View) { view.Brush.Radius = v }) }}),
		(&note{Ink: paper.Ink, Text: keptWords}).on(),
		clearing(b),
		(&presses{Each: []press{
			{Do: func(s State) { wipe(b, s.View.Brush.Kind) }, Show: func(s State) (string, bool) {
				k := s.View.Brush.Kind
				if k == chalk.Unmarked {
					return "Wipe one kind", false
				}
				return "Wipe “" + k.String() + "”", s.Settings.Chalk.Has(k)
			}},
			{Do: func(State) {
				b.Do("wipe all chalk", func(s job.Settings) job.Settings { s.Chalk = nil; return s })
				b.Rest()
			}, Show: func(s State) (string, bool) { return "Wipe all", !s.Settings.Chalk.Empty() }},
		}}).on(),
	)
	c.head.key.Say("F4")
	return c
}

func wipe(b Bench, k chalk.Kind) {
	b.Do("wipe "+k.String(), func(s job.Settings) job.Settings {
		s.Chalk = s.Chalk.Wiped(k)
		return s
	})
	b.Rest()
}

// clearing is the button that takes the first joint which goes through less of what shall stay whole; there is none where that is
// not so.
func clearing(b Bench) *presses {
	return (&presses{Each: []press{{
		Do: func(s State) {
			if at, ok := clearer(s); ok {
				b.Do("first joint", func(next job.Settings) job.Settings { return next.WithFirstJoint(at.At, s.Catalogue) })
				b.Rest()
			}
		},
		Show: func(s State) (string, bool) {
			at, ok := clearer(s)
			if !ok {
				return "", false
			}
			return "First joint " + unit.Length(at.At, s.View.Units) + " " + clears(at), true
		},
	}}}).on()
}

// clearer is the first joint that is offered.
func clearer(s State) (job.JointChoice, bool) {
	if s.Figures == nil || s.Stale || s.Figures.BetterJoint.Layers == 0 {
		return job.JointChoice{}, false
	}
	return s.Figures.BetterJoint, true
}

func clears(at job.JointChoice) string {
	if at.Crossings == 0 {
		return "clears it"
	}
	return "leaves " + jointWord(at.Crossings)
}

// mostTold is how many places are told of with their heights.
const mostTold = 4

// keptWords say what shall stay whole and whether it does.
func keptWords(s State) string {
	f := s.Figures
	switch {
	case s.Settings.Chalk.Empty():
		return "Nothing is marked."
	case f == nil || s.Stale || !f.Settled:
		return "What the marks come to is being worked out."
	case len(f.Kept) == 0:
		return "Nothing that shall stay whole is marked."
	}
	var each []string
	crossings := 0
	for i, k := range f.Kept {
		crossings += len(k.Crossings)
		if i >= mostTold {
			continue
		}
		text := fmt.Sprintf("%s to %s", strings.TrimSuffix(strings.TrimSuffix(unit.Length(k.Low, s.View.Units), " mm"), " in"), unit.Length(k.High, s.View.Units))
		if n := len(k.Crossings); n > 0 {
			text += " (" + joints(n) + ")"
		}
		each = append(each, text)
	}
	if len(f.Kept) > mostTold {
		each = append(each, "and more")
	}
	end := ""
	switch {
	case crossings == 0:
		end = " No joint goes through."
	case len(f.Kept) > 1:
		end = " " + joints(crossings) + " in all."
	}
	return "To stay whole: " + strings.Join(each, ", ") + "." + end
}

func joints(n int) string {
	if n == 1 {
		return jointWord(n) + " goes through"
	}
	return jointWord(n) + " go through"
}

func jointWord(n int) string {
	if n == 1 {
		return "1 joint"
	}
	return fmt.Sprintf("%d joints", n)
}

func chalkLine(s State) string {
	m := s.Settings.Chalk
	var parts []string
	for _, k := range []chalk.Kind{chalk.KeepWhole, chalk.SeenSide, chalk.DontCare} {
		if m.Has(k) {
			parts = append(parts, k.String())
		}
	}
	if len(parts) == 0 {
		return "nothing marked"
	}
	return strings.Join(parts, " · ")
}

// sticks are the sticks of chalk: a click takes one up, a click on the one in hand puts it down.
type sticks struct {
	kinds   []chalk.Kind
	buttons []*paper.Button
	now     State
	box     *fyne.Container
}

func newSticks(b Bench) *sticks {
	s := &sticks{kinds: []chalk.Kind{chalk.KeepWhole, chalk.SeenSide, chalk.DontCare, chalk.Unmarked}, box: container.NewGridWithColumns(2)}
	for _, k := range s.kinds {
		one := paper.NewButton(stickName(k), func() {
			brush := s.now.View.Brush
			if !brush.On || brush.Kind == k {
				b.Look(func(v *session.View) { v.Brush.Kind = k })
				b.Run("chalk")
				return
			}
			b.Look(func(v *session.View) { v.Brush.Kind = k })
		})
		s.buttons = append(s.buttons, one)
		s.box.Add(one)
	}
	return s
}

// stickName is a kind as a button says it.
func stickName(k chalk.Kind) string {
	name := k.String()
	return phrase.Capital(name)
}

func (k *sticks) object() fyne.CanvasObject            { return k.box }
func (k *sticks) places() map[string]fyne.CanvasObject { return byWords(k.buttons) }

func (k *sticks) show(s State) {
	k.now = s
	for i, one := range k.buttons {
		want := widget.MediumImportance
		if s.View.Brush.On && s.View.Brush.Kind == k.kinds[i] {
			want = widget.HighImportance
		}
		if one.Importance != want {
			one.Importance = want
			one.Refresh()
		}
	}
}
