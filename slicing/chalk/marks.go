package chalk

import (
	"fmt"
	"math"
	"slices"

	"grainstack/slicing/geom"
)

// A Kind is what a place of the surface is marked as.
type Kind uint8

// The kinds of mark. A stroke of Unmarked rubs out what was there.
const (
	Unmarked  Kind = iota
	KeepWhole      // no joint shall go through
	SeenSide       // the look is judged here
	DontCare       // nobody looks here
)

var kindNames = [...]string{"rub out", "keep whole", "seen side", "don't care"}

// String is the kind as it is written on the bench and in files.
func (k Kind) String() string { return kindNames[min(int(k), len(kindNames)-1)] }

// A Stroke is one run of the brush over the surface.
type Stroke struct {
	Kind   Kind
	Radius float64    // units, > 0
	Sight  geom.Vec   // the direction the maker looked along; the zero vector marks all sides
	Path   []geom.Vec // units, on the surface, in order
}

// Limits of what marks hold: a day's chalking, and what a job file may ask for.
const (
	mostStrokes = 2000
	mostPoints  = 30_000
)

// Marks are all strokes in their order: where they lie on one another the later counts. They never change. No marks are nil;
// all methods may be called on it.
type Marks struct {
	strokes []*stroke
	points  int
}

// A stroke is a Stroke made ready: rounded, with the boxes of its links.
type stroke struct {
	Stroke
	links []link
	box   box
}

// A link is a straight piece of a stroke's path; from and to are the same for a dab.
type link struct {
	from, to geom.Vec
	box      box // grown by the radius
}

// With are the marks with one more stroke over them. Places are rounded to a thirty-second of the radius, so that what is saved is what
// is shown.
func (m *Marks) With(s Stroke) (*Marks, error) {
	s.Sight = s.Sight.Unit()
	made, err := newStroke(s)
	if err != nil {
		return nil, err
	}
	next := &Marks{points: len(s.Path)}
	if m != nil {
		next.strokes, next.points = slices.Clone(m.strokes), m.points+len(s.Path)
	}
	next.strokes = append(next.strokes, made)
	if len(next.strokes) > mostStrokes || next.points > mostPoints {
		return nil, fmt.Errorf("the piece carries as many marks as a job holds: wipe some away and mark them with a broader brush")
	}
	return next, nil
}

// farthest is how large a number of a stroke may be, in steps: far beyond any file, and exact in a float64.
const farthest = 1 << 40

// step is what places are rounded to: a power of two near a sixteenth of the radius, so that rounded places are exact.
func step(radius float64) float64 { return math.Exp2(math.Floor(math.Log2(radius / 16))) }

// sightStep is what the direction of sight is rounded to.
const sightStep = 1.0 / 4096

// longestLink is how many radii a straight piece of a path may be long: farther apart, the brush has jumped from one part of
// the piece to one behind it.
const longestLink = 8

// newStroke checks a stroke whose direction has unit length or none, and rounds it.
func newStroke(s Stroke) (*stroke, error) {
	if int(s.Kind) >= len(kindNames) {
		return nil, fmt.Errorf("a mark is of no kind that there is")
	}
	if !(s.Radius > 1e-9) || s.Radius > 1e9 {
		return nil, fmt.Errorf("a mark's brush has a radius of %g: it has to be more than 0", s.Radius)
	}
	if len(s.Path) == 0 {
		return nil, fmt.Errorf("a mark has no place")
	}
	if !(s.Sight.Len() <= 2) {
		return nil, fmt.Errorf("a mark was made from no direction")
	}
	s.Sight = rounded(s.Sight, sightStep)
	k := step(s.Radius)
	path := make([]geom.Vec, len(s.Path))
	for i, p := range s.Path {
		for _, c := range [3]float64{p.X, p.Y, p.Z} {
			if !(math.Abs(c) < k*farthest) {
				return nil, fmt.Errorf("a mark lies at %g, which is nowhere near a piece", c)
			}
		}
		path[i] = rounded(p, k)
	}
	s.Path = path
	made := &stroke{Stroke: s}
	made.link()
	return made, nil
}

func rounded(v geom.Vec, step float64) geom.Vec {
	return geom.Vec{X: math.Round(v.X/step) * step, Y: math.Round(v.Y/step) * step, Z: math.Round(v.Z/step) * step}
}

// link works out the straight pieces of the path and their boxes.
func (s *stroke) link() {
	s.box = emptyBox()
	add := func(a, b geom.Vec) {
		x := emptyBox().add(a).add(b).grown(s.Radius)
		s.links, s.box = append(s.links, link{a, b, x}), s.box.union(x)
	}
	for i, p := range s.Path {
		if i > 0 && p.Sub(s.Path[i-1]).Len() <= longestLink*s.Radius {
			add(s.Path[i-1], p)
		} else {
			add(p, p)
		}
	}
}

// At is what a place is marked as, from whatever side it was marked: of the last stroke that it lies within the radius of.
func (m *Marks) At(p geom.Vec) Kind {
	if m == nil {
		return Unmarked
	}
	here := emptyBox().add(p)
	for i := len(m.strokes) - 1; i >= 0; i-- {
		s := m.strokes[i]
		if !s.box.touches(&here) {
			continue
		}
		for k := range s.links {
			if l := &s.links[k]; l.box.touches(&here) && l.distance2(p) <= s.Radius*s.Radius {
				return s.Kind
			}
		}
	}
	return Unmarked
}

// Wiped are the marks without any of a kind: what was of it is unmarked then.
func (m *Marks) Wiped(k Kind) *Marks {
	if m == nil || k == Unmarked {
		return m
	}
	var next Marks
	left := false
	for _, s := range m.strokes {
		if s.Kind == k {
			gone := *s
			gone.Kind = Unmarked
			s = &gone
		}
		if s.Kind == Unmarked && !left {
			continue // there is nothing that it rubs out
		}
		left = left || s.Kind != Unmarked
		next.strokes, next.points = append(next.strokes, s), next.points+len(s.Path)
	}
	if !left {
		return nil
	}
	return &next
}

// Has reports whether there are strokes of a kind; all of them may have been rubbed out since.
func (m *Marks) Has(k Kind) bool {
	return m != nil && slices.ContainsFunc(m.strokes, func(s *stroke) bool { return s.Kind == k })
}

// Empty reports whether there are no strokes at all.
func (m *Marks) Empty() bool { return m == nil || len(m.strokes) == 0 }

// Equal reports whether two marks are the same strokes, wherever they are kept.
func (m *Marks) Equal(o *Marks) bool {
	if m == o || m.Empty() || o.Empty() {
		return m.Empty() == o.Empty()
	}
	return slices.EqualFunc(m.strokes, o.strokes, func(a, b *stroke) bool {
		return a == b || a.Kind == b.Kind && a.Radius == b.Radius && a.Sight == b.Sight && slices.Equal(a.Path, b.Path)
	})
}

// Strokes are the strokes in their order; they must not be changed.
func (m *Marks) Strokes() []Stroke {
	if m == nil {
		return nil
	}
	all := make([]Stroke, len(m.strokes))
	for i, s := range m.strokes {
		all[i] = s.Stroke
	}
	return all
}
