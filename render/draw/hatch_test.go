package draw

import (
	"math"
	"testing"

	"grainstack/slicing/geom"
)

// star is a ring with n points that swings in and out, about c.
func star(c geom.Vec2, r float64, n int) geom.Ring {
	out := make(geom.Ring, n)
	for i := range out {
		a := 2 * math.Pi * float64(i) / float64(n)
		f := r * (1 + 0.3*math.Sin(5*a))
		out[i] = geom.Vec2{X: c.X + f*math.Cos(a), Y: c.Y + f*math.Sin(a)}
	}
	return out
}

func backwards(r geom.Ring) geom.Ring {
	out := make(geom.Ring, len(r))
	for i, p := range r {
		out[len(r)-1-i] = p
	}
	return out
}

func holed() geom.Region {
	return geom.Region{star(geom.Vec2{X: 3, Y: -7}, 100, 400), backwards(star(geom.Vec2{X: 10, Y: 0}, 35, 90)), star(geom.Vec2{X: 210, Y: 5}, 30, 50)}
}

func TestHatchLiesInside(t *testing.T) {
	g := holed()
	for _, along := range []geom.Vec2{{X: 1}, {Y: 1}, {X: 1, Y: -1}, {X: 3, Y: 0.4}, {X: -2}} {
		u := along.Scale(1 / along.Len())
		v := geom.Vec2{X: -u.Y, Y: u.X}
		from := geom.Vec2{X: 1.7, Y: 0.3}
		lines := Hatch(g, along, 2.3, from)
		if len(lines) < 80 {
			t.Fatalf("along %v: %d strokes", along, len(lines))
		}
		for _, l := range lines {
			d := l.Segment[1].Sub(l.Segment[0])
			if math.Abs(d.Cross(u)) > 1e-9*d.Len() || d.Dot(u) <= 0 {
				t.Fatalf("along %v: stroke runs %v", along, d)
			}
			for _, p := range l.Segment {
				if off := p.Sub(from).Dot(v) - 2.3*float64(l.Row); math.Abs(off) > 1e-9 {
					t.Fatalf("along %v: row %d is off by %g", along, l.Row, off)
				}
			}
			for i := range 20 {
				if p := l.Segment[0].Add(d.Scale((float64(i) + 0.5) / 20)); !g.Contains(p) {
					t.Fatalf("along %v: %v is outside", along, p)
				}
			}
		}
	}
}

// Cavalieri: length of all strokes times spacing is the area. The trapezium rule is off by at most half a spacing times
// the extent for each turn of the outline; at this spacing far less.
func TestHatchCoversTheArea(t *testing.T) {
	g := holed()
	for _, along := range []geom.Vec2{{X: 1}, {Y: 1}, {X: 1, Y: 1}} {
		sum := 0.0
		for _, l := range Hatch(g, along, 0.25, geom.Vec2{}) {
			sum += l.Segment[1].Sub(l.Segment[0]).Len() * 0.25
		}
		if want := g.Area(); math.Abs(sum-want) > 2e-3*want {
			t.Errorf("along %v: strokes cover %.1f, area is %.1f", along, sum, want)
		}
	}
}

func TestHatchByRule(t *testing.T) {
	square := geom.Region{{{}, {X: 10}, {X: 10, Y: 10}, {Y: 10}}}
	clockwise := geom.Region{backwards(square[0])}
	for _, tt := range []struct {
		name    string
		g       geom.Region
		along   geom.Vec2
		spacing float64
		want    int
	}{
		{"lower edge counts, upper does not", square, geom.Vec2{X: 1}, 5, 2},
		{"nothing between the rows", square, geom.Vec2{X: 1}, 100, 1},
		{"inside out is empty", clockwise, geom.Vec2{X: 1}, 1, 0},
		{"no direction", square, geom.Vec2{}, 1, 0},
		{"no spacing", square, geom.Vec2{X: 1}, 0, 0},
		{"spacing not a number", square, geom.Vec2{X: 1}, math.NaN(), 0},
		{"far too fine", square, geom.Vec2{X: 1}, 1e-9, 0},
		{"empty", nil, geom.Vec2{X: 1}, 1, 0},
		{"empty ring", geom.Region{{}}, geom.Vec2{X: 1}, 1, 0},
		{"not a number", geom.Region{{{X: math.NaN(), Y: math.NaN()}, {X: 1}, {Y: 1}}}, geom.Vec2{X: 1}, 1, 0},
	} {
		if got := len(Hatch(tt.g, tt.along, tt.spacing, geom.Vec2{})); got != tt.want {
			t.Errorf("%s: %d strokes, want %d", tt.name, got, tt.want)
		}
	}
}

func BenchmarkHatch(b *testing.B) {
	g := geom.Region{star(geom.Vec2{}, 200, 4000), backwards(star(geom.Vec2{}, 90, 4000))}
	for b.Loop() {
		Hatch(g, geom.Vec2{X: 1}, 3.5, geom.Vec2{})
	}
}
