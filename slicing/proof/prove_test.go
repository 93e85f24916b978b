package proof

import (
	"context"
	"testing"

	"grainstack/slicing/geom"
	"grainstack/slicing/program"
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
