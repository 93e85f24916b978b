package card

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"grainstack/app/paper"
	"grainstack/slicing/stock"
	"grainstack/slicing/unit"
)

// OwnCutters is where the maker's own cutters are kept.
type OwnCutters struct {
	Keep func(stock.Cutter) error
	Drop func(stock.Cutter) error
}

// own is the form for the maker's own cutters, folded away until it is asked for.
type own struct {
	to    OwnCutters
	now   State
	made  *stock.Catalogue // that the list of cutters is of
	keys  []string         // of the list; "" begins a new one
	which *paper.Select
	name  *Field
	shape *paper.Select
	each  []*ownField
	fault *widget.Label
	keep  *paper.Button
	drop  *paper.Button
	head  *paper.Button
	form  *fyne.Container
	box   *fyne.Container
	open  bool
}

// An ownField is one figure of the form.
type ownField struct {
	name, key string // as it is written, and as the stock file calls it
	kind      unit.Kind
	of        func(*stock.Cutter) *float64
	shapes    []stock.Shape // that have it, none for all
	field     *Field
	unit      *paper.Words
	row       fyne.CanvasObject
}

// shapeWords are the shapes in words, in their order.
var shapeWords = [...]string{"flat end", "ball nose", "bull nose", "tapered ball"}

// newOwn is a button that folds the form out, and the form.
func newOwn(to OwnCutters) *own {
	o := &own{to: to, name: newField(), fault: paper.Sentence(paper.Red)}
	o.which = paper.NewSelect(nil, func(string) { o.fill() })
	o.shape = paper.NewSelect(shapeWords[:], func(string) { o.fit() })
	o.each = ownFields()
	o.keep = paper.NewButton("Keep it in your stock", o.keeps)
	o.drop = paper.NewButton("Remove it", o.drops)
	line := func(name string, what fyne.CanvasObject) fyne.CanvasObject {
		return container.New(namedLayout{}, paper.Write(name, paper.Small, paper.Ink).Cut(), what)
	}
	o.form = container.New(stackedTight{}, line("cutter", o.which), line("name", underlined(o.name)), line("shape", o.shape))
	for _, f := range o.each {
		f.field, f.unit = newField(), paper.Write("", paper.Small, paper.Pencil)
		f.row = line(f.name, container.NewBorder(nil, nil, nil, f.unit, underlined(f.field)))
		o.form.Add(f.row)
	}
	o.form.Add(o.fault)
	o.form.Add(container.NewGridWithColumns(2, o.keep, o.drop))
	o.fault.Hide()
	o.head = paper.NewButton(formClosed, o.toggle)
	o.box = container.New(stackedTight{}, o.head, o.form)
	o.form.Hide()
	return o
}

const (
	formClosed = "Add or change a cutter of your own"
	formOpen   = "Put the form away"
)

func ownFields() []*ownField {
	return []*ownField{
		{name: "diameter", key: "diameter", of: func(c *stock.Cutter) *float64 { return &c.Diameter }},
		{name: "corner radius", key: "cornerRadius", of: func(c *stock.Cutter) *float64 { return &c.CornerRadius }, shapes: []stock.Shape{stock.Bull, stock.Taper}},
		{name: "side off axis", key: "taperDeg", kind: unit.Angles, of: func(c *stock.Cutter) *float64 { return &c.TaperDeg }, shapes: []stock.Shape{stock.Taper}},
		{name: "flutes", key: "flutes", kind: unit.Counts},
		{name: "cuts over", key: "cutLength", of: func(c *stock.Cutter) *float64 { return &c.CutLength }},
		{name: "sticks out", key: "reach", of: func(c *stock.Cutter) *float64 { return &c.Reach }},
		{name: "shank", key: "shank", of: func(c *stock.Cutter) *float64 { return &c.Shank }},
		{name: "feed", key: "feedMmMin", kind: unit.Speeds, of: func(c *stock.Cutter) *float64 { return &c.FeedMmMin }},
		{name: "plunge", key: "plungeMmMin", kind: unit.Speeds, of: func(c *stock.Cutter) *float64 { return &c.PlungeMmMin }},
		{name: "speed", key: "rpm", kind: unit.Turns, of: func(c *stock.Cutter) *float64 { return &c.RPM }},
		{name: "stepdown", key: "stepdown", of: func(c *stock.Cutter) *float64 { return &c.Stepdown }},
		{name: "stepover", key: "stepover", of: func(c *stock.Cutter) *float64 { return &c.Stepover }},
	}
}

// fields are what can be typed into now, the name among them.
func (o *own) fields() []*ownField {
	if !o.open {
		return nil
	}
	out := []*ownField{{name: "name", field: o.name}}
	for _, f := range o.each {
		if f.row.Visible() {
			out = append(out, f)
		}
	}
	return out
}

func (o *own) object() fyne.CanvasObject { return o.box }

func (o *own) places() map[string]fyne.CanvasObject {
	all := map[string]fyne.CanvasObject{o.head.Text: o.head, "own cutter: keep": o.keep}
	for _, f := range o.fields() {
		all["own cutter: "+f.name] = f.field
	}
	return all
}

func (o *own) toggle() {
	o.open = !o.open
	if o.open {
		o.list()
		o.which.SetSelectedIndex(0)
		o.fill()
		o.head.SetText(formOpen)
		o.form.Show()
	} else {
		o.head.SetText(formClosed)
		o.form.Hide()
	}
	o.box.Refresh()
}

func (o *own) show(s State) {
	units := o.now.View.Units != s.View.Units
	o.now = s
	if o.open && s.Catalogue != o.made {
		o.list()
	}
	if o.open && units {
		o.fill()
	}
}

// list lists the maker's own cutters after a new one.
func (o *own) list() {
	c := o.now.Catalogue
	o.made = c
	o.keys = []string{""}
	words := []string{"a new one"}
	for _, k := range c.Cutters {
		if c.Own("cutter", k.Key) {
			o.keys, words = append(o.keys, k.Key), append(words, k.Name)
		}
	}
	o.which.Options = words
	if !slices.Contains(words, o.which.Selected) {
		o.which.Selected = words[0]
	}
	o.which.Refresh()
}

// chosen is the key of the cutter in the form, "" for a new one.
func (o *own) chosen() string {
	if i := o.which.SelectedIndex(); i > 0 && i < len(o.keys) {
		return o.keys[i]
	}
	return ""
}

// fill writes the chosen cutter into the form; a new one begins as the finish cutter is.
func (o *own) fill() {
	key := o.chosen()
	c, _ := o.now.Catalogue.Cutter(key)
	if key == "" {
		c, _ = o.now.Catalogue.Cutter(o.now.Settings.Fine.Key)
		c.Name = ""
	}
	u := o.now.View.Units
	o.name.Put(c.Name, true)
	o.shape.Selected = shapeWords[c.Shape]
	o.shape.Refresh()
	for _, f := range o.each {
		text := ""
		switch {
		case f.of == nil:
			text = strconv.Itoa(c.Flutes)
		case *f.of(&c) != 0:
			text = f.kind.Write(*f.of(&c), u)
		}
		f.field.Put(text, true)
		f.unit.Say(f.kind.Word(u))
	}
	o.say("")
	o.fit()
	if key == "" {
		o.drop.Disable()
	} else {
		o.drop.Enable()
	}
}

// fit shows the figures that the shape has.
func (o *own) fit() {
	shape := stock.Shape(max(o.shape.SelectedIndex(), 0))
	for _, f := range o.each {
		if len(f.shapes) == 0 || slices.Contains(f.shapes, shape) {
			f.row.Show()
		} else {
			f.row.Hide()
		}
	}
	o.form.Refresh()
	o.box.Refresh()
}

// read is the cutter in the form, with a sentence where it can't be used.
func (o *own) read() (c stock.Cutter, fault string) {
	c.Name, c.Key = strings.TrimSpace(o.name.Text), o.chosen()
	if c.Name == "" {
		return c, "Give it a name."
	}
	for _, k := range o.now.Catalogue.Cutters {
		if k.Name == c.Name && k.Key != c.Key {
			return c, "Another cutter has this name already."
		}
	}
	if c.Key == "" {
		c.Key = keyFor(c.Name, o.now.Catalogue)
	}
	c.Shape = stock.Shape(max(o.shape.SelectedIndex(), 0))
	for _, f := range o.each {
		if len(f.shapes) > 0 && !slices.Contains(f.shapes, c.Shape) {
			continue
		}
		v, err := f.kind.Read(f.field.Text, o.now.View.Units)
		switch {
		case err != nil:
			return c, f.name + ": " + err.Error() + "."
		case f.of == nil:
			c.Flutes = int(max(-1, min(v, 1000)))
		default:
			*f.of(&c) = v
		}
	}
	if faults := c.Check(); len(faults) > 0 {
		return c, o.worded(faults[0])
	}
	return c, ""
}

// worded is a fault of the stock in the form's words.
func (o *own) worded(err error) string {
	var fault *stock.EntryError
	if !errors.As(err, &fault) {
		return err.Error() + "."
	}
	for _, f := range o.each {
		if f.key == fault.Figure {
			return f.name + " " + fault.Fault + "."
		}
	}
	return strings.TrimSpace(fault.Figure+" "+fault.Fault) + "."
}

// keyFor is a key that no cutter has yet, from a name.
func keyFor(name string, c *stock.Catalogue) string {
	key := "own-" + strings.Trim(strings.Map(func(r rune) rune {
		if unicode.IsLetter(r) || unicode.IsDigit(r) || r == '.' {
			return unicode.ToLower(r)
		}
		return '-'
	}, name), "-")
	if len(key) > 60 {
		key = strings.ToValidUTF8(key[:60], "")
	}
	for n := 1; ; n++ {
		try := key
		if n > 1 {
			try = fmt.Sprintf("%s-%d", key, n)
		}
		if _, taken := c.Cutter(try); !taken {
			return try
		}
	}
}

func (o *own) say(fault string) {
	if o.fault.SetText(fault); fault == "" {
		o.fault.Hide()
	} else {
		o.fault.Show()
	}
}

func (o *own) keeps() {
	c, fault := o.read()
	if fault == "" {
		if err := o.to.Keep(c); err != nil {
			fault = err.Error() + "."
		}
	}
	o.say(fault)
	if fault == "" {
		o.choose(c.Name)
	}
}

func (o *own) drops() {
	c, ok := o.now.Catalogue.Cutter(o.chosen())
	if !ok {
		return
	}
	if err := o.to.Drop(c); err != nil {
		o.say(err.Error() + ".")
		return
	}
	o.choose("")
}

// choose turns the form to a cutter, "" for a new one.
func (o *own) choose(name string) {
	o.list()
	o.which.Selected = o.which.Options[max(slices.Index(o.which.Options, name), 0)]
	o.which.Refresh()
	o.fill()
}
