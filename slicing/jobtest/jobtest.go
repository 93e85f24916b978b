// Package jobtest is for tests: pieces set down and settled with one line, and figures compared.
package jobtest

import (
	"context"
	"math"
	"testing"

	"grainstack/slicing/job"
	"grainstack/slicing/mesh"
	"grainstack/slicing/solidtest"
	"grainstack/slicing/stock"
)

// Standing places a mesh at the settings' stand, with its hollow where it can have one.
func Standing(t testing.TB, m *mesh.Mesh, s job.Settings) *job.Standing {
	t.Helper()
	ctx := context.Background()
	p := job.NewPiece("test", m, mesh.Raw{})
	st, err := job.Stand(ctx, p, s.Stand())
	if err != nil {
		t.Fatal(err)
	}
	if p.Solid() && s.Wall > 0 {
		g, err := p.Hollow(ctx, nil)
		if err != nil {
			t.Fatal(err)
		}
		if st, err = st.WithField(ctx, g); err != nil {
			t.Fatal(err)
		}
	}
	return st
}

// Settled are the settled figures of a standing; it fails where they are withheld.
func Settled(t testing.TB, st *job.Standing, s job.Settings, c *stock.Catalogue) *job.Figures {
	t.Helper()
	f, err := job.Settle(context.Background(), st, s, c)
	if err != nil {
		t.Fatal(err)
	}
	if !f.Withheld.None() {
		t.Fatalf("figures are withheld: %s", f.Withheld)
	}
	return f
}

// Reached is what the cutters reach, on columns so many mm apart.
func Reached(t testing.TB, st *job.Standing, f *job.Figures, c *stock.Catalogue, step float64) *job.Reached {
	t.Helper()
	r, err := job.Reach(context.Background(), st, f, step, nil, nil)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// Near fails where got is more than a share off want.
func Near(t testing.TB, what string, got, want, share float64) {
	t.Helper()
	if !(math.Abs(got-want) <= share*math.Abs(want)) {
		t.Errorf("%s: got %.6g, want %.6g within %.2g %%", what, got, want, 100*share)
	}
}

// Million is the size that the speed aims speak of.
const Million = 1_000_000

// Big is a closed piece of a million triangles, some 400 mm across, with its hollow known.
func Big(t testing.TB, s job.Settings) *job.Standing {
	t.Helper()
	return Standing(t, solidtest.Stretch(solidtest.Bumpy(100, Million), 1, 0.75, 0.62), s)
}
