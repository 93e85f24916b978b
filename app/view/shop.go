package view

import (
	"context"
	"image"
	"image/color"
	"strconv"

	"fyne.io/fyne/v2"

	"grainstack/app/edit"
	"grainstack/app/files"
	"grainstack/app/pane"
	"grainstack/app/paper"
	"grainstack/app/state"
	"grainstack/render/draw"
	"grainstack/render/frame"
	"grainstack/render/sheet"
	"grainstack/slicing/geom"
	"grainstack/slicing/job"
	"grainstack/slicing/workshop"
)

// A ShopKind is one of the sheets that show the workshop.
type ShopKind int

// The kinds.
const (
	PanelSheet ShopKind = iota
	GlueSheet
	SawSheet
)

// A ShopAsk asks for the picture of a sheet of the workshop; it is its own key.
type ShopAsk struct {
	paperAsk
	Kind     ShopKind
	At       int // what is shown: see Shop
	Shop     *workshop.Workshop
	standing *job.Standing
	Figures  *job.Figures
	Stale    bool // the workshop is of other settings: it is drawn pale
	Message  string
	Hold     edit.Hold // what is in the hand on the panel sheet
	picked   int       // layer
	look     sheet.Look
}

// A ShopOut is what is needed to find things on the picture.
type ShopOut struct {
	Panel sheet.PanelSheet
	Glue  sheet.GlueUpSheet
	view  sheet.GlueUpView
	Held  edit.Held // what became of what is in the hand
}

// A Shop is a sheet of the workshop: panel by panel, step by step or board by board, with numbers to leaf by.
type Shop struct {
	*View[ShopAsk, ShopAsk, ShopOut]
	Kind ShopKind
	At   int // what is shown: a panel or a board from 1, a step of the glue-up from 1 or 0 for all of it
	plan
	Hand edit.Hand // on the panel sheet

	numbers *pane.Index
	caption *paper.Told
	facts   *paper.Lines
	letters *draw.Letters
}

// NewShop is a sheet of the workshop in a pane with gestures; turned is called when another number is chosen. tools stand with the
// sheet, nil for none.
func NewShop(d Desk, letters *draw.Letters, kind ShopKind, name string, g pane.Gestures, turned func(at int), tools fyne.CanvasObject) *Shop {
	s := &Shop{Kind: kind, caption: newCaption(), facts: paper.NewLines(3), letters: letters, numbers: pane.NewIndex(paper.Small)}
	s.At = s.numbered(0)
	p := pane.NewPicture(name, fyne.NewSize(170, 100), g)
	drawer := func() Draw[ShopAsk, ShopOut] { return (&shopDrafter{drafter: newDrafter(letters)}).draw }
	s.View = newView[ShopAsk](d, p, drawer, nil)
	if kind == PanelSheet {
		s.plan = plan{least: 0.5, most: 40, home: func() geom.Vec2 {
			b := s.Now.Out.Panel.Plan
			return b.Min.Add(b.Max).Scale(0.5)
		}}
		s.heed(d, p)
	}
	s.numbers.Chosen = func(i int) { turned(s.numbered(i)) }
	s.Whole = sheeted(s.caption, s.numbers, s.Picture, s.facts, tools)
	return s
}

// numbered is what the i-th number stands for: the glue-up has its whole first.
func (s *Shop) numbered(i int) int {
	if s.Kind == GlueSheet {
		return i
	}
	return i + 1
}

// pages is how many panels, steps or boards a workshop has.
func (s *Shop) pages(v *workshop.Workshop) int {
	if v == nil || !v.Withheld.None() {
		return 0
	}
	switch s.Kind {
	case GlueSheet:
		return v.GlueUp.Pressings
	case SawSheet:
		return v.Boards.Count()
	}
	return v.Panels()
}

// TurnTo shows another panel, step or board, as near as there is one.
func (s *Shop) TurnTo(v *workshop.Workshop, at int) {
	most := s.pages(v)
	if s.Kind == PanelSheet {
		most++ // an empty one, to move parts to
	}
	at = max(s.numbered(0), min(at, most))
	if at == s.At {
		return
	}
	s.At = at
	switch {
	case !s.Hand.Holds():
	case s.Hand.What == edit.Part:
		s.Hand.Number = at
	default:
		s.Hand = edit.Hand{}
	}
}

// turnToPicked shows the panel that the picked part lies on.
func (s *Shop) turnToPicked(b *state.Bench) {
	v, _ := b.Shop.Newest()
	if v == nil || s.Hand.What != edit.Nothing {
		return
	}
	if id, ok := b.Shop.Picked(v); ok {
		if h, laid := edit.Laid(v, id); laid {
			s.At = h.Number
		}
	}
}

// Took follows another workshop on the panel sheet: what was let go lies there now, and a panel that is gone is left.
func (s *Shop) Took(b *state.Bench, v *workshop.Workshop) {
	if s.At > v.Panels() && !s.Hand.Holds() {
		s.At = max(1, v.Panels())
		s.turnToPicked(b)
	}
	if s.Hand.Let || s.Hand.Shop != v {
		s.Hand = edit.Hand{Adding: s.Hand.Adding}
	}
}

// Ask asks for the sheet as everything is now.
func (s *Shop) Ask(b *state.Bench, now state.Asking) bool {
	on, ok := paperOf(b, s.letters, s.Picture)
	if !ok || b.Model == nil || b.Figures == nil || b.Standing == nil {
		return false
	}
	a := ShopAsk{paperAsk: on, Kind: s.Kind, At: s.At, Shop: b.Shop.Last, standing: b.Standing, Figures: b.Figures, Stale: b.Shop.Stale(),
		picked: b.Layer(), look: s.Look, Hold: s.Hand.Hold, Message: noShop(b)}
	return s.want(now, a, a, false)
}

// Under is what lies at a place of the panel sheet.
func (s *Shop) Under(v *workshop.Workshop, p geom.Vec2) (edit.Hold, bool) {
	return edit.Under(v, s.At, p, s.Now.Out.Panel.PerMM)
}

// ToMM is the place of the panel under a place of the pane; ok is false beside it.
func (s *Shop) ToMM(at fyne.Position) (geom.Vec2, bool) {
	return s.Now.Out.Panel.ToMM(float64(at.X), float64(at.Y))
}

// Over is the panel whose number is under a place of the pane, above the sheet or beside it.
func (s *Shop) Over(at fyne.Position) (number int, ok bool) {
	x := s.numbers
	at = at.Add(s.Position()).Subtract(x.Position())
	if most := x.Size().Height; at.Y < -most || at.Y > most {
		return 0, false
	}
	i := x.WordAt(at)
	return s.numbered(i), i >= 0
}

// Within is a place of the pane kept within the panel's plan.
func (s *Shop) Within(at fyne.Position) (geom.Vec2, bool) {
	plan := s.Now.Out.Panel.Plan
	return s.Now.Out.Panel.ToMM(max(plan.Min.X, min(plan.Max.X, float64(at.X))), max(plan.Min.Y, min(plan.Max.Y, float64(at.Y))))
}

// LayerAt is the layer under a place of the glue-up sheet.
func (s *Shop) LayerAt(at fyne.Position) (int, bool) {
	return s.Now.Out.Glue.LayerAt(s.Now.Out.view, float64(at.Y))
}

// A shopDrafter draws the sheets of the workshop, and keeps what it drew them from while only the hand moves.
type shopDrafter struct {
	*drafter
	base    panelKey
	view    sheet.PanelView // of the panel without what is in the hand
	part    partKey
	lifted  sheet.PanelPart // what is in the hand, at the origin
	front   *job.Standing
	gluedAs sheet.GlueUpView
	glued   *workshop.Workshop
}

func (d *shopDrafter) draw(_ context.Context, a ShopAsk) (*frame.Frame, ShopOut, error) {
	width, height := a.extent()
	var out ShopOut
	var drawing *draw.Drawing
	switch a.Kind {
	case PanelSheet:
		view := sheet.PanelView{Message: a.Message}
		if a.Message == "" {
			view, out.Held = d.panelView(a)
		}
		out.Panel = sheet.Panel(view, a.style, width, height, a.look)
		drawing = out.Panel.Drawing
	case GlueSheet:
		out.view = sheet.GlueUpView{Message: a.Message}
		if a.Message == "" {
			out.view = d.glueView(a)
		}
		out.Glue = sheet.GlueUp(out.view, a.style, width, height)
		drawing = out.Glue.Drawing
	case SawSheet:
		drawing = d.sawDrawing(a, width, height)
	}
	f := d.frameOf(a.paperAsk, drawing)
	if a.Stale && a.Message == "" {
		pale(f.Image, a.style.Ink.Paper)
	}
	return f, out, nil
}

// glueView is the glue-up with the picked step in hand and those before it done.
func (d *shopDrafter) glueView(a ShopAsk) sheet.GlueUpView {
	if d.glued != a.Shop || d.front != a.standing {
		d.glued, d.front, d.gluedAs = a.Shop, a.standing, files.GlueUpView(a.Shop, a.standing)
	}
	v := d.gluedAs
	if a.At > 0 {
		v.Picked, v.Done = a.At, a.At-1
	}
	return v
}

func (d *shopDrafter) sawDrawing(a ShopAsk, width, height float64) *draw.Drawing {
	if a.Message == "" {
		if all := files.SawViews(a.Shop); a.At >= 1 && a.At <= len(all) {
			return sheet.Saw(all[a.At-1], a.style, width, height)
		}
		a.Message = "No board can be sawn into these panels."
	}
	return sheet.GlueUp(sheet.GlueUpView{Message: a.Message}, a.style, width, height).Drawing
}

// pale mixes a picture half with the paper: what it shows is of older settings.
func pale(img *image.RGBA, with color.RGBA) {
	mix := [4]uint16{uint16(with.R), uint16(with.G), uint16(with.B), 255}
	for i := range img.Pix {
		img.Pix[i] = uint8((uint16(img.Pix[i]) + mix[i&3]) / 2)
	}
}

// Write writes what stands round the sheet.
func (s *Shop) Write(b *state.Bench) {
	v, now := b.Shop.Newest()
	var words []string
	n := s.pages(v)
	if s.Kind == GlueSheet && n > 0 {
		words = append(words, "all")
	}
	for i := range n {
		words = append(words, strconv.Itoa(i+1))
	}
	if s.Kind == PanelSheet && n > 0 {
		words = append(words, "+")
	}
	if n > 0 {
		s.At = min(s.At, s.numbered(len(words)-1))
	}
	s.numbers.Put(words, s.At-s.numbered(0))
	caption, facts := "", ""
	if v != nil && v.Withheld.None() {
		switch s.Kind {
		case PanelSheet:
			caption, facts = panelWords(b, v, s.At, s.Hand.Adding)
		case GlueSheet:
			caption, facts = glueWords(b, v, s.At)
		case SawSheet:
			caption, facts = sawWords(v, s.At, b.View.Units)
		}
		if !now && !b.Shop.Placing() {
			caption += " · of older settings"
		} else if !v.Improved {
			caption += " · first layout"
		}
	}
	s.caption.Say(caption)
	s.facts.Say(facts)
}

// Leaf is what a key leafs to; ok is false where it is another's.
func (s *Shop) Leaf(k fyne.KeyName) (at int, ok bool) {
	switch k {
	case fyne.KeyLeft, fyne.KeyPageUp:
		return s.At - 1, true
	case fyne.KeyRight, fyne.KeyPageDown:
		return s.At + 1, true
	case fyne.KeyHome:
		return s.numbered(0), true
	}
	return 0, false
}
