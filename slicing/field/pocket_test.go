package field

import (
	"context"
	"math"
	"testing"

	"grainstack/slicing/geom"
	"grainstack/slicing/solidtest"
)

// TestPocketsOfBall: a ball of radius 20 in one layer of 60 closes off inside it; cut at its middle it is open in both.
func TestPocketsOfBall(t *testing.T) {
	g := build(t, solidtest.Sphere(30, 20_000), 120)
	pl := geom.Placement{Turn: geom.TurnXYZ(10, 20, 30), Scale: 1, Shift: geom.Vec{Z: 30}}
	core := 4 * math.Pi / 3 * 20 * 20 * 20
	for _, tt := range []struct {
		name  string
		slabs []Slab
		want  []Hollow
	}{
		{"one layer", []Slab{{0, 60}}, []Hollow{{Closed: core, Bodies: 1, ClosedBodies: 1}}},
		{"two", []Slab{{0, 30}, {30, 60}}, []Hollow{{Open: core / 2, Bodies: 1}, {Open: core / 2, Bodies: 1}}},
		{"the middle one whole", []Slab{{0, 8}, {8, 52}, {52, 60}}, []Hollow{{}, {Closed: core, Bodies: 1, ClosedBodies: 1}, {}}},
		{"a lid left out", []Slab{{0, 30}}, []Hollow{{Open: core / 2, Bodies: 1}}},
		{"none", nil, []Hollow{}},
	} {
		got, err := g.Pockets(context.Background(), pl, tt.slabs, 10, 100)
		if err != nil || len(got) != len(tt.want) {
			t.Fatalf("%s: %v layers, %v", tt.name, len(got), err)
		}
		for i, w := range tt.want {
			near(t, tt.name+": open", got[i].Open, w.Open, 0.01*core)
			near(t, tt.name+": closed", got[i].Closed, w.Closed, 0.01*core)
			if got[i].Bodies != w.Bodies || got[i].ClosedBodies != w.ClosedBodies {
				t.Errorf("%s: layer %d is %+v", tt.name, i+1, got[i])
			}
		}
	}
}

// TestPocketsSmall: of three balls apart the small ones are counted by themselves; the twin below agrees on a lumpy piece.
func TestPocketsSmall(t *testing.T) {
	small := solidtest.Moved(solidtest.Sphere(15, 2_000), geom.Vec{X: 60})
	g := build(t, solidtest.Join(solidtest.Sphere(30, 20_000), small, solidtest.Moved(small, geom.Vec{X: -120})), 200)
	slabs := []Slab{{-30, 0}, {0, 30}}
	got, err := g.Pockets(context.Background(), still, slabs, 10, 1000)
	if err != nil {
		t.Fatal(err)
	}
	for _, h := range got {
		if h.Bodies != 3 || h.Small != 2 || h.ClosedBodies != 0 {
			t.Errorf("three balls: %+v", h)
		}
		near(t, "small balls' halves", h.SmallVolume, 4*math.Pi/3*125, 0.1*4*math.Pi/3*125)
	}
}

// flooded is the slow obvious twin of Pockets: every node by itself, flooded from one to the next.
func flooded(g *Grid, pl geom.Placement, slabs []Slab, wall, least float64) []Hollow {
	level := func(n int) int {
		z := pl.Apply(g.node(n)).Z
		for i, s := range slabs {
			if z >= s.Bottom && z < s.Top {
				return i
			}
		}
		return -1
	}
	out, done := make([]Hollow, len(slabs)), make([]bool, len(g.depth))
	cell := math.Pow(g.step*pl.Scale, 3)
	for n := range g.depth {
		l := level(n)
		if done[n] || l < 0 || float64(g.depth[n])*pl.Scale <= wall {
			continue
		}
		open, v := false, 0.0
		todo := []int{n}
		for done[n] = true; len(todo) > 0; {
			at := todo[len(todo)-1]
			todo = todo[:len(todo)-1]
			v += cell
			for _, d := range []int{1, -1, g.nx, -g.nx, g.nx * g.ny, -g.nx * g.ny} {
				if b := at + d; float64(g.depth[b])*pl.Scale <= wall {
					continue
				} else if level(b) != l {
					open = true
				} else if !done[b] {
					done[b] = true
					todo = append(todo, b)
				}
			}
		}
		h := &out[l]
		h.Bodies++
		switch {
		case !open:
			h.ClosedBodies++
			h.Closed += v
		case v < least:
			h.Small++
			h.SmallVolume += v
		default:
			h.Open += v
		}
	}
	return out
}

func TestPocketsAgainstFlood(t *testing.T) {
	g := build(t, solidtest.Bumpy(50, 20_000), 70)
	closed := 0
	for _, turn := range []geom.Turn{geom.NoTurn(), geom.TurnXYZ(0, 90, 0), geom.TurnXYZ(33, 12, 70)} {
		pl, h := stood(g, turn, 1.3)
		for _, w := range []float64{0, 8, 16, 20, 24, 28, 32, 36} {
			slabs := layersOf(h, 10+w)[1:]
			got, err := g.Pockets(context.Background(), pl, slabs, w, 500)
			if err != nil {
				t.Fatal(err)
			}
			for i, want := range flooded(g, pl, slabs, w, 500) {
				near(t, "open", got[i].Open, want.Open, 1e-9*want.Open)
				near(t, "closed", got[i].Closed, want.Closed, 1e-9*want.Closed)
				near(t, "small", got[i].SmallVolume, want.SmallVolume, 1e-9*want.SmallVolume)
				if got[i].Bodies != want.Bodies || got[i].ClosedBodies != want.ClosedBodies || got[i].Small != want.Small {
					t.Errorf("wall %v, layer %d: %+v, want %+v", w, i, got[i], want)
				}
				closed += want.ClosedBodies
			}
		}
	}
	t.Logf("%d bodies close off", closed)
	if closed == 0 {
		t.Error("the piece closes off nowhere: it tries nothing")
	}
}

func TestPocketsRefuses(t *testing.T) {
	g := build(t, solidtest.Box(10, 10, 10), 10)
	for _, slabs := range [][]Slab{{{5, 2}}, {{0, 5}, {4, 8}}, {{0, math.NaN()}}, make([]Slab, 1<<16)} {
		if _, err := g.Pockets(context.Background(), still, slabs, 1, 0); err == nil {
			t.Errorf("%d bad layers pass", len(slabs))
		}
	}
}
