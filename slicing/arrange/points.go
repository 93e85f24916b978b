package arrange

import (
	"math"
	"math/big"

	"grainstack/slicing/mesh"
)

// A spot is a point known exactly: its coordinates are whole[0..2] over whole[3], which is above 0, on the grid of the points'
// shift; at is nearest to it in the mesh's units, off by at most one unit in the last place.
type spot struct {
	whole [4]*big.Int
	at    [3]float64
	given bool // a point of the mesh: at is exact
}

// points are those of a mesh and the new ones where facets meet, numbered on from these. Each place has one number.
type points struct {
	m       *mesh.Mesh
	shift   int
	spots   map[int32]*spot // those of the mesh that were asked for
	made    []*spot
	byPlace map[string]int32
	crossed map[crossed]int32
}

// A crossed edge and the facet whose plane it passes; low < high.
type crossed struct{ low, high, facet int32 }

func newPoints(m *mesh.Mesh) *points { return newPointsOn(m, wholeShift(m)) }

// newPointsOn is newPoints where the mesh's shift is known.
func newPointsOn(m *mesh.Mesh, shift int) *points {
	return &points{m: m, shift: shift, spots: map[int32]*spot{}, byPlace: map[string]int32{}, crossed: map[crossed]int32{}}
}

// of is the point with a number.
func (p *points) of(id int32) *spot {
	if n := int(id) - len(p.m.Points); n >= 0 {
		return p.made[n]
	}
	if s := p.spots[id]; s != nil {
		return s
	}
	v := p.m.Points[id].Vec()
	s := p.exactly(v.X, v.Y, v.Z)
	p.spots[id] = s
	p.byPlace[placeOf(&s.whole)] = id
	return s
}

// exactly is the spot at a place that the grid has.
func (p *points) exactly(x, y, z float64) *spot {
	return &spot{[4]*big.Int{whole(x, p.shift), whole(y, p.shift), whole(z, p.shift), big.NewInt(1)}, [3]float64{x, y, z}, true}
}

// spotAt is the spot at coordinates over a common denominator, in lowest terms.
func (p *points) spotAt(w [4]*big.Int) *spot {
	common := new(big.Int).Abs(w[3])
	for _, v := range w[:3] {
		if v.Sign() != 0 {
			common.GCD(nil, nil, common, new(big.Int).Abs(v))
		}
	}
	if w[3].Sign() < 0 {
		common.Neg(common)
	}
	s := &spot{}
	for k, v := range w {
		s.whole[k] = new(big.Int).Quo(v, common)
	}
	for k := range s.at {
		s.at[k] = quotient(s.whole[k], s.whole[3], p.shift)
	}
	return s
}

// number is the number of the point at a place, a new one where there is none.
func (p *points) number(w [4]*big.Int) int32 {
	s := p.spotAt(w)
	key := placeOf(&s.whole)
	if id, ok := p.byPlace[key]; ok {
		return id
	}
	id := int32(len(p.m.Points) + len(p.made))
	p.made = append(p.made, s)
	p.byPlace[key] = id
	return id
}

// placeOf is a key that is the same for the same place.
func placeOf(w *[4]*big.Int) string {
	key := make([]byte, 0, 96)
	for _, v := range w {
		b := v.Bytes()
		key = append(key, byte(v.Sign()), byte(len(b)), byte(len(b)>>8))
		key = append(key, b...)
	}
	return string(key)
}

// between is the point of the line from a to b that has the weights wa and wb, of opposite signs, on a's and b's whole numbers.
func (p *points) between(a, b *spot, wa, wb *big.Int) int32 {
	var w [4]*big.Int
	for k := range w {
		var s sum
		s.add(wa, a.whole[k])
		s.add(wb, b.whole[k])
		w[k] = &s.all
	}
	return p.number(w)
}

// passes is the point where the edge from a to b, points of the mesh, runs through the plane of a facet, off which both lie.
func (p *points) passes(a, b, facet int32) int32 {
	key := crossed{min(a, b), max(a, b), facet}
	if id, ok := p.crossed[key]; ok {
		return id
	}
	t := p.m.Triangles[facet]
	pa, pb := p.of(a), p.of(b)
	da := p.height(t, pa)
	db := p.height(t, pb)
	id := p.between(pa, pb, db.Neg(db), da)
	p.crossed[key] = id
	return id
}

// height is how far a point lies above a facet's plane, times twice the facet's area and the point's denominator.
func (p *points) height(t mesh.Triangle, d *spot) *big.Int {
	a, b, c := p.of(t[0]), p.of(t[1]), p.of(t[2])
	var u, v, w [3]*big.Int
	for k := range u {
		u[k] = new(big.Int).Sub(b.whole[k], a.whole[k])
		v[k] = new(big.Int).Sub(c.whole[k], a.whole[k])
		w[k] = new(big.Int).Mul(a.whole[k], d.whole[3])
		w[k].Sub(d.whole[k], w[k])
	}
	var s sum
	for k := range u {
		i, j := (k+1)%3, (k+2)%3
		s.add(det2(u[i], u[j], v[i], v[j]), w[k])
	}
	return &s.all
}

// side is on which side of a facet's plane a point lies: 1 above, -1 below, 0 in it.
func (p *points) side(t mesh.Triangle, d *spot) int {
	a, b, c := p.m.Points[t[0]], p.m.Points[t[1]], p.m.Points[t[2]]
	var u, v, w [3]float64
	for k := range u {
		u[k], v[k], w[k] = float64(b[k])-float64(a[k]), float64(c[k])-float64(a[k]), d.at[k]-float64(a[k])
	}
	h := w[0]*(u[1]*v[2]-u[2]*v[1]) + w[1]*(u[2]*v[0]-u[0]*v[2]) + w[2]*(u[0]*v[1]-u[1]*v[0])
	sure := reach(&u) * reach(&v) * (productError*reach(&w) + d.off())
	if h > sure || h < -sure {
		return sign(h)
	}
	return p.height(t, d).Sign()
}

const (
	// productError bounds the rounding of a product of three differences, or of two of them times something exact, against the
	// product of the sums of their parts: each of at most eight steps rounds by half a unit in the last place of 53 bits.
	productError = 16 * 0x1p-53
	// placeError bounds by how much a spot's at is off, against its largest coordinate.
	placeError = 2 * 0x1p-53
)

// off is by how much at may be off along each axis, all axes together.
func (s *spot) off() float64 {
	if s.given {
		return 0
	}
	return 3 * placeError * max(math.Abs(s.at[0]), math.Abs(s.at[1]), math.Abs(s.at[2]))
}

// reach is the sum of a vector's parts.
func reach(v *[3]float64) float64 { return math.Abs(v[0]) + math.Abs(v[1]) + math.Abs(v[2]) }

func sign(v float64) int {
	switch {
	case v > 0:
		return 1
	case v < 0:
		return -1
	}
	return 0
}
