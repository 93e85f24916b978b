package register

import (
	"context"
	"errors"
	"math"

	"grainstack/slicing/geom"
)

// Most is how many scans are brought together at once.
const Most = 12

// A Result has for each scan its placement in the frame of the first and how well it lies on the others there.
type Result struct {
	At   []geom.Placement
	Fits []Fit
}

// An ApartError says that some scans found no place.
type ApartError struct {
	Scans    []int // by number, from 0
	Mirrored bool  // their mirror images have one
}

func (e *ApartError) Error() string { return "register: scans do not lie on one another anywhere" }

// errNothing is told of scans without surface.
var errNothing = errors.New("a scan has no surface to be brought together with others")

// Together brings scans together. starts has for each scan but the first a rough placement in the first one's frame, nil where it is to
// be found; scans with one are settled however badly they fit, which Fits tells. Where one can't be found the error is an *ApartError.
// report may be nil; it is given what is being done and the share of it that is done. Called off by ctx it returns its error.
func Together(ctx context.Context, scans []*Scan, starts []*geom.Placement, report func(step string, done float64)) (*Result, error) {
	if report == nil {
		report = func(string, float64) {}
	}
	for _, s := range scans {
		if !(s.Reach > 0) {
			return nil, errNothing
		}
	}
	g := &growing{scans: scans, at: make([]*geom.Placement, len(scans)), rival: make([]float64, len(scans)), report: report}
	first := geom.NoPlacement()
	g.at[0] = &first
	for i, start := range starts {
		if i == 0 || start == nil {
			continue
		}
		g.at[i] = start
		g.placed++
	}
	if g.placed > 0 {
		if err := g.settle(ctx, true); err != nil {
			return nil, err
		}
	}
	if err := g.grow(ctx); err != nil {
		return nil, err
	}
	report("settling all scans together", 0.9)
	if err := g.settle(ctx, false); err != nil {
		return nil, err
	}
	return g.result(ctx)
}

// Held is how well scans lie on one another where they are; nothing is moved.
func Held(ctx context.Context, scans []*Scan, at []geom.Placement) (*Result, error) {
	g := &growing{scans: scans, rival: make([]float64, len(scans))}
	for i := range scans {
		if !(scans[i].Reach > 0) {
			return nil, errNothing
		}
		g.at = append(g.at, &at[i])
	}
	return g.result(ctx)
}

// result is where the scans lie, and how well.
func (g *growing) result(ctx context.Context) (*Result, error) {
	r := &Result{}
	s := g.settling(func(s *Scan) level { return s.fine })
	for i := range g.scans {
		f, err := s.fitOf(ctx, i, s.levels[i].all())
		if err != nil {
			return nil, err
		}
		f.Rival = g.rival[i]
		r.At, r.Fits = append(r.At, *g.at[i]), append(r.Fits, f)
	}
	return r, nil
}

// growing is scans on their way: those with a placement lie in the first one's frame.
type growing struct {
	scans  []*Scan
	at     []*geom.Placement
	placed int       // besides the first
	rival  []float64 // of each scan as in its fit
	report func(string, float64)
}

// grow finds a place for one scan after another on those that have one.
func (g *growing) grow(ctx context.Context) error {
	for g.placed < len(g.scans)-1 {
		fixed, err := g.union(ctx)
		if err != nil {
			return err
		}
		found := false
		var left []int
		var plain []Fit // of these
		for i, at := range g.at {
			if at != nil || found {
				continue
			}
			g.report("finding where a scan lies on the others", 0.9*float64(g.placed)/float64(len(g.scans)))
			p, fit, err := find(ctx, fixed, g.scans[i])
			if err != nil {
				return err
			}
			if found = fit.found(); found {
				g.at[i], g.rival[i] = &p, fit.Rival
				g.placed++
				break
			}
			left, plain = append(left, i), append(plain, fit)
		}
		if !found {
			return g.apart(ctx, fixed, left, plain)
		}
	}
	return nil
}

// apart is the error for scans without a place, with how well they fit at best; whether their mirror images have one is looked up.
func (g *growing) apart(ctx context.Context, fixed *Scan, left []int, plain []Fit) error {
	e := &ApartError{Scans: left, Mirrored: true}
	for k, i := range left {
		mirrored, err := mirroredOn(ctx, fixed, g.scans[i], plain[k])
		if err != nil {
			return err
		}
		if !mirrored {
			e.Mirrored = false
			break
		}
	}
	return e
}

// better is how many times as well a mirror image has to fit as the scan itself: what is round fits either way.
const better = 2

// mirroredOn reports whether a scan is a mirror image of what another shows, on which it fits as given.
func mirroredOn(ctx context.Context, fixed, moving *Scan, plain Fit) (bool, error) {
	_, fit, err := find(ctx, fixed, moving.mirrored())
	return fit.found() && fit.worth() > better*plain.worth(), err
}

// union is one scan of all that have a place, settled.
func (g *growing) union(ctx context.Context) (*Scan, error) {
	if g.placed == 0 {
		return g.scans[0], ctx.Err()
	}
	if err := g.settle(ctx, false); err != nil {
		return nil, err
	}
	var scans []*Scan
	var at []geom.Placement
	for i, p := range g.at {
		if p != nil {
			scans, at = append(scans, g.scans[i]), append(at, *p)
		}
	}
	return merged(ctx, scans, at)
}

// settling is of the scans that have a place.
func (g *growing) settling(of func(*Scan) level) *settling {
	s := &settling{reach: g.scans[0].Reach}
	for i, p := range g.at {
		if p != nil {
			s.levels, s.at = append(s.levels, of(g.scans[i])), append(s.at, *p)
		}
	}
	return s
}

// settle settles the scans that have a place; rough ones coarsely first.
func (g *growing) settle(ctx context.Context, rough bool) error {
	levels := []func(*Scan) level{func(s *Scan) level { return s.fine }}
	within := nearBy * g.scans[0].Reach
	if rough {
		levels = append([]func(*Scan) level{func(s *Scan) level { return s.coarse }}, levels...)
		within *= 2
	}
	for _, of := range levels {
		s := g.settling(of)
		if err := s.run(ctx, within, rounds); err != nil {
			return err
		}
		n := 0
		for i, p := range g.at {
			if p != nil {
				at := s.at[n]
				g.at[i] = &at
				n++
			}
		}
		within = math.Min(within, nearBy*g.scans[0].Reach)
	}
	return nil
}

// Mirrored reports whether the mirror image of a scan has a place on another.
func Mirrored(ctx context.Context, fixed, moving *Scan) (bool, error) {
	_, plain, err := find(ctx, fixed, moving)
	if err != nil {
		return false, err
	}
	return mirroredOn(ctx, fixed, moving, plain)
}
