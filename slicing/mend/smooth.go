package mend

import (
	"context"
	"math"

	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
	"grainstack/slicing/par"
)

// Smooth is m without the noise of a scanner that is no deeper than depth, in the units of m; adj is m.Adjacency(). The
// triangles' normals are evened out among neighbours that face nearly the same way, then the points follow the normals (X.
// Sun, P. L. Rosin, R. R. Martin, F. C. Langbein, Fast and Effective Feature-Preserving Mesh Denoising, IEEE TVCG 13(5),
// 2007, with the weights of Y. Zheng, H. Fu, O. K.-C. Au, C.-L. Tai, Bilateral Normal Filtering for Mesh Denoising, IEEE
// TVCG 17(10), 2011), so that arrises stay.
//
// No point moves further than depth; points on open rims stay. The volume of a closed surface is brought back by moving
// all points along their normals, as far as depth allows. The triangles are those of m. A depth of zero or less gives m
// itself. progress may be nil. Called off by ctx it returns within 100 ms.
func Smooth(ctx context.Context, m *mesh.Mesh, adj mesh.Adjacency, depth float64, progress func(float64)) (*mesh.Mesh, error) {
	if !(depth > 0) || len(m.Triangles) == 0 {
		return m, ctx.Err()
	}
	if progress == nil {
		progress = func(float64) {}
	}
	s := &smoothing{m: m, adj: adj, depth: depth * (1 - 1e-4)}
	if err := s.prepare(ctx); err != nil {
		return nil, err
	}
	passes := s.passes()
	all := float64(passes + smoothMoves + 2)
	for i := range passes {
		if err := s.even(ctx); err != nil {
			return nil, err
		}
		progress(float64(i+1) / all)
	}
	for i := range smoothMoves {
		if err := s.move(ctx); err != nil {
			return nil, err
		}
		progress(float64(passes+i+1) / all)
	}
	if err := s.refill(ctx); err != nil {
		return nil, err
	}
	progress(1)
	return &mesh.Mesh{Points: s.points, Triangles: m.Triangles}, nil
}

const (
	smoothSpan  = 1 << 13
	smoothMoves = 12 // times that the points follow the normals
)

// A smoothing is the work on one mesh.
type smoothing struct {
	m               *mesh.Mesh
	adj             mesh.Adjacency
	depth           float64
	start           []int32 // of each point's triangles in around; one more than points
	around          []int32
	rim             []bool
	points, other   []mesh.Point // now, and scratch
	normals, evened []mesh.Point
	areas           []float32
	edge            float64 // the mean length
	spread          float64 // the usual difference of neighbouring normals
}

func (s *smoothing) prepare(ctx context.Context) error {
	n, nt := len(s.m.Points), len(s.m.Triangles)
	s.points = append([]mesh.Point(nil), s.m.Points...)
	s.other = make([]mesh.Point, n)
	if ctx.Err() != nil {
		return ctx.Err()
	}
	s.start, s.around = trianglesAt(s.m)
	s.rim = make([]bool, n)
	s.normals, s.evened, s.areas = make([]mesh.Point, nt), make([]mesh.Point, nt), make([]float32, nt)
	edges := 0.0
	for t, c := range s.m.Triangles {
		if t%smoothSpan == 0 && ctx.Err() != nil {
			return ctx.Err()
		}
		a, b, d := s.m.Corners(t)
		normal := b.Sub(a).Cross(d.Sub(a))
		s.areas[t] = float32(normal.Len() / 2)
		s.normals[t] = mesh.PointOf(normal.Unit())
		edges += b.Sub(a).Len()
		for k := range c {
			if s.adj[3*t+k] < 0 {
				s.rim[c[k]], s.rim[c[(k+1)%3]] = true, true
			}
		}
	}
	s.edge = edges / float64(nt)
	s.measureSpread()
	return ctx.Err()
}

// trianglesAt lists the triangles at each point by counting sort.
func trianglesAt(m *mesh.Mesh) (start, around []int32) {
	start = make([]int32, len(m.Points)+2)
	for _, c := range m.Triangles {
		start[c[0]+2]++
		start[c[1]+2]++
		start[c[2]+2]++
	}
	for i := 2; i < len(start); i++ {
		start[i] += start[i-1]
	}
	around = make([]int32, 3*len(m.Triangles))
	for t, c := range m.Triangles {
		for _, p := range c {
			around[start[p+1]] = int32(t)
			start[p+1]++
		}
	}
	return start[:len(m.Points)+1], around
}

// measureSpread finds the median difference of neighbouring normals, in steps of a hundredth.
func (s *smoothing) measureSpread() {
	var counts [201]int
	n := 0
	for h, twin := range s.adj {
		if twin > int32(h) {
			counts[int(100*math.Sqrt(difference2(s.normals[h/3], s.normals[twin/3])))]++
			n++
		}
	}
	seen := 0
	for i, c := range counts {
		if seen += c; 2*seen >= n {
			s.spread = float64(i+1) / 100
			return
		}
	}
}

// difference2 is the squared length of a - b, at most 4 for normals.
func difference2(a, b mesh.Point) float64 {
	x, y, z := a[0]-b[0], a[1]-b[1], a[2]-b[2]
	return min(4, float64(x*x+y*y+z*z))
}

// passes is how often normals are evened: noise that is deep against the triangles needs more.
func (s *smoothing) passes() int { return min(max(8+int(20*s.depth/s.edge), 8), 24) }

// even takes each triangle's normal towards those of its three neighbours, less where they face another way.
func (s *smoothing) even(ctx context.Context) error {
	const least, most = 0.12, 0.45 // of the difference that counts as another way
	sigma := min(max(1.2*s.spread, least), most)
	fall := smoothFall(sigma)
	err := par.Spans(ctx, len(s.normals), smoothSpan, func(from, to int) {
		for t := from; t < to; t++ {
			n := s.normals[t]
			w := s.areas[t]
			sum := mesh.Point{n[0] * w, n[1] * w, n[2] * w}
			for k := range 3 {
				twin := s.adj[3*t+k]
				if twin < 0 {
					continue
				}
				o := s.normals[twin/3]
				w := s.areas[twin/3] * fall[int(fallSteps/4*difference2(n, o))]
				sum[0] += o[0] * w
				sum[1] += o[1] * w
				sum[2] += o[2] * w
			}
			s.evened[t] = mesh.PointOf(sum.Vec().Unit())
		}
	})
	s.normals, s.evened = s.evened, s.normals
	return err
}

const fallSteps = 1024

// smoothFall is the Gauss bell of width sigma over the squared difference from 0 to 4.
func smoothFall(sigma float64) (fall [fallSteps + 1]float32) {
	for i := range fall {
		d2 := 4 * (float64(i) + 0.5) / fallSteps
		fall[i] = float32(math.Exp(-d2 / (2 * sigma * sigma)))
	}
	return fall
}

// move takes each point towards the planes through its triangles' middles with the evened normals.
func (s *smoothing) move(ctx context.Context) error {
	err := par.Spans(ctx, len(s.points), smoothSpan, func(from, to int) {
		for i := from; i < to; i++ {
			s.other[i] = s.points[i]
			around := s.around[s.start[i]:s.start[i+1]]
			if s.rim[i] || len(around) == 0 {
				continue
			}
			p, step := s.points[i].Vec(), geom.Vec{}
			for _, t := range around {
				c := s.m.Triangles[t]
				middle := s.points[c[0]].Vec().Add(s.points[c[1]].Vec()).Add(s.points[c[2]].Vec()).Scale(1.0 / 3)
				n := s.normals[t].Vec()
				step = step.Add(n.Scale(n.Dot(middle.Sub(p))))
			}
			s.other[i] = s.held(i, p.Add(step.Scale(1/float64(len(around)))))
		}
	})
	s.points, s.other = s.other, s.points
	return err
}

// held is p, brought back to within depth of where point i was.
func (s *smoothing) held(i int, p geom.Vec) mesh.Point {
	was := s.m.Points[i].Vec()
	d := p.Sub(was)
	if l := d.Len(); l > s.depth {
		p = was.Add(d.Scale(s.depth / l))
	}
	return mesh.PointOf(p)
}

// refill brings the volume of a closed surface back: twice, since points that have moved by depth cannot move further.
func (s *smoothing) refill(ctx context.Context) error {
	for _, twin := range s.adj {
		if twin < 0 {
			return nil
		}
	}
	want := s.m.Volume()
	for range 2 {
		now := &mesh.Mesh{Points: s.points, Triangles: s.m.Triangles}
		out := (want - now.Volume()) / now.Area()
		if !(math.Abs(out) > 0) || math.IsInf(out, 0) {
			return nil
		}
		err := par.Spans(ctx, len(s.points), smoothSpan, func(from, to int) {
			for i := from; i < to; i++ {
				var n geom.Vec
				for _, t := range s.around[s.start[i]:s.start[i+1]] {
					n = n.Add(s.normals[t].Vec().Scale(float64(s.areas[t])))
				}
				s.other[i] = s.held(i, s.points[i].Vec().Add(n.Unit().Scale(out)))
			}
		})
		if err != nil {
			return err
		}
		s.points, s.other = s.other, s.points
	}
	return nil
}
