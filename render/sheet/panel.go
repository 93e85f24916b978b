package sheet

import (
	"fmt"

	"grainstack/render/draw"
	"grainstack/slicing/geom"
	"grainstack/slicing/phrase"
	"grainstack/slicing/unit"
)

// A Flip is how a panel is turned over between its sides.
type Flip int

const (
	AboutX Flip = iota // about its long centre line, X: Y changes sides
	AboutY             // about its centre line across: X changes sides
)

// A PanelView is what a panel sheet shows, in millimetres of the panel's side A: its lower left corner is 0, 0 and its
// grain runs along X. What is empty is left out.
type PanelView struct {
	Number, Count int    // this panel of so many, from 1
	Board         string // what it is sawn from, where that has to be said
	Size          geom.Vec2
	SideB         bool // as it lies once it has been turned over
	Flip          Flip
	Parts         []PanelPart
	Dowels        []Peg // register dowels
	Clamps        []PanelClamp
	Edge          float64 // parts stay this far from the panel's edges
	EdgeClash     bool    // a part comes too near to them
	UsedPercent   float64
	Picked        int // place in Parts of the part in hand, from 1; 0 for none

	Notes   []string
	Message string // stands in the middle instead of a panel: why there is none
}

// A PanelPart is one part as it lies on the panel.
type PanelPart struct {
	Name     string      // such as "7" or "7.2"
	Outline  geom.Region // what the part covers, seen from above
	Core     geom.Region // its hollow
	Boundary geom.Region // how far the cutter goes
	Tabs     []PanelTab
	Pins     []Peg
	Locked   bool
	Clash    bool // lies where it may not
}

// A Peg is a round hole for a dowel: a register dowel's, or that of an alignment pin in a part's upper or lower face.
type Peg struct {
	At       geom.Vec2
	Diameter float64
	Lower    bool // it goes into the part's lower face, which side B shows
	Picked   bool // in hand
	Clash    bool // something lies too near to it, or it stands where it may not
}

// A PanelClamp is what a clamp covers of the panel on the machine.
type PanelClamp struct {
	geom.Box2
	Number int
	Over   bool // it is covered of side A only while side B is up; otherwise Box2 is on the machine, whichever side is up
	Clash  bool // a part lies under it or too near
}

// A PanelTab is a bridge from a part's outline outwards.
type PanelTab struct {
	At, Out       geom.Vec2 // middle of its root; direction away from the part, length 1
	Width, Length float64
	Picked        bool    // in hand
	Root          float64 // how far it runs on over the part, from its root
}

// A PanelSheet is a panel's drawing; X right, Y down in drawing units.
type PanelSheet struct {
	*draw.Drawing
	Plan  geom.Box2 // the part of the sheet that the panel has
	PerMM float64   // drawing units a millimetre, 0 if there is no panel
	lay   LayerSheet
	view  PanelView
}

// ToMM is the place on side A of the panel, mm, that lies at x, y of the sheet; ok is false where no panel is drawn.
func (p PanelSheet) ToMM(x, y float64) (v geom.Vec2, ok bool) {
	v, ok = p.lay.ToMM(x, y)
	return p.over(v), ok
}

// ToSheet is where a place on side A of the panel lies on the sheet.
func (p PanelSheet) ToSheet(v geom.Vec2) geom.Vec2 { return p.lay.ToSheet(p.over(v)) }

// over carries a place on side A to where it is seen, and back.
func (p PanelSheet) over(v geom.Vec2) geom.Vec2 {
	switch {
	case !p.view.SideB:
		return v
	case p.view.Flip == AboutY:
		return vec(p.view.Size.X-v.X, v.Y)
	}
	return vec(v.X, p.view.Size.Y-v.Y)
}

// onSheet carries a region of side A to the sheet with its outlines positive.
func (p PanelSheet) onSheet(r geom.Region) geom.Region {
	if !p.view.SideB {
		return p.lay.onSheet(r)
	}
	return r.Map(p.ToSheet)
}

// lowPanel is the height under which a panel in the window is drawn without its sizes and without a key to its signs, and where
// its height is what counts without scale bar as well: what is worked on is to be as large as it can, and the sizes stand on the Panels
// card.
const lowPanel = 560

// Panel draws a panel sheet of w × h drawing units.
func Panel(v PanelView, s Style, w, h float64, look Look) PanelSheet {
	d := draw.New(w, h, s.Ink.Paper)
	p := PanelSheet{Drawing: d, lay: LayerSheet{Drawing: d}, view: v}
	low := s.Bare && h < lowPanel
	keys := p.keys(s)
	if low {
		keys = nil
	}
	f := layOut(LayerView{Notes: v.Notes, Message: v.Message}, s, w, h, keys...)
	bare := false
	if low {
		f = f.withoutSizes()
		if room := f.room.Size(); room.Y*v.Size.X < room.X*v.Size.Y {
			bare, f.plan.Max.Y = true, f.foot.Max.Y
			f = f.withoutSizes()
		}
	}
	p.Plan, p.lay.Plan = f.plan, f.plan
	if !s.Bare {
		if v.Count > 0 {
			p.title(s, f)
		}
		notes(d, s, f)
	}
	if v.Message == "" && !(v.Size.X > 0 && v.Size.Y > 0) {
		p.view.Message = "There is no panel yet."
	}
	if p.view.Message != "" {
		message(d, s, p.view.Message, f.plan)
		frame(p.lay, s, f)
		return p
	}
	panel := geom.Box2{Max: v.Size}
	p.lay.fit(LayerView{Widest: geom.Region{draw.BoxRing(panel)}}, f, look)
	p.PerMM = p.lay.PerMM
	d.Clip(f.plan)
	p.board(s, panel)
	for i, part := range v.Parts {
		p.part(s, part, i+1 == v.Picked)
	}
	p.holding(s)
	taken := p.zero(s)
	if !low {
		taken = append(p.lay.sizes(s, f), taken...)
	}
	p.names(s, taken)
	d.Unclip()
	d.Outline(draw.Pen{Color: s.Ink.Rule, Width: 0.8}, geom.Region{draw.BoxRing(f.plan)})
	if !bare {
		p.foot(s, f)
	}
	return p
}

// title is the top line: which panel, which side, how full.
func (p PanelSheet) title(s Style, f layout) {
	v := p.view
	size := s.text() + 1
	side := "A"
	if v.SideB {
		side = "B"
	}
	head := fmt.Sprintf("Panel %d of %d, side %s", v.Number, v.Count, side)
	at := vec(f.pad+2, f.pad+size)
	p.Text(draw.Text{At: at, Words: head, Size: size, Bold: true, Color: s.Ink.Ink})
	rest := fmt.Sprintf("%s × %s", s.figure(v.Size.X), unit.Length(v.Size.Y, s.Units))
	if n := len(v.Parts); n > 0 {
		rest += fmt.Sprintf(" · %d %s · %.0f %% used", n, phrase.Plural(n, "part", "parts"), v.UsedPercent)
	}
	if v.Board != "" {
		rest = v.Board + " · " + rest
	}
	x := at.X + s.Letters.Width(head, size, true) + 10
	p.Text(draw.Text{At: vec(x, at.Y), Words: fitted(s, rest, s.text(), false, p.W-f.pad-x), Size: s.text(), Color: s.Ink.Faint})
}
