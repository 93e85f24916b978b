package look

import (
	"context"
	"math"

	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
	"grainstack/slicing/par"
)

// A sample is what one pixel sees.
type sample struct {
	h, x, y float32  // mm in the stand's frame, not lifted
	foot    float32  // mm of height that the pixel spans
	n       [3]int16 // unit normal in the stand's frame
	open    uint8    // to the sky
	kind    kind
	facet   int32
}

// kind is what sort of thing a pixel sees.
type kind uint8

const (
	paper   kind = iota
	surface      // the piece's own
	face         // laid bare by a cut or by lifting
	hollow       // the core's wall, seen through a face
)

// resolver turns depth keys into samples.
type resolver struct {
	r     *Renderer
	b     *Body
	turn  [3][3]float32
	ahead [3]float32
	// height gained per pixel to the right and up, on a surface square to the view, and along the view
	rightZ, upZ, aheadZ float32
	pixel               float32 // mm
	depthStep           float64
}

func (r *Renderer) resolver(b *Body) resolver {
	l := &r.lens
	v := resolver{r: r, b: b, pixel: float32(1 / l.scale), depthStep: 2 * l.reach / depthMax}
	for i := range 3 {
		for j := range 3 {
			v.turn[i][j] = float32(r.view.Placement.Turn[i][j])
		}
	}
	v.ahead = [3]float32{float32(l.ahead.X), float32(l.ahead.Y), float32(l.ahead.Z)}
	v.upZ, v.aheadZ = float32(l.up.Z), float32(l.ahead.Z)
	return v
}

// resolve makes the samples of all pixels whose rays have come through the given number of slabs.
func (r *Renderer) resolve(ctx context.Context, b *Body, pass int) error {
	v := r.resolver(b)
	win := r.window
	holes := r.hollowed()
	if holes && pass == 0 {
		r.through = sized(r.through, r.lens.w*r.lens.h)
		clear(r.through)
	}
	return par.Spans(ctx, win.y1-win.y0, 8, func(from, to int) {
		for y := win.y0 + from; y < win.y0+to; y++ {
			for x := win.x0; x < win.x1; x++ {
				i := y*r.lens.w + x
				if pass > 0 && int(r.through[i]) != pass {
					continue
				}
				key := r.nearest(i)
				if key == nothing {
					r.samples[i].kind = paper
					continue
				}
				v.sample(&r.samples[i], x, y, key)
				if holes && r.samples[i].kind == face {
					v.enter(i, x, y, keySlab(key))
				}
			}
		}
	})
}

func (r *Renderer) nearest(i int) uint64 {
	key := r.lanes[0].keys[i]
	for k := 1; k < len(r.lanes); k++ {
		key = min(key, r.lanes[k].keys[i])
	}
	return key
}

// sample is what the pixel sees, given its key.
func (v *resolver) sample(s *sample, x, y int, key uint64) {
	l := &v.r.lens
	id := keyFacet(key)
	slab := &v.r.slabs[keySlab(key)]
	if id == faceFacet {
		v.bare(s, x, y, slab)
		return
	}
	t := v.b.triangles[id]
	c0, c1, c2 := &v.r.corners[t[0]], &v.r.corners[t[1]], &v.r.corners[t[2]]
	px, py := int64(x*subPixel+half), int64(y*subPixel+half)+int64(slab.drop)
	area := twiceArea(c0, c1, c2)
	w1 := int64(c2.x-c0.x)*(int64(c0.y)-py) - int64(c2.y-c0.y)*(int64(c0.x)-px)
	w2 := int64(c0.x-c1.x)*(int64(c0.y)-py) - int64(c0.y-c1.y)*(int64(c0.x)-px)
	inverse := 1 / float32(area)
	n, open := v.normal(id, t, float32(w1)*inverse, float32(w2)*inverse)

	p := l.point(float64(x)+0.5, float64(y)+0.5+float64(slab.drop)/subPixel, float64(keyDepth(key))*v.depthStep-l.reach)
	s.kind = surface
	if area > 0 {
		n = [3]float32{-n[0], -n[1], -n[2]}
	}
	s.facet = int32(id)
	s.open = uint8(open)
	s.place(p, n)
	s.foot = v.foot(n)
}

// bare is what a pixel sees of a face laid bare.
func (v *resolver) bare(s *sample, x, y int, slab *slab) {
	l := &v.r.lens
	p := l.point(float64(x)+0.5, float64(y)+0.5+float64(slab.drop)/subPixel, 0)
	p = p.Add(l.ahead.Scale((slab.entry - p.Z) / l.ahead.Z))
	s.kind, s.open, s.facet, s.foot = face, 255, 0, 0
	s.place(p, [3]float32{0, 0, -sign(v.aheadZ)})
}

func (s *sample) place(p geom.Vec, n [3]float32) {
	s.x, s.y, s.h = float32(p.X), float32(p.Y), float32(p.Z)
	s.n = [3]int16{int16(n[0] * packed), int16(n[1] * packed), int16(n[2] * packed)}
}

func sign(f float32) float32 {
	if f < 0 {
		return -1
	}
	return 1
}

// normal is the surface's unit normal in the stand's frame and its openness at shares u and v of the second and third
// corner. A corner whose normal leans too far belongs to an edge: there the facet's own counts.
func (v *resolver) normal(id int, t mesh.Triangle, u, w float32) (n [3]float32, open float32) {
	s0, s1, s2 := &v.b.skins[t[0]], &v.b.skins[t[1]], &v.b.skins[t[2]]
	k := 1 - u - w
	open = max(0, min(255, k*float32(s0.open)+u*float32(s1.open)+w*float32(s2.open)))
	var m [3]float32
	if v.b.creasedAt(id) {
		f := v.b.facetUnit(t)
		a, b, c := unlessLeaning(s0, &f), unlessLeaning(s1, &f), unlessLeaning(s2, &f)
		for i := range m {
			m[i] = k*a[i] + u*b[i] + w*c[i]
		}
	} else {
		for i := range m {
			m[i] = k*float32(s0.n[i]) + u*float32(s1.n[i]) + w*float32(s2.n[i])
		}
	}
	q := 1 / float32(math.Sqrt(float64(m[0]*m[0]+m[1]*m[1]+m[2]*m[2])+1e-12))
	t3 := &v.turn
	return [3]float32{
		(t3[0][0]*m[0] + t3[0][1]*m[1] + t3[0][2]*m[2]) * q,
		(t3[1][0]*m[0] + t3[1][1]*m[1] + t3[1][2]*m[2]) * q,
		(t3[2][0]*m[0] + t3[2][1]*m[1] + t3[2][2]*m[2]) * q,
	}, open
}

func unlessLeaning(s *skin, facet *[3]float32) [3]float32 {
	n := [3]float32{float32(s.n[0]), float32(s.n[1]), float32(s.n[2])}
	if n[0]*facet[0]+n[1]*facet[1]+n[2]*facet[2] < creaseCos*packed*packed {
		return *facet
	}
	return n
}

// leastFacing bounds how obliquely a surface can be seen, so that a pixel at the rim spans a finite height.
const leastFacing = 0.06

// foot is the height in mm that a pixel spans on a surface of normal n: the length of height's gradient on the picture.
func (v *resolver) foot(n [3]float32) float32 {
	facing := min(-leastFacing, n[0]*v.ahead[0]+n[1]*v.ahead[1]+n[2]*v.ahead[2])
	r, u := &v.r.lens.right, &v.r.lens.up
	k := v.aheadZ / facing
	dx := -k * (n[0]*float32(r.X) + n[1]*float32(r.Y))
	dy := v.upZ - k*(n[0]*float32(u.X)+n[1]*float32(u.Y)+n[2]*float32(u.Z))
	return v.pixel * float32(math.Sqrt(float64(dx*dx+dy*dy)))
}
