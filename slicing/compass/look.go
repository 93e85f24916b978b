package compass

import (
	"context"
	"math"

	"grainstack/slicing/geom"
	"grainstack/slicing/job"
	"grainstack/slicing/stack"
	"grainstack/slicing/stock"
)

const (
	// A stripe reads from 5 minutes of arc on at 1.5 m, the size of the ring that eyes of full sight tell the gap of (ISO 8596, from
	// memory): 2.2 mm. Wider than a hand's two fingers it reads as a patch (common practice, no source).
	narrowestStripe = 2.2  // mm
	widestStripe    = 30.0 // mm

	facesOut = 40   // directions of facets are gathered in this many steps along either side of a cube: 2.3 degrees
	cellsOut = 28   // features are gathered in cubes of this share of the piece's longest side
	fullLook = 1e-3 // least share of all look that features have to be of to say anything
	sharp    = math.Pi / 4
	ctxEvery = 1 << 16
)

// A look is what stripes are judged by, gathered from the full surface once for all bearings; facets count by their area and
// their mark.
//
// Width: a veneer of thickness t comes out t/sin θ wide on a surface whose normal leans by θ from the stack axis. That needs
// the facets' directions only (the extended Gaussian image: Horn, Proceedings of the IEEE 72(12), 1984).
//
// Way: stripes are level lines, so they run along n × up. A feature is bent most across its length: its strongest curvature
// goes round it. Stripes ring it where they run with the strongest curvature, and run along it where they cross that. The
// curvature of a place is the sum over the edges in it of their length times the angle by which the surface folds there, as a tensor
// along the edge (the normal cycle: Cohen-Steiner and Morvan, ACM Symposium on Computational Geometry, 2003), which is exact
// for the facets of a rod and does not mind how a surface is triangulated. Edges that fold by more than 45 degrees are creases and
// no curvature.
type look struct {
	total    float64 // piece units², weighed
	facing   []facing
	features []feature
}

// A facing is all surface that faces about one way.
type facing struct {
	normal geom.Vec
	area   float64
}

// A feature is a place that is bent more one way than the other.
type feature struct {
	normal geom.Vec
	round  geom.Vec // the way of the strongest curvature
	weight float64  // by area, by how much the two curvatures differ and by how strong they are
}

// newLook gathers the look of a piece; weight is that of each facet, nil for 1.
func newLook(ctx context.Context, p *job.Piece, weight func(facet int) float64) (*look, error) {
	box := p.Mesh.Box()
	g := gathering{p: p, middle: box.Center(), bins: make([]facing, 6*facesOut*facesOut), places: map[place]*bend{}}
	size := box.Size()
	g.side = max(size.X, size.Y, size.Z)
	g.normals, g.weights = make([]geom.Vec, len(p.Mesh.Triangles)), make([]float64, len(p.Mesh.Triangles))
	for i := range p.Mesh.Triangles {
		if i%ctxEvery == 0 && ctx.Err() != nil {
			return nil, ctx.Err()
		}
		g.facet(i, weight)
	}
	for i := range p.Mesh.Triangles {
		if i%ctxEvery == 0 && ctx.Err() != nil {
			return nil, ctx.Err()
		}
		g.folds(i)
	}
	return g.look(), ctx.Err()
}

// A gathering is a look in the making.
type gathering struct {
	p       *job.Piece
	middle  geom.Vec
	side    float64 // longest
	normals []geom.Vec
	weights []float64 // area times the facet's weight
	bins    []facing  // normal is a sum here
	places  map[place]*bend
	order   []*bend
	last    place
	at      *bend
}

// A place is a cube and a way out of it, so that the two skins of something thin are two places.
type place struct {
	x, y, z int16
	face    uint8
}

// A bend is the curvature of one place.
type bend struct {
	normal geom.Vec // sum
	area   float64
	weight float64
	fold   tensor
}

// A tensor is symmetric: xx, yy, zz, xy, yz, zx.
type tensor [6]float64

func (t *tensor) add(e geom.Vec, f float64) {
	t[0] += f * e.X * e.X
	t[1] += f * e.Y * e.Y
	t[2] += f * e.Z * e.Z
	t[3] += f * e.X * e.Y
	t[4] += f * e.Y * e.Z
	t[5] += f * e.Z * e.X
}

// on is u·T·v.
func (t *tensor) on(u, v geom.Vec) float64 {
	return u.X*(t[0]*v.X+t[3]*v.Y+t[5]*v.Z) + u.Y*(t[3]*v.X+t[1]*v.Y+t[4]*v.Z) + u.Z*(t[5]*v.X+t[4]*v.Y+t[2]*v.Z)
}

func (g *gathering) facet(i int, weight func(int) float64) {
	a, b, c := g.p.Mesh.Corners(i)
	n := b.Sub(a).Cross(c.Sub(a))
	area := n.Len() / 2
	if !(area > 0) {
		return
	}
	n = n.Scale(0.5 / area)
	g.normals[i], g.weights[i] = n, area
	if weight != nil {
		g.weights[i] *= weight(i)
	}
	bin := &g.bins[binOf(n)]
	bin.normal = bin.normal.Add(n.Scale(area))
	bin.area += g.weights[i]
	p := g.placeOf(i)
	p.normal = p.normal.Add(n.Scale(area))
	p.area += area
	p.weight += g.weights[i]
}

// placeOf is where facet i belongs; its normal has to be known.
func (g *gathering) placeOf(i int) *bend {
	a, b, c := g.p.Mesh.Corners(i)
	middle := a.Add(b).Add(c).Scale(1.0 / 3).Sub(g.middle).Scale(cellsOut / g.side)
	face, _, _ := cubeFace(g.normals[i])
	key := place{int16(math.Floor(middle.X)), int16(math.Floor(middle.Y)), int16(math.Floor(middle.Z)), face}
	if g.at != nil && key == g.last {
		return g.at
	}
	at, ok := g.places[key]
	if !ok {
		at = &bend{}
		g.places[key] = at
		g.order = append(g.order, at)
	}
	g.last, g.at = key, at
	return at
}

// folds adds half of what the surface folds by at each edge of facet i to its place.
func (g *gathering) folds(i int) {
	n := g.normals[i]
	if n == (geom.Vec{}) {
		return
	}
	t := g.p.Mesh.Triangles[i]
	var at *bend
	for k := range 3 {
		twin := g.p.Adjacency[3*i+k]
		if twin < 0 || g.normals[twin/3] == (geom.Vec{}) {
			continue
		}
		e := g.p.Mesh.Points[t[(k+1)%3]].Vec().Sub(g.p.Mesh.Points[t[k]].Vec())
		long := e.Len()
		if !(long > 0) {
			continue
		}
		m := g.normals[twin/3]
		angle := math.Atan2(n.Cross(m).Dot(e)/long, n.Dot(m))
		if angle == 0 || math.Abs(angle) > sharp {
			continue
		}
		if at == nil {
			at = g.placeOf(i)
		}
		at.fold.add(e, angle/(2*long)) // e·eᵀ has the edge's length twice
	}
}

func (g *gathering) look() *look {
	l := &look{}
	for _, b := range g.bins {
		if b.area > 0 {
			l.facing = append(l.facing, facing{b.normal.Unit(), b.area})
			l.total += b.area
		}
	}
	for _, p := range g.order {
		if f := p.feature(g.side); f.weight > 0 {
			l.features = append(l.features, f)
		}
	}
	return l
}

// feature finds the way of the strongest curvature: square, in the surface, to the tensor's strongest way.
func (p *bend) feature(side float64) feature {
	n := p.normal.Unit()
	if n == (geom.Vec{}) || !(p.weight > 0) {
		return feature{}
	}
	u, v := square(n)
	a, b, c := p.fold.on(u, u)/p.area, p.fold.on(u, v)/p.area, p.fold.on(v, v)/p.area
	mean, half := (a+c)/2, math.Hypot((a-c)/2, b)
	strong, weak := mean+half, mean-half
	turn := math.Atan2(b, (a-c)/2) / 2 // of the way of the greater one from u
	if math.Abs(weak) > math.Abs(strong) {
		strong, weak, turn = weak, strong, turn+math.Pi/2
	}
	bent := math.Abs(strong) * side
	if bent == 0 {
		return feature{}
	}
	s, cs := math.Sincos(turn)
	along := u.Scale(cs).Add(v.Scale(s))
	differ := (math.Abs(strong) - math.Abs(weak)) / (math.Abs(strong) + math.Abs(weak))
	return feature{n, n.Cross(along), p.weight * differ * bent / (1 + bent)}
}

// binOf is the bin of a unit normal: a face of the cube and a square on it.
func binOf(n geom.Vec) int {
	face, s, t := cubeFace(n)
	cut := func(v float64) int { return min(max(int((v+1)/2*facesOut), 0), facesOut-1) }
	return (int(face)*facesOut+cut(s))*facesOut + cut(t)
}

// cubeFace is the face of a cube that a direction leaves it by, and where, from -1 to 1.
func cubeFace(n geom.Vec) (face uint8, s, t float64) {
	x, y, z := math.Abs(n.X), math.Abs(n.Y), math.Abs(n.Z)
	side := func(v float64) uint8 {
		if v < 0 {
			return 1
		}
		return 0
	}
	switch {
	case x >= y && x >= z:
		return side(n.X), n.Y / x, n.Z / x
	case y >= z:
		return 2 + side(n.Y), n.X / y, n.Z / y
	}
	return 4 + side(n.Z), n.X / z, n.Y / z
}

// stripeShare is the share of the surface whose stripes are of a readable width; floor is the surface that stands on the
// floor and isn't seen.
func (l *look) stripeShare(up geom.Vec, veneers []float64, floor float64) float64 {
	thick := 0.0
	for _, t := range veneers {
		thick += t
	}
	if !(thick > 0) || !(l.total-floor > 0) {
		return 0
	}
	sum := 0.0
	for _, f := range l.facing {
		lean := f.normal.Cross(up).Len()
		for _, t := range veneers {
			if t >= narrowestStripe*lean && t <= widestStripe*lean {
				sum += f.area * t / thick
			}
		}
	}
	return min(sum/(l.total-floor), 1)
}

// ringShare is the share of the features that stripes ring: the mean of cos² of the angle between the stripes and the strongest
// curvature. A half where there are no features, or stripes on none of them.
func (l *look) ringShare(up geom.Vec) float64 {
	rings, all := 0.0, 0.0
	for _, f := range l.features {
		stripe := f.normal.Cross(up) // as long as the sine of the lean: flat places have no stripes to speak of
		along := stripe.Dot(f.round)
		rings += f.weight * along * along
		all += f.weight * stripe.Dot(stripe)
	}
	if !(all > fullLook*l.total) {
		return 0.5
	}
	return rings / all
}

// stripes are the thicknesses that show, mm: the veneers left on a panel, the first and the last taken for one where the
// grain runs on across the joint.
func stripes(left []stock.Veneer, alternate bool) []float64 {
	var out []float64
	for _, v := range left {
		out = append(out, v.Thickness)
	}
	if n := len(out); n > 1 && stack.JointGrain(left, left, false, alternate) == stack.Doubles {
		out[0] += out[n-1]
		out = out[:n-1]
	}
	return out
}
