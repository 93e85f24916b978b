package workshop

import (
	"context"
	"slices"
	"sync"

	"grainstack/slicing/field"
	"grainstack/slicing/geom"
	"grainstack/slicing/job"
)

// A hollowing tells where the hollow goes right through a layer: an upright one is a pocket, a carved one is deeper than the wall at
// all heights.
type hollowing struct {
	pocket geom.Region
	least  *field.Least
}

// hollowings are the hollow of each layer over a rectangle of the stand, nil where it was called off. The lattice that carved hollows
// are read from is laid when one is asked for first.
func hollowings(ctx context.Context, f *job.Figures) func(l *job.Layer, over geom.Box2) *hollowing {
	made, _ := f.Made()
	lattice := sync.OnceValues(func() (*field.Lattice, error) {
		return field.NewLattice(ctx, made.Grid, made.Placed.Placement, made.Placed.Box, f.For.Wall)
	})
	return func(l *job.Layer, over geom.Box2) *hollowing {
		if f.For.Core == job.Straight {
			return &hollowing{pocket: l.Pocket}
		}
		of, err := lattice()
		if err != nil {
			return nil
		}
		least, err := field.NewLeast(ctx, of, l.Bottom, l.Top, over)
		if err != nil {
			return nil
		}
		return &hollowing{least: least}
	}
}

// A round is what lies about a piece that the hollow has cut free.
type round struct {
	columns *columns
	labels  []int32 // which piece a column is of, 0 for none
	number  int32   // of the piece
	area    geom.Box2
}

// roundStep is how far apart places about a piece are looked at, mm: fine enough for the corners at which the hollow's rim goes from
// one height on at another.
const roundStep = coverStep / 4

// roundColumns is how far from the piece's columns its rim may lie, in columns.
const roundColumns = 2

func newRound(k *columns, labels []int32, number int32) *round {
	r := &round{k, labels, number, geom.EmptyBox2()}
	for i, at := range labels {
		if at == number {
			r.area = r.area.Add(k.middle(i))
		}
	}
	more := geom.Vec2{X: roundColumns, Y: roundColumns}.Scale(k.step)
	r.area = geom.Box2{Min: r.area.Min.Sub(more), Max: r.area.Max.Add(more)}
	return r
}

// rim is the line along which the hollow, at all heights together, ends round the piece.
func (r *round) rim(h *hollowing) (rim geom.Ring, ok bool) {
	if h == nil {
		return nil, false
	}
	if h.least == nil {
		return r.island(h.pocket)
	}
	c := coverOf(r.area, roundStep)
	v := make([]float32, len(c.bits))
	for i := range v {
		v[i] = r.wood(c.middle(i), h.least)
	}
	for _, ring := range c.contour(v, outlineThin) {
		if ring.Area() > 0 && (!ok || ring.Area() > rim.Area()) {
			rim, ok = ring, true
		}
	}
	return rim, ok
}

// wood is how far a place lies in the piece's wood at some height, mm, as far as that says where its rim is; it is below 0 in the
// hollow and everywhere else.
func (r *round) wood(at geom.Vec2, least *field.Least) float32 {
	const far = 1
	k := r.columns
	i, ok := k.cell(at)
	if x, y := i%k.nx, i/k.nx; !ok || min(x, y, k.nx-1-x, k.ny-1-y) < roundColumns || r.labels[i] != 0 && r.labels[i] != r.number {
		return -far
	}
	of := 0
	for row := -roundColumns; row <= roundColumns; row++ {
		for col := -roundColumns; col <= roundColumns; col++ {
			if r.labels[i+row*k.nx+col] == r.number {
				of++
			}
		}
	}
	switch of {
	case 0:
		return -far
	case (2*roundColumns + 1) * (2*roundColumns + 1):
		return far
	}
	return float32(-least.At(at))
}

// island is the smallest one of a pocket that the piece stands on.
func (r *round) island(pocket geom.Region) (rim geom.Ring, ok bool) {
	on := r.columns.middle(slices.Index(r.labels, r.number))
	for _, ring := range pocket {
		if ring.Area() >= 0 {
			continue
		}
		back := slices.Clone(ring)
		slices.Reverse(back)
		if (geom.Region{back}).Contains(on) && (!ok || back.Area() < rim.Area()) {
			rim, ok = back, true
		}
	}
	return rim, ok
}
