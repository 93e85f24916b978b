package hours

import (
	"context"
	"errors"
	"fmt"
	"math"

	"grainstack/slicing/par"
	"grainstack/slicing/plane"
)

// SimulateAll is the router's time on each of many sides, in their order, along the paths that its cutters really take: the skim and
// the rough levels, each cleared in rows and followed once along its walls, a straight core sawn out along its outline, and the finish
// rows over the tip's surface. A nil ground takes no time. It looks at ctx every few milliseconds.
func SimulateAll(ctx context.Context, grounds []*Ground, s Setup) ([]SideTime, error) {
	out, faults := make([]SideTime, len(grounds)), make([]error, len(grounds))
	workers := make([]worker, par.Count())
	err := par.Workers(ctx, len(grounds), 1, func(n, i, _ int) {
		if grounds[i] != nil {
			out[i], faults[i] = workers[n].side(ctx, grounds[i], s)
		}
	})
	if err == nil {
		err = errors.Join(faults...)
	}
	if err != nil {
		return nil, err
	}
	return out, nil
}

// A worker goes over one side after another. It is the scratch of one goroutine.
type worker struct {
	*Ground
	setup Setup
	ctx   context.Context
	motion
	left, region, walls, near, rest plane.Mask // of a rough level
	air                             plane.Mask // places where nothing is left to take
	words                           []uint64
	chains                          chains
	turn                            []plane.Run
	border                          plane.Border
	row, slope                      []float32
	xs, zs                          []float64                         // of a row, where it is looked at between columns
	probe                           func(x, y, least float64) float64 // of the pass at hand
	probing                         int                               // 0 for the rough pass, 1 for the finish
	areas                           []*Ground                         // of the side
	stands                          *standing                         // nil where paths need not be true
	held                            bool                              // less was taken somewhere than a level wants
}

func (w *worker) side(ctx context.Context, g *Ground, s Setup) (SideTime, error) {
	if err := s.Check(); err != nil {
		return SideTime{}, err
	}
	if err := g.fits(s); err != nil {
		return SideTime{}, err
	}
	w.ready(ctx, g, s)
	w.areas = g.areas(&s)
	g.meet(w.areas, &s)
	var t SideTime
	w.roughPass(w.middle())
	t.RoughMin, t.RoughMetres, t.Retracts = w.s/60, w.mm/1000, w.retracts
	w.finishPass(w.middle())
	t.FinishMin, t.FinishMetres = w.s/60, w.mm/1000
	t.Retracts += w.retracts
	if err := ctx.Err(); err != nil {
		return SideTime{}, err
	}
	return t, nil
}

// ready lays out a side.
func (w *worker) ready(ctx context.Context, g *Ground, s Setup) {
	w.Ground, w.setup, w.ctx, w.stands, w.cuts = g, s, ctx, nil, nil
	w.widen()
}

// widen makes room for a row of the ground at hand.
func (w *worker) widen() {
	if len(w.row) < w.W {
		w.row = make([]float32, w.W)
	}
}

// middle is above the middle of the side.
func (w *worker) middle() place {
	return place{float64(w.W) / 2 * w.Step, float64(w.H) / 2 * w.Step, 0}
}

// roughPass is all that the rough cutter does, from above a place on.
func (w *worker) roughPass(from place) {
	w.begin(w.setup.limit(w.setup.Rough, w.top()), from)
	w.probing = 0
	side := w.Ground
	w.each(w.areas, func() {
		w.probe = w.probeOf(0)
		w.rough()
	})
	if !side.slot.Empty() {
		w.enter(side.uncut(&w.setup))
		w.probe = w.probeOf(0)
		w.saw()
	}
	w.enter(side)
	w.lift()
}

// finishPass is all that the finish cutter does.
func (w *worker) finishPass(from place) {
	w.begin(w.setup.limit(w.setup.Finish, w.top()), from)
	w.probing = 1
	side := w.Ground
	w.each(w.areas, func() {
		w.probe = w.probeOf(1)
		w.finish()
	})
	w.enter(side)
	w.lift()
}

// mostRows and mostLevels bound a stepover and a stepdown that are out of all proportion to the piece.
const (
	mostRows   = 1 << 20
	mostLevels = 1 << 10
)

// fits says what a setup asks of a side that is out of all proportion.
func (g *Ground) fits(s Setup) error {
	wide := float64(g.H) * g.Step
	for _, c := range []struct {
		pass string
		over float64
	}{{"rough", s.Rough.Stepover}, {"finish", s.Finish.Stepover}} {
		if wide/c.over > mostRows {
			return fmt.Errorf("hours: %s pass: rows every %g mm are too many for %.0f mm", c.pass, c.over, wide)
		}
	}
	if deep := g.Thickness + 2*g.Skim; deep/s.Rough.Stepdown > mostLevels {
		return fmt.Errorf("hours: rough pass: steps of %g mm are too many for %.0f mm", s.Rough.Stepdown, deep)
	}
	return nil
}

// top is the safe height.
func (w *worker) top() float64 { return w.Thickness + w.Skim + w.setup.SafeHeight }

// begin puts a cutter at the safe height above a place.
func (w *worker) begin(l limit, from place) {
	from.z = l.safe
	w.motion = motion{limit: l, path: w.path[:0], at: from, put: w.put, cuts: w.cuts}
}

// halt says that the work was called off.
func (w *worker) halt() bool { return w.ctx.Err() != nil }

// sees says that the straight way from where the cutter is to p lies within a mask.
func (w *worker) sees(p place, in *plane.Mask) bool { return w.clear(w.at, p, in) }

// clear says that the straight way between two places lies within a mask: no further beside it than a column.
func (w *worker) clear(from, to place, in *plane.Mask) bool {
	dx, dy := (to.x-from.x)/w.Step, (to.y-from.y)/w.Step
	n := int(math.Ceil(math.Hypot(dx, dy)))
	for k := 0; k <= n; k++ {
		t := float64(k) / float64(max(n, 1))
		x, y := from.x/w.Step+t*dx, from.y/w.Step+t*dy
		i, j := int(math.Floor(x)), int(math.Floor(y))
		if !in.Has(int(math.Round(x)), int(math.Round(y))) && !in.Has(i, j) && !in.Has(i+1, j) && !in.Has(i, j+1) && !in.Has(i+1, j+1) {
			return false
		}
	}
	return true
}

// hopTime is the least that a hop to a place takes, seconds.
func (w *worker) hopTime(p place) float64 {
	return 2*Move(w.safe-p.z, w.rapidZ, w.accelZ) + math.Hypot(p.x-w.at.x, p.y-w.at.y)/w.rapid
}
