package job_test

import (
	"context"
	"testing"

	"grainstack/assets/stocktest"
	"grainstack/slicing/job"
	"grainstack/slicing/jobtest"
	"grainstack/slicing/mesh"
	"grainstack/slicing/solidtest"
)

func BenchmarkEvaluateInstant(b *testing.B) {
	c := stocktest.Catalogue(b)
	s := job.Default(c)
	st := jobtest.Big(b, s)
	for b.Loop() {
		if s.Wall += 0.1; s.Wall > 40 {
			s.Wall = 5
		}
		if _, err := job.Instant(context.Background(), st, s, c); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkEvaluateSettled(b *testing.B) {
	c := stocktest.Catalogue(b)
	s := job.Default(c)
	st := jobtest.Big(b, s)
	for b.Loop() {
		if _, err := job.Settle(context.Background(), st, s, c); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkStand is what a turn of the piece costs before its figures are known.
func BenchmarkStand(b *testing.B) {
	c := stocktest.Catalogue(b)
	s := job.Default(c)
	p := job.NewPiece("test", solidtest.Bumpy(100, jobtest.Million), mesh.Raw{})
	for b.Loop() {
		if _, err := job.Stand(context.Background(), p, s.Stand()); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkPlan(b *testing.B) {
	c := stocktest.Catalogue(b)
	s := job.Default(c)
	st := jobtest.Big(b, s)
	f := settle(b, st, s, c)
	for b.Loop() {
		if _, err := job.Plan(context.Background(), st, f, 6); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkReached is both cutters over every side of a piece of 400 x 300 x 250 mm, on columns half a millimetre apart.
func BenchmarkReached(b *testing.B) {
	c := stocktest.Catalogue(b)
	s := job.Default(c)
	m := solidtest.Bumpy(100, jobtest.Million)
	size := m.Box().Size()
	st := standing(b, solidtest.Stretch(m, 400/size.X, 300/size.Y, 250/size.Z), s)
	f := settle(b, st, s, c)
	for b.Loop() {
		if _, err := job.Reach(context.Background(), st, f, 0, nil, nil); err != nil {
			b.Fatal(err)
		}
	}
}
