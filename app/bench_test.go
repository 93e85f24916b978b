package app

import (
	"testing"

	"grainstack/slicing/job"
)

// BenchmarkFollow is what the window's goroutine does for one step of a rule, painting left out.
func BenchmarkFollow(b *testing.B) {
	for _, bm := range []struct {
		name   string
		card   string
		change func(*job.Settings, int)
	}{
		{"wall", "card 5", func(s *job.Settings, i int) { s.Wall = 10 + float64(i%20) }},
		{"layer", "card 4", func(s *job.Settings, i int) { s.Skim = 0.5 + float64(i%20)/20 }},
	} {
		b.Run(bm.name, func(b *testing.B) {
			r := newRig(b, ring())
			r.run(bm.card)
			i := 0
			for b.Loop() {
				i++
				r.Do(bm.name, func(s job.Settings) job.Settings { bm.change(&s, i); return s })
				r.drain()
			}
		})
	}
}
