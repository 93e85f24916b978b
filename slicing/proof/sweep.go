package proof

import (
	"math"

	"grainstack/slicing/geom"
	"grainstack/slicing/stock"
)

// A sweep is a cutter that goes along straight moves over a board's columns. For a column s along the move and d beside it the
// cutter's end is lowest where the move is at a place t; lead says how far t lies behind s.
type sweep struct {
	cutter       stock.Cutter
	edge         stock.Edge
	radius, tip  float64 // of the cutter and of its rounding
	level        float64 // radius of the level end within the rounding
	closed       bool    // t has a closed form
	w, h         int
	stepX, stepY float64

	a       geom.Vec // where the move begins, Z above the bed
	ux, uy  float64  // its way over the panel
	length  float64
	slope   float64 // rise for each mm of that
	incline float64 // √(1 + slope²)
}

func newSweep(c stock.Cutter, w *Wanted) sweep {
	s := sweep{cutter: c, edge: c.Edge(), radius: c.Diameter / 2, tip: c.TipRadius(), w: w.W, h: w.H, stepX: w.StepX, stepY: w.StepY}
	s.level = s.radius - s.tip
	s.closed = c.Shape == stock.Flat || c.Shape == stock.Ball
	return s
}

// hair is a move over the panel that counts as straight up or down, mm.
const hair = 1e-9

// along readies the sweep for a move; upright is true for one that doesn't go over the panel, and begins at its lower end then.
func (s *sweep) along(from, to geom.Vec) (upright bool) {
	s.a = from
	dx, dy := to.X-from.X, to.Y-from.Y
	s.length = math.Hypot(dx, dy)
	if s.length < hair {
		s.a.Z = min(from.Z, to.Z)
		s.ux, s.uy, s.length, s.slope, s.incline = 1, 0, 0, 0, 1
		return true
	}
	s.ux, s.uy = dx/s.length, dy/s.length
	s.slope = (to.Z - from.Z) / s.length
	s.incline = math.Sqrt(1 + s.slope*s.slope)
	return false
}

// lead is how far behind a column, along the move, the cutter is when it is lowest over it, for a column beside which it has a
// half width w.
func (s *sweep) lead(w float64) float64 {
	switch {
	case s.slope == 0:
		return 0
	case s.cutter.Shape == stock.Ball:
		return w * s.slope / s.incline
	case s.slope > 0:
		return w
	}
	return -w
}

// over is the lowest place of the cutter's end over a column s along the move whose half width there is w, and q = w², where it
// may go on beyond both ends of the move by none. ok is false where it doesn't come there.
func (s *sweep) over(along, q float64) (z float64, ok bool) {
	w := math.Sqrt(q)
	low, high := max(along-w, 0), min(along+w, s.length)
	if low > high {
		return 0, false
	}
	if !s.closed && s.slope != 0 {
		return s.searched(along, s.radius*s.radius-q, low, high), true
	}
	t := min(max(along-s.lead(w), low), high)
	z = s.a.Z + s.slope*t
	if s.tip > 0 {
		beside := along - t
		z += s.rise(math.Sqrt(max(s.radius*s.radius-q+beside*beside, 0)))
	}
	return z, true
}

// rise is the height of the cutter's end above its tip.
func (s *sweep) rise(d float64) float64 {
	h, _ := s.edge.At(min(d, s.radius))
	return h
}

// searched is the lowest place by search between two places of the move; the figure is a convex function of them.
func (s *sweep) searched(along, d2, low, high float64) float64 {
	at := func(t float64) float64 {
		return s.a.Z + s.slope*t + s.rise(math.Sqrt(d2+(along-t)*(along-t)))
	}
	const golden = 0.6180339887498949
	l, h := low, high
	m, n := h-golden*(h-l), l+golden*(h-l)
	zm, zn := at(m), at(n)
	for h-l > 1e-3 {
		if zm <= zn {
			h, n, zn = n, m, zm
			m = h - golden*(h-l)
			zm = at(m)
		} else {
			l, m, zm = m, n, zn
			n = l + golden*(h-l)
			zn = at(n)
		}
	}
	return min(zm, zn, at(low), at(high))
}

// A stretch is which columns of a move are visited: those whose place t is not before the move's begin, unless the begin is
// whole, and no more than beyond after its end. What is left out belongs to the moves that it joins.
type stretch struct {
	whole  bool
	beyond float64
}

// visit calls do for columns that the cutter passes over, with the lowest place of its end over them, in counts.
func (s *sweep) visit(p stretch, do func(n int, z int32)) {
	r := s.radius
	endY := s.a.Y + s.uy*s.length
	j0 := max(int(math.Ceil((min(s.a.Y, endY)-r)/s.stepY)), 0)
	j1 := min(int(math.Floor((max(s.a.Y, endY)+r)/s.stepY)), s.h-1)
	for j := j0; j <= j1; j++ {
		s.row(j, p, do)
	}
}

// row visits the columns of one row.
func (s *sweep) row(j int, p stretch, do func(n int, z int32)) {
	r := s.radius
	y := float64(j)*s.stepY - s.a.Y
	// x from a.X for which the column is no further beside the move than the radius, and not beyond its ends by more
	low, high := -r, r
	if s.length > 0 {
		low, high = -r+min(0, s.ux*s.length), r+max(0, s.ux*s.length)
		if math.Abs(s.uy) > 1e-12 {
			mid, half := y*s.ux/s.uy, r/math.Abs(s.uy)
			low, high = max(low, mid-half), min(high, mid+half)
		} else if math.Abs(y) > r {
			return
		}
	}
	i0 := max(int(math.Ceil((s.a.X+low)/s.stepX-1e-9)), 0)
	i1 := min(int(math.Floor((s.a.X+high)/s.stepX+1e-9)), s.w-1)
	if s.closed && s.length > 0 && math.Abs(s.uy) <= 1e-12 {
		s.straightRow(j, i0, i1, y, p, do)
		return
	}
	for i := i0; i <= i1; i++ {
		x := float64(i)*s.stepX - s.a.X
		along, beside := x*s.ux+y*s.uy, y*s.ux-x*s.uy
		q := r*r - beside*beside
		if q < 0 {
			continue
		}
		if s.closed && s.length > 0 {
			t := along - s.lead(math.Sqrt(q))
			if t < 0 && !p.whole || t > s.length+p.beyond {
				continue
			}
		}
		if z, ok := s.over(along, q); ok {
			do(j*s.w+i, toCount(z))
		}
	}
}

func toCount(z float64) int32 { return int32(math.Floor(z/unit + 0.5)) }

// straightRow is row for a move along the rows: its middle is a straight line.
func (s *sweep) straightRow(j, i0, i1 int, y float64, p stretch, do func(n int, z int32)) {
	q := s.radius*s.radius - y*y
	if q < 0 {
		return
	}
	w := math.Sqrt(q)
	lead := s.lead(w)
	at := s.a.Z - s.slope*lead
	if s.tip > 0 {
		at += s.tip - math.Sqrt(max(q-lead*lead, 0))
	}
	for i := i0; i <= i1; i++ {
		along := (float64(i)*s.stepX - s.a.X) * s.ux
		t := along - lead
		if t >= 0 && t <= s.length {
			do(j*s.w+i, toCount(at+s.slope*along))
			continue
		}
		if t < 0 && !p.whole || t > s.length+p.beyond {
			continue
		}
		if z, ok := s.over(along, q); ok {
			do(j*s.w+i, toCount(z))
		}
	}
}

// joint is how far beyond the end of a move columns may lie that belong to no other: those between its way and the next one's.
func (s *sweep) joint(next *sweep) float64 {
	turn := 0.0
	if cos := s.ux*next.ux + s.uy*next.uy; cos <= 0 {
		return 2 * s.radius
	} else if cross := math.Abs(s.ux*next.uy - s.uy*next.ux); cross > 1e-12 {
		turn = cross
	}
	pitch := func(o *sweep) float64 { return o.lead(1) }
	return s.radius*(max(pitch(next)-pitch(s), 0)+turn) + 1e-6
}
