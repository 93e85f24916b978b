package app

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"grainstack/app/paper"
)

// A bar is a thin line that fills from the left as work gets done.
type bar struct {
	widget.BaseWidget
	done float64
}

func newBar() *bar {
	b := &bar{done: -1}
	b.ExtendBaseWidget(b)
	return b
}

// put sets how much is done; less than 0 hides the bar.
func (b *bar) put(done float64) {
	if done != b.done {
		b.done = done
		b.Refresh()
	}
}

func (b *bar) CreateRenderer() fyne.WidgetRenderer {
	r := &barRenderer{b: b, line: canvas.NewRectangle(nil), full: canvas.NewRectangle(nil)}
	r.Refresh()
	return paper.Laid(r, b)
}

type barRenderer struct {
	b          *bar
	line, full *canvas.Rectangle
}

func (r *barRenderer) Layout(s fyne.Size) {
	y := s.Height/2 - 1
	r.line.Move(fyne.NewPos(0, y))
	r.line.Resize(fyne.NewSize(s.Width, 2))
	r.full.Move(fyne.NewPos(0, y))
	r.full.Resize(fyne.NewSize(s.Width*float32(max(0, min(1, r.b.done))), 2))
}

func (r *barRenderer) MinSize() fyne.Size           { return fyne.NewSize(90, 8) }
func (r *barRenderer) Destroy()                     {}
func (r *barRenderer) Objects() []fyne.CanvasObject { return []fyne.CanvasObject{r.line, r.full} }

func (r *barRenderer) Refresh() {
	t, v := r.b.Theme(), fyne.CurrentApp().Settings().ThemeVariant()
	r.line.FillColor, r.full.FillColor = t.Color(paper.Line, v), t.Color(theme.ColorNamePrimary, v)
	r.line.Hidden, r.full.Hidden = r.b.done < 0, r.b.done < 0
	r.Layout(r.b.Size())
	canvas.Refresh(r.b)
}
