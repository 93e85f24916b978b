package register

import (
	"context"
	"math"
	"slices"

	"grainstack/slicing/geom"
	"grainstack/slicing/par"

	"gonum.org/v1/gonum/mat"
)

const (
	// agree is the cosine between the normals of places that may be the same.
	agree = 0.7
	// rounds bounds the steps of settling; it ends earlier once nothing moves.
	rounds = 60
	// still is the share of the reach by which nothing moves any more.
	still = 2e-6
	// trim is how many times the middle distance a place may be off to count: all but 0.7 % of what has a normal spread.
	trim = 4.0
)

// A link says that a place of scan a lies on scan b: how far in front of its tangent plane, in the common frame.
type link struct {
	a, b int
	at   geom.Vec // of a's place
	n    geom.Vec
	away float64 // signed, along n
}

// A settling moves scans until they lie on one another as well as they can. The first stays.
type settling struct {
	levels []level
	at     []geom.Placement
	back   []geom.Placement
	reach  float64
}

// run settles; within is how far apart, in units of the first scan, places may be at first.
func (s *settling) run(ctx context.Context, within float64, rounds int) error {
	for range rounds {
		links, err := s.links(ctx, within)
		if err != nil {
			return err
		}
		if len(links) == 0 {
			return nil
		}
		moved := s.step(links)
		within = math.Max(s.least(), math.Min(within, math.Max(0.7*within, 1.5*trim*middleOf(links))))
		if moved < still*s.reach {
			return nil
		}
	}
	return nil
}

// least is how near places may be at the least to count: what lies between points is none of theirs.
func (s *settling) least() float64 {
	most := 0.0
	for i, l := range s.levels {
		most = math.Max(most, l.Spacing*s.at[i].Scale)
	}
	return 1.5 * most
}

func middleOf(links []link) float64 {
	d := make([]float64, len(links))
	for i, l := range links {
		d[i] = math.Abs(l.away)
	}
	slices.Sort(d)
	return d[len(d)/2]
}

// links looks up for a sample of each scan where it lies on each other.
func (s *settling) links(ctx context.Context, within float64) ([]link, error) {
	s.back = s.back[:0]
	for _, p := range s.at {
		s.back = append(s.back, p.Inverse())
	}
	var all []link
	for a := range s.levels {
		for b := range s.levels {
			if a == b {
				continue
			}
			some, err := s.linksOf(ctx, a, b, within)
			if err != nil {
				return nil, err
			}
			all = append(all, trimmed(some)...)
		}
	}
	return all, nil
}

func (s *settling) linksOf(ctx context.Context, a, b int, within float64) ([]link, error) {
	sample := s.levels[a].sample
	found := make([]link, len(sample))
	err := par.Spans(ctx, len(sample), 512, func(from, to int) {
		for i := from; i < to; i++ {
			found[i] = s.link(a, b, sample[i], within)
		}
	})
	return slices.DeleteFunc(found, func(l link) bool { return l.a == l.b }), err
}

// link looks for the place of b that lies nearest to point i of a.
func (s *settling) link(a, b int, i int32, within float64) link {
	j, x := s.nearest(a, b, i, within)
	if j < 0 {
		return link{}
	}
	return s.linked(a, b, i, j, x)
}

// nearest is the point of b that lies nearest to point i of a, and where that lies in the common frame; -1 where there is none, or it
// lies at the rim of what either saw, since the surface goes on there.
func (s *settling) nearest(a, b int, i int32, within float64) (int32, geom.Vec) {
	la, lb := &s.levels[a], &s.levels[b]
	x := s.at[a].Apply(la.Points[i].Vec())
	if la.Rim[i] {
		return -1, x
	}
	j, _ := lb.tree.Nearest(s.back[b].Apply(x), within/s.at[b].Scale)
	if j >= 0 && lb.Rim[j] {
		return -1, x
	}
	return j, x
}

// linked is the link of point i of a, at x in the common frame, with point j of b; none where they face different ways.
func (s *settling) linked(a, b int, i, j int32, x geom.Vec) link {
	la, lb := &s.levels[a], &s.levels[b]
	na, nb := s.at[a].Turn.Apply(la.Normals[i].Vec()), s.at[b].Turn.Apply(lb.Normals[j].Vec())
	if na.Dot(nb) < agree {
		return link{}
	}
	n := na.Add(nb).Unit() // the mean of both errs less than either
	return link{a, b, x, n, n.Dot(x.Sub(s.at[b].Apply(lb.Points[j].Vec())))}
}

// trimmed leaves out what lies much farther off than the middle.
func trimmed(links []link) []link {
	if len(links) == 0 {
		return nil
	}
	most := trim * middleOf(links)
	return slices.DeleteFunc(links, func(l link) bool { return math.Abs(l.away) > most })
}

// free is how many ways a scan can move: three to turn, three to shift, one to grow.
const free = 7

// step moves all scans but the first by one step of least squares (Gauss and Newton) and gives the farthest that one moved.
func (s *settling) step(links []link) float64 {
	n := free * (len(s.at) - 1)
	sums, right := make([]float64, n*n), make([]float64, n) // of sums the upper half is read
	for i := range links {
		l := &links[i]
		v := l.at.Scale(1 / s.reach)
		turn := v.Cross(l.n)
		row := [free]float64{turn.X, turn.Y, turn.Z, l.n.X, l.n.Y, l.n.Z, v.Dot(l.n)}
		away := l.away / s.reach
		for _, x := range [2]struct {
			scan int
			sign float64
		}{{l.a, 1}, {l.b, -1}} {
			if x.scan == 0 {
				continue
			}
			at := free * (x.scan - 1)
			for j := range free {
				right[at+j] -= x.sign * row[j] * away
				for k := j; k < free; k++ {
					sums[(at+j)*n+at+k] += row[j] * row[k]
				}
			}
		}
		if l.a > 0 && l.b > 0 {
			a, b := free*(min(l.a, l.b)-1), free*(max(l.a, l.b)-1)
			for j := range free {
				for k := range free {
					sums[(a+j)*n+b+k] -= row[j] * row[k]
				}
			}
		}
	}
	for i := range n { // ways that nothing holds stay as they are
		sums[i*n+i] += 1e-6 * float64(len(links)) / float64(len(s.at))
	}
	var c mat.Cholesky
	var x mat.VecDense
	if !c.Factorize(mat.NewSymDense(n, sums)) || c.SolveVecTo(&x, mat.NewVecDense(n, right)) != nil {
		return 0
	}
	most := 0.0
	for i := 1; i < len(s.at); i++ {
		w := x.RawVector().Data[free*(i-1) : free*i]
		turn := geom.Vec{X: w[0], Y: w[1], Z: w[2]}
		shift := geom.Vec{X: w[3], Y: w[4], Z: w[5]}.Scale(s.reach)
		grow := math.Exp(math.Max(-0.2, math.Min(0.2, w[6])))
		s.at[i] = s.at[i].Then(geom.Placement{Turn: geom.TurnAbout(turn, turn.Len()), Scale: grow, Shift: shift})
		most = math.Max(most, s.reach*(turn.Len()+math.Abs(grow-1))+shift.Len())
	}
	return most
}
