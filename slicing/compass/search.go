package compass

import (
	"context"
	"errors"
	"math"
	"sync"

	"grainstack/slicing/geom"
	"grainstack/slicing/job"
	"grainstack/slicing/par"
	"grainstack/slicing/stock"
)

// UsualCount is how many directions are spread over the half sphere where nothing else is wanted: 7 degrees apart.
const UsualCount = 300

// Options say how the sphere is searched.
type Options struct {
	Count   int     // directions spread evenly; 0 stands for UsualCount
	Weights Weights // which places are looked at more closely; all 0 stands for UsualWeights
	Cores   int     // goroutines that work at once; 0 stands for as many as there are cores
}

// closer are the rounds of looking more closely: six directions about each of the best, at a share of the spacing. There is one
// such place for every so many even directions.
var closer = []struct {
	every int
	share float64
}{{60, 0.5}, {75, 0.25}}

// places is how many of the best are looked at more closely in a round.
func places(count, every int) int { return max(1, (count+every/2)/every) }

const (
	thinDone = 0.2 // of all work, when the piece is thinned
	// roughMost is how many rough answers are given: enough to see the sphere, few enough not to hold the thinning up.
	roughMost = 24
	// apart is the least angle between two directions that are both worth looking at, as a share of the spacing.
	apart = 0.125
)

// Search works out bearings all over the half sphere and then round the best of them. tell, which may be nil, is given each
// new state of the map with the share of the work that is done, one at a time; the first states may hold rough bearings, the
// result none. The piece has to be a solid. The result does not depend on the number of cores.
func Search(ctx context.Context, p *job.Piece, s job.Settings, c *stock.Catalogue, o Options, tell func(m *Map, done float64)) (*Map, error) {
	k, err := newScale(p, s, c)
	if err != nil {
		return nil, err
	}
	if o.Count <= 0 {
		o.Count = UsualCount
	}
	if o.Cores <= 0 {
		o.Cores = par.Count()
	}
	if o.Weights == (Weights{}) {
		o.Weights = UsualWeights()
	}
	if tell == nil {
		tell = func(*Map, float64) {}
	}
	x := &search{scale: k, o: o, tell: tell}
	x.ask(k.start(o.Count))
	ctx = par.Only(ctx, o.Cores)
	in, err := x.prepare(ctx)
	if err != nil {
		return nil, err
	}
	x.moved = in.moved * s.Scale
	if err := x.careful(ctx, in); err != nil {
		return nil, err
	}
	return x.state(), ctx.Err()
}

// start are the directions to begin with: the present stand, its axis and the piece's own, and the even ones.
func (k *scale) start(n int) []geom.Vec {
	out := []geom.Vec{k.now}
	for _, d := range []geom.Vec{k.now, {Z: 1}, {X: 1}, {Y: 1}} {
		if isNew(d, out[1:], 1e-3) {
			out = append(out, d)
		}
	}
	keep := len(out)
	out = append(out, even(n)...)
	return append(out[:1:1], coarseFirst(out[1:], keep-1)...)
}

func isNew(d geom.Vec, among []geom.Vec, apart float64) bool {
	for _, a := range among {
		if between(a, d) < apart {
			return false
		}
	}
	return true
}

// A search is the work under way.
type search struct {
	*scale
	o     Options
	tell  func(*Map, float64)
	moved float64 // mm

	mu    sync.Mutex
	asked []geom.Vec
	found []Bearing // of each that was asked for; Layers is 0 where it isn't known yet
}

func (x *search) ask(more []geom.Vec) {
	x.mu.Lock()
	defer x.mu.Unlock()
	x.asked = append(x.asked, more...)
	x.found = append(x.found, make([]Bearing, len(more))...)
}

// prepare gathers the look and thins the piece, and answers roughly as soon as it can.
func (x *search) prepare(parent context.Context) (*standIn, error) {
	ctx, cancel := context.WithCancel(parent)
	defer cancel()
	wall := x.settings.Wall / x.settings.Scale
	many := len(x.piece.Mesh.Triangles) > plenty
	roughWall := wall
	if !many {
		roughWall = 0 // nobody asks it
	}
	rough, err := x.gather(ctx, roughWall)
	if err != nil {
		return nil, err
	}
	if !many {
		return carefully(ctx, x.piece, wall)
	}
	type thinned struct {
		in  *standIn
		err error
	}
	ready := par.Begin(func() thinned {
		defer cancel()
		in, err := carefully(ctx, x.piece, wall)
		return thinned{in, err}
	})
	err = x.weighAll(ctx, rough, 0, min(roughMost, len(x.asked)), func(k int) float64 { return thinDone * float64(k) / float64(len(x.asked)) })
	if err != nil && ctx.Err() == nil {
		cancel()
		ready()
		return nil, err
	}
	t := ready() // the careful surface ends the rough answers
	return t.in, t.err
}

// gather looks at the full surface once for all bearings, and thins it quickly at the same time.
func (x *search) gather(ctx context.Context, wall float64) (rough *standIn, err error) {
	var faults [2]error
	err = par.Spans(ctx, 2, 1, func(i, _ int) {
		if i == 0 {
			x.look, faults[i] = newLook(ctx, x.piece, x.weight)
		} else {
			rough, faults[i] = quickly(ctx, x.piece, wall)
		}
	})
	return rough, errors.Join(err, faults[0], faults[1])
}

// careful works out all that was asked for and the ways in which the piece rests by itself, then the places that are worth a closer look.
func (x *search) careful(ctx context.Context, in *standIn) error {
	var more []geom.Vec
	for _, d := range Rests(x.piece.Mesh, x.middle) {
		if isNew(d, x.asked[1:], restApart) {
			more = append(more, d)
		}
	}
	x.ask(more)
	expected := len(x.asked)
	for _, c := range closer {
		expected += 6 * places(x.o.Count, c.every)
	}
	share := func(k int) float64 { return thinDone + (1-thinDone)*float64(k)/float64(expected) }
	if err := x.weighAll(ctx, in, 0, len(x.asked), share); err != nil {
		return err
	}
	spacing := Spacing(x.o.Count)
	for _, c := range closer {
		m := x.state()
		from := len(x.asked)
		var more []geom.Vec
		for _, i := range m.peaks(m.Score(x.o.Weights), m.allBearings(), places(x.o.Count, c.every), spacing) {
			for _, d := range round(m.Bearings[i].Up, c.share*spacing) {
				if isNew(d, x.asked[1:], apart*spacing) && isNew(d, more, apart*spacing) {
					more = append(more, d)
				}
			}
		}
		x.ask(more)
		if err := x.weighAll(ctx, in, from, len(x.asked), share); err != nil {
			return err
		}
	}
	return nil
}

// weighAll works out what was asked for from one to before another, in their order; share is what is done of all work after
// each.
func (x *search) weighAll(ctx context.Context, in *standIn, from, to int, share func(int) float64) error {
	ctx, cancel := context.WithCancelCause(ctx)
	defer cancel(nil)
	n := to - from
	done := from
	err := par.Workers(ctx, n, 1, func(_, i, _ int) {
		b, err := x.weigh(ctx, in, x.asked[from+i], from+i == 0)
		if err != nil {
			cancel(err)
			return
		}
		x.mu.Lock()
		defer x.mu.Unlock()
		x.found[from+i] = b
		done++
		x.tell(x.stateLocked(), math.Min(share(done), 1))
	})
	if err != nil {
		return context.Cause(ctx)
	}
	return nil
}

func (x *search) state() *Map {
	x.mu.Lock()
	defer x.mu.Unlock()
	return x.stateLocked()
}

func (x *search) stateLocked() *Map {
	m := &Map{Bearings: make([]Bearing, 0, len(x.found)), Moved: x.moved, Even: x.o.Count}
	for _, b := range x.found {
		if b.Layers > 0 {
			m.Bearings = append(m.Bearings, b)
			m.Rough = m.Rough || b.Rough
		}
	}
	return m
}
