package app

import (
	"fmt"
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/widget"

	"grainstack/app/paper"
	"grainstack/slicing/geom"
	"grainstack/slicing/job"
	"grainstack/slicing/panel"
	"grainstack/slicing/unit"
)

// A misfits names the first part that no panel holds, with the ways out as buttons.
type misfits struct {
	text    *widget.Label
	buttons [4]*widget.Button
	do      [4]func()
	whole   *fyne.Container
}

func newMisfits() *misfits {
	m := &misfits{text: paper.Sentence(paper.Red)}
	grid := container.NewGridWithColumns(2)
	for i := range m.buttons {
		m.buttons[i] = widget.NewButton("", func() {
			if m.do[i] != nil {
				m.do[i]()
			}
		})
		grid.Add(m.buttons[i])
	}
	m.whole = container.New(layout.NewCustomPaddedVBoxLayout(0), m.text, grid)
	m.whole.Hide()
	return m
}

// show names the first part that is too large; none hides it all.
func (m *misfits) show(w *window, v *job.Workshop, now bool) {
	if v == nil || !now || len(v.Layout.TooLarge) == 0 {
		m.whole.Hide()
		return
	}
	first := v.Layout.TooLarge[0]
	of, ok := v.Part(first.Part)
	if !ok {
		m.whole.Hide()
		return
	}
	size := onPanel(of)
	u := w.session.View.Units
	room := geom.Vec2{X: v.For.PanelX - 2*v.Edge(), Y: v.For.PanelY - 2*v.Edge()}
	text := fmt.Sprintf("%s is %s × %s as its grain lies; the panel takes %s × %s.", partWords(first.Part), unit.Length(size.X, u), unit.Length(size.Y, u), unit.Length(room.X, u), unit.Length(room.Y, u))
	if n := len(v.Layout.TooLarge); n > 1 {
		text += fmt.Sprintf(" %d more are too large.", n-1)
	}
	if m.text.Text != text {
		m.text.SetText(text)
	}
	largest := size // of all that are too large
	for _, one := range v.Layout.TooLarge {
		if p, ok := v.Part(one.Part); ok {
			s := onPanel(p)
			largest = geom.Vec2{X: math.Max(largest.X, s.X), Y: math.Max(largest.Y, s.Y)}
		}
	}
	off := keptOff(v)
	scale := math.Floor(100*math.Min(1, math.Min((v.For.PanelX-off.X)/largest.X, (v.For.PanelY-off.Y)/largest.Y))) / 100
	x, y := math.Max(v.For.PanelX, roundUp(largest.X+off.X)), math.Max(v.For.PanelY, roundUp(largest.Y+off.Y))
	m.way(0, fmt.Sprintf("Panel %s × %s", unit.Length(x, u), unit.Length(y, u)), func() {
		w.Do("panel", func(s job.Settings) job.Settings { s.PanelX, s.PanelY = x, y; return s })
		w.Rest()
	})
	m.way(1, fmt.Sprintf("Scale to %.0f %%", 100*scale), func() {
		w.Do("scale", func(s job.Settings) job.Settings { s.Scale *= scale; return s })
		w.Rest()
	})
	m.way(2, "Stand it another way", func() { w.openStand() })
	m.way(3, fmt.Sprintf("Split layer %d", first.Part.Layer), func() { w.split(first.Part) })
	m.whole.Show()
}

func (m *misfits) way(i int, words string, do func()) {
	m.do[i] = do
	if m.buttons[i].Text != words {
		m.buttons[i].SetText(words)
	}
}

// keptOff is how much of a panel's length and width no part may lie on: the edges, and along the turning axis the ends where
// the register dowels stand.
func keptOff(v *job.Workshop) geom.Vec2 {
	d, size := v.Register.Dowels, geom.Vec2{X: v.For.PanelX, Y: v.For.PanelY}
	along := v.Register.Axis == panel.AlongY
	flip := func(p geom.Vec2) geom.Vec2 { // the axis as x
		if along {
			return geom.Vec2{X: p.Y, Y: p.X}
		}
		return p
	}
	a, b, whole := flip(d[0].At), flip(d[1].At), flip(size)
	clear := v.Margin + d[0].Diameter/2
	ends := 0.0
	for _, low := range []bool{true, false} {
		end := v.Edge()
		for _, x := range []float64{a.X, b.X} {
			if low && x < whole.X/2 {
				end = math.Max(end, x+clear)
			} else if !low && x >= whole.X/2 {
				end = math.Max(end, whole.X-x+clear)
			}
		}
		ends += end
	}
	return flip(geom.Vec2{X: ends + layingStep, Y: 2*v.Edge() + layingStep})
}

// layingStep is how finely parts are laid on a small panel, mm.
const layingStep = 2.0

// roundUp is a panel's length rounded up to what is set at a saw, mm.
func roundUp(mm float64) float64 { return 10 * math.Ceil(mm/10-1e-9) }

// onPanel is the extent of a part along the panel's grain and across.
func onPanel(p *job.Part) geom.Vec2 {
	size := p.Shadow.Box().Size()
	if p.Turned {
		size.X, size.Y = size.Y, size.X
	}
	return size
}

// openStand folds the Stand card out.
func (w *window) openStand() {
	for i, c := range w.cards {
		if c == w.standCard && !c.Open() {
			w.openCard(i)
		}
	}
	w.hint("Turn the piece on the Stand card; the layers follow.")
}

// split divides a part along a joint line across its middle, the way that makes it shorter where it is too long. The line is
// then moved on the layer sheet.
func (w *window) split(id panel.ID) {
	v, now := w.workshop()
	if !now {
		return
	}
	of, ok := v.Part(id)
	if !ok {
		return
	}
	box := of.Shadow.Box()
	mid, size := box.Min.Add(box.Max).Scale(0.5), onPanel(of)
	along := size.X-v.For.PanelX >= size.Y-v.For.PanelY // too long along the panel's grain
	s := job.Split{Part: id, A: geom.Vec2{X: mid.X, Y: box.Min.Y}, B: geom.Vec2{X: mid.X, Y: box.Max.Y}}
	if along == of.Turned {
		s.A, s.B = geom.Vec2{X: box.Min.X, Y: mid.Y}, geom.Vec2{X: box.Max.X, Y: mid.Y}
	}
	w.pickPart(id)
	w.put("joint line", w.session.Places().WithSplit(s))
	w.leafNamed("Layer")
	w.hint("The part is split along the joint line: drag the line, or its ends, to where it shall be.")
}

// splitCommands divide the picked part, or put it together again.
func (w *window) splitCommands() []command {
	return []command{
		{name: "split", menu: "Change", words: "Split the part along a joint line", key: fyne.KeyV, enabled: func() bool {
			v, now := w.workshop()
			if !now || v.Withheld != "" {
				return false
			}
			_, ok := w.pickedPart(v)
			return ok
		}, do: func() {
			v, _ := w.workshop()
			id, _ := w.pickedPart(v)
			w.split(id)
		}},
		{name: "unsplit", menu: "Change", words: "Take the layer's joint line back", key: fyne.KeyQ, enabled: func() bool { return len(w.splitsOf(w.session.Layer())) > 0 }, do: func() {
			all := w.splitsOf(w.session.Layer())
			w.put("joint line taken back", w.session.Places().WithoutSplit(all[len(all)-1].Part))
		}},
	}
}

// splitsOf are the joint lines of a layer.
func (w *window) splitsOf(layer int) (out []job.Split) {
	for _, s := range w.session.Places().Splits {
		if s.Part.Layer == layer {
			out = append(out, s)
		}
	}
	return out
}

// A line is a joint line in the hand on the layer sheet.
type line struct {
	held  bool
	split job.Split
	ends  [2]bool // which of its ends go with the hand
	last  geom.Vec2
}

// takeLine takes a joint line, or an end of it, into the hand.
func (w *window) takeLine(at fyne.Position) bool {
	p, ok := w.sheet.drawn.ToMM(float64(at.X), float64(at.Y))
	if !ok || w.sheet.drawn.PerMM == 0 {
		return false
	}
	near := nearBy / w.sheet.drawn.PerMM
	for _, s := range w.splitsOf(w.session.Layer()) {
		ends := [2]bool{p.Sub(s.A).Len() < 1.4*near, p.Sub(s.B).Len() < 1.4*near}
		way := s.B.Sub(s.A)
		if n := way.Len(); !ends[0] && !ends[1] && n > 0 && math.Abs(way.Cross(p.Sub(s.A)))/n < near {
			ends = [2]bool{true, true}
		}
		if ends[0] || ends[1] {
			w.line = line{held: true, split: s, ends: ends, last: p}
			return true
		}
	}
	return false
}

// carryLine moves it with the hand.
func (w *window) carryLine(at fyne.Position) {
	p, ok := w.sheet.drawn.ToMM(float64(at.X), float64(at.Y))
	if !ok || !w.line.held {
		return
	}
	by := p.Sub(w.line.last)
	w.line.last = p
	if w.line.ends[0] {
		w.line.split.A = w.line.split.A.Add(by)
	}
	if w.line.ends[1] {
		w.line.split.B = w.line.split.B.Add(by)
	}
	w.asked = w.now()
	w.askLayer()
}

// letLine puts the line where it is, unless it misses the part.
func (w *window) letLine(moved bool) {
	l := w.line
	w.line = line{}
	if !l.held || !moved {
		return
	}
	if l.split.A.Sub(l.split.B).Len() < 1 {
		w.hint("The ends of a joint line have to lie apart.")
		w.askLayer()
		return
	}
	w.put("joint line", w.session.Places().WithSplit(l.split))
}

// seams are the joint lines of a layer as they are drawn, that in the hand where it is held.
func (w *window) seams(layer int) (out [][2]geom.Vec2) {
	for _, s := range w.splitsOf(layer) {
		if w.line.held && s.Part == w.line.split.Part {
			s = w.line.split
		}
		out = append(out, [2]geom.Vec2{s.A, s.B})
	}
	return out
}
