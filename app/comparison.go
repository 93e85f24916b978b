package app

import (
	"context"
	"errors"
	"image"
	"math"
	"strings"

	"fyne.io/fyne/v2"

	"grainstack/app/pane"
	"grainstack/app/paper"
	"grainstack/app/picture"
	"grainstack/render/frame"
	"grainstack/render/look"
	"grainstack/render/sheet"
	"grainstack/slicing/job"
	"grainstack/slicing/unit"
)

// mostBeside is how many stacks are shown side by side.
const mostBeside = 4

// comparing are trials large side by side, in the place of the panes.
type comparing struct {
	*pane.Picture
	caption *paper.Words
	whole   fyne.CanvasObject
	bench   fyne.CanvasObject // what it takes the place of
	open    bool
	before  look.Camera // of the bench: it keeps its own zoom

	frame   *frame.Frame
	drawn   sheet.ComparisonSheet
	shown   int // serial of the frame on the screen
	serial  int
	asked   besideKey
	pending func()
}

// A besideKey is all that the picture hangs on: while it stays, the one on the screen is right.
type besideKey struct {
	camera       look.Camera
	size         image.Point
	dark, known  bool
	units        unit.System
	settings     job.Settings
	figures      *job.Figures
	version, rev int
}

type besideAsk struct {
	asking
	serial int
	all    []picture.Compared
	from   picture.Compared
	units  unit.System
	how    picture.ShelfView
}

type besideOut struct {
	frame *frame.Frame
	sheet sheet.ComparisonSheet
}

// A shelver is the worker of a loop.
type shelver struct{ *picture.Shelf }

func (s shelver) draw(ctx context.Context, a besideAsk) (out besideOut, err error) {
	s.Catalogue = a.stock
	view := picture.ComparisonOf(a.all, a.from, a.stock, a.units)
	out.frame, out.sheet, err = s.Draw(ctx, a.all, view, a.how)
	return out, err
}

func (s shelver) drawFine(ctx context.Context, a besideAsk) (besideOut, error) {
	if err := rest(ctx, fineAfter); err != nil {
		return besideOut{}, err
	}
	a.how.Fine = true
	return s.draw(ctx, a)
}

// newComparing makes the pane, hidden; bench is what it will take the place of.
func (w *window) newComparing(bench fyne.CanvasObject) comparing {
	c := comparing{caption: paper.Write("", paper.Small, paper.Pencil).Cut(), bench: bench}
	c.Picture = pane.NewPicture("side by side", fyne.NewSize(400, 160), pane.Gestures{
		Turned: func(dx, dy float32) {
			w.dragging = true
			w.swing(-float64(dx)*turnSpeed, float64(dy)*turnSpeed)
		},
		Panned: w.panBeside, Zoomed: w.zoomBeside, Rested: w.restLook, Clicked: w.clickBeside,
		Doubled: func(fyne.Position) { w.run("whole piece") },
		Key:     w.keyLook, Rune: w.sign, Sized: w.askComparison,
		Painted: func() { done(&w.comparing.pending) },
		Pointed: func(_ fyne.Position, here bool) {
			w.margin.hint(map[bool]string{true: "Drag turns all · shift-drag or right-drag moves · wheel zooms · click chooses · " + controlKey + "+R takes the chosen back · Escape leads back to the bench"}[here])
		},
	})
	c.whole = captioned(c.caption, c.Picture, nil)
	c.whole.Hide()
	return c
}

// columns are the stacks to be set side by side: the ticked trials, and before them the bench where none of them is like it
// and there is room.
func (w *window) columns() []picture.Compared {
	if w.model == nil {
		return nil
	}
	now := w.session.Settings()
	var all []picture.Compared
	onBench := false
	for i, one := range w.session.Trials() {
		if !w.trying.beside[one.Settings] || len(all) >= mostBeside {
			continue
		}
		c := w.trialColumn(one)
		c.Chosen = i == w.chosenTrial()
		if one.Settings == now {
			c.Name, onBench = one.Name+" · on the bench", true
		}
		all = append(all, c)
	}
	if !onBench && len(all) < mostBeside {
		all = append([]picture.Compared{w.benchColumn()}, all...)
	}
	return all
}

// trialColumn is a trial as a stack of a comparison.
func (w *window) trialColumn(one job.Trial) picture.Compared {
	t, fault, _ := w.trialTicket(one.Settings)
	b := w.bodyFor(one.Settings)
	return picture.Compared{Name: one.Name, Fault: fault, Ticket: t, For: one.Settings, Body: b.body, Thin: b.thin}
}

// bookTrials are all stacks of the work book's pages of comparison: what is on the bench, and the trials that are not like it.
func (w *window) bookTrials() []picture.Compared {
	all := []picture.Compared{w.benchColumn()}
	all[0].Name = "As it is"
	for _, one := range w.session.Trials() {
		if one.Settings == all[0].For {
			all[0].Name = one.Name + " · as it is"
			continue
		}
		all = append(all, w.trialColumn(one))
	}
	if len(all) == 1 {
		return nil
	}
	return all
}

// benchColumn is what is on the bench.
func (w *window) benchColumn() picture.Compared {
	s := w.session.Settings()
	t, ok := w.benchTicket()
	b := w.bodyFor(s)
	c := picture.Compared{Name: "On the bench", Ticket: t, For: s, Body: b.body, Thin: b.thin}
	if !ok && w.fault != "" {
		c.Fault = w.fault
	}
	return c
}

// toggleComparison sets trials side by side in the place of the panes, or leads back.
func (w *window) toggleComparison() {
	if w.leaveComparison() {
		return
	}
	c := &w.comparing
	c.open, c.asked, c.before = true, besideKey{}, w.camera
	w.camera.Zoom, w.camera.PanX, w.camera.PanY = 1, 0, 0
	c.bench.Hide()
	c.whole.Show()
	w.showAll()
	w.win.Content().Refresh()
	c.Focus()
	w.asked = w.now()
	w.askComparison()
	w.trace.line("what=comparison open=true")
}

// leaveComparison leads back to the bench; it reports whether there was anything to leave.
func (w *window) leaveComparison() bool {
	c := &w.comparing
	if !c.open {
		return false
	}
	c.open = false
	w.camera.Zoom, w.camera.PanX, w.camera.PanY = c.before.Zoom, c.before.PanX, c.before.PanY
	w.loops.beside.Drop()
	w.loops.besideFine.Drop()
	c.whole.Hide()
	c.bench.Show()
	w.showAll()
	w.win.Content().Refresh()
	w.look.Focus()
	w.asked = w.now()
	w.askLook()
	w.trace.line("what=comparison open=false")
	return true
}

// askComparison asks for the picture as everything is now: a quick one, and a fine one once the hand rests.
func (w *window) askComparison() {
	c := &w.comparing
	if !c.open || w.model == nil {
		return
	}
	c.caption.Say("Side by side · differences are from what is on the bench")
	size := c.Pixels()
	if size.X < 2 || size.Y < 2 {
		return
	}
	_, known := w.benchTicket()
	key := besideKey{w.camera, size, w.dark(), known, w.session.View.Units, w.session.Settings(), w.figures, w.trying.version, w.session.Revision()}
	if key == c.asked {
		return
	}
	c.asked = key
	c.serial++
	a := besideAsk{asking: w.asked, serial: c.serial, all: w.columns(), from: w.benchColumn(), units: w.session.View.Units,
		how: picture.ShelfView{Camera: w.camera, Size: size, Scale: c.Scale(), Style: w.style(), Dark: w.dark()}}
	w.loops.beside.Ask(a)
	w.loops.besideFine.Ask(a)
}

func (w *window) besideQuick(a besideAsk, out besideOut, err error) {
	w.besideDrawn(a, out, err, "quick")
}
func (w *window) besideFine(a besideAsk, out besideOut, err error) {
	w.besideDrawn(a, out, err, "fine")
}

// besideDrawn puts a frame on the screen unless a newer one is there.
func (w *window) besideDrawn(a besideAsk, out besideOut, err error, how string) {
	if err != nil {
		if !errors.Is(err, context.Canceled) {
			w.margin.hint(sentence(err))
		}
		return
	}
	c := &w.comparing
	if !c.open || a.serial < c.shown || a.serial == c.shown && how == "quick" {
		out.frame.Release()
		return
	}
	last := c.frame
	c.frame, c.drawn, c.shown = out.frame, out.sheet, a.serial
	c.Put(out.frame.Image)
	last.Release()
	w.pay()
	names := make([]string, len(a.all))
	for i, one := range a.all {
		names[i] = one.Name
	}
	c.pending = func() {
		w.trace.shown("beside", a.asking, nil, "how="+how+" stacks="+strings.ReplaceAll(strings.Join(names, "|"), " ", "_"))
	}
}

// besideSide is the shorter side of the stacks' pictures in the toolkit's units, and the middle of the one at a place.
func (w *window) besideSide(at fyne.Position) (side, x, y float64) {
	d := w.comparing.drawn
	if len(d.Pictures) == 0 {
		return 1, float64(at.X), float64(at.Y)
	}
	i, _ := d.ColumnAt(float64(at.X), float64(at.Y))
	b := d.Pictures[min(i, len(d.Pictures)-1)]
	size := b.Size()
	mid := b.Min.Add(b.Max).Scale(0.5)
	return max(1, min(size.X, size.Y)), mid.X, mid.Y
}

func (w *window) panBeside(dx, dy float32) {
	w.dragging = true
	side, _, _ := w.besideSide(fyne.Position{})
	w.camera.PanX += float64(dx) / side
	w.camera.PanY -= float64(dy) / side
	w.asked = w.now()
	w.askLook()
}

// zoomBeside zooms so that what is under the pointer stays there.
func (w *window) zoomBeside(at fyne.Position, notches float32) {
	side, x, y := w.besideSide(at)
	c := &w.camera
	next := max(leastZoom, min(mostZoom, c.Zoom*math.Pow(zoomSpeed, float64(notches))))
	k := next / c.Zoom
	px, py := (float64(at.X)-x)/side, (y-float64(at.Y))/side
	c.PanX, c.PanY, c.Zoom = px-(px-c.PanX)*k, py-(py-c.PanY)*k, next
	w.asked = w.now()
	w.askLook()
}

// clickBeside chooses the trial under the pointer.
func (w *window) clickBeside(at fyne.Position) {
	i, ok := w.comparing.drawn.ColumnAt(float64(at.X), float64(at.Y))
	if all := w.columns(); ok && i < len(all) {
		for k, one := range w.session.Trials() {
			if one.Settings == all[i].For {
				w.chooseTrial(k)
				return
			}
		}
	}
}

// differences are a ticket's differences from another in some quantities, as a line.
func differences(t, from job.Ticket, in []job.Quantity, u unit.System) string {
	all := t.Against(from)
	var words []string
	for _, q := range in {
		for _, d := range all {
			if d.Quantity != q {
				continue
			}
			if text := d.Text(u); text != "" {
				text = named(q, text)
				if d.Estimate {
					text = "≈ " + text
				}
				words = append(words, text)
			}
		}
	}
	return strings.Join(words, " · ")
}
