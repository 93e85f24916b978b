package view

import (
	"image"
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"

	"grainstack/app/edit"
	"grainstack/app/pane"
	"grainstack/app/paper"
	"grainstack/app/picture"
	"grainstack/app/session"
	"grainstack/app/state"
	"grainstack/render/look"
	"grainstack/slicing/finding"
	"grainstack/slicing/geom"
	"grainstack/slicing/job"
	"grainstack/slicing/mend"
	"grainstack/slicing/mesh"
	"grainstack/slicing/stock"
)

// A LookAsk asks for the finished piece.
type LookAsk struct {
	lookOf
	marks  []look.Mark
	points []geom.Vec // to be ringed, in the piece's own frame
	way    edit.Way   // the stroke that is being drawn
}

// lookOf is what of it can be compared.
type lookOf struct {
	Model    *state.Model
	Settings job.Settings
	Sight    picture.Sight

	standing *job.Standing // may be of another stand
	stock    *stock.Catalogue
	told     told
	show     bool // the picked layer is drawn
	dark     bool
	quick    bool // something is being dragged
	plain    bool // without what only helps at the bench
	pick     Pick
}

// told is what a picture tells of the piece beyond how it will look.
type told struct {
	reached *job.Reached // where wood stays, to be tinted; nil while it is not
	figures *job.Figures // that reached and the marks are of
	over    session.Over // what lies over the wood
	counted bool         // the rings of points have numbers
	snag    finding.Key  // the place that is ringed alone
	saw     mend.Plane   // where the saw will go, zero for nowhere
}

// A Pick asks what lies under a pixel of the picture, and what for.
type Pick struct {
	Serial int // 0 for none
	X, Y   int
	Why    string
}

// A LookOut is what came with a picture of the finished piece.
type LookOut struct {
	Mesh    *mesh.Mesh // that facets of the hit belong to
	Hit     look.Hit
	Found   bool
	Place   picture.Place
	Touches []edit.Touch // what the stroke's way came to
	PerMM   float64      // pixels, of a picture as large as was asked; 0 for a fine one
}

// Own is a point of the picture's stand in the piece's own frame.
func (o LookOut) Own(p geom.Vec) geom.Vec { return o.Place.Placement.Back(p) }

// A LookKey is all that a picture of the finished piece hangs on, as far as it can be compared.
type LookKey struct {
	lookOf                               // with what of the settings shows
	body    *look.Body                   // in place of the model
	stands  bool                         // in place of the standing
	points  [state.MostGathered]geom.Vec // ringed
	ringed  int
	strokes int // how far the stroke in hand has come
}

// key is the key of a request.
func (a LookAsk) key() LookKey {
	k := LookKey{lookOf: a.lookOf, body: a.Model.Full, strokes: a.way.Moves}
	s := &a.Settings
	k.Settings = job.Settings{Pose: s.Pose, Layering: s.Layering, Surface: s.Surface, Chalk: s.Chalk}
	if a.Sight.CutAway || a.Sight.CutAt > 0 || a.Sight.Lift > 0 {
		k.Settings.Hollow = s.Hollow
	}
	k.stands = a.standing != nil && a.standing.Stand == s.Stand() && a.standing.Piece == a.Model.Piece
	k.Model, k.standing = nil, nil
	if !a.show && !a.Sight.CutAway {
		k.Sight.Layer = 0
	}
	k.ringed = copy(k.points[:], a.points)
	return k
}

// A Look is the finished piece.
type Look struct {
	*View[LookKey, LookAsk, LookOut]
	Camera  Camera
	Caption *paper.Told

	Stroke  edit.Stroke // of chalk, that is being drawn
	Pick    Pick        // not answered yet
	Marked  bool        // marks of chalk are shown
	Place   picture.Place
	perMM   float64 // pixels a millimetre, of a picture in full size
	clicked int     // counts the clicks that were asked about
	drag    *pane.Index
	slip    *fyne.Container // words that lie on the picture
}

// NewLook is the finished piece in a pane with gestures; turned is told when the hand chooses what dragging turns.
func NewLook(d Desk, g pane.Gestures, turned func(piece bool)) *Look {
	l := &Look{Camera: Camera{picture.FirstCamera()}, Caption: newCaption()}
	p := pane.NewPicture("finished piece", fyne.NewSize(220, 160), g)
	quick := func() Draw[LookAsk, LookOut] { return newPainter().draw }
	fine := func() Draw[LookAsk, LookOut] { return newPainter().drawFine }
	l.View = newView[LookKey](d, p, quick, fine)
	l.drag = pane.NewIndex(paper.Small, "view", "piece")
	l.drag.Whole = true
	l.drag.Chosen = func(i int) { turned(i == 1) }
	l.slip = container.NewVBox()
	said := paper.Write("dragging turns", paper.Small, paper.Pencil)
	head := container.NewBorder(nil, nil, nil, container.New(layout.NewCustomPaddedHBoxLayout(0), said, l.drag), container.New(layout.NewCustomPaddedLayout(5, 3, 8, 6), l.Caption))
	over := container.New(layout.NewCustomPaddedLayout(6, 6, 12, 12), container.New(layout.NewCustomPaddedVBoxLayout(2), l.slip))
	l.Whole = container.New(layout.NewBorderLayout(head, nil, nil, nil), head, container.NewStack(l.Picture, over))
	l.Lost = func(a LookAsk) { l.Stroke.Drop() }
	return l
}

// Drag shows what dragging on the piece turns; with the chalk in hand it marks, and without a piece it does nothing.
func (l *Look) Drag(piece, chalk, there bool) {
	words, at := []string{"view", "piece"}, 0
	switch {
	case chalk:
		words, at = append(words, "nothing, it marks"), 2
	case piece:
		at = 1
	}
	if there {
		l.drag.Put(words, at)
	}
}

// Lay lays lines of words on the picture, in place of those that lie there; none takes them away.
func (l *Look) Lay(lines []fyne.CanvasObject) {
	l.slip.RemoveAll()
	for _, one := range lines {
		l.slip.Add(one)
	}
	l.slip.Refresh()
}

// SightOf is what a picture of the finished piece, so many pixels large, needs of the bench, but for marks.
func SightOf(b *state.Bench, c Camera, size image.Point) LookAsk {
	v := &b.View
	return LookAsk{lookOf: lookOf{
		Model: b.Model, standing: b.Standing, Settings: b.Settings(), stock: b.Shelf.Now,
		Sight: picture.Sight{
			Camera: c.Camera, Size: size, CutAway: v.CutAway, CutAt: b.SnagCut(), Lift: v.Lift, Layer: b.Layer(), Light: v.Light, Ground: v.Ground,
		},
		show: b.Selected.Chosen || v.CutAway, told: told{over: v.Over}, dark: b.Screen.Dark,
	}}
}

// Plain is the request for a picture without what only helps at the bench.
func (a LookAsk) Plain(size image.Point) LookAsk {
	a.Sight.CutAway, a.Sight.CutAt, a.Sight.Lift, a.show, a.Sight.Size, a.plain = false, 0, 0, false, size, true
	return a
}

// mostRinged is how many findings of the scan are ringed at once: more would hide the piece.
const mostRinged = 60

// Ask asks for the finished piece as everything is now: a quick picture, and a fine one once the hand rests.
func (l *Look) Ask(b *state.Bench, now state.Asking) bool {
	size := l.Pixels()
	if b.Model == nil || b.Screen.Comparing || size.X < 2 || size.Y < 2 {
		return false
	}
	a := SightOf(b, l.Camera, size)
	a.quick, a.pick = b.Screen.Dragging, l.Pick
	a.points, a.way = slices.Clone(b.Selected.Picking.Points), l.Stroke.Way()
	a.told.counted = b.Selected.Picking.What == state.Gathering
	if !l.Marked {
		a.Settings.Chalk = nil
	}
	if p := b.Compass.Pointed; p != nil {
		a.Settings.Turn, a.quick, a.show = p.Turn, true, false
	}
	if f, ok := b.Finding(); ok {
		a.points = append(a.points, f.At)
	}
	if saw, ok := b.ToSaw(); ok {
		a.told.saw = saw
	}
	if found := b.Scan.Survey; b.View.Marks && found != nil {
		for _, f := range found.List[:min(len(found.List), mostRinged)] {
			a.points = append(a.points, f.At)
		}
	}
	if with := b.FiguresWithShop(); b.View.Marks && with != nil && !b.Stale() && b.Compass.Pointed == nil {
		a.marks, a.told.reached, a.told.figures = picture.Marks(with.Cautions), b.Reached(), with
	}
	if f, p, ok := b.SnagPlace(); ok && !b.Stale() && b.Compass.Pointed == nil {
		a.marks, a.told.figures, a.told.snag = []look.Mark{{Point: p.At, Radius: picture.MarkRadius(f.Kind.Class()), Reach: p.Reach}}, b.FiguresWithShop(), b.Selected.Snag.Key
	}
	return l.want(now, a.key(), a, !l.Stroke.Down)
}

// Click asks what is under a place; the answer comes with the next picture.
func (l *Look) Click(at fyne.Position, why string) {
	px := l.At(at)
	l.clicked++
	l.Pick = Pick{l.clicked, px.X, px.Y, why}
}

// Clicked reports whether a picture answers the click, which is then forgotten.
func (l *Look) Clicked(s Shown[LookAsk, LookOut]) bool {
	if s.Fine || s.Ask.pick.Serial == 0 || s.Ask.pick.Serial != l.Pick.Serial {
		return false
	}
	l.Pick = Pick{}
	return true
}

// Why is what a picture's click was for.
func (a LookAsk) Why() string { return a.pick.Why }

// Way is the stroke that a picture was asked with.
func (a LookAsk) Way() edit.Way { return a.way }

// Arrived keeps what a picture says of the piece's place.
func (l *Look) Arrived(s Shown[LookAsk, LookOut]) {
	l.Place = s.Out.Place
	if s.Out.PerMM > 0 {
		l.perMM = s.Out.PerMM
	}
}

// At is the pixel of the picture in full size at a place of the pane.
func (l *Look) At(at fyne.Position) image.Point {
	size, px := l.Size(), l.Pixels() // not the frame's, which may be a smaller one
	return image.Pt(int(at.X/size.Width*float32(px.X)), int(at.Y/size.Height*float32(px.Y)))
}

// Brush is the radius of a brush on the picture, pixels.
func (l *Look) Brush(radius float64) float64 { return radius * l.perMM }

// Pan moves the piece.
func (l *Look) Pan(dx, dy float32) { l.Camera.pan(dx, dy, l.side()) }

// side is the picture's shorter side in the toolkit's units.
func (l *Look) side() float64 { return float64(min(l.Size().Width, l.Size().Height)) }

// zoomAt zooms so that what is under the pointer stays there.
func (l *Look) ZoomAt(at fyne.Position, notches float32) {
	side, size := l.side(), l.Size()
	if side > 0 {
		l.Camera.zoomAt(float64(at.X-size.Width/2)/side, float64(size.Height/2-at.Y)/side, notches)
	}
}
