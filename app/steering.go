package app

import (
	"context"
	"errors"
	"runtime"
	"sync"

	"grainstack/app/card"
	"grainstack/app/picture"
	"grainstack/slicing/compass"
	"grainstack/slicing/geom"
	"grainstack/slicing/job"
	"grainstack/slicing/stock"
)

// A steering is what the window knows of the directions that the stack could run in.
type steering struct {
	found   *compass.Map // nil until something has been found
	of      steerKey     // that it is of
	busy    bool
	share   float64 // done
	fault   string
	weights compass.Weights
	measure compass.Measure
	pointed *compass.Bearing // under the pointer: the finished piece is shown as it would stand
}

// A steerKey is all that directions depend on: the piece and the settings without its turn.
type steerKey struct {
	piece    *job.Piece
	settings job.Settings
	stock    *stock.Catalogue
}

// A steerAsk asks for directions.
type steerAsk struct {
	key      steerKey
	settings job.Settings
	weights  compass.Weights
}

func newSteering() steering {
	return steering{weights: compass.UsualWeights(), measure: compass.Trapped}
}

func (w *window) steerKey() steerKey {
	k := steerKey{settings: w.session.Settings(), stock: w.shelf.now}
	k.settings.Turn = geom.Turn{}
	if w.model != nil {
		k.piece = w.model.piece
	}
	return k
}

// directions are what has been found for the present piece, maybe with older settings; nil where nothing has.
func (w *window) directions() *compass.Map {
	if w.model == nil || w.steering.of.piece != w.model.piece {
		return nil
	}
	return w.steering.found
}

// compareDirections begins to look at directions; a second time it leaves that.
func (w *window) compareDirections() {
	s := &w.steering
	if s.busy {
		w.leaveSteering()
		return
	}
	if w.model == nil {
		return
	}
	s.found, s.of, s.busy, s.share, s.fault, s.pointed = nil, w.steerKey(), true, 0, "", nil
	w.leafNamed("Directions")
	w.margin.work("comparing directions", 0)
	w.loops.steer.Ask(steerAsk{key: s.of, settings: w.session.Settings(), weights: s.weights})
	w.steered()
}

// leaveSteering calls off what is being compared; what has been found stays.
func (w *window) leaveSteering() {
	w.loops.steer.Drop()
	if w.steering.busy {
		w.steering.busy = false
		w.calm()
		w.steered()
	}
}

// seekDirections is the worker of the loop. One core is left to the window. States that come faster than the window takes them are passed over.
func (w *window) seekDirections(ctx context.Context, a steerAsk) (*compass.Map, error) {
	var mu sync.Mutex
	var newest *compass.Map
	share, posted := 0.0, false
	take := func() {
		mu.Lock()
		m, done := newest, share
		posted = false
		mu.Unlock()
		if ctx.Err() == nil {
			w.directionsCame(a, m, done)
		}
	}
	o := compass.Options{Weights: a.weights, Cores: max(1, runtime.GOMAXPROCS(0)-1)}
	return compass.Search(ctx, a.key.piece, a.settings, a.key.stock, o, func(m *compass.Map, done float64) {
		mu.Lock()
		newest, share = m, done
		first := !posted
		posted = true
		mu.Unlock()
		if first {
			w.post(take)
		}
	})
}

// directionsCame takes what has been found so far.
func (w *window) directionsCame(a steerAsk, m *compass.Map, done float64) {
	s := &w.steering
	if !s.busy || s.of != a.key {
		return
	}
	s.found, s.share = m, done
	w.margin.work("comparing directions", done)
	w.steered()
}

// directionsFound takes all of it.
func (w *window) directionsFound(a steerAsk, m *compass.Map, err error) {
	s := &w.steering
	if errors.Is(err, context.Canceled) || s.of != a.key {
		return
	}
	s.busy, s.share = false, 1
	w.calm()
	if err != nil {
		s.fault = "Directions can't be compared: " + err.Error()
		w.margin.hint(s.fault)
	} else {
		s.found = m
		w.trace.line("what=directions bearings=%d moved_mm=%.3f", len(m.Bearings), m.Moved)
	}
	w.steered()
}

// steered shows what has changed about directions.
func (w *window) steered() {
	w.asked = w.now()
	if w.folder.shows(w.compass.Picture) {
		w.askCompass()
	}
	w.showCards()
}

// weigh changes how much a measure counts.
func (w *window) weigh(of compass.Measure, weight float64) {
	if w.steering.weights[of] != weight {
		w.steering.weights[of] = weight
		w.steered()
	}
}

// measured chooses the measure that the map shows.
func (w *window) measured(of compass.Measure) {
	if w.steering.measure != of {
		w.steering.measure = of
		w.steered()
	}
}

// bestBearing is the best of what has been found, by the weights.
func (w *window) bestBearing() (*compass.Bearing, bool) {
	m := w.directions()
	if m == nil {
		return nil, false
	}
	i, ok := m.Best(w.steering.weights)
	if !ok {
		return nil, false
	}
	return &m.Bearings[i], true
}

// takeBearing makes a bearing the stand.
func (w *window) takeBearing(b *compass.Bearing) {
	w.steering.pointed = nil
	w.Do("take a direction", func(s job.Settings) job.Settings {
		s.Turn = geom.TurnXYZ(b.Turn.Degrees()) // free of rounding, as when it is turned by hand
		return s
	})
	w.Rest()
	w.trace.line("what=taken rev=%d up=%.4f,%.4f,%.4f", w.session.Revision(), b.Up.X, b.Up.Y, b.Up.Z)
	w.steered()
	w.askLook()
}

// takeBest makes the best bearing the stand.
func (w *window) takeBest() {
	if b, ok := w.bestBearing(); ok {
		w.takeBearing(b)
	}
}

// previewed are the settings with the stand of the bearing under the pointer; ok is false where there is none.
func (w *window) previewed(s job.Settings) (job.Settings, bool) {
	b := w.steering.pointed
	if b == nil || !w.folder.shows(w.compass.Picture) {
		return s, false
	}
	s.Turn = b.Turn
	return s, true
}

// steeringState is what the card shows.
func (w *window) steeringState() card.CompassState {
	s := &w.steering
	c := card.CompassState{Busy: s.busy, Share: s.share, Fault: s.fault, Weights: s.weights, Stale: s.of != w.steerKey()}
	if b, ok := w.bestBearing(); ok {
		c.Found = len(s.found.Bearings)
		c.Best = picture.Bearing(b, w.session.View.Units)
		c.Lean = picture.Lean(b.Up)
		c.Moved = s.found.Moved
	}
	return c
}
