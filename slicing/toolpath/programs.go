package toolpath

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"sync"

	"grainstack/slicing/carve"
	"grainstack/slicing/geom"
	"grainstack/slicing/hours"
	"grainstack/slicing/panel"
	"grainstack/slicing/par"
	"grainstack/slicing/program"
	"grainstack/slicing/rs274"
)

// A Made is a program with the figures of its way.
type Made struct {
	program.Program
	hours.Trip
	Box geom.Box // of all places of the tip, in the program's frame
}

// Programs are those of a panel's tasks, in their order. start is where in X and Y of the panel as it lies a program begins and
// ends, at the safe height. The rough pass of side B goes by what that of side A has left.
func (b *Bench) Programs(ctx context.Context, start func(dowels [2]geom.Vec2) geom.Vec2) ([]Made, error) {
	grounds, err := b.grounds(ctx)
	if err != nil {
		return nil, err
	}
	tasks, _ := b.panel.Tasks(b.setup)
	out := make([]Made, len(tasks))
	lay := func(side carve.Side, roughed func()) (err error) {
		for i, t := range tasks {
			if err != nil || t.from != side {
				continue
			}
			out[i], err = b.lay(ctx, grounds[side], t, start)
			if t.Step == program.Rough {
				roughed()
			}
		}
		return err
	}
	first := make(chan struct{})
	open := sync.OnceFunc(func() { close(first) })
	defer open()
	below := par.Begin(func() error {
		<-first
		return lay(carve.Down, func() {})
	})
	err = lay(carve.Up, open)
	open() // also where it came to nothing
	if err = cmp.Or(err, below()); err != nil {
		return nil, err
	}
	return out, nil
}

// grounds lays out both sides.
func (b *Bench) grounds(ctx context.Context) (out [2]*hours.Ground, err error) {
	ground := func(side carve.Side) error {
		g, ok := b.ground(ctx, side)
		if out[side] = g; !ok {
			return cmp.Or(ctx.Err(), fmt.Errorf("panel %d: no path can be laid on its %v with these cutters: look at their diameters and the clearance", b.panel.Number, side))
		}
		return nil
	}
	below := par.Begin(func() error { return ground(carve.Down) })
	err = ground(carve.Up)
	err = cmp.Or(err, below())
	hours.Facing(out[carve.Up], out[carve.Down])
	return out, err
}

// Timed is the trip of a program or a part of one as it is read, and a box of the tip's places.
func Timed(s hours.Setup, run *rs274.Run) (hours.Trip, geom.Box) {
	box := geom.EmptyBox()
	for _, m := range run.Moves {
		box = box.Add(m.To)
	}
	return hours.Replay(s, run.Moves[0].To, len(run.Moves), func(i int) (geom.Vec, float64) { return run.Moves[i].To, run.Moves[i].Feed }), box
}

// lay lays the paths of a task on its side.
func (b *Bench) lay(ctx context.Context, g *hours.Ground, t Task, start func([2]geom.Vec2) geom.Vec2) (m Made, err error) {
	switch t.Step {
	case program.Holes:
		m = b.drill(t, start)
	case program.Free:
		m = b.free(t, start)
	default:
		m, err = b.pass(ctx, g, t, start)
	}
	b.pastClamps(&m)
	return m, err
}

// begin is a program without moves.
func (b *Bench) begin(t Task) Made {
	s := b.setup
	m := Made{Box: geom.EmptyBox(), Program: program.Program{
		Name: t.Name, Panel: b.panel.Number, Side: t.Side, Step: t.Step, Cutter: t.Cutter, Safe: s.SafeHeight,
		Blank: program.Blank{X: b.panel.X, Y: b.panel.Y, Board: b.panel.Thickness + 2*b.panel.Skim},
	}}
	m.RPM = min(max(m.Cutter.RPM, s.Machine.MinRPM), s.Machine.MaxRPM)
	for i, d := range b.panel.Register.Dowels {
		q := b.lies(geom.Vec{X: d.At.X, Y: d.At.Y}, t.from)
		m.Dowels[i] = geom.Vec2{X: q.X, Y: q.Y}
	}
	return m
}

func face(s carve.Side) panel.Face {
	if s == carve.Down {
		return panel.SideB
	}
	return panel.SideA
}

// add puts a move at the end.
func (m *Made) add(to geom.Vec, feed float64) {
	m.Moves = append(m.Moves, program.Move{To: to, FeedMmMin: feed})
	m.Box = m.Box.Add(to)
}

// pass is the rough or the finish pass of a side.
func (b *Bench) pass(ctx context.Context, g *hours.Ground, t Task, start func([2]geom.Vec2) geom.Vec2) (Made, error) {
	m := b.begin(t)
	from := start(m.Dowels)
	home := geom.Vec{X: from.X, Y: from.Y, Z: m.Safe}
	op := hours.Rough
	if t.Step == program.Finish {
		op = hours.Finish
	}
	at := b.lies(home, t.from) // turning over twice is none
	var err error
	last := home
	m.Trip, err = hours.Trace(ctx, g, b.setup, op, geom.Vec2{X: at.X, Y: at.Y}, func(to geom.Vec, feed float64) {
		to = b.lies(to, t.from)
		m.add(to, coarse(noSteeper(feed, last, to, m.Cutter.PlungeMmMin)))
		last = to
	})
	m.add(home, 0) // all that it does where a side has nothing to take
	return m, err
}

// written is how far off a place may be as it is written, mm: to four places of an inch.
const written = 0.0015

// noSteeper is a feed that takes the cutter down no faster than it plunges, however the ends of a short move are rounded.
func noSteeper(feed float64, from, to geom.Vec, plunge float64) float64 {
	down := from.Z - to.Z
	if !(feed > 0 && down > 0) {
		return feed
	}
	flat := max(math.Hypot(to.X-from.X, to.Y-from.Y)-2*written, 0)
	down += 2 * written
	return min(feed, plunge*math.Hypot(flat, down)/down)
}

// coarse is a feed in whole tens of mm/min, so that a file needs few words for it; no feed is more than asked for.
func coarse(feed float64) float64 {
	if whole := float64(int(feed/10+1e-9)) * 10; whole > 0 {
		return whole
	}
	return feed
}
