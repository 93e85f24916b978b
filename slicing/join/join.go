package join

import (
	"cmp"
	"context"
	"errors"
	"math"
	"slices"

	"grainstack/slicing/cloud"
	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
)

// Errors are sentences for a maker.
var (
	errNothing = errors.New("there is no surface to be joined: all of it was cut away, or is debris")
	errTooFine = errors.New("the scans are too fine, or far too large for the detail, to be joined at once: give a larger step, or cut away what does not belong to the piece")
	errOpen    = errors.New("the joined surface could not be closed: another step, a little larger or smaller, may get round it")
)

// Settings say how to join, in units of the common frame. The zero value is usual.
type Settings struct {
	Blend float64 // width over which the seam of two scans is blended; 0 is a fiftieth of the longest side
	Step  float64 // of the grid; 0 is two thirds of the scans' spacing
}

// A Place is where nobody saw the piece.
type Place struct {
	At   geom.Vec // its middle
	Area float64
}

// A Result is the joined surface.
type Result struct {
	Mesh    *mesh.Mesh
	Guessed []bool  // of each facet whether no scan saw it
	Area    float64 // of the whole surface
	Unseen  []Place // largest first
	Step    float64 // of the grid
	Specks  int     // bits that nothing hangs together with, left out
}

// UnseenArea is that of all places that nobody saw.
func (r *Result) UnseenArea() float64 {
	sum := 0.0
	for _, p := range r.Unseen {
		sum += p.Area
	}
	return sum
}

const (
	usualBlend = 0.02      // of the longest side
	usualStep  = 2.0 / 3   // of the spacing
	leastStep  = 1.0 / 900 // of the longest side
	speck      = 0.001     // share of the largest shell's volume under which a shell is none of the piece
)

// Join makes one closed surface of scans in one frame. report may be nil; it is given what is being done and the share of all that is
// done. Called off by ctx it returns its error.
func Join(ctx context.Context, scans []*cloud.Cloud, s Settings, report func(step string, done float64)) (*Result, error) {
	if report == nil {
		report = func(string, float64) {}
	}
	scans = slices.DeleteFunc(slices.Clone(scans), func(c *cloud.Cloud) bool { return len(c.Points) == 0 })
	if len(scans) == 0 {
		return nil, errNothing
	}
	all := cloud.Of(scans...)
	box := all.Box()
	size := box.Size()
	longest := math.Max(size.X, math.Max(size.Y, size.Z))
	if !(longest > 0 && longest <= math.MaxFloat32) {
		return nil, errNothing
	}
	if !(s.Blend > 0) {
		s.Blend = usualBlend * longest
	}
	if !(s.Step > 0) {
		s.Step = math.Max(usualStep*all.Spacing, leastStep*longest)
	}
	report("weighing what each scan saw", 0)
	witnesses, err := weigh(ctx, scans, s.Blend)
	if err != nil {
		return nil, err
	}
	coarse, err := inside(ctx, witnesses, box, s.Step, func(done float64) { report("deciding what is inside", 0.15+0.35*done) })
	if err != nil {
		return nil, err
	}
	report("laying one surface", 0.5)
	f, err := newField(ctx, witnesses, coarse, s.Step)
	if err != nil {
		return nil, err
	}
	if err := f.simplify(ctx); err != nil {
		return nil, err
	}
	report("laying one surface", 0.8)
	m, seen, err := f.surface(ctx)
	if err != nil {
		return nil, err
	}
	report("looking for what nobody saw", 0.95)
	return told(m, seen, s.Step)
}

// told is the surface without specks, with what nobody saw.
func told(m *mesh.Mesh, seen []bool, step float64) (*Result, error) {
	r := &Result{Step: step}
	of := m.Together(nil)
	volume := map[int32]float64{}
	most := 0.0
	for i, t := range m.Triangles {
		a, b, c := m.Corners(i)
		s := of.Find(t[0])
		volume[s] += a.Dot(b.Cross(c)) / 6
	}
	for _, v := range volume {
		most = math.Max(most, v)
	}
	if most == 0 {
		return nil, errNothing
	}
	for _, v := range volume {
		if math.Abs(v) < speck*most {
			r.Specks++
		}
	}
	r.Mesh = &mesh.Mesh{}
	number := make([]int32, len(m.Points))
	for i := range number {
		number[i] = -1
	}
	for _, t := range m.Triangles {
		if math.Abs(volume[of.Find(t[0])]) < speck*most {
			continue
		}
		saw := 0
		for k, p := range t {
			if seen[p] {
				saw++
			}
			if number[p] < 0 {
				number[p] = int32(len(r.Mesh.Points))
				r.Mesh.Points = append(r.Mesh.Points, m.Points[p])
			}
			t[k] = number[p]
		}
		r.Mesh.Triangles = append(r.Mesh.Triangles, t)
		r.Guessed = append(r.Guessed, saw < 2)
	}
	r.places()
	return r, nil
}

// places are the parts of the surface that nobody saw, each of facets that hang together.
func (r *Result) places() {
	of := r.Mesh.Together(r.Guessed)
	at := map[int32]*Place{}
	for i, t := range r.Mesh.Triangles {
		a, b, c := r.Mesh.Corners(i)
		area := b.Sub(a).Cross(c.Sub(a)).Len() / 2
		r.Area += area
		if !r.Guessed[i] {
			continue
		}
		p := at[of.Find(t[0])]
		if p == nil {
			p = &Place{}
			at[of.Find(t[0])] = p
		}
		p.Area += area
		p.At = p.At.Add(a.Add(b).Add(c).Scale(area / 3))
	}
	for _, p := range at {
		if p.Area > 0 {
			p.At = p.At.Scale(1 / p.Area)
			r.Unseen = append(r.Unseen, *p)
		}
	}
	slices.SortFunc(r.Unseen, func(a, b Place) int { return cmp.Or(cmp.Compare(b.Area, a.Area), cmp.Compare(a.At.X, b.At.X)) })
}
