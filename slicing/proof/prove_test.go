package proof

import (
	"context"
	"math"
	"testing"

	"grainstack/slicing/geom"
	"grainstack/slicing/program"
	"grainstack/slicing/stock"
	units "grainstack/slicing/unit"
)

func written(t testing.TB, all []program.Program, m program.Machine) []Written {
	t.Helper()
	var out []Written
	for i := range all {
		files, err := program.Write(all[i], m)
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, Written{&all[i], files})
	}
	return out
}

func prove(t testing.TB, w *Wanted, l Limits, m program.Machine, all []Written) *Proof {
	t.Helper()
	p, err := Prove(context.Background(), w, l, m, all)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// Sound programs hold.
func TestSound(t *testing.T) {
	w := wanted()
	l, m := usual()
	p := prove(t, w, l, m, written(t, programs(), m))
	for _, f := range p.Faults {
		t.Errorf("%v: %v", f.What, f)
	}
	for _, f := range p.Figures {
		t.Logf("%+v", f)
	}
}

// Sound programs hold as well with arcs, in inches, in parts, by chords, from other zeros, and with lines that are not understood.
func TestSoundHowever(t *testing.T) {
	for name, change := range map[string]func(m *program.Machine){
		"arcs":            func(*program.Machine) {},
		"chords":          func(m *program.Machine) { m.Arcs = false },
		"inches":          func(m *program.Machine) { m.Units = units.Inch },
		"parts":           func(m *program.Machine) { m.MostLines = 900 },
		"parts by bytes":  func(m *program.Machine) { m.MostBytes, m.Units = 9000, units.Inch },
		"own lines":       func(m *program.Machine) { m.First, m.Last = []string{"G28.1", "M8"}, []string{"M9", "G28"} },
		"another zero":    func(m *program.Machine) { m.Zero, m.Height = stock.AtMiddle, stock.OnBed },
		"a dowel's zero":  func(m *program.Machine) { m.Zero, m.Pause = stock.AtDowel, true },
		"a hand's switch": func(m *program.Machine) { m.Spindle = false },
	} {
		t.Run(name, func(t *testing.T) {
			l, m := usual()
			change(&m)
			s := spoiling{t: t, programs: programs()}
			s.round(nil)
			p := prove(t, wanted(), l, m, written(t, s.programs, m))
			for _, f := range p.Faults {
				t.Errorf("%v: %v", f.What, f)
			}
		})
	}
}

// A program that cuts the tabs down to what is to be left of them holds, and the part hangs on that.
func TestFreed(t *testing.T) {
	l, m := usual()
	s := spoiling{t: t, programs: programs(), l: l}
	s.frees(5.5, 0)
	p := prove(t, wanted(), s.l, m, written(t, s.programs, m))
	for _, f := range p.Faults {
		t.Errorf("%v: %v", f.What, f)
	}
	if f := p.Figures[freeA]; f.RemovedCm3 < 0.05 {
		t.Errorf("it took %.3f cm³", f.RemovedCm3)
	}
}

// Programs in inches do to the board what those in millimetres do.
func TestInches(t *testing.T) {
	l, m := usual()
	mm := prove(t, wanted(), l, m, written(t, programs(), m))
	m.Units = units.Inch
	inch := prove(t, wanted(), l, m, written(t, programs(), m))
	for i, f := range mm.Figures {
		g := inch.Figures[i]
		if math.Abs(f.RemovedCm3-g.RemovedCm3) > 0.002*f.RemovedCm3 || math.Abs(f.Deepest-g.Deepest) > 0.02 || math.Abs(f.CutMM-g.CutMM) > 0.001*f.CutMM ||
			math.Abs(f.Lowest-g.Lowest) > 0.003 || math.Abs(f.Minutes-g.Minutes) > 0.003*f.Minutes || math.Abs(f.Left-g.Left) > 0.01 {
			t.Errorf("in mm %+v\nin inches %+v", f, g)
		}
	}
}

// A part without tabs is no fault of the programs, but it is told.
func TestUnheld(t *testing.T) {
	w := wanted()
	l, m := usual()
	for n, k := range w.Kind {
		if k == Tab {
			w.Kind[n], w.Low[n], w.High[n] = Free, 0, 0
		}
	}
	all := programs()
	s := spoiling{programs: all}
	for _, y := range []float64{61.5, 15.3} {
		for z := -3.0; z >= -12; z -= 3 {
			s.insert(roughA, geom.Vec{X: 39.5, Y: y, Z: z}, geom.Vec{X: 57.5, Y: y, Z: z})
		}
	}
	p := prove(t, w, l, m, written(t, s.programs, m))
	if len(p.Unheld) != 1 || p.Unheld[0] != 1 {
		t.Errorf("parts without tabs are %v, want the only one", p.Unheld)
	}
	for _, f := range p.Faults {
		if f.What == Loose {
			t.Errorf("%v", f)
		}
	}
	if p := prove(t, wanted(), l, m, written(t, programs(), m)); len(p.Unheld) != 0 {
		t.Errorf("with tabs %v are told", p.Unheld)
	}
}
