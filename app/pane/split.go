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
// the pane that gives takes the difference, as far as it can; panes that grow keep their share of a row wider than usual. Hidden
// panes take no room.
type Row struct {
	widget.BaseWidget
	panes  []fyne.CanvasObject
	widths []float32 // as the hand wants them in a row of the usual width; that of the pane that gives is what is left
	grows  []bool
	gives  int
	share  float32 // of the row that the giving pane keeps while others can shrink
	most   bool    // it takes all that the others can give
	fences []*fence
}

const (
	usualShare = 0.42 // what the giving pane keeps of a row until the hand says otherwise
	usualWidth = 1280 // of a row
)

// NewRow is a row of panes so wide; the pane numbered gives takes what is left, and those that grow have a share of a wide row.
func NewRow(gives int, panes []fyne.CanvasObject, widths []float32, grows []bool) *Row {
	r := &Row{panes: panes, widths: widths, grows: grows, gives: gives, share: usualShare}
	for i := range len(panes) - 1 {
		f := &fence{row: r, at: i}
		f.ExtendBaseWidget(f)
		r.fences = append(r.fences, f)
	}
	r.ExtendBaseWidget(r)
	return r
}

// Arrange has another pane give, with most set take all that the others can do without, and shows only the panes that are wanted.
func (r *Row) Arrange(gives int, most bool, shown func(pane int) bool) {
	changed := gives != r.gives || most != r.most
	r.gives, r.most = gives, most
	for i, p := range r.panes {
		if on := shown(i); on != p.Visible() {
			changed = true
			if on {
				p.Show()
			} else {
				p.Hide()
			}
		}
	}
	if changed {
		r.Refresh()
	}
}

// wanted is how wide a pane is to be in a row so wide.
func (r *Row) wanted(i int, whole float32) float32 {
	if r.grows[i] {
		return r.widths[i] * max(1, whole/usualWidth)
	}
	return r.widths[i]
}

// fit is the widths for a row so wide: none less than its least, the others as wanted, shrunk from the widest where the pane
// that gives has no more to give. Hidden panes have none.
func (r *Row) fit(whole float32) []float32 {
	out := make([]float32, len(r.panes))
	sum, room, shown := float32(0), float32(0), 0
	for i, p := range r.panes {
		if !p.Visible() {
			continue
		}
		least := p.MinSize().Width
		out[i] = max(least, r.wanted(i, whole))
		if i == r.gives {
			out[i] = max(least, r.share*whole)
			if r.most {
				out[i] = max(least, whole)
			}
		} else {
			room += out[i] - least
		}
		sum += out[i]
		shown++
	}
	sum += float32(max(0, shown-1)) * fenceWidth
	spare := whole - sum
	if !r.panes[r.gives].Visible() {
		return out
	}
	if spare >= 0 {
		out[r.gives] += spare
		return out
	}
	for i, p := range r.panes { // the others give up as much of what they have above their least
		if i != r.gives && room > 0 && p.Visible() {
			out[i] -= (out[i] - p.MinSize().Width) * min(1, -spare/room)
		}
	}
	if spare += room; spare < 0 {
		out[r.gives] = max(r.panes[r.gives].MinSize().Width, out[r.gives]+spare)
	}
	return out
}

// beside is the next pane after i that is shown, -1 for none.
func (r *Row) beside(i int) int {
	for k := i + 1; k < len(r.panes); k++ {
		if r.panes[k].Visible() {
			return k
		}
	}
	return -1
}

// move drags the fence after pane i by so much.
func (r *Row) move(i int, dx float32) {
	whole, k := r.Size().Width, r.beside(i)
	if k < 0 {
		return
	}
	now := r.fit(whole)
	left, right := r.panes[i].MinSize().Width, r.panes[k].MinSize().Width
	dx = max(left-now[i], min(now[k]-right, dx))
	if dx == 0 {
		return
	}
	now[i] += dx
	now[k] -= dx
	for n, p := range r.panes {
		if p.Visible() && n != r.gives {
			r.widths[n] = now[n]
			if r.grows[n] {
				r.widths[n] /= max(1, whole/usualWidth)
			}
		}
	}
	r.share, r.most = min(r.share, now[r.gives]/max(1, whole)), false
	r.Refresh()
}

// Held are the panes.
func (r *Row) Held() []fyne.CanvasObject { return r.panes }

// MinSize is the least of all panes.
func (r *Row) MinSize() fyne.Size {
	size := fyne.NewSize(float32(len(r.fences))*fenceWidth, 0)
	for _, p := range r.panes {
		if p.Visible() {
			m := p.MinSize()
			size = fyne.NewSize(size.Width+m.Width, max(size.Height, m.Height))
		}
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
		more := p.Visible() && rr.r.beside(i) >= 0
		if i < len(rr.r.fences) {
			rr.r.fences[i].Hidden = !more
		}
		if !p.Visible() {
			continue
		}
		if at := fyne.NewPos(x, 0); p.Position() != at {
			p.Move(at)
		}
		if size := fyne.NewSize(w, s.Height); p.Size() != size {
			p.Resize(size)
		}
		x += w
		if more {
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
	return paper.Laid(r, f)
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
