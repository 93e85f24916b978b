package hours

import (
	"math"

	"grainstack/slicing/plane"
	"grainstack/slicing/stock"
)

// Facing lets the two sides of the same wood know of one another: where one side's cutter has taken all that lies below, the other's
// does not go. The upper side is roughed first and knows of nothing. Sides that don't lie on one another are left as they
// are.
func Facing(up, down *Ground) {
	if up == nil || down == nil || up.W != down.W || up.H != down.H || up.Origin != down.Origin || up.AlongY != down.AlongY {
		return
	}
	down.other = up
}

// meet gives each area of a side the same one of the other side, as its rough pass has left it.
func (g *Ground) meet(areas []*Ground, s *Setup) {
	o := g.other
	if o == nil || o.exact[0] != nil && o.traced == nil {
		return
	}
	there := o.traced
	if there == nil {
		there = o.areas(s)
	}
	for i, a := range areas {
		if a.other = nil; len(there) == len(areas) {
			a.other = there[i]
		}
	}
}

// patch is half as wide as places that are left out are at the least, mm: next to a wall they end in stairs of the columns.
const patch = 0.6

// breaks is how often leaving out a piece breaks rows and outlines that went on over it, each time for a lift (tried on the test
// pieces: minutes are fewest with this many).
const breaks = 4

// through makes air the places where the other side's rough cutter has been so deep that this one finds nothing below a height any
// more.
func (w *worker) through(air *plane.Mask, below float64) {
	o, c := w.other, w.setup.Rough
	if o == nil {
		air.Reset(w.W, w.H)
		return
	}
	far, r := w.Thickness-below, c.Diameter/2
	if o.standing != nil {
		s := o.standing
		var wood plane.Mask
		wood.SetAll(s.w, s.h)
		air.AtMost(s.z, float32(far+levelSlack), &wood)
		wood.Remove(air)
		w.words = air.Dilate(&wood, (r-shaving)/w.Step, w.words)
		wood.Complement(air)
		*air = s.seen(&wood)
	} else {
		air.AtMost(o.Rough, float32(far-cleared(c)+levelSlack), &o.mayRough)
	}
	w.worth(air, below)
}

// worth takes out of a mask what is narrower than a patch, and the pieces that are gone over more quickly than the cutter is lifted
// over them.
func (w *worker) worth(m *plane.Mask, z float64) {
	var rest, wide plane.Mask
	rest.Complement(m)
	w.words = wide.Dilate(&rest, patch/w.Step, w.words)
	rest.Complement(&wide)
	w.words = m.Dilate(&rest, patch/w.Step, w.words)
	lift := 2 * Move(w.safe-z, w.rapidZ, w.accelZ)
	pieces := m.Pieces()
	m.Reset(w.W, w.H)
	for _, runs := range pieces {
		places := 0
		for _, r := range runs {
			places += int(r.To-r.From) + 1
		}
		if float64(places)*w.Step*w.Step/w.setup.Rough.Stepover/w.feed < breaks*lift {
			continue
		}
		for _, r := range runs {
			m.SetSpan(int(r.Row), int(r.From), int(r.To)+1)
		}
	}
}

// cleared is how much higher than its tip a cutter clears all under it, mm.
func cleared(c stock.Cutter) float64 {
	rise, _ := c.Profile(c.Diameter/2 - shaving)
	return rise
}

// seen is what a mask of the wood has on the ground's raster.
func (s *standing) seen(m *plane.Mask) plane.Mask {
	pad := int(math.Round(s.pad / s.step))
	return m.Cropped(pad, pad, s.w-2*pad, s.h-2*pad)
}

// fall takes away what hangs on nothing: the other side's cutter has been higher from below. Between a column that has nothing and one
// with wood the wood may end anywhere, so that columns beside wood keep theirs: a rapid comes down beside them.
func (w *worker) fall() {
	if w.stands == nil || w.other == nil || w.other.standing == nil {
		return
	}
	s, far := w.stands, w.other.standing.z
	var wood, near, gone plane.Mask
	wood.Reset(s.w, s.h)
	for i, z := range s.z {
		if z+far[i] > float32(w.Thickness+levelSlack) {
			wood.Set(i%s.w, i/s.w)
		}
	}
	w.words = near.Dilate(&wood, 1.5, w.words)
	gone.Complement(&near)
	var runs []plane.Run
	for j := range s.h {
		runs = gone.Runs(runs[:0], j, j)
		for _, r := range runs {
			clear(s.z[j*s.w+int(r.From) : j*s.w+int(r.To)+1])
		}
	}
}
