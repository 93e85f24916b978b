package edit

import (
	"image"
	"math"
	"slices"

	"grainstack/slicing/chalk"
	"grainstack/slicing/geom"
)

// A Stroke of chalk is being drawn on the piece. It is whole once the hand has let go and every place of it is known: what lies
// under a pixel is found with the next picture. A stroke that is begun before that goes on with it, so that a quick hand waits
// for no picture.
type Stroke struct {
	Down  bool // a stroke is being drawn, or waits for its last places
	Up    bool // the hand has let go
	Turns bool // this drag began beside the piece: it turns the view
	Moves int  // counts what was asked, over all strokes
	begun int  // counts the strokes, so that no answer is taken for another's
	more  bool // another was begun before the first was whole
	way   Way
}

// A Way is a stroke as far as it has come.
type Way struct {
	Brush chalk.Stroke   // of the last known place
	Done  []chalk.Stroke // what is known of it so far
	Lost  bool           // the last known place was beside the piece: the next begins anew
	Path  []Dab          // that the brush went over and that are not known yet
	first int            // how many were known before
	of    int            // the number of the stroke
	Moves int            // of the stroke; 0 while none is drawn
}

// A Dab is a pixel that the brush went over.
type Dab struct {
	At     image.Point
	Begins *chalk.Stroke // the brush that was set down here, nil where it came from the pixel before
}

// A Touch is what a dab came to.
type Touch struct {
	At     geom.Vec // in the piece's own frame
	Found  bool
	Begins *chalk.Stroke // the dab's
}

// Begin begins a stroke at a pixel.
func (s *Stroke) Begin(brush chalk.Stroke, at image.Point) {
	dab := Dab{at, &brush}
	if s.Down {
		s.Up, s.more = false, true
		s.way.Path = append(s.way.Path, dab)
		return
	}
	*s = Stroke{Down: true, Moves: s.Moves, begun: s.begun + 1, way: Way{Brush: brush, Path: []Dab{dab}, of: s.begun + 1}}
}

// Drawing reports whether the hand is drawing.
func (s *Stroke) Drawing() bool { return s.Down && !s.Up }

// Sweep takes the brush from one pixel to another in steps no longer than so many.
func (s *Stroke) Sweep(a, b image.Point, step float64) {
	n := int(math.Ceil(math.Hypot(float64(b.X-a.X), float64(b.Y-a.Y)) / step))
	for i := 1; i <= n; i++ {
		s.way.Path = append(s.way.Path, Dab{At: image.Pt(a.X+(b.X-a.X)*i/n, a.Y+(b.Y-a.Y)*i/n)})
	}
}

// Drop forgets the stroke.
func (s *Stroke) Drop() { *s = Stroke{Moves: s.Moves + 1, begun: s.begun} }

// Way is the stroke as it is now, by value.
func (s *Stroke) Way() Way {
	if !s.Down {
		return Way{}
	}
	w := s.way
	w.Done, w.Path, w.Moves = slices.Clip(w.Done), slices.Clip(w.Path), s.Moves
	return w
}

// Found takes what the places of a stroke have come to. An answer of another stroke, or one that says nothing new, changes
// nothing.
func (s *Stroke) Found(of Way, found []Touch) {
	skip := s.way.first - of.first
	if !s.Down || of.of != s.way.of || skip < 0 || skip >= len(found) || len(found)-skip > len(s.way.Path) {
		return
	}
	if found = found[skip:]; s.way.first == 0 && !found[0].Found && !s.Up && !s.more {
		s.Drop()
		s.Turns = true
		return
	}
	s.way = Grown(s.way, found)
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

// Grown is a way with what more of its places came to; the way that is given is not written to.
func Grown(w Way, more []Touch) Way {
	w.Done = slices.Clone(w.Done)
	for _, t := range more {
		if t.Begins != nil {
			w.Brush, w.Lost = *t.Begins, true
		}
		if !t.Found {
			w.Lost = true
			continue
		}
		n := len(w.Done)
		if n == 0 || w.Lost {
			one := w.Brush
			one.Path = []geom.Vec{t.At}
			w.Done, w.Lost = append(w.Done, one), false
			continue
		}
		last := &w.Done[n-1]
		end := last.Path[len(last.Path)-1]
		if t.At.Sub(end).Len() < nearPlaces*w.Brush.Radius {
			continue
		}
		if len(last.Path) >= longStroke {
			one := w.Brush
			one.Path = []geom.Vec{end, t.At}
			w.Done = append(w.Done, one)
			continue
		}
		last.Path = append(slices.Clip(last.Path), t.At)
	}
	return w
}
