package card

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"grainstack/app/paper"
	"grainstack/slicing/job"
	"grainstack/slicing/stock"
)

// An option is one of a choice.
type option = job.Option

// A choice is a setting with a few named values.
type choice struct {
	Name    string
	Options []option
	List    func(*stock.Catalogue) []option // in place of Options, where they follow the stock
	Value   func(State) string
	Set     func(State, string) job.Settings
	View    func(State, string) // in place of Set

	now State
	of  *stock.Catalogue // that the options are of
	sel *paper.Select
	box fyne.CanvasObject
}

func (c *choice) on(b Bench) *choice {
	c.sel = paper.NewSelect(names(c.Options), func(name string) {
		for _, o := range c.Options {
			if o.Name != name || o.Key == c.Value(c.now) {
				continue
			}
			if c.View != nil {
				c.View(c.now, o.Key)
				return
			}
			b.Do(c.Name, func(s job.Settings) job.Settings {
				at := c.now
				at.Settings = s
				return c.Set(at, o.Key)
			})
			b.Rest()
		}
	})
	c.box = container.New(namedLayout{}, paper.Tell(c.Name, paper.Small, paper.Ink), c.sel)
	return c
}

func names(all []option) []string {
	out := make([]string, len(all))
	for i, o := range all {
		out[i] = o.Name
	}
	return out
}

// pick is the choice of a setting; change, where it is not nil, is what is different with this one.
func pick(b Bench, key string, change func(*choice)) *choice {
	f := job.SettingOf(key)
	c := &choice{Name: f.Label(), Options: f.Options, Value: func(s State) string { return f.Chosen(s.Settings) },
		Set: func(s State, key string) job.Settings {
			_ = f.Read(&s.Settings, key) // one of its own keys
			return s.Settings
		}}
	if f.Stocked != "" {
		c.List = func(c *stock.Catalogue) []option { return marked(f.Stocked, f.Choices(c), c) }
	}
	if change != nil {
		change(c)
	}
	return c.on(b)
}

// marked are entries of the catalogue with the maker's own marked so.
func marked(kind string, all []option, c *stock.Catalogue) []option {
	for i := range all {
		if c.Own(kind, all[i].Key) {
			all[i].Name += " · yours"
		}
	}
	return all
}

// ticked is the tick of a setting that is one of two.
func ticked(b Bench, key string) *tick {
	f := job.SettingOf(key)
	return (&tick{Name: f.Label(), Value: func(s State) bool { return f.Figure(s.Settings, s.Catalogue) == 1 },
		Set: func(s State, on bool) job.Settings { return f.With(s.Settings, map[bool]float64{true: 1}[on]) }}).on(b)
}

func (c *choice) object() fyne.CanvasObject { return c.box }

func (c *choice) show(s State) {
	c.now = s
	if c.List != nil && s.Catalogue != c.of {
		c.Options, c.of = c.List(s.Catalogue), s.Catalogue
		c.sel.Options = names(c.Options)
		c.sel.Refresh()
	}
	name := ""
	for _, o := range c.Options {
		if o.Key == c.Value(s) {
			name = o.Name
		}
	}
	if c.sel.Selected != name {
		c.sel.Selected = name
		c.sel.Refresh()
	}
}

// namedLayout sets a name before something wide.
type namedLayout struct{}

func (namedLayout) Layout(o []fyne.CanvasObject, s fyne.Size) {
	o[0].Move(fyne.NewPos(inset, 0))
	o[0].Resize(fyne.NewSize(nameWidth, s.Height))
	o[1].Move(fyne.NewPos(inset+nameWidth, 1))
	o[1].Resize(fyne.NewSize(s.Width-inset-nameWidth, s.Height-2))
}

func (namedLayout) MinSize(o []fyne.CanvasObject) fyne.Size {
	return fyne.NewSize(inset+nameWidth+80, o[1].MinSize().Height+2)
}

// A tick is a setting that is or is not.
type tick struct {
	Name  string
	Value func(State) bool
	Set   func(State, bool) job.Settings
	View  func(State, bool) // in place of Set

	Hidden func(State) bool // nil for never

	now   State
	check *paper.Check
}

func (t *tick) on(b Bench) *tick {
	t.check = paper.NewCheck(t.Name, func(on bool) {
		switch {
		case on == t.Value(t.now):
		case t.View != nil:
			t.View(t.now, on)
		default:
			b.Do(t.Name, func(s job.Settings) job.Settings {
				at := t.now
				at.Settings = s
				return t.Set(at, on)
			})
			b.Rest()
		}
	})
	return t
}

func (t *tick) object() fyne.CanvasObject { return t.check }

func (t *tick) places() map[string]fyne.CanvasObject {
	return map[string]fyne.CanvasObject{t.Name: t.check}
}

func (t *tick) show(s State) {
	t.now = s
	if t.Hidden != nil && t.Hidden(s) == t.check.Visible() {
		if t.Hidden(s) {
			t.check.Hide()
		} else {
			t.check.Show()
		}
	}
	if v := t.Value(s); t.check.Checked != v {
		t.check.Checked = v
		t.check.Refresh()
	}
}

// A note is a sentence that follows the state; it takes no room while it is empty.
type note struct {
	Ink  fyne.ThemeColorName
	Text func(State) string

	label *widget.Label
}

func (n *note) on() *note {
	n.label = paper.Sentence(n.Ink)
	n.label.Hide()
	return n
}

func (n *note) object() fyne.CanvasObject { return n.label }

func (n *note) show(s State) {
	text := n.Text(s)
	if n.label.Text != text {
		n.label.SetText(text)
	}
	if text == "" {
		n.label.Hide()
	} else {
		n.label.Show()
	}
}

// A press is a button of a row of buttons.
type press struct {
	Name string
	Hint string
	Do   func(State)
	Show func(State) (name string, on bool) // in place of Name, where it changes
}

// presses are buttons beside one another.
type presses struct {
	Each []press

	now     State
	buttons []*paper.Button
	box     *fyne.Container
}

func (p *presses) on() *presses {
	p.box = container.NewGridWithColumns(len(p.Each))
	for _, one := range p.Each {
		b := paper.NewButton(one.Name, func() { one.Do(p.now) })
		p.buttons = append(p.buttons, b)
		p.box.Add(b)
	}
	return p
}

func (p *presses) object() fyne.CanvasObject { return p.box }

func (p *presses) places() map[string]fyne.CanvasObject { return byWords(p.buttons) }

// byWords are buttons by what is written on them.
func byWords(buttons []*paper.Button) map[string]fyne.CanvasObject {
	all := map[string]fyne.CanvasObject{}
	for _, b := range buttons {
		all[b.Text] = b
	}
	return all
}

// byText are lines that can be clicked, by what they say.
func byText(lines []*paper.Pointer) map[string]fyne.CanvasObject {
	all := map[string]fyne.CanvasObject{}
	for _, l := range lines {
		all[l.Text()] = l
	}
	return all
}

func (p *presses) show(s State) {
	p.now = s
	any := false
	for i, one := range p.Each {
		if one.Show == nil {
			any = true
			continue
		}
		name, on := one.Show(s)
		any = any || name != ""
		if b := p.buttons[i]; b.Text != name || b.Disabled() == on {
			b.Text = name
			if on {
				b.Enable()
			} else {
				b.Disable()
			}
			b.Refresh()
		}
	}
	if any {
		p.box.Show()
	} else {
		p.box.Hide()
	}
}

// A row is one line of a card.
type row interface {
	object() fyne.CanvasObject
	show(State)
}

const (
	nameWidth  = 72
	valueWidth = 50
	unitWidth  = 24
	rowHeight  = 22
	underDepth = 15
	inset      = 5 // as far as the toolkit's labels stand in
)

// goOn is a button that goes on with what was called off, there while off says so.
func goOn(b Bench, off func(Off) bool) *presses {
	return (&presses{Each: []press{{Do: func(State) { b.Run("go on") }, Show: func(s State) (string, bool) {
		if off(s.Off) {
			return "Go on with it", true
		}
		return "", false
	}}}}).on()
}
