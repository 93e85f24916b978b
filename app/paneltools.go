package app

import (
	"fmt"

	"grainstack/app/edit"
	"grainstack/app/paper"
	"grainstack/slicing/unit"
	"grainstack/slicing/workshop"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/widget"
)

// panelTools are the buttons under the panel sheet.
type panelTools struct {
	hand    *panelHand
	buttons map[string]*paper.Button // by command
	misfits *misfits
	whole   *fyne.Container
}

// toolRows are the commands under the panel sheet, as they are written there.
var toolRows = [][2]string{{"turn part", "Turn"}, {"lock part", "Lock"}, {"lay anew", "Lay anew"}, {"add tab", "Add tab"}, {"add pin", "Add pin"}, {"remove", "Take away"}}

func newPanelTools(h *panelHand) *panelTools {
	t := &panelTools{hand: h, buttons: map[string]*paper.Button{}, misfits: newMisfits()}
	grid := container.New(&toolLayout{})
	for _, one := range toolRows {
		b := paper.NewButton(one[1], func() { h.run(one[0]) })
		b.Importance = widget.LowImportance
		t.buttons[one[0]] = b
		grid.Add(b)
	}
	t.whole = container.New(layout.NewCustomPaddedVBoxLayout(0), t.misfits.whole, grid)
	return t
}

// A toolLayout sets buttons in as few rows as there is room for, six, three or two in each.
type toolLayout struct{ columns int }

func (l *toolLayout) cell(o []fyne.CanvasObject) (size fyne.Size) {
	for _, one := range o {
		size = size.Max(one.MinSize())
	}
	return size
}

func (l *toolLayout) Layout(o []fyne.CanvasObject, s fyne.Size) {
	cell := l.cell(o)
	l.columns = 2
	for _, n := range []int{6, 3} {
		if s.Width >= float32(n)*cell.Width {
			l.columns = n
			break
		}
	}
	wide := s.Width / float32(l.columns)
	for i, one := range o {
		one.Move(fyne.NewPos(float32(i%l.columns)*wide, float32(i/l.columns)*cell.Height))
		one.Resize(fyne.NewSize(wide, cell.Height))
	}
}

func (l *toolLayout) MinSize(o []fyne.CanvasObject) fyne.Size {
	cell, n := l.cell(o), max(2, l.columns)
	return fyne.NewSize(2*cell.Width, cell.Height*float32((len(o)+n-1)/n))
}

// show greys what can't be done now.
func (t *panelTools) show() {
	for _, c := range t.hand.panelCommands() {
		if b := t.buttons[c.name]; b != nil {
			b.Allow(c.enabled())
		}
	}
	name := "Lock"
	v, now := t.hand.bench.Shop.Newest()
	t.misfits.show(t.hand, v, now)
	if v != nil {
		if id, ok := t.hand.bench.Shop.Picked(v); ok {
			if h, _ := edit.Laid(v, id); h.At.Locked {
				name = "Unlock"
			}
		}
	}
	t.buttons["lock part"].Say(name)
}

// panelCommands are those of the panel sheet, while it is in front.
func (h *panelHand) panelCommands() []command {
	inFront := func() bool { return h.on.panels != nil && h.bench.Screen.Sheet == panelsName }
	laid := func() bool {
		v, now := h.bench.Shop.Newest()
		return inFront() && now && v.Withheld.None() && len(v.Layout.Panels) > 0
	}
	lies := func() bool {
		if !laid() {
			return false
		}
		v, _ := h.bench.Shop.Newest()
		id, ok := h.bench.Shop.Picked(v)
		_, on := edit.Laid(v, id)
		return ok && on
	}
	held := func() bool { return laid() && h.on.panels.Hand.Holds() && h.on.panels.Hand.What != edit.Part }
	return []command{
		{name: "turn part", menu: "Change", words: "Turn the part on its panel", key: fyne.KeyR, enabled: lies, do: h.turnPart},
		{name: "lock part", menu: "Change", words: "Lock the part on its panel, or unlock it", key: fyne.KeyK, enabled: lies, do: h.lockPart},
		{name: "lay anew", menu: "Change", words: "Lay the parts out anew", key: fyne.KeyA, enabled: func() bool {
			return inFront() && (laid() || h.bench.Shop.Off() || h.bench.Shop.Fault() != "")
		}, do: h.layAnew},
		{name: "add tab", menu: "Change", words: "Another tab", key: fyne.KeyJ, enabled: laid, do: func() { h.addTo(edit.Tab) }},
		{name: "add pin", menu: "Change", words: "Another pin", key: fyne.KeyH, enabled: laid, do: func() { h.addTo(edit.Pin) }},
		{name: "remove", menu: "Change", words: "Take away the tab or pin in hand", key: fyne.KeyDelete, enabled: held, do: h.remove},
		{name: "split", menu: "Change", words: "Split the part along a joint line, a piece of it once more", key: fyne.KeyV, enabled: func() bool {
			v, now := h.bench.Shop.Newest()
			if !now || !v.Withheld.None() {
				return false
			}
			_, ok := h.bench.Shop.Picked(v)
			return ok
		}, do: h.splitPicked},
		{name: "unsplit", menu: "Change", words: "Take the layer's joint line back", key: fyne.KeyQ, enabled: func() bool {
			return len(h.bench.Places().SplitsOf(h.bench.Layer())) > 0
		}, do: h.unsplit},
	}
}

// A misfits names the first part that no panel holds, with the ways out as buttons.
type misfits struct {
	text    *widget.Label
	buttons [4]*paper.Button
	do      [4]func()
	whole   *fyne.Container
}

func newMisfits() *misfits {
	m := &misfits{text: paper.Sentence(paper.Red)}
	grid := container.NewGridWithColumns(2)
	for i := range m.buttons {
		m.buttons[i] = paper.NewButton("", func() {
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
func (m *misfits) show(h *panelHand, v *workshop.Workshop, now bool) {
	if v == nil || !now {
		m.whole.Hide()
		return
	}
	misfit, ok := v.Misfit()
	if !ok {
		m.whole.Hide()
		return
	}
	u := h.bench.View.Units
	size := func(x, y float64) string { return unit.Length(x, u) + " × " + unit.Length(y, u) }
	text := fmt.Sprintf("%s is %s as its grain lies; the panel takes %s.", edit.PartWords(misfit.Part), size(misfit.Size.X, misfit.Size.Y), size(misfit.Room.X, misfit.Room.Y))
	if misfit.More > 0 {
		text += fmt.Sprintf(" %d more are too large.", misfit.More)
	}
	if m.text.Text != text {
		m.text.SetText(text)
	}
	m.setWay(0, "Panel "+size(misfit.Panel.X, misfit.Panel.Y), func() { h.resize(misfit) })
	m.setWay(1, fmt.Sprintf("Scale to %.0f %%", 100*misfit.Scale), func() { h.rescale(misfit) })
	m.setWay(2, "Stand it another way", h.openStand)
	m.setWay(3, fmt.Sprintf("Split layer %d", misfit.Part.Layer), func() { h.split(misfit.Part) })
	m.whole.Show()
}

func (m *misfits) setWay(i int, words string, do func()) {
	m.do[i] = do
	if m.buttons[i].Text != words {
		m.buttons[i].SetText(words)
	}
}
