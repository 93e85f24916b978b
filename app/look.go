package app

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"

	"grainstack/app/pane"
	"grainstack/app/paper"
	"grainstack/app/picture"
	"grainstack/render/frame"
	"grainstack/render/look"
	"grainstack/slicing/geom"
	"grainstack/slicing/job"
	"grainstack/slicing/mend"
)

// A lookPane is the finished piece with its caption.
type lookPane struct {
	*pane.Picture
	caption *paper.Words
	whole   fyne.CanvasObject

	frame   *frame.Frame
	place   picture.Place
	serial  int // of the newest request
	shown   int // of the frame on the screen
	asked   sightKey
	pending func()
	perMM   float64 // pixels a millimetre, of a picture in full size
}

// A sightKey is all that a picture of the finished piece depends on, as far as it can be compared: while it stays, the picture
// on the screen is right.
type sightKey struct {
	body     *look.Body
	settings job.Settings // what of them shows
	stands   bool
	sight    picture.Sight
	show     bool
	seen     bool
	marks    *job.Figures // nil while places are not marked
	dark     bool
	quick    bool
	pick     int
	points   [4]geom.Vec // ringed
	ringed   int
	saw      mend.Plane
	chalk    int // how far the stroke in hand has come
}

// key is the sightKey of a request.
func (a lookAsk) key(f *job.Figures) sightKey {
	s := a.settings
	shows := job.Settings{Pose: s.Pose, Layering: s.Layering, Surface: s.Surface, Chalk: s.Chalk}
	if a.sight.CutAway || a.sight.Lift > 0 {
		shows.Hollow = s.Hollow
	}
	k := sightKey{body: a.model.full, settings: shows, sight: a.sight, show: a.show, seen: a.seen, dark: a.dark, quick: a.quick, pick: a.pick.serial, saw: a.saw, chalk: a.chalk.moves}
	k.stands = a.standing != nil && a.standing.Stand == s.Stand() && a.standing.Piece == a.model.piece
	if !a.show && !a.sight.CutAway {
		k.sight.Layer = 0
	}
	if a.marks != nil {
		k.marks = f
	}
	k.ringed = copy(k.points[:], a.points)
	return k
}

// captioned sets a line of words above a picture.
func captioned(caption fyne.CanvasObject, p fyne.CanvasObject, foot fyne.CanvasObject) fyne.CanvasObject {
	head := container.New(layout.NewCustomPaddedLayout(5, 3, 8, 6), caption)
	return container.New(layout.NewBorderLayout(head, foot, nil, nil), p, head, orEmpty(foot))
}

func orEmpty(o fyne.CanvasObject) fyne.CanvasObject {
	if o == nil {
		return container.NewWithoutLayout()
	}
	return o
}

const (
	turnSpeed = 0.009 // radians a unit of dragging
	zoomSpeed = 1.18  // a notch of the wheel
	leastZoom = 0.2
	mostZoom  = 60
)

// firstCamera looks at the piece from the front, a little from the side and from above.
func firstCamera() look.Camera {
	return look.Camera{Azimuth: -62 * math.Pi / 180, Elevation: 17 * math.Pi / 180, Zoom: 1}
}

func (w *window) newLook() *lookPane {
	l := &lookPane{caption: paper.Write("", paper.Small, paper.Pencil).Cut()}
	l.Picture = pane.NewPicture("finished piece", fyne.NewSize(220, 160), pane.Gestures{
		Turned: w.turn, Panned: w.panLook, Zoomed: w.zoomLook, Rested: w.restLook,
		Clicked: w.clickLook, Doubled: w.doubleLook, Brushed: w.brush,
		Key: w.keyLook, Rune: w.sign, Sized: w.askLook,
		Painted: func() {
			if l.pending != nil {
				l.pending()
				l.pending = nil
			}
		},
		Pointed: w.pointLook,
	})
	l.whole = captioned(l.caption, l.Picture, nil)
	return l
}

// doubleLook shows the whole piece; with the chalk in hand it is two dabs.
func (w *window) doubleLook(at fyne.Position) {
	if w.brushing() {
		w.dab(at)
		return
	}
	w.run("whole piece")
}

func (w *window) pointLook(at fyne.Position, here bool) {
	w.showBrush(at, here)
	switch {
	case !here:
		w.margin.hint("")
	case w.brushing():
		w.margin.hint("Drag on the piece marks it · drag beside it turns the view · shift-drag or right-drag moves · wheel zooms · Escape puts the chalk down")
	case w.turning():
		w.margin.hint("Drag turns the piece · shift-drag or right-drag moves · wheel zooms · double-click shows all")
	default:
		w.margin.hint("Drag turns the view · shift-drag or right-drag moves · wheel zooms · double-click shows all · click picks a layer")
	}
}

// turning reports whether dragging turns the piece itself.
func (w *window) turning() bool { return w.standCard != nil && w.standCard.Open() && !w.brushing() }

// turn turns the view, or the piece while the Stand card is open.
func (w *window) turn(dx, dy float32) {
	w.dragging = true
	if w.turning() {
		w.turnPiece(float64(dx)*turnSpeed, float64(dy)*turnSpeed)
		return
	}
	w.swing(-float64(dx)*turnSpeed, float64(dy)*turnSpeed)
}

// swing moves the viewer round the piece.
func (w *window) swing(round, up float64) {
	if w.chalking.down { // its places are those of this view
		return
	}
	c := &w.camera
	c.Azimuth = math.Mod(c.Azimuth+round, 2*math.Pi)
	c.Elevation = max(-math.Pi/2, min(math.Pi/2, c.Elevation+up))
	w.asked = w.now()
	w.askLook()
}

// turnPiece turns the piece as the viewer sees it: to the right and downwards.
func (w *window) turnPiece(right, down float64) {
	se, ce := math.Sincos(w.camera.Elevation)
	sa, ca := math.Sincos(w.camera.Azimuth)
	across := geom.Vec{X: -sa, Y: ca}
	up := geom.Vec{X: -se * ca, Y: -se * sa, Z: ce}
	w.Do("turn the piece", func(s job.Settings) job.Settings {
		t := s.Turn.Then(geom.TurnAbout(up, right)).Then(geom.TurnAbout(across, down))
		s.Turn = geom.TurnXYZ(t.Degrees()) // free of rounding, so that long turning does not warp it
		return s
	})
}

func (w *window) panLook(dx, dy float32) {
	w.dragging = true
	side := min(w.look.Size().Width, w.look.Size().Height)
	if side <= 0 {
		return
	}
	w.camera.PanX += float64(dx / side)
	w.camera.PanY -= float64(dy / side)
	w.asked = w.now()
	w.askLook()
}

// zoomLook zooms so that what is under the pointer stays there.
func (w *window) zoomLook(at fyne.Position, notches float32) {
	size := w.look.Size()
	side := float64(min(size.Width, size.Height))
	if side <= 0 || w.chalking.down {
		return
	}
	c := &w.camera
	next := max(leastZoom, min(mostZoom, c.Zoom*math.Pow(zoomSpeed, float64(notches))))
	k := next / c.Zoom
	px, py := float64(at.X-size.Width/2)/side, float64(size.Height/2-at.Y)/side
	c.PanX, c.PanY, c.Zoom = px-(px-c.PanX)*k, py-(py-c.PanY)*k, next
	w.asked = w.now()
	w.askLook()
}

func (w *window) restLook() {
	if w.liftBrush() {
		return
	}
	w.dragging = false
	w.Rest()
	w.askLook()
}

// clickLook asks what is under the pointer; the answer comes with the next picture.
func (w *window) clickLook(at fyne.Position) {
	if w.brushing() {
		w.dab(at)
		return
	}
	px := w.pixel(at)
	w.picking.serial++
	w.picking.ask = pickAsk{w.picking.serial, px.X, px.Y, w.picking.what}
	w.asked = w.now()
	w.askLook()
}

func (w *window) keyLook(k fyne.KeyName) {
	const step = 5 * math.Pi / 180
	middle := fyne.NewPos(w.look.Size().Width/2, w.look.Size().Height/2)
	switch k {
	case fyne.KeyLeft:
		w.swing(-step, 0)
	case fyne.KeyRight:
		w.swing(step, 0)
	case fyne.KeyPageUp:
		w.swing(0, step)
	case fyne.KeyPageDown:
		w.swing(0, -step)
	case fyne.KeyPlus, fyne.KeyEqual:
		w.zoomLook(middle, 1)
	case fyne.KeyMinus:
		w.zoomLook(middle, -1)
	default:
		w.key(k)
	}
}

// mostRinged is how many findings of the scan are ringed at once: more would hide the piece.
const mostRinged = 60

// askLook asks for the finished piece as everything is now: a quick picture, and a fine one once the hand rests.
func (w *window) askLook() {
	if w.comparing.open { // the view is that of all stacks
		w.askComparison()
		return
	}
	size := w.look.Pixels()
	if w.model == nil || size.X < 2 || size.Y < 2 {
		return
	}
	a := w.sightNow(size)
	a.quick, a.pick = w.dragging, w.picking.ask
	a.points, a.chalk = slices.Clone(w.picking.points), w.chalking.ask()
	if !w.chalkCard.Open() && !w.brushing() { // folded away, it leaves the look as it will be
		a.settings.Chalk = nil
	}
	if s, ok := w.previewed(a.settings); ok {
		a.settings, a.quick, a.show = s, true, false
	}
	if w.finding > 0 {
		a.points = append(a.points, w.survey.List[w.finding-1].At)
	}
	if saw, ok := w.toSaw(); ok {
		a.saw = saw
	}
	if w.session.View.Marks && w.survey != nil {
		for _, f := range w.survey.List[:min(len(w.survey.List), mostRinged)] {
			a.points = append(a.points, f.At)
		}
	}
	if w.session.View.Marks && !w.stale() && w.steering.pointed == nil {
		a.marks, a.reached, a.figures = picture.Marks(w.figures), w.carvingState().Reached, w.figures
	}
	key := a.key(w.figures)
	if key == w.look.asked {
		return
	}
	w.look.asked = key
	w.look.serial++
	a.serial = w.look.serial
	w.loops.look.Ask(a)
	if w.chalking.down {
		w.loops.fine.Drop() // it would lack what has not been found yet
		return
	}
	w.loops.fine.Ask(a)
}

// lookQuick shows a quick picture.
func (w *window) lookQuick(a lookAsk, out lookOut, err error) {
	switch {
	case w.model != nil && a.model.piece.Scan != w.model.piece.Scan: // another piece
	case err == nil:
		defer w.strokeFound(a.chalk, out.chalk)
	case !errors.Is(err, context.Canceled):
		w.dropStroke()
	}
	if w.lookArrived(a, out, err, "quick") && a.pick.serial > 0 && a.pick.serial == w.picking.ask.serial {
		w.picking.ask = pickAsk{}
		w.picked(a.pick, out)
	}
}

// lookFine shows a fine picture.
func (w *window) lookFine(a lookAsk, out lookOut, err error) { w.lookArrived(a, out, err, "fine") }

// lookArrived puts a frame on the screen unless a newer one is there. The frame before it goes back to its pool.
func (w *window) lookArrived(a lookAsk, out lookOut, err error, how string) bool {
	if err != nil {
		if !errors.Is(err, context.Canceled) {
			w.failed(err)
		}
		return false
	}
	if a.model.piece != w.model.piece || a.serial < w.look.shown || a.serial == w.look.shown && how == "quick" {
		out.frame.Release()
		return false
	}
	last := w.look.frame
	w.look.frame, w.look.shown, w.look.place = out.frame, a.serial, out.place
	w.look.Put(out.frame.Image)
	if out.perMM > 0 {
		w.look.perMM = out.perMM
	}
	last.Release()
	w.pay()
	f := w.figures
	w.look.pending = func() {
		x, y, z := a.settings.Turn.Degrees()
		w.trace.shown("look", a.asking, f, fmt.Sprintf("how=%s wall_asked=%.3f turn=%.1f,%.1f,%.1f azimuth=%.3f zoom=%.3f layer=%d",
			how, a.settings.Wall, x, y, z, a.sight.Camera.Azimuth, a.sight.Camera.Zoom, a.sight.Layer))
	}
	return true
}

// pickAt picks the layer at a height.
func (w *window) pickAt(z float64) {
	if w.figures == nil {
		return
	}
	for _, l := range w.figures.Layers {
		if z >= l.Bottom && z < l.Top {
			w.pick(l.Number)
			return
		}
	}
}
