package panel

import (
	"cmp"
	"context"
	"errors"
	"math"
	"slices"

	"grainstack/slicing/geom"
	"grainstack/slicing/plane"
)

// PinRules say what an alignment pin needs.
type PinRules struct {
	Diameter float64
	Cover    float64 // wood wanted all round the pin
	// Within are regions that a pin has to lie in as far from their edges: the wood at other heights of its hole.
	Within []geom.Region
	// Clear is how far a pin's axis is from any surface, of the outside or of the core, over the whole depth of the pin, mm;
	// it changes by no more than the way moved. nil where the faces say all.
	Clear  func(axis geom.Vec2) float64
	Third  float64     // a third pin where the first two are further apart than this; 0 for never
	Avoid  []geom.Vec2 // axes of pins in the joints next to this: two diameters off
	Differ []float64   // distances of pairs in the joints next to this: a pair here differs by a diameter, so that no layer goes in upside down
}

// A Pin is a hidden dowel between two layers.
type Pin struct {
	At    geom.Vec2
	Room  float64 // from its axis to the nearest surface or edge of the common area
	Piece int     // of the common area, from 0
}

// A Common is a connected piece of the area that two layers share at their joint.
type Common struct {
	Area float64 // to the raster's accuracy
	Pins int
}

// Pins places alignment pins in the area that all faces share and no core touches: in each connected piece the place of
// greatest clearance, then the one furthest from it that has at least 60 % of that, where there is room. The middle of a pair
// lies off the middle of its piece, so that a layer turned round by half a turn shows it. Pieces without room have no pin.
func Pins(ctx context.Context, faces, cores []geom.Region, r PinRules) ([]Pin, []Common, error) {
	if !(r.Diameter > 0 && r.Diameter < 1e4) || !(r.Cover >= 0 && r.Cover < 1e4) || !(r.Third >= 0) {
		return nil, nil, errors.New("panel: a pin needs a diameter of more than 0 mm and a cover that is not below 0")
	}
	if len(faces) == 0 {
		return nil, nil, nil
	}
	f, ok := newFace(faces, cores, r)
	if !ok {
		return nil, nil, ctx.Err()
	}
	var pins []Pin
	pieces := f.pieces()
	commons := make([]Common, len(pieces))
	for i, cells := range pieces {
		if err := ctx.Err(); err != nil {
			return nil, nil, err
		}
		chosen := f.pair(cells)
		for k := range chosen {
			chosen[k].Piece = i
		}
		pins = append(pins, chosen...)
		commons[i] = Common{Area: float64(len(cells)) * f.step * f.step, Pins: len(chosen)}
	}
	return pins, commons, nil
}

// A face is the common area of a joint as cells.
type face struct {
	rules  PinRules
	step   float64
	corner geom.Vec2
	common mask // of all faces, less the cores
	inside mask // of that what lies within the other regions
	solid  []outline
	cores  []outline
	// several are the places in solid of what is of several pieces, which may adjoin.
	several []int
	square  []int32 // squared clearance of each cell, in cells
}

// The raster of a joint: cells of at least pinStep mm, at most mostPinCells along its longer side.
const (
	pinStep      = 0.5
	mostPinCells = 400
)

// newFace draws the common area; ok is false where it is empty.
func newFace(faces, cores []geom.Region, r PinRules) (f *face, ok bool) {
	box := faces[0].Box()
	for _, g := range faces[1:] {
		b := g.Box()
		box.Min = geom.Vec2{X: math.Max(box.Min.X, b.Min.X), Y: math.Max(box.Min.Y, b.Min.Y)}
		box.Max = geom.Vec2{X: math.Min(box.Max.X, b.Max.X), Y: math.Min(box.Max.Y, b.Max.Y)}
	}
	size := box.Size()
	if !(size.X > 0 && size.Y > 0) || !finite(size.X) || !finite(size.Y) {
		return nil, false
	}
	f = &face{rules: r, corner: box.Min, step: math.Max(pinStep, math.Max(size.X, size.Y)/mostPinCells)}
	for _, g := range faces {
		f.solid = append(f.solid, newOutline(g))
	}
	for _, g := range cores {
		f.cores = append(f.cores, newOutline(g))
	}
	columns, rows := cells(size.X, f.step), cells(size.Y, f.step)
	f.common = newMask(columns, rows)
	shift := box.Min.Scale(-1)
	f.common.fill(faces[0], shift, f.step)
	drawn := func(g geom.Region) *plane.Mask {
		m := newMask(columns, rows)
		m.fill(g, shift, f.step)
		return &m.Mask
	}
	for _, g := range faces[1:] {
		f.common.Keep(drawn(g))
	}
	for _, g := range cores {
		f.common.Remove(drawn(g))
	}
	f.inside.SetAll(rows, columns)
	f.inside.Keep(&f.common.Mask)
	for _, g := range r.Within {
		f.solid = append(f.solid, newOutline(g))
		f.inside.Keep(drawn(g))
	}
	for i, o := range f.solid {
		pieces := 0
		for _, r := range o.region {
			if r.Area() > 0 {
				pieces++
			}
		}
		if pieces > 1 {
			f.several = append(f.several, i)
		}
	}
	f.square = clearances(&f.inside)
	return f, true
}

// middle is the middle of a cell.
func (f *face) middle(cell int) geom.Vec2 {
	i, j := cell/f.inside.W, cell%f.inside.W
	return f.corner.Add(geom.Vec2{X: (float64(i) + 0.5) * f.step, Y: (float64(j) + 0.5) * f.step})
}

// most is what the clearance of a cell cannot be more than.
func (f *face) most(cell int) float64 {
	return (math.Sqrt(float64(f.square[cell])) + math.Sqrt2/2) * f.step
}

// room is how far a point is from every edge and surface, 0 outside the common area.
func (f *face) room(p geom.Vec2) float64 {
	for i := range f.solid {
		if !f.solid[i].contains(p) {
			return 0
		}
	}
	for i := range f.cores {
		if f.cores[i].contains(p) {
			return 0
		}
	}
	return f.within(p, f.rim(p, math.Inf(1)))
}

// rim is how far a point is from every edge, when that is less than limit, else limit.
func (f *face) rim(p geom.Vec2, limit float64) float64 {
	for i := range f.solid {
		limit = f.solid[i].rim(p, limit)
	}
	for i := range f.cores {
		limit = f.cores[i].rim(p, limit)
	}
	return limit
}

// within is room as far as the depth of the pin and the pins in other joints leave it.
func (f *face) within(p geom.Vec2, room float64) float64 {
	if f.rules.Clear != nil {
		if c := f.rules.Clear(p); !(c >= room) {
			room = c
		}
	}
	if !(room > 0) {
		return 0
	}
	for _, q := range f.rules.Avoid {
		if p.Sub(q).Len() < 2*f.rules.Diameter {
			return 0
		}
	}
	return room
}

// pieces are the cells of each connected piece, the largest first.
func (f *face) pieces() (out [][]int) {
	seen := make([]bool, len(f.square))
	rows := f.inside.W
	none := func(c int) bool { return !f.common.Has(c%rows, c/rows) }
	for start := range f.square {
		if seen[start] || none(start) {
			continue
		}
		seen[start] = true
		cells := []int{start}
		for n := 0; n < len(cells); n++ {
			c := cells[n]
			for _, d := range [4]int{c - rows, c + rows, c - 1, c + 1} {
				if d < 0 || d >= len(seen) || d == c-1 && c%rows == 0 || d == c+1 && d%rows == 0 || seen[d] || none(d) {
					continue
				}
				seen[d] = true
				cells = append(cells, d)
			}
		}
		out = append(out, cells)
	}
	slices.SortStableFunc(out, func(a, b []int) int { return cmp.Compare(len(b), len(a)) })
	return out
}
