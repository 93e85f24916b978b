package edit

import (
	"image"
	"math"
	"slices"

	"grainstack/slicing/chalk"
	"grainstack/slicing/geom"
)

// A Stroke of chalk is being drawn on the piece. It is whole once the hand has let go and every place of it is known: what lies
// under a pixel is found with the next picture.
type Stroke struct {
	Down  bool // a stroke is being drawn, or waits for its last places
	Up    bool // the hand has let go
	Turns bool // this drag began beside the piece: it turns the view
	Moves int  // counts what was asked, over all strokes
	way   Way
}

// A Way is a stroke as far as it has come.
type Way struct {
	Brush chalk.Stroke
	Done  []chalk.Stroke // what is known of it so far
	Lost  bool           // the last known place was beside the piece: the next begins anew
	Path  []image.Point  // pixels that the brush went over and that are not known yet
	first int            // how many were known before
	Moves int            // of the stroke; 0 while none is drawn
}

// A Touch is what a pixel of the brush's way came to.
type Touch struct {
	At    geom.Vec // in the piece's own frame
	Found bool
}

// Begin begins a stroke at a pixel.
func (s *Stroke) Begin(brush chalk.Stroke, at image.Point) {
	*s = Stroke{Down: true, Moves: s.Moves, way: Way{Brush: brush, Path: []image.Point{at}}}
}

// Sweep takes the brush from one pixel to another in steps no longer than so many.
func (s *Stroke) Sweep(a, b image.Point, step float64) {
	n := int(math.Ceil(math.Hypot(float64(b.X-a.X), float64(b.Y-a.Y)) / step))
	for i := 1; i <= n; i++ {
		s.way.Path = append(s.way.Path, image.Pt(a.X+(b.X-a.X)*i/n, a.Y+(b.Y-a.Y)*i/n))
	}
}

// Drop forgets the stroke.
func (s *Stroke) Drop() { *s = Stroke{Moves: s.Moves + 1} }

// Way is the stroke as it is now, by value.
func (s *Stroke) Way() Way {
	if !s.Down {
		return Way{}
	}
	w := s.way
	w.Done, w.Path, w.Moves = slices.Clip(w.Done), slices.Clip(w.Path), s.Moves
	return w
}

// Found takes what the places of a stroke have come to.
func (s *Stroke) Found(of Way, found []Touch) {
	skip := s.way.first - of.first
	if !s.Down || len(found) == 0 || skip < 0 || skip >= len(found) || of.Brush.Radius != s.way.Brush.Radius || of.Moves > s.Moves {
		return
	}
	if found = found[skip:]; s.way.first == 0 && !found[0].Found && !s.Up {
		s.Drop()
		s.Turns = true
		return
	}
	s.way.Done, s.way.Lost = Grown(s.way, found)
	s.way.Path, s.way.first = s.way.Path[len(found):], s.way.first+len(found)
}

// Whole are the strokes of a stroke that is whole, which is forgotten; ok is false while it is not.
func (s *Stroke) Whole() (kind chalk.Kind, all []chalk.Stroke, ok bool) {
	if !s.Down || !s.Up || len(s.way.Path) > 0 {
		return kind, nil, false
	}
	kind, all = s.way.Brush.Kind, s.way.Done
	s.Drop()
	return kind, all, true
}

// WithStrokes are marks with strokes over them. Nothing is rubbed out where there is nothing. With an error the marks are as far
// as they go.
func WithStrokes(m *chalk.Marks, strokes []chalk.Stroke) (*chalk.Marks, error) {
	for _, s := range strokes {
		if s.Kind == chalk.Unmarked && m.Empty() {
			continue
		}
		next, err := m.With(s)
		if err != nil {
			return m, err
		}
		m = next
	}
	return m, nil
}

const (
	// nearPlaces is the share of the radius within which a place says nothing new.
	nearPlaces = 0.25
	// longStroke is how many places a stroke has before the next is begun: the picture goes over the last stroke anew each time.
	longStroke = 60
)

// Grown are the strokes of a way with more places. The way is not written to.
func Grown(w Way, more []Touch) (done []chalk.Stroke, lost bool) {
	done, lost = slices.Clone(w.Done), w.Lost
	for _, t := range more {
		if !t.Found {
			lost = true
			continue
		}
		n := len(done)
		if n == 0 || lost {
			one := w.Brush
			one.Path = []geom.Vec{t.At}
			done, lost = append(done, one), false
			continue
		}
		last := &done[n-1]
		end := last.Path[len(last.Path)-1]
		if t.At.Sub(end).Len() < nearPlaces*w.Brush.Radius {
			continue
		}
		if len(last.Path) >= longStroke {
			one := w.Brush
			one.Path = []geom.Vec{end, t.At}
			done = append(done, one)
			continue
		}
		last.Path = append(slices.Clip(last.Path), t.At)
	}
	return done, lost
}
