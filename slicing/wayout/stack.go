package wayout

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/gonum/optimize"

	"grainstack/slicing/carve"
	"grainstack/slicing/geom"
	"grainstack/slicing/job"
	"grainstack/slicing/mesh"
	"grainstack/slicing/par"
	"grainstack/slicing/unit"
)

const (
	tiltMost = 25.0 // degrees that a way out may tilt the piece
	tiltStep = 8.0  // of the coarse search
	tiltSeed = 2    // places of the coarse search that are searched more finely
	tiltTry  = 30   // stands tried from each of them
	// upright is the share of what is trapped now that a degree of tilt has to take away to be worth it.
	upright = 0.003
)

// tilted are the settings with the piece tilted about X and then Y from where it stands, degrees.
func tilted(s job.Settings, x, y float64) job.Settings {
	s.Turn = s.Turn.Then(geom.TurnXYZ(x, y, 0))
	return s
}

// A tiltTried is a tilt of the coarse search with the gaps of the thinned piece there.
type tiltTried struct {
	x, y float64 // degrees
	gaps *carve.Gaps
}

// angle is how far the piece is tilted, degrees.
func (t tiltTried) angle() float64 { return math.Hypot(t.x, t.y) }

// A stackSearch looks among tilts, layers, boards and first joints for stacks that trap less.
type stackSearch struct {
	*wayfinder
	thin *mesh.Mesh // the piece, thinned out for comparing
	grid []tiltTried
}

// tilts finds the gaps of all tilts of the coarse search; the first is no tilt.
func (w *stackSearch) tilts(ctx context.Context) error {
	w.grid = []tiltTried{{}}
	for x := -3.0; x <= 3; x++ {
		for y := -3.0; y <= 3; y++ {
			if a := math.Hypot(x, y); a > 0 && a*tiltStep <= tiltMost {
				w.grid = append(w.grid, tiltTried{x: x * tiltStep, y: y * tiltStep})
			}
		}
	}
	faults := make([]error, len(w.grid))
	err := par.Spans(ctx, len(w.grid), 1, func(i, _ int) {
		t := &w.grid[i]
		t.gaps, faults[i] = w.quick(ctx, tilted(w.s, t.x, t.y))
	})
	return errors.Join(append(faults, err)...)
}

// quick are the gaps of the thinned piece as settings stand it: good for comparing.
func (w *stackSearch) quick(ctx context.Context, s job.Settings) (*carve.Gaps, error) {
	return carve.FindGaps(ctx, w.thin, s.Stand(), carve.QuickStep)
}

// tilt looks for the tilt that traps least.
func (w *stackSearch) tilt(ctx context.Context) error {
	x, y, err := w.bestTilt(ctx, func(g *carve.Gaps) float64 { return w.trapped(g, w.s) })
	if err != nil || x == 0 && y == 0 {
		return err
	}
	return w.offer(ctx, tilted(w.s, x, y), change{x: x, y: y}.words())
}

// bestTilt looks for the tilt at which a figure of the gaps is least, to half a degree: from the best places of the coarse
// search by a simplex search (Nelder and Mead, The Computer Journal 7(4), 1965). Of tilts that do as well the lesser one is
// taken.
func (w *stackSearch) bestTilt(ctx context.Context, figure func(*carve.Gaps) float64) (x, y float64, err error) {
	still := figure(w.grid[0].gaps)
	cost := func(v, angle float64) float64 { return v + still*(upright*angle+max(0, angle-tiltMost)) }
	places, got := make([][]float64, len(w.grid)), make([]float64, len(w.grid))
	for i, t := range w.grid {
		places[i], got[i] = []float64{t.x, t.y}, cost(figure(t.gaps), t.angle())
	}
	best, err := descend(ctx, seeds(places, got), func(ctx context.Context, at []float64) (float64, error) {
		g, err := w.quick(ctx, tilted(w.s, at[0], at[1]))
		if err != nil {
			return 0, err
		}
		return cost(figure(g), math.Hypot(at[0], at[1])), nil
	})
	if err != nil {
		return 0, 0, err
	}
	return math.Round(best[0]*2) / 2, math.Round(best[1]*2) / 2, nil
}

// seeds are the places of a grid with the least figures, no two of them neighbours.
func seeds(grid [][]float64, got []float64) [][]float64 {
	var out [][]float64
	taken := make([]bool, len(grid))
	for len(out) < tiltSeed {
		best := -1
		for i := range grid {
			if !taken[i] && (best < 0 || got[i] < got[best]) {
				best = i
			}
		}
		if best < 0 {
			break
		}
		out = append(out, grid[best])
		for i := range grid {
			if math.Hypot(grid[i][0]-grid[best][0], grid[i][1]-grid[best][1]) < 1.5*tiltStep {
				taken[i] = true
			}
		}
	}
	return out
}

// descend searches from each place and gives the best that was found.
func descend(ctx context.Context, from [][]float64, cost func(context.Context, []float64) (float64, error)) ([]float64, error) {
	found := make([]*optimize.Result, len(from))
	faults := make([]error, len(from))
	err := par.Spans(ctx, len(from), 1, func(i, _ int) {
		problem := optimize.Problem{
			Func: func(at []float64) float64 {
				v, err := cost(ctx, at)
				if err != nil {
					faults[i] = err
					return math.MaxFloat64
				}
				return v
			},
			Status: func() (optimize.Status, error) {
				if faults[i] != nil {
					return optimize.Failure, faults[i]
				}
				return optimize.NotTerminated, nil
			},
		}
		r, err := optimize.Minimize(problem, from[i], &optimize.Settings{FuncEvaluations: tiltTry}, &optimize.NelderMead{SimplexSize: tiltStep / 2})
		if err != nil && faults[i] == nil {
			faults[i] = fmt.Errorf("no tilt can be searched for: %w", err)
		}
		found[i] = r
	})
	if err != nil {
		return nil, err
	}
	best := 0
	for i := range found {
		if faults[i] != nil {
			return nil, faults[i]
		}
		if found[i].F < found[best].F {
			best = i
		}
	}
	return found[best].X, nil
}

// tiltWords say a tilt about X and Y as a maker who stands before the piece does it.
func tiltWords(x, y float64) string {
	var words []string
	for _, d := range []struct {
		angle      float64
		more, less string
	}{{x, "towards you", "away from you"}, {y, "to the right", "to the left"}} {
		if d.angle > 0 {
			words = append(words, fmt.Sprintf("%.3g° %s", d.angle, d.more))
		} else if d.angle < 0 {
			words = append(words, fmt.Sprintf("%.3g° %s", -d.angle, d.less))
		}
	}
	return "tilt the piece " + strings.Join(words, " and ")
}

// enough is the share of what is trapped now that thinner layers may leave; the thickest that do are taken.
const enough = 1.0 / 3

// sufficient is which of some settings, thickest layers first, to take: the first that leaves little enough, or else the one
// that traps least.
func sufficient(got []float64, now float64) int {
	best := 0
	for i, v := range got {
		if v <= enough*now {
			return i
		}
		if v < got[best] {
			best = i
		}
	}
	return best
}

// leastLayer is the share of a board that a layer is at least: more is not skimmed off willingly (common practice, no source).
const leastLayer = 0.5

// thicknesses are the settings with other layers from the same board, the thickest first.
func (w *stackSearch) thicknesses() []job.Settings {
	_, most := w.s.LayerRange(w.c)
	b, _ := w.s.BoardIn(w.c)
	most = min(most, b.Thickness)
	var list []job.Settings
	for t := math.Floor(most*2) / 2; t >= leastLayer*b.Thickness; t -= 0.5 {
		if math.Abs(t-w.now.Thickness) > 0.25 {
			list = append(list, w.s.WithLayer(w.c, t))
		}
	}
	return list
}

// trappedBy is what each of some settings of this stand traps.
func (w *stackSearch) trappedBy(list []job.Settings) []float64 {
	got := make([]float64, len(list))
	for i, s := range list {
		got[i] = w.trapped(w.still, s)
	}
	return got
}

// thickness looks for another layer from the same board.
func (w *stackSearch) thickness(ctx context.Context) error {
	list := w.thicknesses()
	if len(list) == 0 {
		return ctx.Err()
	}
	s := list[sufficient(w.trappedBy(list), w.before)]
	return w.offer(ctx, s, unit.Say("Make layers of %s", unit.Mm(s.LayerThickness(w.c))))
}

// board looks for a thinner board of the same wood.
func (w *stackSearch) board(ctx context.Context) error {
	now, _ := w.s.BoardIn(w.c)
	var list []job.Settings
	for _, b := range w.c.Boards {
		if len(b.Recipe) == 0 || len(now.Recipe) == 0 || b.Recipe[0].Species != now.Recipe[0].Species || b.Thickness > now.Thickness-1 {
			continue
		}
		s := w.s
		s.Board, s.BoardThickness = b.Key, 0
		list = append(list, s.WithUsualSkim(w.c))
	}
	slices.SortStableFunc(list, func(a, b job.Settings) int { return cmp.Compare(b.LayerThickness(w.c), a.LayerThickness(w.c)) })
	if len(list) == 0 {
		return ctx.Err()
	}
	s := list[sufficient(w.trappedBy(list), w.before)]
	b, _ := s.BoardIn(w.c)
	return w.offer(ctx, s, unit.Say("Take %s, in layers of %s", b.Name, unit.Mm(s.LayerThickness(w.c))))
}

// triedEvery is how far apart first joints are tried, mm.
const triedEvery = 0.5

// bestJoint is the first joint within a layer of a thickness that traps least by some gaps, mm, and what it traps.
func bestJoint(g *carve.Gaps, thickness float64) (joint, trapped float64) {
	joints, all := g.ByJoint(thickness, triedEvery)
	best := len(joints) - 1
	for k, v := range all {
		if v < all[best] {
			best = k
		}
	}
	return joints[best], all[best]
}

// joint looks for the first joint that traps least; it costs one more joint at the most.
func (w *stackSearch) joint(ctx context.Context) error {
	at, _ := bestJoint(w.still, w.now.Thickness)
	c := change{joint: at}
	return w.offer(ctx, w.changed(c), c.words())
}

// together looks for a tilt and a first joint that go well together, and then for layers thin enough to go with them.
func (w *stackSearch) together(ctx context.Context) error {
	for _, t := range []float64{w.now.Thickness, w.thinEnough()} {
		x, y, err := w.bestTilt(ctx, func(g *carve.Gaps) float64 { _, v := bestJoint(g, t); return v })
		if err != nil {
			return err
		}
		c := change{x: x, y: y}
		if t != w.now.Thickness {
			c.layer = t
		}
		_, g, err := w.placed(ctx, w.changed(c))
		if err != nil {
			return err
		}
		c.joint, _ = bestJoint(g, t)
		if err := w.offer(ctx, w.changed(c), c.words()); err != nil {
			return err
		}
	}
	return nil
}

// A change is what a way out does to the stack; what is 0 stays as it is.
type change struct {
	x, y         float64 // tilt, degrees
	layer, joint float64 // mm
}

// changed are the settings with a change.
func (w *wayfinder) changed(c change) job.Settings {
	s := w.s
	if c.x != 0 || c.y != 0 {
		s = tilted(s, c.x, c.y)
	}
	if c.layer > 0 {
		s = s.WithLayer(w.c, c.layer)
	}
	if c.joint > 0 {
		s.FirstJoint = c.joint
		if c.joint >= s.LayerThickness(w.c) {
			s.FirstJoint = 0 // a whole layer
		}
	}
	return s
}

// words say what the maker is to do.
func (c change) words() unit.Said {
	var parts []unit.Said
	if c.x != 0 || c.y != 0 {
		parts = append(parts, unit.Say("%s", tiltWords(c.x, c.y)))
	}
	if c.layer > 0 {
		parts = append(parts, unit.Say("make layers of %s", unit.Mm(c.layer)))
	}
	if c.joint > 0 {
		parts = append(parts, unit.Say("put the first joint at %s", unit.Mm(c.joint)))
	}
	return unit.Say("%s", capital{unit.Say("%s", row{parts, ", ", ", "})})
}

// thinEnough is the thickest layer that, with the best tilt of the coarse search and the best first joint, leaves little enough.
func (w *stackSearch) thinEnough() float64 {
	list := w.thicknesses()
	if len(list) == 0 {
		return w.now.Thickness
	}
	got := make([]float64, len(list))
	for i, s := range list {
		got[i] = math.Inf(1)
		for _, t := range w.grid {
			_, v := bestJoint(t.gaps, s.LayerThickness(w.c))
			got[i] = min(got[i], v)
		}
	}
	return list[sufficient(got, w.before)].LayerThickness(w.c)
}

// compareCells is how many cells the mesh for comparing has along the piece's longest side: about as fine as the columns
// that it is compared on.
const compareCells = 150

// thinner is a piece thinned out for comparing.
func thinner(p *job.Piece) *mesh.Mesh {
	size := p.Findings.Size
	if len(p.Thin.Triangles) <= 4*compareCells*compareCells {
		return p.Thin
	}
	return mesh.Thin(p.Thin, max(size.X, size.Y, size.Z)/compareCells)
}
