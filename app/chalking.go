package app

import (
	"context"
	"image"
	"math"
	"slices"
	"time"

	"fyne.io/fyne/v2"

	"grainstack/app/picture"
	"grainstack/app/session"
	"grainstack/render/look"
	"grainstack/slicing/chalk"
	"grainstack/slicing/geom"
	"grainstack/slicing/job"
)

// chalking is the stroke that is being drawn. It becomes part of the settings when the hand lets go and every place of it is
// known.
type chalking struct {
	down  bool // a stroke is being drawn, or waits for its last places
	up    bool // the hand has let go
	turns bool // this drag began beside the piece: it turns the view
	brush chalk.Stroke
	done  []chalk.Stroke // what is known of it so far
	lost  bool           // the last known place was beside the piece: the next begins anew
	path  []image.Point  // pixels that the brush went over and that are not known yet
	first int            // how many were known before
	moves int            // counts what was asked, over all strokes
}

// A chalkAsk is a stroke as far as it goes.
type chalkAsk struct {
	brush chalk.Stroke
	done  []chalk.Stroke
	lost  bool
	path  []image.Point
	first int
	moves int
}

// A touch is what a pixel of the brush's way came to.
type touch struct {
	at    geom.Vec // in the piece's own frame
	found bool
}

// brushing reports whether dragging on the piece marks it.
func (w *window) brushing() bool { return w.session.View.Brush.On && w.model != nil }

// takeChalk takes the brush up, or puts it down.
func (w *window) takeChalk() {
	on := !w.session.View.Brush.On
	if on {
		w.picking.what, w.picking.points = "", nil
		if !w.chalkCard.Open() {
			w.openCard(slices.Index(w.cards, w.chalkCard))
		}
		w.look.Focus()
	}
	w.Look(func(v *session.View) { v.Brush.On = on })
}

// brush is a movement of the hand over the piece; it reports false where that is to turn the view.
func (w *window) brush(from, at fyne.Position) bool {
	c := &w.chalking
	if !w.brushing() || c.turns || c.up {
		return false
	}
	if !c.down {
		w.beginStroke(from)
	}
	a, b := w.pixel(from), w.pixel(at)
	step := max(1, w.brushPixels()/2)
	n := int(math.Ceil(math.Hypot(float64(b.X-a.X), float64(b.Y-a.Y)) / step))
	for i := 1; i <= n; i++ {
		c.path = append(c.path, image.Pt(a.X+(b.X-a.X)*i/n, a.Y+(b.Y-a.Y)*i/n))
	}
	w.showBrush(at, true)
	w.touched()
	return true
}

// dab marks the place of a click.
func (w *window) dab(at fyne.Position) {
	if w.chalking.down {
		return
	}
	w.beginStroke(at)
	w.chalking.up = true
	w.touched()
}

func (w *window) beginStroke(at fyne.Position) {
	b, s := w.session.View.Brush, w.session.Settings()
	w.chalking = chalking{
		down: true, moves: w.chalking.moves, path: []image.Point{w.pixel(at)},
		brush: chalk.Stroke{Kind: b.Kind, Radius: b.Radius / s.Scale, Sight: s.Turn.Inverse().Apply(w.camera.Ahead())},
	}
}

// touched asks for the picture with the stroke as it is now.
func (w *window) touched() {
	w.chalking.moves++
	w.asked = w.now()
	w.askLook()
}

// liftBrush ends a stroke, or the turning that a drag beside the piece was.
func (w *window) liftBrush() (wasStroke bool) {
	c := &w.chalking
	if !c.down {
		c.turns = false
		return false
	}
	c.up = true
	w.endStroke()
	return true
}

// dropStroke forgets the stroke that is being drawn.
func (w *window) dropStroke() {
	w.chalking = chalking{moves: w.chalking.moves + 1}
}

// ask is the stroke as it is now, by value.
func (c *chalking) ask() chalkAsk {
	if !c.down {
		return chalkAsk{}
	}
	return chalkAsk{c.brush, slices.Clip(c.done), c.lost, slices.Clip(c.path), c.first, c.moves}
}

// strokeFound takes what the places of a stroke have come to.
func (w *window) strokeFound(a chalkAsk, found []touch) {
	c := &w.chalking
	skip := c.first - a.first
	if !c.down || len(found) == 0 || skip < 0 || skip >= len(found) || a.brush.Radius != c.brush.Radius || a.moves > c.moves {
		return
	}
	if found = found[skip:]; c.first == 0 && !found[0].found && !c.up {
		w.dropStroke()
		w.chalking.turns = true
		return
	}
	c.done, c.lost = grown(c.brush, c.done, c.lost, found)
	c.path, c.first = c.path[len(found):], c.first+len(found)
	w.endStroke()
}

// endStroke puts a stroke that is whole into the settings.
func (w *window) endStroke() {
	c := &w.chalking
	if !c.up || len(c.path) > 0 {
		return
	}
	done := c.done
	kind := c.brush.Kind
	w.dropStroke()
	marks, err := withStrokes(w.session.Settings().Chalk, done)
	if err != nil {
		w.margin.hint(sentence(err))
	}
	w.Do("chalk: "+kind.String(), func(s job.Settings) job.Settings {
		s.Chalk = marks
		return s
	})
	w.Rest()
	w.askLook()
	w.showAll()
}

// withStrokes are marks with strokes over them. Nothing is rubbed out where there is nothing. With an error the marks are as far
// as they go.
func withStrokes(m *chalk.Marks, strokes []chalk.Stroke) (*chalk.Marks, error) {
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

// traceChalk logs what settled figures say of the marks.
func (w *window) traceChalk(f *job.Figures) {
	if len(f.For.Chalk.Strokes()) == 0 {
		return
	}
	crossings := 0
	for _, k := range f.Kept {
		crossings += len(k.Crossings)
	}
	w.trace.line("what=chalk rev=%d strokes=%d kept=%d crossings=%d better_mm=%.1f first_mm=%.1f", w.session.Revision(), len(f.For.Chalk.Strokes()), len(f.Kept), crossings, f.BetterJoint.At, f.For.FirstJoint)
	if w.trace != nil && crossings > 0 { // the card is laid out anew with the next frames
		time.AfterFunc(progressEvery, func() { w.post(w.tracePlaces) })
	}
}

const (
	// nearPlaces is the share of the radius within which a place says nothing new.
	nearPlaces = 0.25
	// longStroke is how many places a stroke has before the next is begun: the picture goes over the last stroke anew each time.
	longStroke = 60
)

// grown are strokes with more places of the brush's way. The strokes given are not written to.
func grown(brush chalk.Stroke, done []chalk.Stroke, lost bool, more []touch) ([]chalk.Stroke, bool) {
	done = slices.Clone(done)
	for _, t := range more {
		if !t.found {
			lost = true
			continue
		}
		n := len(done)
		if n == 0 || lost {
			one := brush
			one.Path = []geom.Vec{t.at}
			done, lost = append(done, one), false
			continue
		}
		last := &done[n-1]
		end := last.Path[len(last.Path)-1]
		if t.at.Sub(end).Len() < nearPlaces*brush.Radius {
			continue
		}
		if len(last.Path) >= longStroke {
			one := brush
			one.Path = []geom.Vec{end, t.at}
			done = append(done, one)
			continue
		}
		last.Path = append(slices.Clip(last.Path), t.at)
	}
	return done, lost
}

// pixel is the pixel of the picture at a place of the pane.
func (w *window) pixel(at fyne.Position) image.Point {
	size, px := w.look.Size(), w.look.Pixels() // not the frame's, which may be a smaller one
	return image.Pt(int(at.X/size.Width*float32(px.X)), int(at.Y/size.Height*float32(px.Y)))
}

// brushPixels is the brush's radius on the picture.
func (w *window) brushPixels() float64 { return w.session.View.Brush.Radius * w.look.perMM }

// showBrush rings what the brush would mark.
func (w *window) showBrush(at fyne.Position, here bool) {
	if !here || !w.brushing() {
		w.look.Ring(fyne.Position{}, 0)
		return
	}
	w.look.Ring(at, float32(w.brushPixels()/w.look.Scale()))
}

// A chalker turns marks into kinds of facets and keeps the last for the next. It belongs to one loop.
type chalker struct {
	index *chalk.Index
	base  *chalk.Cover // of the settings' marks
}

// cover is what is marked on a model's full or thin body: the settings' marks, and the stroke that is being drawn over them.
func (k *chalker) cover(ctx context.Context, a lookAsk, thin bool, strokes []chalk.Stroke) ([]chalk.Kind, error) {
	if a.settings.Chalk.Empty() && len(strokes) == 0 {
		k.base = nil
		return nil, nil
	}
	index := a.model.index
	if thin {
		index = a.model.thinIndex
	}
	if one := index(); k.index != one {
		k.index, k.base = one, nil
	}
	base, err := k.index.Cover(ctx, a.settings.Chalk, k.base)
	if err != nil {
		return nil, err
	}
	k.base = base
	marks, _ := withStrokes(a.settings.Chalk, strokes) // that a job holds no more is said when the hand lets go
	live, err := k.index.Cover(ctx, marks, base)
	if err != nil {
		return nil, err
	}
	return live.Kinds, nil
}

// chalkOn puts the marks on a scene whose body has been looked at, with what the new places of the stroke come to.
func (p *painter) chalkOn(ctx context.Context, a lookAsk, thin bool, place picture.Place) (look.Chalk, []touch, error) {
	found := make([]touch, len(a.chalk.path))
	for i, px := range a.chalk.path {
		if hit, ok := p.r.Pick(px.X, px.Y); ok && !hit.Face {
			found[i] = touch{own(place, hit.Point), true}
		}
	}
	strokes, _ := grown(a.chalk.brush, a.chalk.done, a.chalk.lost, found)
	kinds, err := p.chalk.cover(ctx, a, thin, strokes)
	return picture.Chalk(kinds), found, err
}
