package card

import (
	"fmt"
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"grainstack/app/paper"
	"grainstack/slicing/mend"
)

// eachKind is how many findings of a kind are written out; the others are reached one after another.
const eachKind = 3

// places are the findings of the survey: a click on one takes the view there.
type places struct {
	bench Bench
	of    *mend.Findings
	scale float64
	shown []*paper.Pointer
	at    []int // numbers of the shown in the survey's list, from 1
	box   *fyne.Container
}

func (p *places) on(b Bench) *places {
	p.bench, p.box = b, container.NewVBox()
	p.box.Hide()
	return p
}

func (p *places) object() fyne.CanvasObject            { return p.box }
func (p *places) places() map[string]fyne.CanvasObject { return byText(p.shown) }

func (p *places) show(s State) {
	if s.Mend.Survey != p.of {
		p.of, p.scale = s.Mend.Survey, s.Settings.Scale
		p.fill()
	}
	for i, one := range p.shown {
		if p.scale != s.Settings.Scale {
			one.Say(p.of.List[p.at[i]-1].Sentence(s.Settings.Scale))
		}
		one.Here(p.at[i] == s.Mend.Finding)
	}
	p.scale = s.Settings.Scale
}

// fill writes the first findings of each kind out.
func (p *places) fill() {
	p.box.RemoveAll()
	p.shown, p.at = nil, nil
	if p.of == nil || len(p.of.List) == 0 {
		p.box.Hide()
		return
	}
	written := map[mend.Kind]int{}
	for i, f := range p.of.List {
		n := written[f.Kind]
		written[f.Kind]++
		if n == eachKind {
			p.box.Add(p.more(p.of.Counts[f.Kind] - eachKind))
		}
		if n >= eachKind {
			continue
		}
		one := paper.NewPointer(f.Sentence(p.scale), func() { p.bench.Go(i + 1) })
		p.shown, p.at = append(p.shown, one), append(p.at, i+1)
		p.box.Add(one)
	}
	p.box.Show()
}

// more says how many of a kind are not written out.
func (p *places) more(n int) fyne.CanvasObject {
	text := fmt.Sprintf("and %s smaller ones like it", Thousands(n))
	if n == 1 {
		text = "and a smaller one like it"
	}
	line := paper.Sentence(paper.Pencil)
	line.SetText(text)
	return line
}

// step is the finding so many further on than the one that the view is at.
func step(s State, by int) int {
	n := len(s.Mend.Survey.List)
	if s.Mend.Finding == 0 && by < 0 {
		return n
	}
	return (s.Mend.Finding-1+by+n)%n + 1
}

// walk are the buttons that go from finding to finding.
func walk(b Bench) *presses {
	on := func(s State) bool { return s.Mend.Survey != nil && len(s.Mend.Survey.List) > 0 }
	return (&presses{Each: []press{
		{Do: func(s State) { b.Go(step(s, -1)) }, Show: func(s State) (string, bool) {
			if !on(s) {
				return "", false
			}
			return "Place before", true
		}},
		{Do: func(s State) { b.Go(step(s, 1)) }, Show: func(s State) (string, bool) {
			switch {
			case !on(s):
				return "", false
			case s.Mend.Finding > 0:
				return fmt.Sprintf("Next · %d of %d", s.Mend.Finding, len(s.Mend.Survey.List)), true
			}
			return "Next place", true
		}},
	}}).on()
}

// kinds are the kinds of findings in running words, one and many.
var kinds = map[mend.Kind][2]string{
	mend.Hole: {"hole", "holes"}, mend.Debris: {"loose bit", "loose bits"},
	mend.InsideOut: {"shell inside out", "shells inside out"}, mend.Crowded: {"crowded edge", "crowded edges"},
	mend.FlippedArea: {"patch facing inwards", "patches facing inwards"}, mend.ZeroArea: {"facet without area", "facets without area"},
	mend.Spike: {"spike", "spikes"}, mend.Duplicate: {"doubled place", "doubled places"},
	mend.Crossing: {"place where it runs through itself", "places where it runs through itself"},
}

// counted says how many of each kind there are.
func counted(f *mend.Findings) []string {
	var all []string
	for k, n := range f.Counts {
		if n > 0 {
			all = append(all, number(n, kinds[mend.Kind(k)]))
		}
	}
	return slices.Clip(all)
}

func number(n int, words [2]string) string {
	if n == 1 {
		return "1 " + words[0]
	}
	return Thousands(n) + " " + words[1]
}
