package look

import (
	"context"
	"math"

	"grainstack/slicing/mesh"
	"grainstack/slicing/par"
)

// resolver turns depth keys into samples.
type resolver struct {
	r        *Renderer
	b        *Body
	row      [3]vec // of the turn from the body's frame to the stand
	at       vec    // stand point of the upper left corner at depth step 0
	dx       vec    // per 1/256 pixel to the right
	dy       vec    // per 1/256 pixel down
	dz       vec    // per depth step
	right    vec
	up       vec
	ahead    vec
	pixel    float32 // mm
	hollowed bool
}

func (r *Renderer) resolver(b *Body) *resolver {
	l, turn := &r.lens, &r.view.Placement.Turn
	step := 1 / (l.scale * subPixel)
	v := &resolver{
		r: r, b: b, pixel: float32(1 / l.scale), hollowed: r.hollowed(),
		at: short(l.point(0, 0, -l.reach)),
		dx: short(l.right.Scale(step)), dy: short(l.up.Scale(-step)), dz: short(l.ahead.Scale(2 * l.reach / depthMax)),
		right: short(l.right), up: short(l.up), ahead: short(l.ahead),
	}
	for i := range v.row {
		v.row[i] = vec{float32(turn[i][0]), float32(turn[i][1]), float32(turn[i][2])}
	}
	return v
}

// resolve makes the samples of all pixels whose rays have come through the given number of slabs; those that miss the next
// one go on.
func (r *Renderer) resolve(ctx context.Context, b *Body, pass int) error {
	v := r.resolver(b)
	win := r.window
	if v.hollowed && pass == 0 {
		r.through = sized(r.through, r.lens.w*r.lens.h)
		clear(r.through)
	}
	return par.Spans(ctx, win.y1-win.y0, 8, func(from, to int) {
		for y := win.y0 + from; y < win.y0+to; y++ {
			for x := win.x0; x < win.x1; x++ {
				if i := y*r.lens.w + x; pass == 0 || int(r.through[i]) == pass {
					v.pixelAt(i, x, y, pass)
				}
			}
		}
	})
}

func (v *resolver) pixelAt(i, x, y, pass int) {
	r := v.r
	key, s := r.nearest(i), &r.samples[i]
	if key == nothing {
		s.kind = paper
		if pass > 0 {
			r.through[i]++
		}
		return
	}
	slab := &r.slabs[keySlab(key)]
	if keyFacet(key) != faceFacet {
		v.sample(s, x, y, key, slab)
		return
	}
	v.bare(s, x, y, slab)
	if v.hollowed {
		v.enter(i, keySlab(key))
	}
}

func (r *Renderer) nearest(i int) uint64 {
	key := r.lanes[0].keys[i]
	for k := 1; k < len(r.lanes); k++ {
		key = min(key, r.lanes[k].keys[i])
	}
	return key
}

// sample is what a pixel sees of the surface.
func (v *resolver) sample(s *sample, x, y int, key uint64, slab *slab) {
	id := keyFacet(key)
	t := v.b.triangles[id]
	c0, c1, c2 := &v.r.corners[t[0]], &v.r.corners[t[1]], &v.r.corners[t[2]]
	px, py := int32(x*subPixel+half), int32(y*subPixel+half)+slab.drop
	ex, ey, fx, fy := float32(c1.x-c0.x), float32(c1.y-c0.y), float32(c2.x-c0.x), float32(c2.y-c0.y)
	qx, qy := float32(px-c0.x), float32(py-c0.y)
	area := ex*fy - ey*fx
	inverse := 1 / area
	n, open := v.normal(id, t, (qx*fy-qy*fx)*inverse, (ex*qy-ey*qx)*inverse)
	if area > 0 {
		n = vec{-n.x, -n.y, -n.z}
	}
	n = v.towards(n)
	gx, gy, gz := float32(px), float32(py), keyDepth(key)
	s.x = v.at.x + gx*v.dx.x + gy*v.dy.x + gz*v.dz.x
	s.y = v.at.y + gx*v.dx.y + gy*v.dy.y + gz*v.dz.y
	s.h = v.at.z + gy*v.dy.z + gz*v.dz.z
	s.foot = v.foot(n)
	s.n = [3]int16{int16(n.x * packed), int16(n.y * packed), int16(n.z * packed)}
	s.open, s.kind, s.facet = uint8(open), surface, int32(id)
}

// bare is what a pixel sees of a face laid bare.
func (v *resolver) bare(s *sample, x, y int, slab *slab) {
	l := &v.r.lens
	p := l.point(float64(x)+0.5, float64(y)+0.5+float64(slab.drop)/subPixel, 0)
	p = p.Add(l.ahead.Scale((slab.entry - p.Z) / l.ahead.Z))
	p.Z = slab.entry
	s.kind, s.open, s.facet, s.foot = face, 255, 0, 0
	if v.r.view.Lift > 0 {
		s.open = liftedOpen
	}
	n := vec{z: 1}
	if v.ahead.z > 0 {
		n.z = -1
	}
	s.place(p, n)
}

// liftedOpen is how open to the sky a face is that has another layer hanging over it.
const liftedOpen = 215

// normal is the surface's unit normal in the stand's frame and its openness at shares u and w of the second and third
// corner. At an edge the facet's own counts.
func (v *resolver) normal(id int, t mesh.Triangle, u, w float32) (n vec, open float32) {
	s0, s1, s2 := &v.b.skins[t[0]], &v.b.skins[t[1]], &v.b.skins[t[2]]
	k := 1 - u - w
	open = max(0, min(255, k*float32(s0.open)+u*float32(s1.open)+w*float32(s2.open)))
	a, b, c := s0.normal(), s1.normal(), s2.normal()
	if v.b.creasedAt(id) {
		f := v.b.facetUnit(t)
		a, b, c = a.orFacet(s0, f), b.orFacet(s1, f), c.orFacet(s2, f)
	}
	x, y, z := k*a.x+u*b.x+w*c.x, k*a.y+u*b.y+w*c.y, k*a.z+u*b.z+w*c.z
	q := 1 / float32(math.Sqrt(float64(x*x+y*y+z*z+1e-12)))
	x, y, z = x*q, y*q, z*q
	r := &v.row
	return vec{
		r[0].x*x + r[0].y*y + r[0].z*z,
		r[1].x*x + r[1].y*y + r[1].z*z,
		r[2].x*x + r[2].y*y + r[2].z*z,
	}, open
}

func (s *skin) normal() vec { return vec{float32(s.n[0]), float32(s.n[1]), float32(s.n[2])} }

// orFacet is the point's normal, or the facet's where the point lies on an edge.
func (n vec) orFacet(s *skin, facet vec) vec {
	if s.edge != 0 && n.x*facet.x+n.y*facet.y+n.z*facet.z < edgeCos*packed*packed {
		return facet
	}
	return n
}

// towards is the normal n, bent just so far that the viewer can see it: between its corners a rounded normal can lean farther
// back than its facet, and would catch light from behind.
func (v *resolver) towards(n vec) vec {
	off := v.ahead.dot(n.x, n.y, n.z) + leastFacing
	if off <= 0 {
		return n
	}
	n = vec{n.x - off*v.ahead.x, n.y - off*v.ahead.y, n.z - off*v.ahead.z}
	q := 1 / float32(math.Sqrt(float64(n.x*n.x+n.y*n.y+n.z*n.z)))
	return vec{n.x * q, n.y * q, n.z * q}
}

// foot is the height in mm that a pixel spans on a surface of normal n: the length of height's gradient on the picture.
func (v *resolver) foot(n vec) float32 {
	facing := min(-leastFacing, n.x*v.ahead.x+n.y*v.ahead.y+n.z*v.ahead.z)
	k := v.ahead.z / facing
	dx := k * (n.x*v.right.x + n.y*v.right.y)
	dy := v.up.z - k*(n.x*v.up.x+n.y*v.up.y+n.z*v.up.z)
	return v.pixel * float32(math.Sqrt(float64(dx*dx+dy*dy)))
}
