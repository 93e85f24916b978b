package panel

import (
	"fmt"
	"math"

	"grainstack/slicing/geom"
)

// An ID names a part: its layer, from 1, and its place among the parts of that layer, from 0.
type ID struct{ Layer, Part int }

func (id ID) String() string { return fmt.Sprintf("layer %d, part %d", id.Layer, id.Part+1) }

// A Part is one connected piece of a layer as it is laid on a panel.
type Part struct {
	ID
	// Shadow is what the part covers seen from above, over all its heights, in the frame of the stand. Its holes are free
	// through the whole thickness.
	Shadow geom.Region
	// Turned says that the grain of the part's layer runs along Y: the part lies turned by 90 or 270 degrees, others by 0
	// or 180.
	Turned bool
	// Board names what the part is carved from: parts of different boards never share a panel.
	Board string
}

// turns are the two turns in which the part's grain runs with the panel.
func (p Part) turns() [2]int {
	if p.Turned {
		return [2]int{90, 270}
	}
	return [2]int{0, 180}
}

// Rules say where parts may lie.
type Rules struct {
	PanelX, PanelY float64
	Margin         float64     // least distance between parts, and from clamps and dowels: cutter and clearance
	Frame          float64     // how much further than that parts lie from each other, so that the panel stays between them
	Edge           float64     // least distance from the panel's edges
	Clamps         []ClampSpot // where clamps hold the panel
	Dowels         []Dowel     // register dowels
	Seed           uint64      // of the search: the same seed and steps give the same layout
}

// apart is the least distance between parts.
func (r Rules) apart() float64 { return r.Margin + r.Frame }

// A ClampSpot is what a clamp covers of a panel's side A.
type ClampSpot struct {
	geom.Box2
	Number int  // of the clamp, from 1
	Turned bool // it is covered while the panel is turned over
}

// A Dowel is a round hole in a panel.
type Dowel struct {
	At       geom.Vec2
	Diameter float64
}

// Placed is a part on a panel: a point p of its shadow lies at p turned by TurnDeg about the origin of the stand, plus At.
type Placed struct {
	Part    ID
	At      geom.Vec2
	TurnDeg int // 0, 90, 180 or 270
	Locked  bool
}

// Apply carries a point of the stand to the panel's side A.
func (p Placed) Apply(v geom.Vec2) geom.Vec2 { return turn(v, p.TurnDeg).Add(p.At) }

// ApplyBox carries a box of the stand to the panel's side A.
func (p Placed) ApplyBox(b geom.Box2) geom.Box2 {
	return geom.EmptyBox2().Add(p.Apply(b.Min)).Add(p.Apply(b.Max))
}

// Back carries a point of the panel's side A to the stand.
func (p Placed) Back(v geom.Vec2) geom.Vec2 { return turn(v.Sub(p.At), -p.TurnDeg) }

// A Panel is one sheet with its parts.
type Panel struct {
	Number      int // from 1
	Placed      []Placed
	UsedPercent float64 // area of the parts' shadows, in hundredths of the panel's
}

// A Layout is all parts on panels.
type Layout struct {
	Panels   []Panel
	TooLarge []Misfit
}

// A Misfit is a part that no panel of these rules holds.
type Misfit struct {
	Part       ID
	Size, Room geom.Vec2 // of the part as its grain lies, and what a panel takes, mm
	Scale      float64   // of the piece at which the part fits; where it isn't obstructed
	Obstructed bool      // it would fit, but not clear of the panel's clamps and dowels
}

// Find is where a part lies; ok is false for a part that is on no panel. The number counts panels from 1.
func (l Layout) Find(id ID) (number int, at Placed, ok bool) {
	for _, p := range l.Panels {
		for _, q := range p.Placed {
			if q.Part == id {
				return p.Number, q, true
			}
		}
	}
	return 0, Placed{}, false
}

// turn is v turned about the origin by a multiple of 90 degrees, exactly.
func turn(v geom.Vec2, deg int) geom.Vec2 {
	switch ((deg % 360) + 360) % 360 {
	case 90:
		return geom.Vec2{X: -v.Y, Y: v.X}
	case 180:
		return geom.Vec2{X: -v.X, Y: -v.Y}
	case 270:
		return geom.Vec2{X: v.Y, Y: -v.X}
	}
	return v
}

// turnRegion is the region turned about the origin.
func turnRegion(g geom.Region, deg int) geom.Region {
	return g.Map(func(p geom.Vec2) geom.Vec2 { return turn(p, deg) })
}

// largestPanel is far beyond any sheet that is made, mm; it keeps figures from a broken file from asking for the moon.
const largestPanel = 20000

// check says what is wrong with the rules.
func (r Rules) check() error {
	for _, f := range []struct {
		what  string
		value float64
		least float64
	}{{"panel's length", r.PanelX, 1}, {"panel's width", r.PanelY, 1}, {"distance between parts", r.Margin, 0.1}, {"frame between parts", r.Frame, 0}, {"distance from the edge", r.Edge, 0}} {
		if !(f.value >= f.least && f.value <= largestPanel) {
			return fmt.Errorf("panel: the %s is %g mm: give %g to %d", f.what, f.value, f.least, largestPanel)
		}
	}
	if r.Margin > math.Max(r.PanelX, r.PanelY) {
		return fmt.Errorf("panel: the distance between parts is %g mm, more than the panel is long", r.Margin)
	}
	for i, d := range r.Dowels {
		if !finite(d.At.X) || !finite(d.At.Y) || !(d.Diameter >= 0 && d.Diameter <= largestPanel) {
			return fmt.Errorf("panel: dowel %d has no place or size", i+1)
		}
	}
	for _, c := range r.Clamps {
		if !finite(c.Min.X) || !finite(c.Min.Y) || !finite(c.Max.X) || !finite(c.Max.Y) || c.Empty() {
			return fmt.Errorf("panel: clamp %d has no place or size", c.Number)
		}
	}
	return nil
}

// finite also refuses figures so large that sums of them lose the mm.
func finite(v float64) bool { return math.Abs(v) <= 1e9 }
