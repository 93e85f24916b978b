package plane

import (
	"math"
	"math/rand"
	"testing"

	"grainstack/slicing/geom"
)

// wavy is a closed line of n points round the middle whose radius swings.
func wavy(n int, r, swing float64, waves int, cx, cy float64, ccw bool) geom.Ring {
	out := make(geom.Ring, n)
	for i := range n {
		a := 2 * math.Pi * float64(i) / float64(n)
		if !ccw {
			a = -a
		}
		d := r * (1 + swing*math.Sin(float64(waves)*a))
		out[i] = geom.Vec2{X: cx + d*math.Cos(a), Y: cy + d*math.Sin(a)}
	}
	return out
}

func TestTriangulateCoversTheOutlineOnce(t *testing.T) {
	square := geom.Ring{{X: 0, Y: 0}, {X: 4, Y: 0}, {X: 4, Y: 4}, {X: 0, Y: 4}}
	hole := geom.Ring{{X: 1, Y: 1}, {X: 1, Y: 3}, {X: 3, Y: 3}, {X: 3, Y: 1}}
	for _, tt := range []struct {
		name  string
		rings []geom.Ring
	}{
		{"square", []geom.Ring{square}},
		{"square with points on its sides", []geom.Ring{{{X: 0, Y: 0}, {X: 2, Y: 0}, {X: 4, Y: 0}, {X: 4, Y: 4}, {X: 2, Y: 4}, {X: 0, Y: 4}, {X: 0, Y: 2}}}},
		{"frame", []geom.Ring{square, hole}},
		{"star", []geom.Ring{wavy(900, 10, 0.6, 17, 0, 0, true)}},
		{"star with holes", []geom.Ring{wavy(2000, 10, 0.2, 9, 0, 0, true), wavy(300, 2, 0.3, 5, 3, 1, false), wavy(200, 2, 0.3, 5, -3, 1, false),
			wavy(100, 1, 0.3, 5, 0, -4, false)}},
		{"island in a hole", []geom.Ring{wavy(100, 10, 0, 1, 0, 0, true), wavy(90, 6, 0, 1, 0, 0, false), wavy(80, 3, 0, 1, 0, 0, true)}},
	} {
		var ids [][]int32
		var at []geom.Vec2
		want := 0.0
		for _, r := range tt.rings {
			var id []int32
			for _, p := range r {
				id = append(id, int32(len(at)))
				at = append(at, p)
			}
			ids = append(ids, id)
			want += r.Area()
		}
		got, ok := Triangulate(tt.rings)
		area, least := 0.0, 0.0
		for _, f := range got {
			a := geom.Ring{at[f[0]], at[f[1]], at[f[2]]}.Area()
			area, least = area+a, min(least, a)
		}
		if !ok || math.Abs(area-want) > 1e-9*want || least < -1e-12 {
			t.Errorf("%s: ok %v, area %v, want %v, least facet %v", tt.name, ok, area, want, least)
		}
		sides := map[[2]int32]int{}
		for _, f := range got {
			for k := range 3 {
				sides[[2]int32{f[k], f[(k+1)%3]}]++
			}
		}
		for _, id := range ids {
			for i := range id {
				if e := [2]int32{id[i], id[(i+1)%len(id)]}; sides[e] != 1 {
					t.Errorf("%s: side %v is in %d facets, want 1", tt.name, e, sides[e])
				}
			}
		}
	}
}

func TestTriangulateLargeRandomStar(t *testing.T) {
	rnd := rand.New(rand.NewSource(2))
	r := make(geom.Ring, 20000)
	for i := range r {
		a, d := 2*math.Pi*float64(i)/float64(len(r)), 5+5*rnd.Float64()
		r[i] = geom.Vec2{X: d * math.Cos(a), Y: d * math.Sin(a)}
	}
	got, ok := Triangulate([]geom.Ring{r})
	area := 0.0
	for _, f := range got {
		area += geom.Ring{r[f[0]], r[f[1]], r[f[2]]}.Area()
	}
	if !ok || len(got) != len(r)-2 || math.Abs(area-r.Area()) > 1e-9*area {
		t.Errorf("ok %v, %d facets, area %v, want %v", ok, len(got), area, r.Area())
	}
}

// TestTriangulateLooseHole: a hole in no outline is filled facing the other way, an outline beside it as ever.
func TestTriangulateLooseHole(t *testing.T) {
	outline, hole := wavy(100, 10, 0.2, 5, 0, 0, true), wavy(90, 6, 0.2, 5, 40, 0, false)
	rings := []geom.Ring{hole, outline}
	got, ok := Triangulate(rings)
	if !ok {
		t.Error("not ok")
	}
	balanced(t, rings, got)
	at := append(append(geom.Ring(nil), hole...), outline...)
	for _, f := range got {
		if a := (geom.Ring{at[f[0]], at[f[1]], at[f[2]]}).Area(); (a < 0) != (f[0] < 90) {
			t.Errorf("facet %v has %g mm²", f, a)
		}
	}
}

// TestTriangulateCrossing: an outline that crosses itself is told.
func TestTriangulateCrossing(t *testing.T) {
	if _, ok := Triangulate([]geom.Ring{{{X: 0, Y: 0}, {X: 10, Y: 0}, {X: 10, Y: 10}, {X: 5, Y: -5}, {X: 0, Y: 10}}}); ok {
		t.Error("a crossing is not told")
	}
}

// TestTriangulateStraight: points on slanted sides, off them by rounding alone, are no crossing.
func TestTriangulateStraight(t *testing.T) {
	var r geom.Ring
	for i := range 4 {
		sin, cos := math.Sincos(0.3 + float64(i)*math.Pi/2)
		next := geom.Vec2{X: -sin, Y: cos}
		for k := range 50 {
			r = append(r, geom.Vec2{X: cos, Y: sin}.Scale(30).Add(next.Sub(geom.Vec2{X: cos, Y: sin}).Scale(30*float64(k)/50)))
		}
	}
	triangles, ok := Triangulate([]geom.Ring{r})
	if !ok || len(triangles) != len(r)-2 {
		t.Errorf("ok %v, %d triangles", ok, len(triangles))
	}
}
