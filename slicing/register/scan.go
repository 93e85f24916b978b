package register

import (
	"context"
	"math"
	"math/rand"
	"slices"

	"grainstack/slicing/cloud"
	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
)

// A Scan is a cloud made ready to be brought together with others: thinned, so that noise evens out, and with its points sorted
// by place.
type Scan struct {
	coarse, fine level
	Middle       geom.Vec // of its surface, in its own units
	Reach        float64  // root of the mean squared distance from the middle
	apart        float64  // neighbours of the scan as it was, in the middle
	Flats        []Flat   // planes that were left aside, largest first
}

// A level is a thinned cloud.
type level struct {
	*cloud.Cloud
	tree   *cloud.Tree
	sample []int32 // points in random order, as many as are looked at
	rough  float64 // how far neighbours lie from one another's planes: noise, and a little of what the surface bends
}

const (
	coarseSteps = 18.0 // of the coarse level's cubes that fit the reach
	fineSteps   = 75.0
	// fineSample is how many places of a scan are held against the others; the errors of single ones even out.
	fineSample, coarseSample = 5000, 800
	// finePoints and coarsePoints bound the levels.
	finePoints, coarsePoints = 60_000, 5_000
)

// NewScan readies a cloud: a third of a second for 300,000 points. Planes that much of it lies in are left aside.
func NewScan(ctx context.Context, c *cloud.Cloud) (*Scan, error) {
	s := &Scan{apart: c.Spacing}
	_, reach := c.Middle()
	if !(reach > 0) {
		return s, ctx.Err()
	}
	dense := *c
	dense.Spacing = math.Min(c.Spacing, math.Sqrt(c.Area()/float64(len(c.Points)))) // large facets have places of their own
	c = &dense
	coarse, flats := withoutFlats(thinned(c, reach/coarseSteps, coarsePoints))
	s.Flats = flats
	if s.Middle, s.Reach = coarse.Middle(); len(flats) > 0 {
		thick := flatThick * s.Reach
		c = c.Keeping(func(i int) bool {
			return !slices.ContainsFunc(flats, func(f Flat) bool { return f.has(c.Points[i].Vec(), c.Normals[i].Vec(), thick) })
		})
	}
	fine := thinned(c, math.Max(s.Reach/fineSteps, c.Spacing), finePoints)
	s.fine = newLevel(fine, fineSample, s.apart)
	s.coarse = newLevel(thinned(fine, s.Reach/coarseSteps, coarsePoints), coarseSample, s.apart)
	return s, ctx.Err()
}

// roughness is how far places that lie apart, about, lie from one another's planes, in the middle of some.
func (l *level) roughness(apart float64) float64 {
	var away []float64
	var found []int32
	for _, i := range l.sample[:min(1000, len(l.sample))] {
		p, n := l.Points[i].Vec(), l.Normals[i].Vec()
		found = l.tree.Around(p, 1.5*apart, found[:0])
		for _, j := range found {
			d, m := l.Points[j].Vec().Sub(p), l.Normals[j].Vec()
			if n.Dot(m) >= agree && d.Len() > 0.75*apart { // as places of two scans are held against each other
				away = append(away, math.Abs(n.Add(m).Unit().Dot(d)))
			}
		}
	}
	if len(away) == 0 {
		return 0
	}
	slices.Sort(away)
	return away[len(away)/2]
}

// smoothOver is over how many times its roughness the normals of a level are evened out: noise tilts them.
const smoothOver = 6

// evened gives each point the mean normal of those round it that face its way.
func (l *level) evened() {
	normals := slices.Clone(l.Normals)
	var found []int32
	for i, p := range l.Points {
		var sum geom.Vec
		found = l.tree.Around(p.Vec(), smoothOver*l.rough, found[:0])
		for _, j := range found {
			if m := l.Normals[j].Vec(); m.Dot(l.Normals[i].Vec()) > 0 {
				sum = sum.Add(m.Scale(float64(l.Areas[j])))
			}
		}
		if len(found) > 1 && sum != (geom.Vec{}) {
			normals[i] = mesh.PointOf(sum.Unit())
		}
	}
	copied := *l.Cloud
	copied.Normals = normals
	l.Cloud = &copied
}

// thinned is c with the step given, or a larger one where more than most points would be left: a folded surface has much area.
func thinned(c *cloud.Cloud, step float64, most int) *cloud.Cloud {
	for {
		out := c.Thinned(step)
		if len(out.Points) <= most {
			return out
		}
		c, step = out, 1.15*step*math.Max(1, math.Sqrt(float64(len(out.Points))/float64(most))/1.15)
	}
}

// newLevel readies a thinned cloud of a scan whose neighbours lie apart as given.
func newLevel(c *cloud.Cloud, sample int, apart float64) level {
	l := level{Cloud: c, tree: cloud.NewTree(c.Points)}
	order := rand.New(rand.NewSource(1)).Perm(len(c.Points)) // the same for every run
	for _, i := range order[:min(sample, len(order))] {
		l.sample = append(l.sample, int32(i))
	}
	l.rough = l.roughness(math.Max(apart, c.Spacing))
	l.evened()
	return l
}

// all are the numbers of all its points.
func (l *level) all() []int32 {
	out := make([]int32, len(l.Points))
	for i := range out {
		out[i] = int32(i)
	}
	return out
}

// mirrored is the scan seen in a mirror.
func (s *Scan) mirrored() *Scan {
	return &Scan{coarse: newLevel(s.coarse.Mirrored(), coarseSample, s.apart), fine: newLevel(s.fine.Mirrored(), fineSample, s.apart),
		Middle: geom.Vec{X: -s.Middle.X, Y: s.Middle.Y, Z: s.Middle.Z}, Reach: s.Reach, apart: s.apart}
}

// merged is one scan of several in the first one's frame.
func merged(ctx context.Context, scans []*Scan, at []geom.Placement) (*Scan, error) {
	var all []*cloud.Cloud
	for i, s := range scans {
		all = append(all, s.fine.Placed(at[i]))
	}
	return NewScan(ctx, withoutSeams(all))
}

// withoutSeams is one cloud of several in one frame: a rim that another scan goes on beyond is none.
func withoutSeams(all []*cloud.Cloud) *cloud.Cloud {
	trees := make([]*cloud.Tree, len(all))
	for i, c := range all {
		trees[i] = cloud.NewTree(c.Points)
	}
	var out []*cloud.Cloud
	for i, c := range all {
		rim := append([]bool(nil), c.Rim...)
		for p := range rim {
			for j, other := range all {
				if !rim[p] || i == j {
					continue
				}
				q, _ := trees[j].Nearest(c.Points[p].Vec(), 2*other.Spacing)
				rim[p] = q < 0 || other.Rim[q]
			}
		}
		copied := *c
		copied.Rim = rim
		out = append(out, &copied)
	}
	return cloud.Of(out...)
}
