package pane

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"

	"grainstack/app/paper"
)

var (
	_ fyne.Draggable     = (*fence)(nil)
	_ desktop.Hoverable  = (*fence)(nil)
	_ desktop.Cursorable = (*fence)(nil)
)

// A Row is panes beside one another with a ruled line between neighbours that can be dragged. When the row changes its width
// the pane that gives takes the difference, as far as it can.
type Row struct {
	widget.BaseWidget
	panes  []fyne.CanvasObject
	widths []float32 // as the hand wants them; that of the pane that gives is what is left
	gives  int
	share  float32 // of the row that the giving pane keeps while others can shrink
	fences []*fence
}

// usualShare is what the giving pane keeps of a row until the hand says otherwise.
const usualShare = 0.42

// NewRow is a row of panes so wide; the pane numbered gives takes what is left.
func NewRow(gives int, panes []fyne.CanvasObject, widths []float32) *Row {
	r := &Row{panes: panes, widths: widths, gives: gives, share: usualShare}
	for i := range len(panes) - 1 {
		f := &fence{row: r, at: i}
		f.ExtendBaseWidget(f)
		r.fences = append(r.fences, f)
	}
	r.ExtendBaseWidget(r)
	return r
}

// Widths are the present widths of the panes.
func (r *Row) Widths() []float32 { return r.fit(r.Size().Width) }

// fit is the widths for a row so wide: none less than its least, the others as wanted, shrunk from the widest where the pane
// that gives has no more to give.
func (r *Row) fit(whole float32) []float32 {
	out := make([]float32, len(r.panes))
	sum := float32(len(r.fences)) * fenceWidth
	for i, p := range r.panes {
		out[i] = max(p.MinSize().Width, r.widths[i])
		if i == r.gives {
			out[i] = max(p.MinSize().Width, r.share*whole)
		}
		sum += out[i]
	}
	spare := whole - sum
	if spare >= 0 {
		out[r.gives] += spare
		return out
	}
	room := float32(0)
	for i, p := range r.panes {
		if i != r.gives {
			room += out[i] - p.MinSize().Width
		}
	}
	for i, p := range r.panes { // the others give up as much of what they have above their least
		if i != r.gives && room > 0 {
			out[i] -= (out[i] - p.MinSize().Width) * min(1, -spare/room)
		}
	}
	if spare += room; spare < 0 {
		out[r.gives] = max(r.panes[r.gives].MinSize().Width, out[r.gives]+spare)
	}
	return out
}

// move drags the fence after pane i by so much.
func (r *Row) move(i int, dx float32) {
	now := r.fit(r.Size().Width)
	left, right := r.panes[i].MinSize().Width, r.panes[i+1].MinSize().Width
	dx = max(left-now[i], min(now[i+1]-right, dx))
	if dx == 0 {
		return
	}
	now[i] += dx
	now[i+1] -= dx
	r.widths = now
	r.share = min(r.share, now[r.gives]/max(1, r.Size().Width))
	r.Refresh()
}

// Held are the panes.
func (r *Row) Held() []fyne.CanvasObject { return r.panes }

// MinSize is the least of all panes.
func (r *Row) MinSize() fyne.Size {
	size := fyne.NewSize(float32(len(r.fences))*fenceWidth, 0)
	for _, p := range r.panes {
		m := p.MinSize()
		size = fyne.NewSize(size.Width+m.Width, max(size.Height, m.Height))
	}
	return size
}

// CreateRenderer is the toolkit's.
func (r *Row) CreateRenderer() fyne.WidgetRenderer { return &rowRenderer{r} }

type rowRenderer struct{ r *Row }

func (rr *rowRenderer) Layout(s fyne.Size) {
	x := float32(0)
	for i, w := range rr.r.fit(s.Width) {
		p := rr.r.panes[i]
		if at := fyne.NewPos(x, 0); p.Position() != at {
			p.Move(at)
		}
		if size := fyne.NewSize(w, s.Height); p.Size() != size {
			p.Resize(size)
		}
		x += w
		if i < len(rr.r.fences) {
			rr.r.fences[i].Move(fyne.NewPos(x, 0))
			rr.r.fences[i].Resize(fyne.NewSize(fenceWidth, s.Height))
			x += fenceWidth
		}
	}
}

func (rr *rowRenderer) MinSize() fyne.Size { return rr.r.MinSize() }
func (rr *rowRenderer) Destroy()           {}
func (rr *rowRenderer) Refresh() {
	rr.Layout(rr.r.Size())
	canvas.Refresh(rr.r)
}

func (rr *rowRenderer) Objects() []fyne.CanvasObject {
	all := append([]fyne.CanvasObject{}, rr.r.panes...)
	for _, f := range rr.r.fences {
		all = append(all, f)
	}
	return all
}

// fenceWidth is what the hand can take hold of; the line in it is one unit wide.
const fenceWidth = 7

// A fence is the line between two panes.
type fence struct {
	widget.BaseWidget
	row     *Row
	at      int
	hovered bool
}

func (f *fence) Dragged(e *fyne.DragEvent)      { f.row.move(f.at, e.Dragged.DX) }
func (f *fence) DragEnd()                       {}
func (f *fence) MouseIn(*desktop.MouseEvent)    { f.hovered = true; f.Refresh() }
func (f *fence) MouseMoved(*desktop.MouseEvent) {}
func (f *fence) MouseOut()                      { f.hovered = false; f.Refresh() }
func (f *fence) Cursor() desktop.Cursor         { return desktop.HResizeCursor }

func (f *fence) CreateRenderer() fyne.WidgetRenderer {
	r := &fenceRenderer{f: f, line: canvas.NewRectangle(color.Transparent)}
	r.Refresh()
	return r
}

type fenceRenderer struct {
	f    *fence
	line *canvas.Rectangle
}

func (r *fenceRenderer) Layout(s fyne.Size) {
	r.line.Move(fyne.NewPos(fenceWidth/2, 0))
	r.line.Resize(fyne.NewSize(1, s.Height))
}

func (r *fenceRenderer) MinSize() fyne.Size           { return fyne.NewSize(fenceWidth, 10) }
func (r *fenceRenderer) Destroy()                     {}
func (r *fenceRenderer) Objects() []fyne.CanvasObject { return []fyne.CanvasObject{r.line} }
func (r *fenceRenderer) Refresh() {
	name := paper.Line
	if r.f.hovered {
		name = paper.Wood
	}
	r.line.FillColor = r.f.Theme().Color(name, fyne.CurrentApp().Settings().ThemeVariant())
	canvas.Refresh(r.f)
}
