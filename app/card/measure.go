package card

import (
	"cmp"
	"fmt"
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"grainstack/app/paper"
	"grainstack/slicing/job"
	"grainstack/slicing/unit"
)

// A quantity is a figure that can be set: what it is called, what it may be, and where it stands.
type quantity struct {
	Name  string // as it is written and as undo calls it
	Moves string // a word on what it moves
	Means string // what the name means, where that may need a word
	job.Range
	Limits func(State) (least, most float64) // in place of Least and Most, where they depend on something
	Spans  func(State) (low, high float64)   // in place of Low and High
	Value  func(State) float64
	Set    func(State, float64) job.Settings
	// View is set in place of Set where the value belongs to the view.
	View func(State, float64)
	Off  func(State) bool
	// Hidden takes the row away where it has nothing to say.
	Hidden func(State) bool

	call string // what undo calls it, where that is not the name
}

// A measure is a quantity with a rule and a typed value.
type measure struct {
	quantity
	bench  Bench
	now    State
	rule   *Rule
	field  *Field
	unit   *paper.Words
	under  *paper.Told
	was    float64 // the value when the hand came to the field
	faulty bool    // what is typed can't be used, and that is said
	box    fyne.CanvasObject
}

// figure is the measure of a setting; change, where it is not nil, is what is different with this one.
func figure(b Bench, key string, change func(*quantity)) *measure {
	f := job.SettingOf(key)
	q := quantity{Name: f.Label(), call: f.Name, Moves: f.Moves, Range: f.Range,
		Value: func(s State) float64 { return f.Figure(s.Settings, s.Catalogue) },
		Set:   func(s State, v float64) job.Settings { return f.With(s.Settings, v) }}
	if change != nil {
		change(&q)
	}
	return newMeasure(b, q)
}

// newMeasure puts a quantity to a bench.
func newMeasure(b Bench, q quantity) *measure {
	m := &measure{quantity: q, bench: b}
	m.call = cmp.Or(m.call, m.Name)
	if m.From == m.To {
		m.From, m.To = m.Least, m.Most
	}
	m.rule = NewRule(m.onRule(m.From), m.onRule(m.To), m.Step)
	m.rule.Low, m.rule.High = m.onRule(m.Low), m.onRule(m.High)
	m.rule.Changed, m.rule.Rested = func(at float64) { m.set(m.offRule(at)) }, b.Rest
	if m.Log {
		m.rule.Step = 0
	}
	m.field = newField()
	m.field.Typed, m.field.Rested, m.field.Stepped = m.typed, m.done, m.stepped
	m.field.Began = func() { m.was = m.Value(m.now) }
	m.field.Back = func() { // to the value itself: its text may have lost some of it
		m.set(m.was)
		m.done()
	}
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
func (m *measure) rules() map[string]*Rule {
	if !m.box.Visible() {
		return nil
	}
	return map[string]*Rule{m.call: m.rule}
}

// onRule is where a value lies on the rule, and offRule the value at a place of it, rounded to four figures.
func (q *quantity) onRule(v float64) float64 {
	if q.Log {
		return math.Log10(math.Max(v, 1e-9))
	}
	return v
}

func (q *quantity) offRule(at float64) float64 {
	if !q.Log {
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
	if m.Spans != nil {
		m.Low, m.High = m.Spans(s)
		m.rule.Wear(m.onRule(m.Low), m.onRule(m.High))
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
	if m.Limits != nil {
		return m.Limits(m.now)
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

func (q *quantity) sensible(u unit.System) string {
	if u == unit.Inch && q.Kind == unit.Lengths && q.High > 100 {
		return unit.Number(q.Low/25.4, 0) + " to " + unit.Number(q.High/25.4, 0)
	}
	return q.Kind.Write(q.Low, u) + " to " + q.Kind.Write(q.High, u)
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
