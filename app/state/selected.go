package state

import (
	"grainstack/slicing/finding"
	"grainstack/slicing/geom"
	"grainstack/slicing/panel"
	"grainstack/slicing/stack"
)

// Selected is what was picked by hand; the picked layer is the session's.
type Selected struct {
	Chosen  bool     // a layer was picked by hand: its edges are drawn on the piece
	Part    panel.ID // that was picked last on the panel sheet
	Finding int      // of the survey that the view is at, from 1; 0 for none
	Unit    bool     // the maker has said in which unit the file is
	Picking Picking
	Snag    Snag // the place that was picked of what needs a look
}

// Gathering is what clicks are taken for where places of a scan are gathered, MostGathered of them at the most.
const (
	Gathering    = "match"
	MostGathered = 12
)

// Picking is what clicks on the piece are taken for.
type Picking struct {
	What   string     // "", "lay", "measure", "floor" or "saw"
	Points []geom.Vec // in the piece's own frame
	Turn   geom.Turn  // of the piece when they were picked
}

// Distance is how far apart two picked points are, in the piece's own units; 0 where none are picked.
func (p Picking) Distance() float64 {
	if len(p.Points) != 2 {
		return 0
	}
	return p.Points[0].Sub(p.Points[1]).Len()
}

// Gather keeps a point that was picked at a turn of the piece, and reports whether there are as many as wanted; with more they begin anew.
func (p *Picking) Gather(at geom.Vec, wanted int, turn geom.Turn) bool {
	p.Turn = turn
	if len(p.Points) >= wanted {
		p.Points = nil
	}
	p.Points = append(p.Points[:len(p.Points):len(p.Points)], at)
	whole := len(p.Points) == wanted
	if whole {
		p.What = ""
	}
	return whole
}

// A Snag is the place that was picked of all that needs a look.
type Snag struct {
	On     bool
	Key    finding.Key
	Serial int         // counts what was picked: the view goes there once
	Cut    float64     // mm: what stands higher is taken off so that it is seen; 0 for nothing
	Stand  stack.Stand // that it is of
	Opened string      // the kind whose small places are listed one by one, "" for none
}

// SnagCut is the height above which the piece is taken off so that the picked place is seen, mm; 0 for nothing.
func (b *Chosen) SnagCut() float64 {
	s := &b.Selected.Snag
	if !s.On || s.Stand != b.Settings().Stand() {
		return 0
	}
	return s.Cut
}
