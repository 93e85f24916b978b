package card

import (
	"fmt"
	"math"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"grainstack/app/paper"
	"grainstack/app/session"
	"grainstack/slicing/job"
	"grainstack/slicing/phrase"
	"grainstack/slicing/scans"
	"grainstack/slicing/unit"
)

// A Joiner changes which scans the piece is joined of. Scans are numbered from 0.
type Joiner struct {
	Remove func(scan int)
	Place  func(scan int) // by hand
	Cut    func(scan int)
	Blend  func(width float64) // of the seams, by the longest side
}

// NewScans is the card of the scans that the piece is joined of.
func NewScans(b Bench, j Joiner) *Card {
	c := newCard(0, "Scans", scansLine,
		(&note{Ink: paper.Pencil, Text: scansWords}).on(),
		newScanList(j),
		overs(b),
		(&apartScale{}).on(),
		seams(b, j),
		(&note{Ink: paper.Ink, Text: scansNotes}).on(),
		(&presses{Each: []press{{Do: func(State) { j.Cut(0) }, Show: func(s State) (string, bool) {
			if s.Piece == nil || s.Piece.File == "" || s.Piece.Joined != nil {
				return "", false // each scan of several has its own
			}
			return "Cut the scan", !s.Join.Busy
		}}}}).on(),
		(&presses{Each: []press{{Do: func(s State) {
			if s.Join.Busy {
				b.Run("cancel")
			} else {
				b.Run("add scan")
			}
		}, Show: func(s State) (string, bool) {
			if s.Join.Busy {
				return "Call joining off", true
			}
			return "Add a scan", s.Piece != nil && s.Piece.File != ""
		}}}}).on(),
	)
	c.head.key.Say("")
	return c
}

// joinedOf is what the piece is joined of, nil where it is of one file.
func joinedOf(s State) *scans.Joined {
	if s.Piece == nil {
		return nil
	}
	return s.Piece.Joined
}

func scansLine(s State) string {
	j := joinedOf(s)
	switch {
	case s.Join.Busy:
		return "being joined …"
	case j == nil && s.Piece == nil:
		return "none yet"
	case j == nil:
		return "one"
	case j.Plan.Alone():
		return "one, cut"
	}
	return phrase.Count(len(j.Set.Scans), "scan") + " joined · " + guessedWords(j)
}

// guessedWords say how much of the surface nobody saw.
func guessedWords(j *scans.Joined) string {
	switch share := 100 * j.Piece.UnseenArea() / j.Piece.Area; {
	case share == 0:
		return "all of the surface seen"
	case share < 0.1:
		return "less than 0.1 % of the surface guessed"
	default:
		return fmt.Sprintf("%.1f %% of the surface guessed", share)
	}
}

func scansWords(s State) string {
	switch j := joinedOf(s); {
	case s.Piece == nil:
		return ""
	case s.Join.Busy:
		return "The scans are being joined; until then the piece is as before."
	case s.Piece.File == "":
		return "The demo piece was made here. Open a scan of your own to join others with it, or drop several at once."
	case j != nil && j.Plan.Alone():
		return "The piece is what is used of one scan. Others of the same piece are brought together with it."
	case j == nil:
		return "The piece is of one scan. Others of the same piece, in whatever unit and turn, are brought together with it and joined to one surface."
	default:
		return phrase.Capital(guessedWords(j)) + ". The first scan gives the others their place and unit."
	}
}

// scansNotes are what has to be looked at before the piece is relied on.
func scansNotes(s State) string {
	if j := joinedOf(s); j != nil && !s.Join.Busy {
		return strings.Join(j.Set.Notes(), " ")
	}
	return ""
}

// scanLine says how a scan lies on the others, in the words of a workshop; bad is whether that needs a look.
func scanLine(s State, j *scans.Joined, i int) (text string, bad bool) {
	f := j.Set.Fits[i]
	if j.Plan.Alone() {
		return fmt.Sprintf("1 %s · %s of it away", phrase.Name(j.Set.Scans[i].Name), phrase.Count(len(j.Plan.Sources[i].Cuts), "cut")), false
	}
	text = fmt.Sprintf("%d %s · %s points · %.0f %% lies on others, %s apart in the middle", i+1, phrase.Name(j.Set.Scans[i].Name),
		Thousands(len(j.Set.Scans[i].Cloud.Points)), 100*f.Overlap, fine(f.Middle*s.Settings.Scale, s.View.Units))
	switch {
	case !f.Good():
		return text + " · fits badly", true
	case f.Unsure():
		return text + " · would lie elsewhere nearly as well", true
	case j.Set.Coarse(i):
		return text + " · too coarse to be sure", true
	}
	return text + " · fits well", false
}

// overs is the choice of what is laid over the wood of a joined piece.
func overs(b Bench) *choice {
	keys := map[string]session.Over{"wood": session.Bare, "tints": session.ScanTints, "apart": session.ApartTints}
	return (&choice{Name: "over it", Options: []option{{Key: "wood", Name: "nothing"}, {Key: "tints", Name: "the scans’ own colours"}, {Key: "apart", Name: "how far they lie apart"}},
		Value: func(s State) string {
			for k, o := range keys {
				if o == s.View.Over {
					return k
				}
			}
			return ""
		},
		View: func(_ State, key string) { b.Look(func(v *session.View) { v.Over = keys[key] }) }}).on(b)
}

// leastSeam and mostSeam are how wide seams most often are, by the longest side: the usual width, and a few times less or more.
const leastSeam, mostSeam = scans.UsualBlend / 4, scans.UsualBlend * 2.5

// seams is the measure of how wide the seams between scans are blended.
func seams(b Bench, j Joiner) *measure {
	long := func(s State) float64 { // mm for a width of 1
		if of := joinedOf(s); of != nil {
			return of.Set.Size * s.Settings.Scale
		}
		return 1
	}
	return newMeasure(b, quantity{Name: "seams", Moves: "the width over which scans are blended", Means: "where one scan passes into the next their surfaces are mixed over this width: a wide seam hides a step, a narrow one keeps what either saw",
		Range:  job.Range{Kind: unit.Lengths, Log: true, From: 1e-6, To: 1e6, Low: leastSeam, High: mostSeam},
		Spans:  func(s State) (low, high float64) { return leastSeam * long(s), mostSeam * long(s) },
		Limits: func(s State) (least, most float64) { return 1e-4 * long(s), scans.MostBlend * long(s) },
		Value:  func(s State) float64 { return s.Join.Blend * long(s) },
		View:   func(s State, mm float64) { j.Blend(math.Min(scans.MostBlend, mm/long(s))) },
		Hidden: func(s State) bool { return joinedOf(s) == nil || joinedOf(s).Plan.Alone() }})
}

// A scanList is the scans one under another, each with what can be done with it.
type scanList struct {
	does  Joiner
	of    *scans.Joined
	said  []*widget.Label
	press []*paper.Button // by what is written on them and the number of the scan, as Places has them
	box   *fyne.Container
}

func newScanList(j Joiner) *scanList {
	l := &scanList{does: j, box: container.NewVBox()}
	l.box.Hide()
	return l
}

func (l *scanList) object() fyne.CanvasObject { return l.box }

func (l *scanList) show(s State) {
	if j := joinedOf(s); j != l.of {
		l.of = j
		l.fill()
	}
	for i, one := range l.said {
		text, bad := scanLine(s, l.of, i)
		ink := widget.MediumImportance
		if bad {
			ink = widget.DangerImportance
		}
		if one.Text != text || one.Importance != ink {
			one.Importance = ink
			one.SetText(text)
		}
	}
}

// fill makes the lines anew.
func (l *scanList) fill() {
	l.box.RemoveAll()
	l.said, l.press = nil, nil
	if l.of == nil {
		l.box.Hide()
		return
	}
	for i := range l.of.Set.Scans {
		line := paper.Sentence(paper.Ink)
		l.said = append(l.said, line)
		l.box.Add(line)
		cut := paper.NewButton(fmt.Sprintf("Cut %d", i+1), func() { l.does.Cut(i) })
		l.press = append(l.press, cut)
		if i == 0 {
			l.box.Add(container.NewGridWithColumns(3, cut))
		} else {
			place := paper.NewButton(fmt.Sprintf("Match %d", i+1), func() { l.does.Place(i) })
			drop := paper.NewButton(fmt.Sprintf("Remove %d", i+1), func() { l.does.Remove(i) })
			l.press = append(l.press, place, drop)
			l.box.Add(container.NewGridWithColumns(3, cut, place, drop))
		}
	}
	l.box.Show()
}

// places are the buttons of the scans, by what is written on them.
func (l *scanList) places() map[string]fyne.CanvasObject { return byWords(l.press) }
