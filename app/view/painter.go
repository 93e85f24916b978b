package view

import (
	"context"
	"image"
	"slices"
	"time"

	"grainstack/app/edit"
	"grainstack/app/picture"
	"grainstack/render/frame"
	"grainstack/render/look"
	"grainstack/slicing/chalk"
	"grainstack/slicing/field"
	"grainstack/slicing/job"
)

// A painter draws the finished piece and remembers what it drew last.
type painter struct {
	r     *look.Renderer
	chalk chalker
	last  rasterKey
	done  bool
	slow  bool // the last whole picture of this drag took too long: smaller ones follow
}

// rasterKey is all that moves a pixel: while it stays, shading is enough.
type rasterKey struct {
	body  *look.Body
	place picture.Place
	sight picture.Sight
	wood  job.Settings // what of the settings moves a pixel, zero otherwise
	grid  *field.Grid
}

func newPainter() *painter { return &painter{r: look.NewRenderer()} }

// quickFrom is the number of facets from which the thinned body stands in while something is dragged.
const quickFrom = 700_000

// While something is dragged and a picture takes longer than tooSlow, pictures with so many quarters of the sides are stretched
// to the pane: the hand sees more of them.
const (
	tooSlow = 25 * time.Millisecond
	smaller = 3
)

// draw gives the quick picture: four times faster than the fine one, and quite good.
func (p *painter) draw(ctx context.Context, a LookAsk) (*frame.Frame, LookOut, error) {
	body, m, full := a.Model.Full, a.Model.Piece.Mesh, a.Sight.Size
	if a.quick && body.Triangles() > quickFrom {
		body, m = a.Model.Thin, a.Model.Piece.Thin
	}
	p.slow = p.slow && a.quick && a.pick.Serial == 0
	if p.slow {
		a.Sight.Size = image.Pt(a.Sight.Size.X*smaller/4, a.Sight.Size.Y*smaller/4)
	}
	begun := time.Now()
	view, dress, place := scene(a)
	key := keyOf(a, body, place)
	if !p.done || key != p.last {
		p.done = false
		if err := p.r.Raster(ctx, body, view); err != nil {
			return nil, LookOut{}, err
		}
		p.last, p.done = key, true
	}
	out := LookOut{Mesh: m, Place: place, PerMM: p.r.PixelsPerMM() * float64(full.X) / float64(a.Sight.Size.X)}
	dress.Seen = a.Model.TintsOn(body, a.told.over)
	var err error
	if dress.Chalk, out.Touches, err = p.chalkOn(ctx, a, m != a.Model.Piece.Mesh, place); err != nil {
		return nil, LookOut{}, err
	}
	if a.pick.Serial > 0 {
		out.Hit, out.Found = p.r.Pick(a.pick.X, a.pick.Y)
	}
	f, err := p.r.Shade(ctx, dress)
	p.slow = p.slow || time.Since(begun) > tooSlow
	return f, out, err
}

// drawFine gives the settled picture.
func (p *painter) drawFine(ctx context.Context, a LookAsk) (*frame.Frame, LookOut, error) {
	view, dress, place := scene(a)
	dress.Seen = a.Model.TintsOn(a.Model.Full, a.told.over)
	kinds, err := p.chalk.cover(ctx, a, false, a.way.Done)
	if err != nil {
		return nil, LookOut{}, err
	}
	dress.Chalk = picture.Chalk(kinds)
	f, err := p.r.Fine(ctx, a.Model.Full, view, dress)
	return f, LookOut{Mesh: a.Model.Piece.Mesh, Place: place}, err
}

// scene is what is drawn. While the standing is of another stand, the piece is set down from its thinned mesh.
func scene(a LookAsk) (look.View, look.Dress, picture.Place) {
	var place picture.Place
	if st := a.standing; st != nil && st.Piece == a.Model.Piece && st.Stand == a.Settings.Stand() {
		place = picture.Place{Placement: st.Placed.Placement, Height: st.Height()}
	} else {
		place = picture.SetDown(a.Model.Piece.Thin, a.Settings.Stand())
	}
	view, band := picture.ViewOf(place, a.Settings, a.stock, a.Model.Grid, a.Sight)
	dress := look.Dress{Seams: !a.plain, Wood: picture.WoodOf(a.Settings, a.stock), Light: a.Sight.Light, Paper: picture.Paper(a.dark), Marks: a.marks}
	dress.Woods, dress.Layers = picture.Mixed(a.Settings, a.stock, place.Height)
	if a.told.reached != nil {
		dress.Stain = picture.Stain(a.told.reached, a.told.figures)
	}
	if a.show {
		dress.Picked = band
	}
	if off, ok := picture.SawnOff(place, a.told.saw); ok {
		dress.Picked = off
	}
	for i, p := range a.points {
		m := look.Mark{Point: place.Placement.Apply(p)}
		if a.told.counted {
			m.Number = i + 1
		}
		dress.Marks = append(dress.Marks[:len(dress.Marks):len(dress.Marks)], m)
	}
	if view.Cut > 0 { // no rings in the air where the piece is taken off
		dress.Marks = slices.DeleteFunc(slices.Clone(dress.Marks), func(m look.Mark) bool { return m.Point.Z > view.Cut })
	}
	return view, dress, place
}

// sceneSeen is the scene of the whole body, with the scanner's colours where they are shown.
func sceneSeen(a LookAsk) (look.View, look.Dress) {
	view, dress, _ := scene(a)
	dress.Seen = a.Model.TintsOn(a.Model.Full, a.told.over)
	return view, dress
}

// keyOf leaves out of the key what only colours.
func keyOf(a LookAsk, body *look.Body, place picture.Place) rasterKey {
	k := rasterKey{body: body, place: place, sight: a.Sight}
	if !a.Sight.CutAway {
		k.sight.Layer = 0
	}
	if a.Sight.CutAway || a.Sight.CutAt > 0 || a.Sight.Lift > 0 {
		k.wood, k.grid = a.Settings, a.Model.Grid
		k.wood.Chalk = nil
	}
	return k
}

// A chalker turns marks into kinds of facets and keeps the last for the next. It belongs to one painter.
type chalker struct {
	index *chalk.Index
	base  *chalk.Cover // of the settings' marks
}

// cover is what is marked on a model's full or thin body: the settings' marks, and the stroke that is being drawn over them.
func (k *chalker) cover(ctx context.Context, a LookAsk, thin bool, strokes []chalk.Stroke) ([]chalk.Kind, error) {
	if a.Settings.Chalk.Empty() && len(strokes) == 0 {
		k.base = nil
		return nil, nil
	}
	index := a.Model.Index
	if thin {
		index = a.Model.ThinIndex
	}
	if one := index(); k.index != one {
		k.index, k.base = one, nil
	}
	base, err := k.index.Cover(ctx, a.Settings.Chalk, k.base)
	if err != nil {
		return nil, err
	}
	k.base = base
	marks, _ := edit.WithStrokes(a.Settings.Chalk, strokes) // that a job holds no more is said when the hand lets go
	live, err := k.index.Cover(ctx, marks, base)
	if err != nil {
		return nil, err
	}
	return live.Kinds, nil
}

// chalkOn puts the marks on a scene whose body has been looked at, with what the new places of the stroke come to.
func (p *painter) chalkOn(ctx context.Context, a LookAsk, thin bool, place picture.Place) (look.Chalk, []edit.Touch, error) {
	found := make([]edit.Touch, len(a.way.Path))
	for i, dab := range a.way.Path {
		found[i].Begins = dab.Begins
		if hit, ok := p.r.Pick(dab.At.X, dab.At.Y); ok && !hit.Face {
			found[i].At, found[i].Found = place.Placement.Back(hit.Point), true
		}
	}
	kinds, err := p.chalk.cover(ctx, a, thin, edit.Grown(a.way, found).Done)
	return picture.Chalk(kinds), found, err
}
