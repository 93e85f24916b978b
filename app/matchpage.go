package app

import (
	"fmt"
	"path/filepath"
	"strconv"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/widget"

	"grainstack/app/paper"
	"grainstack/app/state"
	"grainstack/app/work"
	"grainstack/slicing/phrase"
	"grainstack/slicing/register"
	"grainstack/slicing/scans"
)

// A matchPage is where two scans lie side by side and the maker picks places that they have in common.
type matchPage struct {
	j      *joiner
	plan   *scans.Plan
	which  [2]int // the scans of the plan, the one to be placed last
	sides  [2]*scanSide
	said   *widget.Label
	take   *paper.Button
	back   *paper.Button
	done   func(*scans.Plan)
	dialog *dialog.CustomDialog
}

// match opens the page for a scan of a plan, by number from 0, beside the first one; done gets the plan with the matching points.
func (j *joiner) match(plan *scans.Plan, scan int, done func(*scans.Plan)) {
	p := &matchPage{j: j, plan: plan, which: [2]int{0, scan}, done: done, said: paper.Sentence(paper.Ink)}
	for i := range p.sides {
		p.sides[i] = newScanSide(j.core, p.show)
	}
	p.build()
	j.matching = p
	j.show(p.dialog)
	p.dialog.SetOnClosed(p.closed)
	p.read()
}

func (p *matchPage) build() {
	p.take = paper.NewButton("Bring together", p.bring)
	p.take.Importance = widget.HighImportance
	p.back = paper.NewButton("Take the last point back", p.undo)
	leave := paper.NewButton("Back to the bench", func() { p.dialog.Hide() })
	body := container.NewBorder(nil, p.said, nil, nil, container.NewGridWithColumns(2, p.sides[0].whole, p.sides[1].whole))
	p.dialog = p.j.newPage("Places that two scans have in common", body, fyne.NewSize(1200, 720), leave, p.back, p.take)
	p.show()
}

// read asks for both scans.
func (p *matchPage) read() {
	p.j.tasks.faces.Drop()
	p.j.tasks.faces.Want(1, 0, work.FacesAsk{Scans: []scans.Source{p.plan.Sources[p.which[0]], p.plan.Sources[p.which[1]]}, Stock: p.j.o.Catalogue})
}

// facesCame shows the scans of the open page.
func (j *joiner) facesCame(_ work.FacesAsk, all []*state.Model, err error) {
	switch m, c := j.matching, j.cutting; {
	case c != nil:
		c.came(all, err)
	case m == nil:
	case err != nil:
		m.dialog.Hide()
		j.notJoined(err)
	default:
		for i, s := range m.sides {
			s.put(all[i])
		}
		m.show()
	}
}

// pairs are how many places have been picked on both.
func (p *matchPage) pairs() int { return min(len(p.sides[0].points()), len(p.sides[1].points())) }

// show says what is to be picked next.
func (p *matchPage) show() {
	for i, s := range p.sides {
		name := phrase.Name(filepath.Base(p.plan.Sources[p.which[i]].File))
		switch next := len(s.points()) + 1; {
		case s.bench.Model == nil:
			s.caption.Say(name + " · is being read")
		case next > state.MostGathered:
			s.caption.Say(name)
		default:
			s.caption.Say(fmt.Sprintf("%s · click place %d", name, next))
		}
	}
	text := "Click a place on the left and the same one on the right, three at least, well apart and not in a line; about right is enough, the rest settles itself. Drag turns a scan, shift-drag moves it, the wheel zooms."
	p.said.SetText(p.listed() + text)
	p.take.Allow(p.pairs() >= 3)
	p.back.Allow(len(p.sides[0].points())+len(p.sides[1].points()) > 0)
}

// listed are the places that have been picked, by the numbers of their rings: those on both scans, and those on one alone.
func (p *matchPage) listed() string {
	var out strings.Builder
	both := p.pairs()
	if both > 0 {
		fmt.Fprintf(&out, "%s on both: %s. ", phrase.Count(both, "place"), numbers(1, both))
	}
	for i, where := range []string{"left", "right"} {
		if n := len(p.sides[i].points()); n > both {
			fmt.Fprintf(&out, "On the %s alone: %s. ", where, numbers(both+1, n))
		}
	}
	return out.String()
}

// numbers are those from one to another, as a list.
func numbers(from, to int) string {
	var out []string
	for n := from; n <= to; n++ {
		out = append(out, strconv.Itoa(n))
	}
	return strings.Join(out, ", ")
}

// undo takes the last point back: of the scan that has more.
func (p *matchPage) undo() {
	s := p.sides[1]
	if len(p.sides[0].points()) > len(s.points()) {
		s = p.sides[0]
	}
	if n := len(s.points()); n > 0 {
		s.set(s.points()[:n-1])
	}
	p.show()
}

// bring has the scans brought together from what was picked, unless these places can't tell how they lie.
func (p *matchPage) bring() {
	n := p.pairs()
	on, onOther := p.sides[0].points()[:n], p.sides[1].points()[:n]
	if _, _, err := register.FromPoints(onOther, on); err != nil {
		p.said.SetText(p.j.sentence(err))
		return
	}
	var matches []scans.Match
	for i := range n {
		matches = append(matches, scans.Match{A: p.which[0], AtA: on[i], B: p.which[1], AtB: onOther[i]})
	}
	p.dialog.Hide()
	p.done(p.plan.Matched(p.which[1], matches...))
}

// closed ends the page's pictures.
func (p *matchPage) closed() {
	p.j.tasks.faces.Drop()
	for _, s := range p.sides {
		s.stop()
	}
	p.j.matching = nil
	p.j.left(p.dialog)
}
