package panel

import (
	"context"
	_ "embed"
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	own "grainstack/slicing/geom"
)

// The corners of open nesting instances, as ESICUP (the working group on cutting and packing within EURO) collects them: a strip
// of a height is to be as short as can be. Each begins with its name, height, turns, number and area of its parts, and has a line
// a shape: how many of it, and its corners.
//
//go:embed testdata/strips.txt
var stripsText string

// A strip is such an instance, scaled to the panel's millimetres.
type strip struct {
	name   string
	height float64
	turned bool // by 180 degrees as well
	parts  []Part
	area   float64
	best   float64 // density in the literature, %
}

// bestStrips are the best densities known, in %: shapes0 after Gardeyn, Vanden Berghe and Wauters (arXiv 2509.13329, 2025), the
// others after Elkeran (EJOR 231, 2013), from memory; both after minutes to hours of search.
var bestStrips = map[string]float64{"albano": 89.58, "shapes0": 70.0, "shirts": 88.96, "swim": 75.94, "trousers": 91.0}

// openStrips reads the instances; one that is not as published fails.
func openStrips(t testing.TB) (out []strip) {
	t.Helper()
	var counted int
	var area, unit float64
	for line := range strings.Lines(stripsText) {
		fields := strings.Fields(line)
		var s strip
		var turn int
		if len(fields) == 5 {
			if n, err := fmt.Sscan(line, &s.name, &s.height, &turn, &counted, &area); err == nil && n == 5 {
				s.best, s.turned, unit = bestStrips[s.name], turn == 180, 800/s.height
				s.height, s.area = 800, area*unit*unit
				out = append(out, s)
				continue
			}
		}
		var demand int
		fmt.Sscan(fields[0], &demand)
		var ring own.Ring
		for _, f := range fields[1:] {
			var x, y float64
			if _, err := fmt.Sscanf(f, "%g,%g", &x, &y); err != nil {
				t.Fatal(err)
			}
			ring = append(ring, own.Vec2{X: x, Y: y}.Scale(unit))
		}
		if ring.Area() < 0 {
			ring = backwards(ring)
		}
		now := &out[len(out)-1]
		for n := range demand {
			now.parts = append(now.parts, Part{ID: ID{len(fields) + 1000*len(now.parts), n}, Shadow: own.Region{ring}})
			area -= ring.Area() / unit / unit
		}
		if counted -= demand; counted < 0 || counted == 0 && math.Abs(area) > 1e-5*now.area/unit/unit {
			t.Fatalf("%s: the instance is not as published", now.name)
		}
	}
	return out
}

// lay lays a strip's parts on a strip of a length; ok is false if they don't fit on it after so many steps.
func (s *strip) lay(t testing.TB, length float64, steps int, seed uint64) (l Layout, r Rules, ok bool) {
	ctx := context.Background()
	r = Rules{PanelX: length, PanelY: s.height, Margin: 0.1, Seed: seed}
	shop, err := newShop(ctx, newBench(t, s.parts, r), 1)
	if err != nil {
		t.Fatal(err)
	}
	left := make([]int, len(s.parts))
	for i := range left {
		left[i] = i
		shop.shapes[i][1].fits = shop.shapes[i][1].fits && s.turned
	}
	loads, misfits, err := shop.first(ctx, nil, left)
	if err != nil || len(misfits) > 0 {
		t.Fatal(err, misfits)
	}
	if len(loads) > 1 {
		loads = shop.search(ctx, loads, steps, newTally(steps, nil))
	}
	l = shop.layout(loads)
	return l, r, len(l.Panels) == 1
}

// Every instance is laid at a density that a plain search reaches at once; BenchmarkStrips says how near a long one comes to the
// best known.
func TestStrips(t *testing.T) {
	for _, s := range openStrips(t) {
		wanted := s.best - 20
		l, r, ok := s.lay(t, s.area/s.height*100/wanted, 400, 1)
		if !ok {
			t.Errorf("%s: does not fit at %.1f %% density, the best known is %.2f %%", s.name, wanted, s.best)
			continue
		}
		verify(t, l, s.parts, r)
	}
}

// BenchmarkStrips searches each instance for a minute.
func BenchmarkStrips(b *testing.B) {
	for _, s := range openStrips(b) {
		b.Run(s.name, func(b *testing.B) {
			for b.Loop() {
				dense := 0.0
				begun := time.Now()
				length := s.area / s.height * 100 / (s.best - 20)
				for seed := uint64(1); time.Since(begun) < time.Minute; seed++ {
					l, r, ok := s.lay(b, length, 4000, seed)
					if ok {
						verify(b, l, s.parts, r)
						dense = 100 * s.area / s.height / length
						length *= 0.99
					}
				}
				b.ReportMetric(dense, "%")
				b.ReportMetric(s.best-dense, "%_below_best")
			}
		})
	}
}
