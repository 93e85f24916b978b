package workshop

import (
	"grainstack/slicing/geom"
	"grainstack/slicing/job"
	"grainstack/slicing/panel"
)

// A waste is what stays of a panel once its parts are cut free, seen from above: its frame, which hangs together with the
// panel's edges, and what lies with another part in a hole of one that holds it. Waste that hangs on nothing but parts is
// cleared.
type waste struct {
	*cover
	kept []bool
}

// wasteStep is the least size of a waste's cells, mm.
const wasteStep = 1.0

// wasteOf is the waste of a panel, as far as it is leastFrame wide.
func (w *Workshop) wasteOf(p panel.Panel) *waste {
	size := geom.Vec2{X: w.For.PanelX, Y: w.For.PanelY}
	c := coverOf(geom.Box2{Max: size}, wasteStep)
	outlines := make([]geom.Region, len(p.Placed))
	for i, q := range p.Placed {
		outlines[i] = w.Bench.Outline(q)
		c.fill(outlines[i], 1)
	}
	free := make([]bool, len(c.bits))
	away := w.Margin + job.LeastFrame/2
	var todo []int
	out := &waste{c, make([]bool, len(c.bits))}
	for i, d := range c.distances() {
		at := c.middle(i)
		if at.X < 0 || at.Y < 0 || at.X > size.X || at.Y > size.Y {
			continue
		}
		if free[i] = (float64(d)-0.5)*c.step >= away && !w.drilled(at); free[i] && (at.X < job.LeastFrame || at.Y < job.LeastFrame || at.X > size.X-job.LeastFrame || at.Y > size.Y-job.LeastFrame) {
			out.kept[i] = true
			todo = append(todo, i)
		}
	}
	for len(todo) > 0 {
		i := todo[len(todo)-1]
		todo = todo[:len(todo)-1]
		for _, k := range [4]int{i - 1, i + 1, i - c.nx, i + c.nx} { // the rim of the cells is off the panel
			if free[k] && !out.kept[k] {
				out.kept[k] = true
				todo = append(todo, k)
			}
		}
	}
	for i, g := range outlines {
		for _, r := range g {
			if r.Area() < 0 && holds(r, outlines, i) {
				c.middles(geom.Region{r}.Mirror(func(p geom.Vec2) geom.Vec2 { return p }), func(k int) { out.kept[k] = out.kept[k] || free[k] })
			}
		}
	}
	return out
}

// drilled reports whether a point is too near to a hole of a register dowel for a frame.
func (w *Workshop) drilled(at geom.Vec2) bool {
	for _, d := range w.Register.Dowels {
		if at.Sub(d.At).Len() < d.Diameter/2+job.LeastFrame/2 {
			return true
		}
	}
	return false
}

// holds reports whether an outline other than the i-th lies in a ring.
func holds(r geom.Ring, outlines []geom.Region, i int) bool {
	for k, g := range outlines {
		if k != i && len(g) > 0 && len(g[0]) > 0 && r.Winding(g[0][0]) != 0 {
			return true
		}
	}
	return false
}

// at reports whether the waste stays at a point of side A.
func (s *waste) at(p geom.Vec2) bool {
	i, ok := s.cell(p)
	return ok && s.kept[i]
}

// Stays tells of points of side A of a panel, outside the gaps round its parts, whether the panel stays there: not where it is
// cut off from the frame, and not where it is narrower than leastFrame.
func (w *Workshop) Stays(p panel.Panel) func(at geom.Vec2) bool {
	s := w.wasteOf(p)
	for i, kept := range s.kept {
		if s.bits[i] = 0; kept {
			s.bits[i] = 1
		}
	}
	for i, d := range s.distances() {
		s.kept[i] = float64(d)*s.step <= job.LeastFrame/2+s.step
	}
	return s.at
}

// A frame is what stays of a panel round the parts, as one part sees it.
type frame struct {
	at    panel.Placed
	waste *waste
	own   int
	laid  []geom.Region
}

// frames are those of all parts that lie on panels.
func (w *holder) frames() map[panel.ID]*frame {
	out := make(map[panel.ID]*frame)
	for _, p := range w.Layout.Panels {
		s := w.wasteOf(p)
		laid := make([]geom.Region, len(p.Placed))
		for i, q := range p.Placed {
			laid[i] = w.Bench.Outline(q)
			out[q.Part] = &frame{at: q, waste: s, own: i, laid: laid}
		}
	}
	return out
}

// stays reports whether the frame is at a point of the stand, as the part lies.
func (f *frame) stays(at geom.Vec2) bool { return f.waste.at(f.at.Apply(at)) }

// within reports whether another part lies in a hole of the part.
func (f *frame) within(hole geom.Ring) bool {
	moved := make(geom.Ring, len(hole))
	for i, p := range hole {
		moved[i] = f.at.Apply(p)
	}
	return holds(moved, f.laid, f.own)
}
