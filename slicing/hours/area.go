package hours

import (
	"math"
	"slices"

	"grainstack/slicing/geom"
	"grainstack/slicing/plane"
)

// areaEdge is how many places an area has round where cutters may go, so that paths along its border need not mind its end.
const areaEdge = 4

// areas are where cutters may go on a side, each stretch that hangs together as a ground of its own: parts that lie far enough
// from one another. A cutter does all that it has to do on one before it goes to the next.
func (g *Ground) areas(s *Setup) []*Ground {
	may := &g.mayFinish
	if s.Finish.Diameter > s.Rough.Diameter {
		may = &g.mayRough
	}
	pieces := may.Pieces()
	if len(pieces) == 1 {
		return []*Ground{g.uncut(s)}
	}
	out := make([]*Ground, len(pieces))
	for i, runs := range pieces {
		out[i] = g.area(runs).uncut(s)
	}
	return out
}

// uncut is the same ground with all of its wood standing, where paths have to be exact.
func (g *Ground) uncut(s *Setup) *Ground {
	a := *g
	if g.exact[0] == nil {
		return &a
	}
	a.standing = newStanding(g, s.Rough, max(s.Rough.Diameter, s.Finish.Diameter))
	return &a
}

// area is the part of a side round the runs of one piece, without its straight core.
func (g *Ground) area(runs []plane.Run) *Ground {
	i0, i1, j0, j1 := g.W, 0, int(runs[0].Row), int(runs[len(runs)-1].Row)
	for _, r := range runs {
		i0, i1 = min(i0, int(r.From)), max(i1, int(r.To))
	}
	i0, i1 = max(i0-areaEdge, 0), min(i1+areaEdge, g.W-1)
	j0, j1 = max(j0-areaEdge, 0), min(j1+areaEdge, g.H-1)
	a := &Ground{
		Origin: g.Origin.Add(geom.Vec2{X: float64(i0) * g.Step, Y: float64(j0) * g.Step}), Step: g.Step, W: i1 - i0 + 1, H: j1 - j0 + 1,
		Thickness: g.Thickness, Skim: g.Skim, AlongY: g.AlongY, exact: g.exact,
	}
	var here plane.Mask
	here.Reset(a.W, a.H)
	for _, r := range runs {
		here.SetSpan(int(r.Row)-j0, int(r.From)-i0, int(r.To)-i0+1)
	}
	for _, of := range []struct{ from, to *plane.Mask }{{&g.mayRough, &a.mayRough}, {&g.mayFinish, &a.mayFinish}} {
		*of.to = of.from.Cropped(i0, j0, a.W, a.H)
		of.to.Keep(&here)
	}
	a.Rough, a.Finish = cropped(g.Rough, g.W, i0, j0, a.W, a.H), cropped(g.Finish, g.W, i0, j0, a.W, a.H)
	return a
}

func cropped(z []float32, width, i0, j0, w, h int) []float32 {
	out := make([]float32, 0, w*h)
	for j := range h {
		out = append(out, z[(j0+j)*width+i0:][:w]...)
	}
	return out
}

// each works on one area after another, the nearest one next.
func (w *worker) each(areas []*Ground, work func()) {
	left := slices.Clone(areas)
	for len(left) > 0 && !w.halt() {
		pick, least := 0, math.Inf(1)
		for i, a := range left {
			if d := w.from(a); d < least {
				pick, least = i, d
			}
		}
		w.enter(left[pick])
		left = slices.Delete(left, pick, pick+1)
		work()
	}
}

// from is how far the cutter is from an area's box.
func (w *worker) from(a *Ground) float64 {
	at := geom.Vec2{X: w.motion.at.x, Y: w.motion.at.y}.Add(w.Origin).Sub(a.Origin)
	wide, high := float64(a.W-1)*a.Step, float64(a.H-1)*a.Step
	return math.Hypot(max(-at.X, at.X-wide, 0), max(-at.Y, at.Y-high, 0))
}

// enter goes on with another area of the side.
func (w *worker) enter(a *Ground) {
	off := w.Origin.Sub(a.Origin)
	w.motion.at.x, w.motion.at.y = w.motion.at.x+off.X, w.motion.at.y+off.Y
	w.Ground, w.stands, w.motion.cuts = a, a.standing, nil
	if w.stands != nil && w.probing == 0 {
		w.motion.cuts = w.stands.cut
	}
	w.widen()
}
