package view

import (
	"context"
	"image"

	"fyne.io/fyne/v2"

	"grainstack/app/pane"
	"grainstack/app/paper"
	"grainstack/app/picture"
	"grainstack/app/state"
	"grainstack/render/draw"
	"grainstack/render/frame"
	"grainstack/render/look"
	"grainstack/render/sheet"
	"grainstack/slicing/job"
	"grainstack/slicing/stock"
	"grainstack/slicing/trial"
	"grainstack/slicing/unit"
)

// A BesideKey is all that the picture of trials side by side hangs on.
type BesideKey struct {
	camera       look.Camera
	size         image.Point
	dark, known  bool
	units        unit.System
	settings     job.Settings
	figures      *job.Figures
	version, rev int
	chosen       int
}

// A BesideAsk asks for that picture.
type BesideAsk struct {
	All   []picture.Compared
	from  picture.Compared
	units unit.System
	stock *stock.Catalogue
	how   picture.ShelfView
}

// Beside is trials large side by side.
type Beside struct {
	*View[BesideKey, BesideAsk, sheet.ComparisonSheet]
	camera  *Camera // that of the finished piece
	before  Camera  // of the bench: it keeps its own zoom
	letters *draw.Letters
}

// NewBeside is the picture in a pane with gestures, hidden; the camera is shared with the finished piece.
func NewBeside(d Desk, letters *draw.Letters, c *Camera, g pane.Gestures) *Beside {
	s := &Beside{camera: c, letters: letters}
	p := pane.NewPicture("side by side", fyne.NewSize(400, 160), g)
	drawer := func(fine bool) func() Draw[BesideAsk, sheet.ComparisonSheet] {
		return func() Draw[BesideAsk, sheet.ComparisonSheet] {
			shelf := picture.NewShelf(nil, letters)
			return func(ctx context.Context, a BesideAsk) (*frame.Frame, sheet.ComparisonSheet, error) {
				shelf.Catalogue, a.how.Fine = a.stock, fine
				return shelf.Draw(ctx, a.All, picture.ComparisonOf(a.All, a.from, a.stock, a.units), a.how)
			}
		}
	}
	s.View = newView[BesideKey](d, p, drawer(false), drawer(true))
	caption := paper.Write("Side by side · differences are from what is on the bench", paper.Small, paper.Pencil).Cut()
	s.Whole = captioned(caption, s.Picture, nil)
	s.Whole.Hide()
	return s
}

// A ShownBeside is what is on the screen.
type ShownBeside = Shown[BesideAsk, sheet.ComparisonSheet]

// Ask asks for the picture as everything is now: a quick one, and a fine one once the hand rests.
func (s *Beside) Ask(b *state.Bench, now state.Asking) bool {
	on, ok := paperOf(b, s.letters, s.Picture)
	if !ok || b.Model == nil || !b.Screen.Comparing {
		return false
	}
	_, known := b.Tried.BenchTicket()
	key := BesideKey{s.camera.Camera, on.size, b.Screen.Dark, known, b.View.Units, b.Settings(), b.Figures, b.Tried.Version, b.Revision(), b.Tried.ChosenTrial()}
	a := BesideAsk{All: Columns(b), from: benchColumn(b), units: b.View.Units, stock: b.Shelf.Now,
		how: picture.ShelfView{Camera: s.camera.Camera, Size: on.size, Scale: on.scale, Style: on.style, Dark: b.Screen.Dark}}
	return s.want(now, key, a, true)
}

// Open shows it with all of every stack in sight; Close leads back to what the bench was seen by.
func (s *Beside) Open() {
	s.again()
	s.before = *s.camera
	s.camera.Zoom, s.camera.PanX, s.camera.PanY = 1, 0, 0
	s.Whole.Show()
}

// Close hides it.
func (s *Beside) Close() {
	s.camera.Zoom, s.camera.PanX, s.camera.PanY = s.before.Zoom, s.before.PanX, s.before.PanY
	s.Whole.Hide()
}

// side is the shorter side of the stacks' pictures in the toolkit's units, and the middle of the one at a place.
func (s *Beside) side(at fyne.Position) (side, x, y float64) {
	d := s.Now.Out
	if len(d.Pictures) == 0 {
		return 1, float64(at.X), float64(at.Y)
	}
	i, _ := d.ColumnAt(float64(at.X), float64(at.Y))
	box := d.Pictures[min(i, len(d.Pictures)-1)]
	size, mid := box.Size(), box.Min.Add(box.Max).Scale(0.5)
	return max(1, min(size.X, size.Y)), mid.X, mid.Y
}

// Pan moves all stacks.
func (s *Beside) Pan(dx, dy float32) {
	side, _, _ := s.side(fyne.Position{})
	s.camera.pan(dx, dy, side)
}

// zoomAt zooms so that what is under the pointer stays there.
func (s *Beside) ZoomAt(at fyne.Position, notches float32) {
	side, x, y := s.side(at)
	s.camera.zoomAt((float64(at.X)-x)/side, (y-float64(at.Y))/side, notches)
}

// Columns are the stacks to be set side by side: the ticked trials, and before them the bench where none of them is like it
// and there is room.
func Columns(b *state.Bench) []picture.Compared {
	if b.Model == nil {
		return nil
	}
	now := b.Settings()
	var all []picture.Compared
	onBench := false
	for i, one := range b.Trials() {
		if !b.Tried.Beside[one.Settings] || len(all) >= state.MostBeside {
			continue
		}
		c := trialColumn(b, one)
		c.Chosen = i == b.Tried.ChosenTrial()
		if one.Settings == now {
			c.Name, onBench = one.Name+" · on the bench", true
		}
		all = append(all, c)
	}
	if !onBench && len(all) < state.MostBeside {
		all = append([]picture.Compared{benchColumn(b)}, all...)
	}
	return all
}

// trialColumn is a trial as a stack of a comparison.
func trialColumn(b *state.Bench, one trial.Trial) picture.Compared {
	t, fault, _ := b.Tried.Ticket(one.Settings)
	body := b.Tried.BodyFor(one.Settings)
	return picture.Compared{Name: one.Name, Fault: fault, Ticket: t, For: one.Settings, Body: body.Body, Thin: body.Thin}
}

// benchColumn is what is on the bench.
func benchColumn(b *state.Bench) picture.Compared {
	s := b.Settings()
	t, ok := b.Tried.BenchTicket()
	body := b.Tried.BodyFor(s)
	c := picture.Compared{Name: "On the bench", Ticket: t, For: s, Body: body.Body, Thin: body.Thin}
	if !ok && b.Figured.Fault != "" {
		c.Fault = b.Figured.Fault
	}
	return c
}

// BookColumns are all stacks of the work book's pages of comparison: what is on the bench, and the trials that are not like it.
func BookColumns(b *state.Bench) []picture.Compared {
	all := []picture.Compared{benchColumn(b)}
	all[0].Name = "As it is"
	for _, one := range b.Trials() {
		if one.Settings == all[0].For {
			all[0].Name = one.Name + " · as it is"
			continue
		}
		all = append(all, trialColumn(b, one))
	}
	if len(all) == 1 {
		return nil
	}
	return all
}
