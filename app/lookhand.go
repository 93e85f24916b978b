package app

import (
	"fmt"
	"math"

	"fyne.io/fyne/v2"

	"grainstack/app/card"
	"grainstack/app/picture"
	"grainstack/app/view"
	"grainstack/render/look"
	"grainstack/slicing/geom"
	"grainstack/slicing/job"
	"grainstack/slicing/mend"
	"grainstack/slicing/phrase"
	"grainstack/slicing/unit"
)

// A lookHand is what the hand does to the finished piece.
type lookHand struct {
	*core
	on    *views
	chalk *chalkHand
	picks *picker
}

const turnSpeed = 0.009 // radians a unit of dragging

// doubleLook shows the whole piece; with the chalk in hand it is two dabs.
func (h *lookHand) doubleLook(at fyne.Position) {
	if h.chalk.brushing() {
		h.chalk.dab(at)
		return
	}
	h.run("whole piece")
}

func (h *lookHand) pointLook(at fyne.Position, here bool) {
	h.chalk.showBrush(at, here)
	switch {
	case !here:
		h.Hint("")
	case h.chalk.brushing():
		h.Hint("Drag on the piece marks it · drag beside it turns the view · shift-drag or right-drag moves · wheel zooms · Escape puts the chalk down")
	case h.turning():
		h.Hint("Drag turns the piece · shift-drag or right-drag moves · wheel zooms · double-click shows all")
	default:
		h.Hint("Drag turns the view · shift-drag or right-drag moves · wheel zooms · double-click shows all · click picks a layer")
	}
}

// turning reports whether dragging turns the piece itself.
func (h *lookHand) turning() bool { return h.bench.Screen.Turning && !h.chalk.brushing() }

// dragTurns says what dragging turns: the piece, or the view.
func (h *lookHand) dragTurns(piece bool) {
	if h.bench.Screen.Turning = piece; h.chalk.brushing() {
		h.chalk.takeChalk() // puts it down
	}
	h.changed()
}

// turnLook turns the view, or the piece.
func (h *lookHand) turnLook(dx, dy float32) {
	h.bench.Screen.Dragging = true
	right, down := float64(dx)*turnSpeed, float64(dy)*turnSpeed
	if !h.turning() {
		h.swing(-right, down)
		return
	}
	roll := h.on.look.Camera.Rolled(right, down)
	h.Do("turn the piece", func(s job.Settings) job.Settings {
		s.Turn = geom.TurnXYZ(s.Turn.Then(roll).Degrees()) // free of rounding, so that long turning does not warp it
		return s
	})
}

// swing moves the viewer round the piece, unless a stroke is being drawn: its places are those of this view.
func (h *lookHand) swing(round, up float64) {
	if !h.on.look.Stroke.Down {
		h.on.look.Camera.Swing(round, up)
		h.changed()
	}
}

// dragging is a drag that moves a picture, and zooming a wheel that zooms it; not while a stroke is drawn: its places are those
// of the view.
func (h *lookHand) dragging(move func(dx, dy float32)) func(dx, dy float32) {
	return func(dx, dy float32) {
		h.bench.Screen.Dragging = true
		move(dx, dy)
		h.changed()
	}
}

func (h *lookHand) zooming(zoom func(fyne.Position, float32)) func(fyne.Position, float32) {
	return func(at fyne.Position, notches float32) {
		if !h.on.look.Stroke.Down {
			zoom(at, notches)
			h.changed()
		}
	}
}

func (h *lookHand) turnBeside(dx, dy float32) { h.swing(-float64(dx)*turnSpeed, float64(dy)*turnSpeed) }

func (h *lookHand) restLook() {
	if h.chalk.liftBrush() {
		return
	}
	h.bench.Screen.Dragging = false
	h.Rest()
}

// clickLook asks what is under the pointer; the answer comes with the next picture.
func (h *lookHand) clickLook(at fyne.Position) {
	if h.chalk.brushing() {
		h.chalk.dab(at)
		return
	}
	h.on.look.Click(at, h.bench.Selected.Picking.What)
	h.changed()
}

func (h *lookHand) keyLook(k fyne.KeyName) {
	const step = 5 * math.Pi / 180
	size := h.on.look.Size()
	middle := fyne.NewPos(size.Width/2, size.Height/2)
	switch k {
	case fyne.KeyLeft:
		h.swing(-step, 0)
	case fyne.KeyRight:
		h.swing(step, 0)
	case fyne.KeyPageUp:
		h.swing(0, step)
	case fyne.KeyPageDown:
		h.swing(0, -step)
	case fyne.KeyPlus, fyne.KeyEqual:
		h.zooming(h.on.look.ZoomAt)(middle, 1)
	case fyne.KeyMinus:
		h.zooming(h.on.look.ZoomAt)(middle, -1)
	default:
		h.key(k)
	}
}

// see shows the piece from elsewhere.
func (h *lookHand) see(c look.Camera) {
	h.on.look.Camera.Camera = c
	h.changed()
}

// seeFrom shows the whole piece from a side, degrees.
func (h *lookHand) seeFrom(azimuth, elevation float64) func() {
	return func() {
		c := picture.FirstCamera()
		c.Azimuth, c.Elevation = azimuth*math.Pi/180, elevation*math.Pi/180
		h.see(c)
	}
}

// closeUp is how much larger than whole the piece is shown at a finding.
const closeUp = 2.6

// Go takes the view to a finding: it faces the viewer, in the middle of the picture, with a ring round it.
func (h *lookHand) Go(finding int) {
	b := h.bench
	b.Selected.Finding = finding
	f, ok := b.Finding()
	if !ok || b.Model == nil {
		b.Selected.Finding = 0
		return
	}
	at := h.on.look.Place
	if at.Placement.Scale == 0 {
		at = picture.SetDown(b.Model.Piece.Thin, b.Settings().Stand())
	}
	c := h.on.look.Camera.Camera
	c.Zoom = max(c.Zoom, closeUp)
	if out, ok := h.facing(f); ok {
		c = picture.From(c, at.Placement.Turn.Apply(out))
	}
	v := look.View{Camera: c, Placement: at.Placement, Height: at.Height, Size: h.on.look.Pixels()}
	h.Hint(f.Sentence(b.Settings().Scale))
	h.see(v.Centred(b.Model.Full, at.Placement.Apply(f.At)))
}

// facing is the direction from which a finding is seen best, in the piece's own frame.
func (h *lookHand) facing(f mend.Finding) (geom.Vec, bool) {
	for _, l := range h.bench.Scan.Survey.Loops {
		if f.Kind == mend.Hole && l.Center == f.At {
			return l.Normal, true
		}
	}
	return picture.Facing(h.bench.Scan.Raw.Piece.Mesh, f.At)
}

// lookCame follows a picture: what lies under the click or the stroke that it was asked with is known now.
func (h *lookHand) lookCame(s view.Shown[view.LookAsk, view.LookOut]) {
	l := h.on.look
	l.Arrived(s)
	if !s.Fine {
		l.Stroke.Found(s.Ask.Way(), s.Out.Touches)
		h.chalk.endStroke()
	}
	if l.Clicked(s) {
		h.picks.picked(s)
	}
}

// caption is the line above the picture.
func (h *lookHand) caption(s card.State) string {
	picking := h.bench.Selected.Picking
	points := len(picking.Points)
	text := "Finished piece"
	if f, ok := s.Catalogue.Finish(s.Settings.Finish); ok {
		text += " · " + phrase.Inside(f.Name) + " · " + picture.Lights()[s.View.Light].Words
	}
	switch {
	case h.bench.Compass.Pointed != nil:
		return "Finished piece as it would stand · a click on the map takes it"
	case picking.What == "lay":
		text = "Click the facet that the piece shall lie on · Escape leaves it"
	case picking.What == "floor":
		text = fmt.Sprintf("Click point %d of 3 that shall stand on the floor · Escape leaves it", 1+points%3)
	case picking.What == "saw":
		text = "Click where the saw shall go through, level · Escape leaves it"
	case s.Picked.Distance > 0:
		text = "Between the two points: " + unit.Length(s.Picked.Distance*s.Settings.Scale, s.View.Units) + " · type what it truly is in the Piece card"
	case picking.What == "measure":
		text = fmt.Sprintf("Click point %d of 2 · Escape leaves it", 1+points%2)
	case h.chalk.brushing():
		text = "Chalk: " + s.View.Brush.Kind.String() + " · drag on the piece · Escape puts it down"
	case h.turning():
		text = "Finished piece · dragging turns it under the stack"
	case h.bench.SnagCut() > 0:
		text = "Cut away at " + unit.Length(h.bench.SnagCut(), s.View.Units) + " for the picked place · Escape leaves it"
	case h.bench.SnagInDoubt():
		text = "Whether the picked place still needs a look is being worked out · Escape leaves it"
	case h.bench.Selected.Snag.On:
		text = "The picked place, ringed alone · F3 goes to the next, Backspace to the one before · Escape leaves it"
	case s.View.CutAway:
		text += fmt.Sprintf(" · cut away above layer %d", s.Picked.Layer)
	}
	if s.View.Lift > 0 {
		text += " · lifted " + unit.Length(s.View.Lift, s.View.Units)
	}
	return text
}
