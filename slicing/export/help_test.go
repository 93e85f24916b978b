package export

import (
	"context"
	"math"
	"testing"

	"grainstack/assets/stocktest"
	"grainstack/slicing/geom"
	"grainstack/slicing/job"
	"grainstack/slicing/mesh"
)

// A stacked piece is a mesh as settings divide it.
type stacked struct {
	st *job.Standing
	f  *job.Figures
}

// divide works out a piece. The layer's thickness is set by the board held at its skim.
func divide(t testing.TB, m *mesh.Mesh, change func(s *job.Settings)) stacked {
	t.Helper()
	c := stocktest.Catalogue(t)
	s := job.Default(c)
	change(&s)
	ctx := context.Background()
	p := job.NewPiece("test", m, mesh.Raw{})
	st, err := job.Stand(ctx, p, s.Stand())
	if err != nil {
		t.Fatal(err)
	}
	if s.Wall > 0 {
		g, err := p.Hollow(ctx, nil)
		if err != nil {
			t.Fatal(err)
		}
		if st, err = st.WithField(ctx, g); err != nil {
			t.Fatal(err)
		}
	}
	f, err := job.Settle(ctx, st, s, c)
	if err != nil || !f.Withheld.None() {
		t.Fatal(err, f.Withheld)
	}
	return stacked{st, f}
}

// solids makes all layers.
func (s stacked) solids(t testing.TB) []*mesh.Mesh {
	t.Helper()
	all := make([]int, len(s.f.Layers))
	for i := range all {
		all[i] = i + 1
	}
	made, err := LayerSolids(context.Background(), s.st, s.f, all)
	if err != nil {
		t.Fatal(err)
	}
	out := make([]*mesh.Mesh, len(made))
	for i := range made {
		out[i] = made[i].Mesh
	}
	return out
}

// thickness asks for layers of a thickness.
func thickness(t testing.TB, mm float64) func(s *job.Settings) {
	return func(s *job.Settings) {
		s.Hold = job.HoldSkim
		*s = s.WithLayer(stocktest.Catalogue(t), mm)
	}
}

// both makes several changes.
func both(changes ...func(s *job.Settings)) func(s *job.Settings) {
	return func(s *job.Settings) {
		for _, c := range changes {
			c(s)
		}
	}
}

func wall(mm float64, k job.CoreKind, bottom, top int) func(s *job.Settings) {
	return func(s *job.Settings) { s.Wall, s.Core, s.CapBottom, s.CapTop = mm, k, bottom, top }
}

func turned(x, y, z float64) func(s *job.Settings) {
	return func(s *job.Settings) { s.Turn = geom.TurnXYZ(x, y, z) }
}

// off is the difference as a share of the second.
func off(a, b float64) float64 { return math.Abs(a-b) / math.Abs(b) }
