package card

import (
	"fmt"
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"grainstack/app/paper"
	"grainstack/slicing/job"
	"grainstack/slicing/unit"
)

// A row is one line of a card.
type row interface {
	object() fyne.CanvasObject
	show(State)
}

// A measure is a setting with a rule and a typed value.
type measure struct {
	Name  string // as it is written and as undo calls it
	Moves string // a word on what it moves
	Means string // what the name means, where that may need a word
	Kind  unit.Kind
	Step  float64 // of the rule
	Least float64
	Most  float64
	From  float64 // the ends of the rule; Least and Most where both are 0
	To    float64
	Low   float64 // the sensible range
	High  float64
	Range func(State) (least, most float64) // in place of Least and Most, where they depend on something
	Value func(State) float64
	Set   func(State, float64) job.Settings
	// View is set in place of Set where the value belongs to the view.
	View func(State, float64)
	Off  func(State) bool
	// Hidden takes the row away where it has nothing to say.
	Hidden func(State) bool
	// Log spaces the rule by ratios, for values that span decades.
	Log bool

	call   string // what undo calls it, where that is not the name
	bench  Bench
	now    State
	rule   *Rule
	field  *Field
	unit   *paper.Words
	under  *paper.Told
	faulty bool // what is typed can't be used, and that is said
	box    fyne.CanvasObject
}

// figure is the measure of a setting; change, where it is not nil, is what is different with this one.
func figure(b Bench, key string, change func(*measure)) *measure {
	f := job.SettingOf(key)
	m := &measure{Name: f.Label(), call: f.Name, Moves: f.Moves, Kind: f.Kind, Step: f.Step, Log: f.Log,
		Least: f.Least, Most: f.Most, From: f.From, To: f.To, Low: f.Low, High: f.High,
		Value: func(s State) float64 { return f.Figure(s.Settings, s.Catalogue) },
		Set:   func(s State, v float64) job.Settings { return f.With(s.Settings, v) }}
	if change != nil {
		change(m)
	}
	return m.on(b)
}

// on puts the measure to a bench and builds it.
func (m *measure) on(b Bench) *measure {
	m.bench = b
	if m.call == "" {
		m.call = m.Name
	}
	if m.From == m.To {
		m.From, m.To = m.Least, m.Most
	}
	m.rule = NewRule(m.onRule(m.From), m.onRule(m.To), m.Step)
	m.rule.Low, m.rule.High = m.onRule(m.Low), m.onRule(m.High)
	m.rule.Changed, m.rule.Rested = func(at float64) { m.set(m.offRule(at)) }, b.Rest
	if m.Log {
		m.rule.Step = 0
	}
	m.field = NewField()
	m.field.Typed, m.field.Rested, m.field.Stepped = m.typed, m.done, m.stepped
	m.unit = paper.Write("", paper.Small, paper.Pencil)
	m.under = paper.Tell("", paper.Tiny, paper.Pencil)
	notice := func(here bool) {
		if here {
			b.Hint(m.Name + ": " + m.Moves + ". Sensible: " + m.sensible(m.now.View.Units) + ".")
		} else {
			b.Hint("")
		}
	}
	m.rule.Noticed, m.field.Noticed = notice, notice
	name := paper.Tell(m.Name, paper.Small, paper.Ink).Means(m.Means)
	m.box = container.New(measureLayout{}, name, m.rule, underlined(m.field), m.unit, m.under)
	return m
}

func (m *measure) object() fyne.CanvasObject { return m.box }
func (m *measure) written() []*Field         { return []*Field{m.field} }

// onRule is where a value lies on the rule, and offRule the value at a place of it, rounded to four figures.
func (m *measure) onRule(v float64) float64 {
	if m.Log {
		return math.Log10(math.Max(v, 1e-9))
	}
	return v
}

func (m *measure) offRule(at float64) float64 {
	if !m.Log {
		return at
	}
	v := math.Pow(10, at)
	tidy := math.Pow(10, 3-math.Floor(at))
	return math.Round(v*tidy) / tidy
}

func (m *measure) show(s State) {
	unitsChanged := m.now.View.Units != s.View.Units
	m.now = s
	if m.Hidden != nil {
		if m.Hidden(s) {
			m.box.Hide()
			return
		}
		m.box.Show()
	}
	least, most := m.limits()
	v := m.Value(s)
	off := m.Off != nil && m.Off(s)
	m.rule.Put(m.onRule(v), m.onRule(math.Max(m.From, least)), m.onRule(math.Min(m.To, most)), off)
	if off != m.field.Disabled() {
		if off {
			m.field.Disable()
		} else {
			m.field.Enable()
		}
	}
	if m.field.focused && !unitsChanged && m.reads(v) {
		return
	}
	m.field.Put(m.Kind.Write(v, s.View.Units), true)
	m.unit.Say(m.Kind.Word(s.View.Units))
	m.calm()
}

// reads reports whether what is typed stands for v already.
func (m *measure) reads(v float64) bool {
	typed, err := m.Kind.Read(m.field.Text, m.now.View.Units)
	return err != nil || math.Abs(typed-v) < 1e-6*(1+math.Abs(v))
}

func (m *measure) limits() (least, most float64) {
	if m.Range != nil {
		return m.Range(m.now)
	}
	return m.Least, m.Most
}

func (m *measure) set(v float64) {
	if m.View != nil {
		m.View(m.now, v)
		return
	}
	m.bench.Do(m.call, func(s job.Settings) job.Settings {
		at := m.now
		at.Settings = s
		m.now.Settings = m.Set(at, v)
		return m.now.Settings
	})
}

// typed takes each keystroke: a value that can be used is used at once, another is explained in place.
func (m *measure) typed(text string) {
	v, err := m.Kind.Read(text, m.now.View.Units)
	least, most := m.limits()
	switch {
	case err != nil:
		m.complain(err.Error())
	case v < least-1e-9 || v > most+1e-9:
		m.complain(fmt.Sprintf("%s to %s", m.with(least), m.with(most)))
	default:
		m.calm()
		m.set(v)
	}
}

// done ends typing: what could not be used gives way to what stands.
func (m *measure) done() {
	m.bench.Rest()
	m.field.Put(m.Kind.Write(m.Value(m.now), m.now.View.Units), true)
	m.calm()
}

func (m *measure) stepped(n int) {
	least, most := m.limits()
	v := m.Value(m.now)
	if m.Log {
		v *= math.Pow(1.01, float64(n))
	} else {
		v += float64(n) * m.Step
	}
	v = math.Max(least, math.Min(most, v))
	m.set(v)
	m.field.Put(m.Kind.Write(v, m.now.View.Units), true)
	m.calm()
}

func (m *measure) complain(fault string) {
	m.faulty = true
	m.under.In(paper.Red)
	m.under.Say(fault)
	m.bench.Hint(m.Name + ": " + fault)
}

// calm says what the measure moves, in place of a fault.
func (m *measure) calm() {
	if m.faulty {
		m.faulty = false
		m.field.notice() // in place of the fault in the margin
	}
	m.under.In(paper.Pencil)
	m.under.Say(m.sensible(m.now.View.Units) + " · " + m.Moves)
}

func (m *measure) sensible(u unit.System) string {
	if u == unit.Inch && m.Kind == unit.Lengths && m.High > 100 {
		return unit.Number(m.Low/25.4, 0) + " to " + unit.Number(m.High/25.4, 0)
	}
	return m.Kind.Write(m.Low, u) + " to " + m.Kind.Write(m.High, u)
}

func (m *measure) with(v float64) string {
	word := m.Kind.Word(m.now.View.Units)
	if word != "" && word != "°" {
		word = " " + word
	}
	return m.Kind.Write(v, m.now.View.Units) + word
}

// measureLayout sets name, rule, value and unit in a line and the word under them.
type measureLayout struct{}

const (
	nameWidth  = 72
	valueWidth = 50
	unitWidth  = 24
	rowHeight  = 22
	underDepth = 15
	inset      = 5 // as far as the toolkit's labels stand in
)

func (measureLayout) Layout(o []fyne.CanvasObject, s fyne.Size) {
	unitW := max(unitWidth, o[3].MinSize().Width)
	s.Width -= inset
	ruleW := max(40, s.Width-nameWidth-valueWidth-unitW-12)
	put := func(i int, x, y, w, h float32) {
		o[i].Move(fyne.NewPos(inset+x, y))
		o[i].Resize(fyne.NewSize(w, h))
	}
	put(0, 0, 0, nameWidth, rowHeight)
	put(1, nameWidth, 0, ruleW, rowHeight)
	put(2, nameWidth+ruleW+8, 0, valueWidth, rowHeight)
	put(3, nameWidth+ruleW+valueWidth+12, 0, unitW, rowHeight)
	put(4, nameWidth, rowHeight, s.Width-nameWidth, underDepth-2)
}

func (measureLayout) MinSize([]fyne.CanvasObject) fyne.Size {
	return fyne.NewSize(inset+nameWidth+60+valueWidth+unitWidth+12, rowHeight+underDepth)
}
