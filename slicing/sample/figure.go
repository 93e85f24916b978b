package sample

import (
	"math"
	"math/bits"

	"grainstack/slicing/geom"
)

// A figure is a row of lumps, each put on or taken away in turn. There are at most 64, so that a set of them is a word.
type figure []lump

// all is the set of every lump.
func (f figure) all() uint64 { return 1<<len(f) - 1 }

// distance is about how far p is from the skin, negative inside, counting only the lumps of the set; slope is the
// direction in which it grows, not of length 1 within a blend. Zero is exact.
func (f figure) distance(p geom.Vec, set uint64) (d float64, slope geom.Vec) {
	d, slope = emptySpace, geom.Vec{Z: 1}
	for ; set != 0; set &= set - 1 {
		l := &f[bits.TrailingZeros64(set)]
		e, s := l.distance(p)
		if l.cut {
			d, slope = flow(-d, slope.Scale(-1), e, s, l.blend)
			d, slope = -d, slope.Scale(-1)
		} else {
			d, slope = flow(d, slope, e, s, l.blend)
		}
	}
	return d, slope
}

// emptySpace is the distance where nothing is, mm.
const emptySpace = 1e4

// far is distance without the slope.
func (f figure) far(p geom.Vec, set uint64) float64 {
	d := float64(emptySpace)
	for ; set != 0; set &= set - 1 {
		l := &f[bits.TrailingZeros64(set)]
		d = l.put(d, l.far(p))
	}
	return d
}

// put is the distance d once the lump, e away, has been put on or taken away. It never falls when d grows; it never
// falls when e grows if the lump is put on, and never grows if it is taken away.
func (l *lump) put(d, e float64) float64 {
	if l.cut {
		return -blend(-d, e, l.blend)
	}
	return blend(d, e, l.blend)
}

// blend is the lesser of a and b, rounded off by a cubic where they differ by less than width.
func blend(a, b, width float64) float64 {
	h := width - math.Abs(b-a)
	if h <= 0 {
		return min(a, b)
	}
	return min(a, b) - h*h*h/(6*width*width)
}

// flow is blend with the slopes mixed accordingly.
func flow(a float64, sa geom.Vec, b float64, sb geom.Vec, width float64) (float64, geom.Vec) {
	if b < a {
		a, sa, b, sb = b, sb, a, sa
	}
	if b-a >= width {
		return a, sa
	}
	h := 1 - (b-a)/width
	w := h * h / 2
	return a - h*h*h*width/6, sa.Scale(1 - w).Add(sb.Scale(w))
}

// near tells of the ball of radius r round c, if only the lumps of the set matter there: which of them do, whether the skin
// may pass through, and if not whether the ball is inside.
func (f figure) near(c geom.Vec, r float64, set uint64) (part uint64, skin, inside bool) {
	least, most := float64(emptySpace), float64(emptySpace)
	var low [64]float64
	for rest := set; rest != 0; rest &= rest - 1 {
		i := bits.TrailingZeros64(rest)
		l := &f[i]
		e, give := l.far(c), l.steep*r
		low[i] = e - give
		if l.cut {
			least, most = l.put(least, e+give), l.put(most, e-give)
		} else {
			least, most = l.put(least, e-give), l.put(most, e+give)
		}
	}
	if least > 0 || most < 0 {
		return 0, false, most < 0
	}
	widest := 0.0
	for i := len(f) - 1; i >= 0; i-- {
		widest = max(widest, f[i].blend)
		if set>>i&1 == 1 && low[i] <= most+reach*widest {
			part |= 1 << i
		}
	}
	return part, true, false
}

// reach is how far beyond the skin a lump matters, as a multiple of the widest blend from it on: more than one, because
// blends follow one another.
const reach = 1.2

// box holds the figure above the floor.
func (f figure) box() geom.Box {
	b := geom.EmptyBox()
	for i := range f {
		if !f[i].cut {
			l := f[i].box()
			b = b.Add(l.Min).Add(l.Max)
		}
	}
	b.Min.Z = 0
	return b
}
