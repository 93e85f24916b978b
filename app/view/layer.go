package view

import (
	"context"
	"fmt"
	"image"
	"strings"

	"fyne.io/fyne/v2"

	"grainstack/app/edit"
	"grainstack/app/pane"
	"grainstack/app/paper"
	"grainstack/app/picture"
	"grainstack/app/state"
	"grainstack/render/draw"
	"grainstack/render/frame"
	"grainstack/render/sheet"
	"grainstack/slicing/geom"
	"grainstack/slicing/job"
	"grainstack/slicing/stock"
	"grainstack/slicing/unit"
	"grainstack/slicing/workshop"
)

// A paperAsk is what any sheet is drawn for.
type paperAsk struct {
	style sheet.Style
	size  image.Point // pixels
	scale float64     // pixels a unit
}

func (a paperAsk) extent() (width, height float64) {
	return float64(a.size.X) / a.scale, float64(a.size.Y) / a.scale
}

// paperOf is the paper of a pane; ok is false while the pane is not on the window.
func paperOf(b *state.Bench, l *draw.Letters, p *pane.Picture) (a paperAsk, ok bool) {
	return paperAsk{style(b, l), p.Pixels(), p.Scale()}, p.Pixels().X > 1 && p.Pixels().Y > 1
}

// style is how sheets are drawn in the window.
func style(b *state.Bench, l *draw.Letters) sheet.Style {
	s := sheet.Style{Ink: draw.LightInk(), Letters: l, Units: b.View.Units, Bare: true}
	if b.Screen.Dark {
		s.Ink = draw.DarkInk()
	}
	return s
}

// A drafter draws sheets.
type drafter struct {
	pool   frame.Pool
	raster *draw.Raster
}

func newDrafter(l *draw.Letters) *drafter { return &drafter{raster: draw.NewRaster(l)} }

// frameOf draws on a frame.
func (d *drafter) frameOf(a paperAsk, on *draw.Drawing) *frame.Frame {
	f := d.pool.Get(a.size)
	d.raster.Draw(f.Image, on, a.scale)
	return f
}

// A LayerAsk asks for the sheet of one layer; it is its own key.
type LayerAsk struct {
	paperAsk
	standing *job.Standing
	Figures  *job.Figures
	Layer    int
	Look     sheet.Look
	ghost    bool
	reached  *job.Reached         // to be shown, nil for not
	places   *job.Places          // whose joint lines are drawn
	line     edit.Line            // one of them in the hand
	made     *workshop.LayerParts // what the workshop makes the layer in, nil where that is not known
	stock    *stock.Catalogue
	alone    bool // only the picked place is marked
	at       geom.Vec2
}

// A LayerOut is what came with it.
type LayerOut struct {
	sheet.LayerSheet
	mid   geom.Vec2 // mm: what lies in the middle of the plan when it fits
	facts []string
}

// A Layer is the layer sheet.
type Layer struct {
	*View[LayerAsk, LayerAsk, LayerOut]
	plan
	Line    edit.Line // a joint line in the hand
	Caption *paper.Told
	facts   *paper.Lines
	letters *draw.Letters
}

// NewLayer is the layer sheet in a pane with gestures.
func NewLayer(d Desk, letters *draw.Letters, g pane.Gestures) *Layer {
	l := &Layer{Caption: newCaption(), facts: paper.NewLines(5), letters: letters}
	p := pane.NewPicture("layer sheet", fyne.NewSize(170, 120), g)
	l.View = newView[LayerAsk](d, p, func() Draw[LayerAsk, LayerOut] { return newDrafter(letters).layer }, nil)
	l.Came = func(s Shown[LayerAsk, LayerOut]) {
		l.Caption.Say(layerCaption(s.Ask))
		l.facts.Say(strings.Join(s.Out.facts, "\n"))
	}
	l.plan = plan{least: 0.3, most: 60, home: func() geom.Vec2 {
		s := &l.Now
		return s.Out.ToSheet(s.Out.mid).Sub(geom.Vec2{X: s.Ask.Look.PanX, Y: s.Ask.Look.PanY})
	}}
	l.heed(d, p)
	l.Whole = sheeted(l.Caption, nil, l.Picture, l.facts, nil)
	return l
}

// NewPlan is a layer sheet without words, to stand beside a list.
func NewPlan(d Desk, letters *draw.Letters, g pane.Gestures) *Layer {
	l := NewLayer(d, letters, g)
	l.Name = "plan of the place"
	l.Came = nil
	l.Whole = l.Picture
	return l
}

func layerCaption(a LayerAsk) string {
	if a.Layer < 1 || a.Layer > len(a.Figures.Layers) {
		return "Layer sheet"
	}
	return picture.Caption(a.Figures.Layers[a.Layer-1], len(a.Figures.Layers), a.style.Units)
}

// Ask asks for the sheet as everything is now.
func (l *Layer) Ask(b *state.Bench, now state.Asking) bool {
	on, ok := paperOf(b, l.letters, l.Picture)
	if !ok || b.Model == nil || b.Figures == nil || b.Standing == nil {
		return false
	}
	a := LayerAsk{paperAsk: on, standing: b.Standing, Figures: b.Figures, Layer: b.Layer(), Look: l.Look, ghost: b.View.Ghost,
		reached: b.ReachedInSight(), places: b.Places(), line: l.Line, made: b.Shop.Layer(b.Layer()), stock: b.Shelf.Now}
	if _, p, ok := b.SnagPlace(); ok && p.In(a.Layer) {
		a.alone, a.at = true, geom.Vec2{X: p.At.X, Y: p.At.Y}
	}
	return l.want(now, a, a, false)
}

// layer draws the sheet of one layer and says what there is to say about it.
func (d *drafter) layer(ctx context.Context, a LayerAsk) (*frame.Frame, LayerOut, error) {
	var view sheet.LayerView
	var out LayerOut
	if len(a.Figures.Layers) == 0 {
		view.Message = a.Figures.Withheld.In(a.style.Units)
	} else {
		n := max(1, min(a.Layer, len(a.Figures.Layers)))
		plan, err := job.Plan(ctx, a.standing, a.Figures, n)
		if err != nil {
			return nil, out, err
		}
		view = picture.Layer(plan, a.Figures, a.made, a.ghost)
		if a.reached != nil {
			view = picture.WithReached(view, a.reached)
		}
		if a.alone {
			view.Marks = []geom.Vec2{a.at}
		}
		view.Seams = a.line.Seams(a.places.SplitsOf(n))
		out.facts = picture.Facts(plan, a.Figures, a.made, a.stock, a.style.Units)
	}
	outlines := view.Widest.Box().Union(view.BottomOutline.Box()).Union(view.TopOutline.Box()).Union(view.Below.Box())
	if !outlines.Empty() {
		out.mid = outlines.Min.Add(outlines.Max).Scale(0.5)
	}
	width, height := a.extent()
	out.LayerSheet = sheet.Layer(view, a.style, width, height, a.Look)
	return d.frameOf(a.paperAsk, out.Drawing), out, nil
}

// ToMM is the place of the stand under a place of the pane; ok is false beside the plan.
func (l *Layer) ToMM(at fyne.Position) (p geom.Vec2, ok bool) {
	return l.Now.Out.ToMM(float64(at.X), float64(at.Y))
}

// Under says what is under the pointer, "" beside the plan.
func (l *Layer) Under(at fyne.Position, u unit.System) string {
	p, ok := l.ToMM(at)
	if !ok {
		return ""
	}
	return fmt.Sprintf("%s and %s from the stack's axis · wheel zooms · drag moves · double-click fits", unit.Length(p.X, u), unit.Length(p.Y, u))
}
