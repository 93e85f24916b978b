package scans

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"

	"grainstack/slicing/geom"
	"grainstack/slicing/join"
	"grainstack/slicing/mesh"
	"grainstack/slicing/phrase"
	"grainstack/slicing/register"
)

// A Source is one scan of a plan.
type Source struct {
	File string
	At   *geom.Placement // into the frame of the first; nil where it is to be found, or the matching points tell it
	Cuts []Cut
}

// A Plan is which scans make a piece, and how. It never changes.
type Plan struct {
	Sources []Source
	Matches []Match
	Still   bool    // the scans lie where they belong: nothing is brought together
	Blend   float64 // width of the blended seams, by the longest side of all
}

// UsualBlend and MostBlend are the width of seams where nothing is said, and the largest there is, by the longest side of all.
const UsualBlend, MostBlend = 0.02, 0.5

// Limits of what a plan may ask for: more is no maker's work.
const (
	mostCuts    = 200
	mostMatches = 1000
)

// NewPlan is the plan of files that nothing is known of yet.
func NewPlan(files ...string) *Plan {
	p := &Plan{Blend: UsualBlend}
	for _, f := range files {
		p.Sources = append(p.Sources, Source{File: f})
	}
	return p
}

// Alone reports whether the plan is of one scan that is cut.
func (p *Plan) Alone() bool { return len(p.Sources) == 1 && len(p.Sources[0].Cuts) > 0 }

// Check is an error, a sentence, for a plan that can't be carried out.
func (p *Plan) Check() error {
	if err := Count(len(p.Sources)); err != nil && !p.Alone() {
		return err
	}
	if !(p.Blend > 0 && p.Blend <= MostBlend) {
		return fmt.Errorf("seams are blended over more than 0 and at most %.0f %% of the longest side", 100*MostBlend)
	}
	if len(p.Matches) > mostMatches {
		return fmt.Errorf("there are %d matching points, and %d at the most are taken", len(p.Matches), mostMatches)
	}
	for i, s := range p.Sources {
		if slices.ContainsFunc(p.Sources[:i], func(o Source) bool { return o.File == s.File }) {
			return fmt.Errorf("%s is among the scans already", phrase.Name(s.File))
		}
		if len(s.Cuts) > mostCuts {
			return fmt.Errorf("%s has %d cuts, and %d at the most are made", phrase.Name(s.File), len(s.Cuts), mostCuts)
		}
		if s.At == nil && p.Still || s.At != nil && !rigid(*s.At) {
			return fmt.Errorf("where %s lies on the other scans is not told", phrase.Name(s.File))
		}
		for _, c := range s.Cuts {
			if err := c.check(); err != nil {
				return err
			}
		}
	}
	for _, m := range p.Matches {
		n := len(p.Sources)
		if m.A < 0 || m.B < 0 || m.A >= n || m.B >= n || m.A == m.B || !sane(m.AtA) || !sane(m.AtB) {
			return errors.New("a matching point is of no two scans")
		}
	}
	return nil
}

// Sought is a scan, from 0, whose place is not known: the first without matching points, or else the last; ok is false where there is
// none.
func (p *Plan) Sought() (scan int, ok bool) {
	for i := len(p.Sources) - 1; i > 0; i-- {
		if p.Sources[i].At != nil {
			continue
		}
		if matched := slices.ContainsFunc(p.Matches, func(m Match) bool { return m.A == i || m.B == i }); !ok || !matched {
			scan, ok = i, true
		}
	}
	return scan, ok
}

// tilted is how far a turn's rows may be from square and of length 1.
const tilted = 1e-6

// rigid reports whether a placement turns, scales and moves and does nothing else.
func rigid(p geom.Placement) bool {
	for i := range 3 {
		for j := range 3 {
			dot, want := 0.0, 0.0
			for k := range 3 {
				dot += p.Turn[i][k] * p.Turn[j][k]
			}
			if i == j {
				want = 1
			}
			if !(math.Abs(dot-want) <= tilted) {
				return false
			}
		}
	}
	t := p.Turn
	det := t[0][0]*(t[1][1]*t[2][2]-t[1][2]*t[2][1]) - t[0][1]*(t[1][0]*t[2][2]-t[1][2]*t[2][0]) + t[0][2]*(t[1][0]*t[2][1]-t[1][1]*t[2][0])
	return det > 0 && p.Scale > 1e-9 && p.Scale < 1e9 && sane(p.Shift)
}

// Joined is what came of a plan.
type Joined struct {
	Plan  *Plan // that was carried out
	Set   *Set
	Piece *join.Result
	Apart []float32 // of each point of the piece how far apart the scans lie there, in units of the first; negative where fewer than two saw it
}

// Make reads the scans of a plan, cuts them, brings them together and joins them. Its errors are sentences; report may be nil.
func Make(ctx context.Context, p *Plan, report func(step string, done float64)) (*Joined, error) {
	if report == nil {
		report = func(string, float64) {}
	}
	if err := p.Check(); err != nil {
		return nil, err
	}
	if p.Alone() {
		return p.cutAlone(ctx)
	}
	var all []Scan
	var known []*geom.Placement
	for i, s := range p.Sources {
		report("reading "+phrase.Name(s.File), 0.1*float64(i)/float64(len(p.Sources)))
		one, err := s.opened(ctx)
		if err != nil {
			return nil, err
		}
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		all, known = append(all, one), append(known, s.At)
	}
	set, err := p.set(ctx, all, known, func(step string, done float64) { report(step, 0.1+0.4*done) })
	if err != nil {
		return nil, err
	}
	j := &Joined{Plan: p, Set: set}
	if j.Piece, err = set.Join(ctx, join.Settings{Blend: p.Blend * set.Size}, func(step string, done float64) { report(step, 0.5+0.45*done) }); err != nil {
		return nil, err
	}
	report("measuring how far apart the scans lie", 0.95)
	j.Apart, err = set.apart(ctx, j.Piece.Mesh)
	return j, err
}

// set brings the scans together, or takes them where they lie.
func (p *Plan) set(ctx context.Context, all []Scan, known []*geom.Placement, report func(string, float64)) (*Set, error) {
	if !p.Still {
		return together(ctx, all, known, p.Matches, report)
	}
	ready, err := readied(ctx, all)
	if err != nil {
		return nil, err
	}
	var at []geom.Placement
	for _, one := range known {
		at = append(at, *one)
	}
	r, err := register.Held(ctx, ready, at)
	if err != nil {
		return nil, err
	}
	return newSet(all, ready, r), nil
}

// Lying is the plan with every scan where it was found to lie, so that it needs not be found again.
func (j *Joined) Lying() *Plan {
	next := *j.Plan
	next.Sources, next.Still = slices.Clone(j.Plan.Sources), true
	for i, at := range j.Set.At {
		next.Sources[i].At = &at
	}
	return &next
}

// With is the plan of what was joined with more scans, which are to be found.
func (j *Joined) With(files ...string) *Plan {
	next := j.Lying()
	next.Sources, next.Still = append(next.Sources, NewPlan(files...).Sources...), false
	return next
}

// Without is the plan of what was joined without a scan, by number from 0. The first gives all others their frame and can't go.
func (j *Joined) Without(i int) *Plan {
	next := j.Lying()
	next.Sources, next.Still = slices.Delete(next.Sources, i, i+1), false
	next.Matches = slices.DeleteFunc(slices.Clone(next.Matches), func(m Match) bool { return m.A == i || m.B == i })
	for k, m := range next.Matches {
		for _, n := range []*int{&m.A, &m.B} {
			if *n > i {
				*n--
			}
		}
		next.Matches[k] = m
	}
	return next
}

// Blended is the plan of what was joined with seams of another width, by the longest side of all.
func (j *Joined) Blended(width float64) *Plan {
	next := j.Lying()
	next.Blend = width
	return next
}

// CutAlone is the plan of one scan and what is cut away of it.
func CutAlone(file string, cuts ...Cut) *Plan {
	p := NewPlan(file)
	p.Sources[0].Cuts = slices.Clone(cuts)
	return p
}

// Cut is the plan of what was joined with the cuts of a scan, by number from 0. Where the scans lie is settled anew from here.
func (j *Joined) Cut(i int, cuts ...Cut) *Plan {
	next := j.Lying()
	next.Sources[i].Cuts, next.Still = slices.Clone(cuts), false
	return next
}

// Matched is the plan with a scan, by number from 0, put anew by matching points that it has with others; those that it had are
// forgotten.
func (p *Plan) Matched(i int, matches ...Match) *Plan {
	next := *p
	next.Sources, next.Still = slices.Clone(p.Sources), false
	next.Sources[i].At = nil
	next.Matches = append(slices.DeleteFunc(slices.Clone(p.Matches), func(m Match) bool { return m.A == i || m.B == i }), matches...)
	return &next
}

// Colours are what the scanners saw, in the frame of the first scan, nil where none of the scans has any.
func (j *Joined) Colours() *mesh.Colours {
	var all *mesh.Colours
	for i, s := range j.Set.Scans {
		c, at := s.Raw.Colours, j.Set.At[i]
		if c == nil {
			continue
		}
		if all == nil {
			all = &mesh.Colours{}
		}
		for k, p := range c.Points {
			if keepsAll(j.Plan.Sources[i].Cuts, p.Vec()) {
				all.Points, all.RGB = append(all.Points, mesh.PointOf(at.Apply(p.Vec()))), append(all.RGB, c.RGB[k])
			}
		}
	}
	return all
}

func keepsAll(cuts []Cut, p geom.Vec) bool {
	return !slices.ContainsFunc(cuts, func(c Cut) bool { return !c.Keeps(p) })
}
