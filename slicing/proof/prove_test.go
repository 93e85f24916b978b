package proof

import (
	"context"
	"testing"

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
