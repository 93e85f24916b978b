package panel

import (
	"context"
	"math/rand/v2"
	"testing"

	own "grainstack/slicing/geom"
)

// torso is 15 layers of a solid body some 400 mm wide, two parts a layer, in outlines of so many points.
func torso(points int) (parts []Part) {
	r := rand.New(rand.NewPCG(11, 5))
	for l := range 15 {
		wide := 0.75 + 0.25*r.Float64()
		parts = append(parts,
			Part{ID{l + 1, 0}, own.Region{wavy(r, 175*wide, 100*wide, points)}, l%2 == 1, ""},
			Part{ID{l + 1, 1}, own.Region{wavy(r, 30+50*r.Float64(), 25+35*r.Float64(), points/3)}, l%2 == 1, ""})
	}
	return parts
}

// BenchmarkNest lays 30 parts: the first valid layout, and a good one.
func BenchmarkNest(b *testing.B) {
	for _, tt := range []struct {
		name  string
		steps int
	}{{"first", 0}, {"good", Steps}} {
		b.Run(tt.name, func(b *testing.B) {
			parts := torso(800)
			var l Layout
			for b.Loop() {
				bench, err := NewBench(context.Background(), parts, held())
				if err != nil {
					b.Fatal(err)
				}
				if l, err = bench.Rearrange(context.Background(), Layout{}, tt.steps, nil); err != nil {
					b.Fatal(err)
				}
			}
			verify(b, l, parts, held())
			used := 0.0
			for _, p := range l.Panels {
				used += p.UsedPercent
			}
			b.ReportMetric(float64(len(l.Panels)), "panels")
			b.ReportMetric(used/float64(len(l.Panels)), "%used")
		})
	}
}

// BenchmarkFits is one step of dragging a part across a panel that is full.
func BenchmarkFits(b *testing.B) {
	parts := statue(1, 15, 2000)
	bench := newBench(b, parts, held())
	l, err := bench.Rearrange(context.Background(), Layout{}, 200, nil)
	if err != nil {
		b.Fatal(err)
	}
	p := l.Panels[0].Placed[0]
	k := 0
	for b.Loop() {
		p.At = own.Vec2{X: 100 + float64(k*37%400), Y: 100 + float64(k*53%400)}
		bench.Fits(l, 1, p)
		k++
	}
	b.ReportMetric(float64(len(l.Panels[0].Placed)), "parts")
}

func BenchmarkTabs(b *testing.B) {
	g := statue(1, 9, 2000)[8].Shadow
	for b.Loop() {
		t, err := newTabPlaces(g, TabRules{Width: 8, Channel: 8.35, Spacing: 150})
		if err != nil {
			b.Fatal(err)
		}
		t.Choose()
	}
}

func BenchmarkPins(b *testing.B) {
	parts := statue(1, 9, 1000)
	faces := []own.Region{parts[6].Shadow, parts[8].Shadow}
	for b.Loop() {
		if _, _, err := Pins(context.Background(), faces, nil, PinRules{Diameter: 6, Cover: 4, Third: 300}); err != nil {
			b.Fatal(err)
		}
	}
}
