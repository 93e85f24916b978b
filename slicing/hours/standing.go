package hours

import (
	"math"

	"grainstack/slicing/plane"
	"grainstack/slicing/stock"
)

// standing is the wood that stands on a side while the rough cutter takes it down: at every place of the raster how high, at
// the least too high. Paths for a machine are laid by it: rapids come down no lower than wood, and no more is taken at once
// than the stepdown, whatever earlier rows have left.
type standing struct {
	z     []float32
	w, h  int
	pad   float64 // of wood beyond the ground's raster on every side, mm: cutters reach there
	step  float64
	edge  stock.Edge
	r     float64
	round bool    // the edge is
	most  float64 // taken at once
}

const (
	// stamped is how far apart a way is stamped out of the wood, mm.
	stamped = 0.5
	// shaving is how much of a cutter's edge is not looked at for what it takes: thinner wood is a shaving, mm.
	shaving = 0.1
)

func newStanding(g *Ground, c stock.Cutter, widest float64) *standing {
	pad := int(math.Ceil((widest/2+2*shaving)/g.Step)) + 1
	s := &standing{w: g.W + 2*pad, h: g.H + 2*pad, pad: float64(pad) * g.Step, step: g.Step, edge: c.Edge(), r: c.Diameter / 2, round: c.TipRadius() > 0 || c.Shape == stock.Taper, most: c.Stepdown}
	s.z = make([]float32, s.w*s.h)
	for i := range s.z {
		s.z[i] = float32(g.Thickness + g.Skim)
	}
	return s
}

// rows visits the places within r of x, y, row by row.
func (s *standing) rows(x, y, r float64, visit func(row []float32, x0, dy float64)) {
	x, y = x+s.pad, y+s.pad
	j0, j1 := max(int(math.Ceil((y-r)/s.step)), 0), min(int(math.Floor((y+r)/s.step)), s.h-1)
	for j := j0; j <= j1; j++ {
		dy := float64(j)*s.step - y
		half := math.Sqrt(max(r*r-dy*dy, 0))
		i0, i1 := max(int(math.Ceil((x-half)/s.step)), 0), min(int(math.Floor((x+half)/s.step)), s.w-1)
		if i0 <= i1 {
			visit(s.z[j*s.w+i0:j*s.w+i1+1], float64(i0)*s.step-x, dy)
		}
	}
}

// cut takes away what a straight way cuts.
func (s *standing) cut(from, to place) {
	d := to.less(from)
	n := max(math.Ceil(math.Hypot(d.x, d.y)/stamped), 1)
	for k := 0.0; k <= n; k++ {
		t := k / n
		z := from.z + d.z*t + math.Abs(d.z)/n/2
		if n == 1 && d.z < 0 {
			z = from.z + d.z*t
		}
		s.rows(from.x+d.x*t, from.y+d.y*t, s.r, func(row []float32, x0, dy float64) {
			for i, v := range row {
				if float64(v) <= z {
					continue
				}
				rise, ok := s.edge.At(math.Hypot(x0+float64(i)*s.step, dy))
				if low := float32(z + rise); ok && low < v {
					row[i] = low
				}
			}
		})
	}
}

// top is the highest wood within r of a place.
func (s *standing) top(x, y, r float64) float64 {
	high := float32(math.Inf(-1))
	s.rows(x, y, r, func(row []float32, _, _ float64) {
		for _, v := range row {
			high = max(high, v)
		}
	})
	return float64(high)
}

// least is the lowest that the tip may go at a place without taking more at once than it may, anywhere along its edge.
func (s *standing) least(x, y float64) float64 {
	r := s.r - shaving
	if !s.round {
		return s.top(x, y, r) - s.most
	}
	high := math.Inf(-1)
	s.rows(x, y, r, func(row []float32, x0, dy float64) {
		for i, v := range row {
			if float64(v) > high {
				rise, _ := s.edge.At(math.Hypot(x0+float64(i)*s.step, dy))
				high = max(high, float64(v)-rise)
			}
		}
	})
	return high - s.most
}

// bite is the lowest that the tip may go at a place for what stands there; endless where nothing is looked at.
func (w *worker) bite(x, y float64) float64 {
	if w.stands == nil || w.probing != 0 {
		return math.Inf(-1)
	}
	return w.stands.least(x, y)
}

// clearOf is down to where a rapid may go at a place.
func (w *worker) clearOf(p place, usual float64) float64 {
	if w.stands == nil {
		return usual
	}
	return w.stands.top(p.x, p.y, w.radius()-shaving/4)
}

// radius is that of the cutter at hand.
func (w *worker) radius() float64 {
	if w.probing == 0 {
		return w.setup.Rough.Diameter / 2
	}
	return w.setup.Finish.Diameter / 2
}

// offWalls is how far the outline of a level keeps off walls, mm: as far as on the columns of a path that is exact.
const offWalls = 0.45

// keepOff takes the places beside walls out of a level's region, so that its outline runs over places that are clear: between
// a clear one and a wall the wall may stand anywhere.
func (w *worker) keepOff() {
	w.walls.Difference(&w.mayRough, &w.region)
	wide := offWalls / w.Step
	if w.probe != nil {
		wide = 1.5
	}
	w.words = w.near.Dilate(&w.walls, wide, w.words)
	w.region.Remove(&w.near)
}

// shelves gives rows back what is so gentle between a level and the one before that trips along the two leave a wide step.
func (w *worker) shelves(z float64) {
	const narrow = 1.0 // mm: half of a step that may stay
	var deep, steps, wide plane.Mask
	deep.AtMost(w.Rough, float32(z+flatEnough), &w.mayRough)
	steps.Difference(&w.left, &deep)
	deep.Complement(&steps)
	w.words = wide.Dilate(&deep, narrow/w.Step, w.words)
	steps.Complement(&wide)
	w.words = wide.Dilate(&steps, narrow/w.Step, w.words)
	w.near.Remove(&wide)
}
