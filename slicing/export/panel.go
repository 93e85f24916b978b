package export

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"math"

	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
	"grainstack/slicing/panel"
)

// A PanelPart is a part as it lies on side A: a point p of its solid is at p turned by TurnDeg about the origin, plus At,
// and PanelBottom, a height of the stand, is at 0.
type PanelPart struct {
	Solid       *mesh.Mesh // in the frame of the stand, mm
	PanelBottom float64    // lower face of the part's skimmed panel, mm
	At          geom.Vec2
	TurnDeg     int // 0, 90, 180 or 270
}

// A PanelHole is a round hole: that of a register dowel, which goes through, or of an alignment pin, which goes into one
// face. Depths are from the panel's own faces; with none it goes through.
type PanelHole struct {
	At        geom.Vec2
	Diameter  float64
	FromBelow float64
	FromAbove float64
}

// A PanelTab is a bridge over the gap round a part, on side A: a strip of a width along Way from At, a point of the part's
// outline, outwards, between two heights of the panel.
type PanelTab struct {
	At          geom.Vec2
	Way         geom.Vec2 // of length 1, outwards
	Length      float64   // to where it stands in the panel's frame
	Width       float64
	Bottom, Top float64 // mm above the panel's lower face
	Root        float64 // how far behind At it runs on into the part, over wood that is thinner
}

// A PanelPlan is a panel with everything on it, as plain figures.
type PanelPlan struct {
	X, Y, Thickness float64 // of the skimmed panel
	Gap             float64 // what is cleared round a part: from its outline to the carve boundary
	Parts           []PanelPart
	Holes           []PanelHole
	Tabs            []PanelTab
	Stays           func(at geom.Vec2) bool // where the panel stays outside the gaps; nil for everywhere
	TurnAlongY      bool                    // turned over about the centre line along Y, instead of that along X
	Step            float64                 // between columns; 0 stands for DefaultStep
}

const (
	// DefaultStep is the spacing of a panel's columns, mm: a sixth of a usual finishing cutter.
	DefaultStep = 0.5
	// mostColumns bounds the columns of a panel.
	mostColumns = 1 << 25
	// thinnest is the least thickness of wood in a column, mm; a part that thins out to nothing ends so.
	thinnest = 0.01
	// flush is how near to a face of the panel wood counts as part of it, mm.
	flush = 0.002
)

// A PanelModel has the columns of a panel on side A: at each node of a lattice over the whole panel the wood is what lies
// between a bottom and a top. Air that no cutter sees from above or below counts as wood, since it stays. Where a part ends
// between two columns, ends holds how far beyond the last one, in steps, to the right, up, left and down.
type PanelModel struct {
	plan        PanelPlan
	nx, ny      int // nodes
	sx, sy      float64
	top, bottom []float32 // top < bottom where there is no wood
	ends        [4][]float32
}

// NewPanelModel takes the columns of a panel: parts as they stand, nothing in the gap round them but tabs, and the full
// thickness elsewhere where it is to stay, less the holes.
func NewPanelModel(ctx context.Context, p PanelPlan) (*PanelModel, error) {
	m, _, err := newPanelModel(ctx, p, true)
	return m, err
}

// newPanelModel also says which part a column belongs to, from 1, or that it is of the panel's frame. Without outlines it has no
// ends of parts, which only a solid needs.
func newPanelModel(ctx context.Context, p PanelPlan, outlines bool) (m *PanelModel, whose []int16, err error) {
	if p.Step == 0 {
		p.Step = DefaultStep
	}
	if err := p.check(); err != nil {
		return nil, nil, err
	}
	m = &PanelModel{plan: p, nx: int(math.Ceil(p.X/p.Step-1e-9)) + 1, ny: int(math.Ceil(p.Y/p.Step-1e-9)) + 1}
	m.sx, m.sy = p.X/float64(m.nx-1), p.Y/float64(m.ny-1)
	n := m.nx * m.ny
	m.top, m.bottom = make([]float32, n), make([]float32, n)
	for i := range n {
		m.top[i], m.bottom[i] = none, -none
	}
	for d := range m.ends {
		if outlines {
			m.ends[d] = make([]float32, n)
		}
	}
	whose = make([]int16, n)
	for i := range p.Parts {
		if err := ctx.Err(); err != nil {
			return nil, nil, err
		}
		m.stand(&p.Parts[i], int16(i+1), whose)
	}
	if err := m.frame(ctx, whose); err != nil {
		return nil, nil, err
	}
	for _, t := range p.Tabs {
		m.tab(t)
	}
	for _, h := range p.Holes {
		m.drill(h)
	}
	return m, whose, ctx.Err()
}

// ofFrame is the number of the panel's frame among its parts.
const ofFrame = int16(-1)

// none is the top of a column without wood.
const none = float32(-1 << 20)

func (p *PanelPlan) check() error {
	for _, v := range []struct {
		what  string
		value float64
	}{{"length", p.X}, {"width", p.Y}, {"thickness", p.Thickness}, {"spacing of columns", p.Step}} {
		if !(v.value > 0 && v.value < 1e5) {
			return fmt.Errorf("the panel's %s is %g mm: give more than 0", v.what, v.value)
		}
	}
	if n := math.Ceil(p.X/p.Step) * math.Ceil(p.Y/p.Step); n > mostColumns {
		return fmt.Errorf("columns every %g mm are too many for a panel of %.0f × %.0f mm", p.Step, p.X, p.Y)
	}
	if !(p.Gap >= 0 && p.Gap < 1e4) {
		return fmt.Errorf("the gap round parts is %g mm: give 0 or more", p.Gap)
	}
	for _, h := range p.Holes {
		if !finite(h.At.X, h.At.Y, h.Diameter, h.FromBelow, h.FromAbove) {
			return errors.New("a hole in the panel has no place or size")
		}
	}
	for _, t := range p.Tabs {
		if !finite(t.At.X, t.At.Y, t.Way.X, t.Way.Y, t.Length, t.Width, t.Bottom, t.Top, t.Root) {
			return errors.New("a tab on the panel has no place or size")
		}
	}
	for _, q := range p.Parts {
		if q.Solid == nil || !finite(q.At.X, q.At.Y, q.PanelBottom) {
			return errors.New("a part on the panel has no solid or no place")
		}
	}
	if len(p.Parts) >= math.MaxInt16 {
		return fmt.Errorf("%d parts are too many for a panel", len(p.Parts))
	}
	return nil
}

// finite reports whether all figures are places on some panel.
func finite(v ...float64) bool {
	for _, f := range v {
		if !(math.Abs(f) < farthest) {
			return false
		}
	}
	return true
}

// wood reports whether a column holds any.
func (m *PanelModel) wood(i int) bool { return m.top[i] >= m.bottom[i] }

func (m *PanelModel) place(i int) geom.Vec2 {
	return geom.Vec2{X: float64(i%m.nx) * m.sx, Y: float64(i/m.nx) * m.sy}
}

// nodes are the first and the last column of an axis between two places, clipped to the panel.
func nodes(from, to, step float64, n int) (first, last int) {
	first = int(math.Ceil(max(from/step-1e-9, 0)))
	last = int(math.Floor(min(to/step+1e-9, float64(n-1))))
	return first, last
}

// tab fills the gap under a tab between its heights, and what is missing of them over thin wood.
func (m *PanelModel) tab(t PanelTab) {
	across := geom.Vec2{X: -t.Way.Y, Y: t.Way.X}
	box := geom.EmptyBox2()
	var corners [4]geom.Vec
	for i := range corners {
		p := t.At.Add(t.Way.Scale([2]float64{-t.Root, t.Length}[i/2])).Add(across.Scale((float64(i%2) - 0.5) * t.Width))
		box, corners[i] = box.Add(p), geom.Vec{X: p.X, Y: p.Y}
	}
	low, high := float32(max(t.Bottom, 0)), float32(min(t.Top, m.plan.Thickness))
	if !(low < high) {
		return
	}
	m.outline(corners[0], corners[1], corners[2])
	m.outline(corners[1], corners[2], corners[3])
	m.each(box, func(i int, p geom.Vec2) {
		d := p.Sub(t.At)
		if l := d.Dot(t.Way); math.Abs(d.Dot(across)) > t.Width/2 || l < -t.Root || l > t.Length {
			return
		}
		if !m.wood(i) {
			m.bottom[i], m.top[i] = low, high
		} else {
			m.bottom[i], m.top[i] = min(m.bottom[i], low), max(m.top[i], high)
		}
	})
}

// under visits the columns of a hole that have wood.
func (m *PanelModel) under(h PanelHole, visit func(i int)) {
	r := h.Diameter / 2
	box := geom.Box2{Min: geom.Vec2{X: h.At.X - r, Y: h.At.Y - r}, Max: geom.Vec2{X: h.At.X + r, Y: h.At.Y + r}}
	m.each(box, func(i int, p geom.Vec2) {
		if p.Sub(h.At).Len() <= r && m.wood(i) {
			visit(i)
		}
	})
}

// drill takes a hole out of the panel.
func (m *PanelModel) drill(h PanelHole) {
	low, high := float32(max(h.FromBelow, 0)), float32(m.plan.Thickness-max(h.FromAbove, 0))
	through := h.FromBelow <= 0 && h.FromAbove <= 0
	m.under(h, func(i int) {
		m.bottom[i], m.top[i] = max(m.bottom[i], low), min(m.top[i], high)
		if through || !(m.top[i]-m.bottom[i] > thinnest) {
			m.top[i], m.bottom[i] = none, -none
		}
	})
}

// each visits the columns of a rectangle.
func (m *PanelModel) each(b geom.Box2, visit func(i int, p geom.Vec2)) {
	i0, i1 := nodes(b.Min.X, b.Max.X, m.sx, m.nx)
	j0, j1 := nodes(b.Min.Y, b.Max.Y, m.sy, m.ny)
	for j := j0; j <= j1; j++ {
		for i := i0; i <= i1; i++ {
			n := j*m.nx + i
			visit(n, m.place(n))
		}
	}
}

// A PanelScale says what the places and counts of a height map come to.
type PanelScale struct {
	W, H         int
	StepX, StepY float64 // mm between columns; column 0, 0 is the panel's lower left corner as that side lies
	PerCount     float64 // mm a count
}

// Scale is that of the panel's maps.
func (p PanelPlan) Scale() PanelScale {
	step := cmp.Or(p.Step, DefaultStep)
	w, h := int(math.Ceil(p.X/step-1e-9))+1, int(math.Ceil(p.Y/step-1e-9))+1
	return PanelScale{w, h, p.X / float64(w-1), p.Y / float64(h-1), p.Thickness / math.MaxUint16}
}

// A PanelMap is what the cutter meets on one side of a panel: W·H heights, x fastest, then y from the lower edge up, above
// the face that lies on the machine. 0 stands for a column without wood, too.
type PanelMap struct {
	PanelScale
	Z []uint16
}

// Map is what the cutter meets on one side, in parts of 65535 of the panel's thickness.
func (m *PanelModel) Map(f panel.Face) PanelMap {
	out := PanelMap{m.plan.Scale(), make([]uint16, m.nx*m.ny)}
	for i := range out.Z {
		if !m.wood(i) {
			continue
		}
		z, to := float64(m.top[i]), i
		if f == panel.SideB {
			z, to = m.plan.Thickness-float64(m.bottom[i]), m.over(i)
		}
		out.Z[to] = uint16(math.Round(min(max(z/out.PerCount, 0), math.MaxUint16)))
	}
	return out
}

// over is where a column comes to lie when the panel is turned over.
func (m *PanelModel) over(i int) int {
	x, y := i%m.nx, i/m.nx
	if m.plan.TurnAlongY {
		return y*m.nx + m.nx - 1 - x
	}
	return (m.ny-1-y)*m.nx + x
}
