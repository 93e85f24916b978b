package card

import (
	"context"
	"math"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"grainstack/app/paper"
	"grainstack/app/session"
	"grainstack/assets/stocktest"
	"grainstack/slicing/chalk"
	"grainstack/slicing/geom"
	"grainstack/slicing/job"
	"grainstack/slicing/mend"
	"grainstack/slicing/mesh"
	"grainstack/slicing/solidtest"
	"grainstack/slicing/stock"
	"grainstack/slicing/unit"
)

// A desk is a bench that keeps what was written on it and shows it on its cards again, as the window does.
type desk struct {
	state State
	cards []*Card
	names []string
	rests int
	ran   []string
	hint  string
	went  []int

	better  job.JointChoice // put into the figures, as settled ones have it
	program *stock.Catalogue
}

func (d *desk) Do(name string, change func(job.Settings) job.Settings) {
	d.names = append(d.names, name)
	d.state.Settings = change(d.state.Settings)
	x, y, z := d.state.Settings.Turn.Degrees()
	d.state.Angles = [3]float64{x, y, z}
	d.show()
}
func (d *desk) Rest()                           { d.rests++ }
func (d *desk) Look(change func(*session.View)) { change(&d.state.View); d.show() }
func (d *desk) Go(finding int)                  { d.went = append(d.went, finding) }
func (d *desk) Run(command string)              { d.ran = append(d.ran, command) }
func (d *desk) Hint(words string)               { d.hint = words }
func (d *desk) show() {
	f, err := job.Instant(context.Background(), d.state.Standing, d.state.Settings, d.state.Catalogue)
	if f != nil {
		f.BetterJoint = d.better
	}
	d.state.Figures, d.state.Stale = f, err != nil || d.state.Standing.Stand != d.state.Settings.Stand()
	for _, c := range d.cards {
		c.Put(d.state)
	}
}

// own keeps cutters on the desk's shelf.
func (d *desk) own() OwnCutters {
	file := []byte(nil)
	put := func(text []byte, err error) error {
		if err != nil {
			return err
		}
		c, _, err := d.program.Merge("own.json", text)
		if err != nil {
			return err
		}
		file, d.state.Catalogue = text, c
		d.show()
		return nil
	}
	return OwnCutters{
		Keep: func(k stock.Cutter) error { return put(stock.WithCutter(file, k)) },
		Drop: func(k stock.Cutter) error { return put(stock.WithoutCutter(file, k.Key)) },
	}
}

// newDesk is a torus on the bench with every card folded out.
func newDesk(t *testing.T) *desk {
	t.Helper()
	a := test.NewTempApp(t)
	a.Settings().SetTheme(paper.NewTheme(paper.Light, nil, nil))
	c := stocktest.Catalogue(t)
	p := job.NewPiece("ring", solidtest.Torus(80, 43, 60, 30), mesh.Raw{})
	d := &desk{program: c, state: State{Settings: job.Default(c), Catalogue: c, Piece: p, Picked: Picked{Layer: 1, Distance: 50}, Mend: MendState{Fault: "Mending was called off."}}}
	d.state.Settings.Mend.Saw = p.SawBase(d.state.Settings, 4)
	d.state.Mend.Survey = &mend.Findings{List: []mend.Finding{{Kind: mend.Hole, Size: 40}, {Kind: mend.Spike, Size: 3}}}
	d.state.Mend.Survey.Counts[mend.Hole], d.state.Mend.Survey.Counts[mend.Spike] = 1, 1
	var err error
	if d.state.Standing, err = job.Stand(context.Background(), p, d.state.Settings.Stand()); err != nil {
		t.Fatal(err)
	}
	d.cards = []*Card{NewPiece(d), NewMending(d), NewStand(d), NewBoard(d), NewWall(d), NewFinish(d), NewCutters(d, d.own()), NewPanels(d), NewChalk(d)}
	d.show()
	for _, one := range d.cards {
		one.Toggle()
	}
	return d
}

// each runs f for every row of one kind, under its card's and its own name.
func each[R row](t *testing.T, d *desk, name func(R) string, f func(*testing.T, R)) {
	t.Helper()
	n := 0
	for _, c := range d.cards {
		for _, r := range c.rows {
			if one, ok := r.(R); ok {
				n++
				t.Run(c.Title+" "+name(one), func(t *testing.T) { f(t, one) })
			}
		}
	}
	if n == 0 {
		t.Fatal("no such row")
	}
}

func TestShowingCallsNothingBack(t *testing.T) {
	d := newDesk(t)
	other := d.state
	other.Settings.Wall, other.Settings.Skim, other.Settings.Board = 33, 0.4, d.state.Catalogue.Boards[1].Key
	other.Settings.Alternate, other.Settings.PanelX = false, 610
	other.View = session.View{CutAway: true, Lift: 5, Marks: true, Units: unit.Inch}
	for _, c := range d.cards {
		c.Put(other)
		c.Put(d.state)
	}
	if len(d.names) > 0 || d.rests > 0 {
		t.Errorf("showing a state wrote %v", d.names)
	}
}

// Every typed value arrives, in its unit, and stands there afterwards.
func TestTypedValues(t *testing.T) {
	d := newDesk(t)
	each(t, d, func(m *measure) string { return m.call }, func(t *testing.T, m *measure) {
		least, most := m.limits()
		want := math.Max(least, math.Min(most, m.Low+0.4*(m.High-m.Low)))
		if m.Kind == unit.Counts || m.Kind == unit.Speeds || m.Kind == unit.Turns {
			want = math.Round(want)
		}
		if m.Off != nil && m.Off(d.state) {
			t.Fatal("off, though the piece is hollow")
		}
		d.names = nil
		m.field.FocusGained()
		m.field.SetText("")
		test.Type(m.field, m.Kind.Write(want, unit.Metric))
		m.field.FocusLost()
		if got := m.Value(d.state); math.Abs(got-want) > 0.006*math.Max(1, want) {
			t.Errorf("typed %v, the setting is %v", want, got)
		}
		if m.View == nil && (len(d.names) == 0 || d.names[0] != m.call) {
			t.Errorf("undo would call it %v, want %q", d.names, m.call)
		}
		if m.under.Text() == "" {
			t.Error("no word on what it moves")
		}
	})
}

func TestWrongValuesAreExplainedInPlace(t *testing.T) {
	d := newDesk(t)
	each(t, d, func(m *measure) string { return m.call }, func(t *testing.T, m *measure) {
		_, most := m.limits()
		for _, wrong := range []string{"oak", m.Kind.Write(most*3+10, unit.Metric)} {
			before, text := d.state.Settings, m.field.Text
			calm := m.under.Text()
			m.field.FocusGained()
			m.field.SetText(wrong)
			if m.under.Text() == calm {
				t.Errorf("%q: nothing is said about it", wrong)
			}
			if d.state.Settings != before {
				t.Errorf("%q was taken", wrong)
			}
			m.field.FocusLost()
			if m.field.Text != text || m.under.Text() != calm {
				t.Errorf("%q: afterwards %q stands there, want %q; said %q", wrong, m.field.Text, text, m.under.Text())
			}
		}
	})
}

// A rule that is dragged writes many times and rests once; keys rest each time.
func TestRules(t *testing.T) {
	d := newDesk(t)
	each(t, d, func(m *measure) string { return m.call }, func(t *testing.T, m *measure) {
		m.rule.Resize(fyne.NewSize(120, 22))
		m.rule.value = m.rule.Min
		d.names, d.rests = nil, 0
		from := m.Value(d.state)
		for x := float32(10); x <= 50; x += 5 {
			m.rule.Dragged(&fyne.DragEvent{PointEvent: fyne.PointEvent{Position: fyne.NewPos(x, 8)}})
		}
		m.rule.DragEnd()
		if m.Value(d.state) == from {
			t.Fatalf("dragging left %v", from)
		}
		if m.View == nil && len(d.names) < 2 {
			t.Errorf("wrote %d times, want live", len(d.names))
		}
		if d.rests != 1 {
			t.Errorf("rested %d times, want once", d.rests)
		}
		from = m.Value(d.state)
		m.rule.TypedKey(&fyne.KeyEvent{Name: fyne.KeyRight})
		if m.Value(d.state) <= from {
			t.Errorf("right key: from %v to %v", from, m.Value(d.state))
		}
	})
}

func TestChoices(t *testing.T) {
	d := newDesk(t)
	each(t, d, func(c *choice) string { return c.Name }, func(t *testing.T, c *choice) {
		for _, o := range c.Options {
			if o.Key == "" {
				continue // own size: follows from the values
			}
			c.sel.SetSelected(o.Name)
			if got := c.Value(d.state); got != o.Key {
				t.Errorf("chose %q: the setting is %q", o.Key, got)
			}
			if err := d.state.Settings.Check(d.state.Catalogue); err != nil {
				t.Errorf("chose %q: %v", o.Key, err)
			}
		}
	})
}

func TestTicks(t *testing.T) {
	d := newDesk(t)
	each(t, d, func(k *tick) string { return k.Name }, func(t *testing.T, k *tick) {
		for range 2 {
			was := k.Value(d.state)
			test.Tap(k.check)
			if k.Value(d.state) == was || k.check.Checked == was {
				t.Errorf("a tap left it %v", was)
			}
		}
	})
}

func TestPresses(t *testing.T) {
	d := newDesk(t)
	d.state.Settings.Mix, d.state.Settings.Tones.Own = "2:turn", true
	d.state.Settings.Chalk, _ = d.state.Settings.Chalk.With(chalk.Stroke{Kind: chalk.KeepWhole, Radius: 5, Path: []geom.Vec{{X: 123}}})
	d.state.Off = Off{Survey: true, Hollow: true, Reach: true, Shop: true}
	d.state.View.Brush.Kind, d.better = chalk.KeepWhole, job.JointChoice{At: 5, Layers: 7}
	d.show()
	n := 0
	for _, c := range d.cards {
		for _, r := range c.rows {
			p, ok := r.(*presses)
			if !ok {
				continue
			}
			for i, b := range p.buttons {
				if b.Text == "As it came" {
					continue // does nothing to a piece that stands so
				}
				start := d.state.Settings
				if b.Text == "Straighten" {
					d.state.Settings.Turn = solidTurn()
					d.state.Angles = [3]float64{10, 20, 30}
					d.show()
				}
				before, ran := d.state.Settings, len(d.ran)+len(d.went)
				if b.Text == "" || b.Disabled() {
					t.Errorf("%s: button %d is off", c.Title, i)
					continue
				}
				test.Tap(b)
				if d.state.Settings == before && len(d.ran)+len(d.went) == ran {
					t.Errorf("%s: %q did nothing", c.Title, b.Text)
				}
				d.state.Settings = start
				d.show()
				n++
			}
		}
	}
	if n < 8 {
		t.Errorf("only %d buttons were there", n)
	}
}

func TestAnOpenPieceSaysWhatItLacks(t *testing.T) {
	d := newDesk(t)
	m := solidtest.Sphere(50, 2000)
	open := &mesh.Mesh{Points: m.Points, Triangles: m.Triangles[:len(m.Triangles)-40]}
	p := job.NewPiece("bowl", open, mesh.Raw{})
	st, err := job.Stand(context.Background(), p, d.state.Settings.Stand())
	if err != nil {
		t.Fatal(err)
	}
	d.state.Piece, d.state.Standing = p, st
	d.show()
	if got := volume(d.state); got != "– (needs a solid)" {
		t.Errorf("volume of an open piece: %q", got)
	}
	if findings(d.state) == "" {
		t.Error("nothing is said about the holes")
	}
	if got := saved(d.state); got == "" {
		t.Error("nothing is said about the wall")
	}
}

func TestFoldedCardsSayTheirSettings(t *testing.T) {
	d := newDesk(t)
	for _, c := range d.cards {
		c.Toggle()
		if c.Open() || c.line.Text == "" || c.body.Visible() {
			t.Errorf("%s: open %v, says %q", c.Title, c.Open(), c.line.Text)
		}
	}
}
