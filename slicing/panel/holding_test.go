package panel

import (
	"context"
	"math"
	"testing"

	"pgregory.net/rapid"

	own "grainstack/slicing/geom"
)

// ell is an L of arms w wide and n·w long.
func ell(w, n float64) own.Region {
	return own.Region{{{X: 0, Y: 0}, {X: n * w, Y: 0}, {X: n * w, Y: w}, {X: w, Y: w}, {X: w, Y: n * w}, {X: 0, Y: n * w}}}
}

func places(t testing.TB, g own.Region, r TabRules) *TabPlaces {
	t.Helper()
	p, err := newTabPlaces(g, r)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func TestTabsHold(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		parts := statue(rapid.Uint64().Draw(t, "seed"), 5, 200)
		r := TabRules{Width: 8, Channel: 8.35, Spacing: 150}
		for _, p := range parts {
			g := p.Shadow
			places, err := newTabPlaces(g, r)
			if err != nil {
				t.Fatal(err)
			}
			tabs, held := places.Choose()
			if !held {
				t.Fatalf("%v of %.0f mm round is not held by %d tabs", p.ID, g[0].Perimeter(), len(tabs))
			}
			if fewest := max(3, int(math.Ceil(g[0].Perimeter()/150))); len(tabs) < fewest || len(tabs) > fewest+2 {
				t.Fatalf("%d tabs, %d would do", len(tabs), fewest)
			}
			solid := newOutline(g)
			for _, tab := range tabs {
				if d := solid.rim(tab.At, 1e9); d > 1e-6 {
					t.Fatalf("a tab is %g mm off the outline", d)
				}
				if g.Contains(tab.At.Add(tab.Out.Scale(4))) || !g.Contains(tab.At.Sub(tab.Out.Scale(10))) {
					t.Fatal("a tab points the wrong way or has no wood behind")
				}
			}
		}
	})
}

// Where the wood is thin, narrow, or the saw does not reach, no tab stands; where all is well, one does.
func TestTabsKeepOffThinWood(t *testing.T) {
	// a square with a spur 6 mm wide at the right and a slot 5 mm wide from below
	g := own.Region{{{X: 0, Y: 0}, {X: 60, Y: 0}, {X: 60, Y: 40}, {X: 65, Y: 40}, {X: 65, Y: 0}, {X: 120, Y: 0}, {X: 120, Y: 50}, {X: 180, Y: 50}, {X: 180, Y: 56}, {X: 120, Y: 56}, {X: 120, Y: 100}, {X: 0, Y: 100}}}
	foot := func(t Tab) (Foot, bool) { return Foot{Section: 48, Full: 48}, t.At.Y <= 90 } // 3 mm of wood above
	p := places(t, g, TabRules{Width: 8, Channel: 8, Foot: foot})
	legal := 0
	for _, r := range p.rings {
		for i, tab := range r.tabs {
			if r.merit[i] == 0 {
				continue
			}
			legal++
			switch at := tab.At; {
			case at.Y > 90:
				t.Errorf("a tab where the wood is 3 mm: %v", at)
			case at.X > 121:
				t.Errorf("a tab on the spur: %v", at)
			case at.X > 59 && at.X < 66 && at.Y > 2:
				t.Errorf("a tab in the slot: %v", at)
			}
		}
	}
	if legal < 50 {
		t.Errorf("only %d places", legal)
	}
	if tab, ok := p.Nearest(own.Vec2{X: 180, Y: 53}); !ok || tab.At.X < 119 || tab.At.X > 121 {
		t.Errorf("dragged to the spur's tip a tab lands at %v, %v", tab.At, ok)
	}
	if tab, ok := p.Nearest(own.Vec2{X: -30, Y: 50}); !ok || tab.At.Sub(own.Vec2{X: 0, Y: 50}).Len() > 2 || tab.Out != (own.Vec2{X: -1}) {
		t.Errorf("dragged to the left it lands at %v pointing %v", tab.At, tab.Out)
	}
	if tabs, held := places(t, rect(200, 5), TabRules{Width: 8, Channel: 8}).Choose(); held || len(tabs) > 0 {
		t.Errorf("a lath of 5 mm is held by %d tabs", len(tabs))
	}
	hollow := statue(1, 5, 200)[4].Shadow
	if n := len(places(t, hollow, TabRules{Width: 8, Channel: 8, Hole: func(int) bool { return true }}).rings); n != 2 {
		t.Errorf("tabs on %d rings, want 2", n)
	}
	for _, bad := range []TabRules{{Width: 0, Channel: 8}, {Width: math.NaN(), Channel: 8}, {Width: 8, Channel: -1}, {Width: 8, Channel: 8, Spacing: math.NaN()}} {
		if _, err := newTabPlaces(hollow, bad); err == nil {
			t.Errorf("%v is taken", bad)
		}
	}
	if tabs, held := places(t, nil, TabRules{Width: 8, Channel: 8}).Choose(); held || len(tabs) > 0 {
		t.Error("nothing is held")
	}
}

func pins(t testing.TB, faces, cores []own.Region, r PinRules) ([]Pin, []Common) {
	t.Helper()
	p, c, err := Pins(context.Background(), faces, cores, r)
	if err != nil {
		t.Fatal(err)
	}
	return p, c
}

// A square of side a has its widest place in the middle, a/2 from the sides; an L of arm width w has w·√2/(1+√2) in its
// corner (elementary geometry).
func TestFirstPinIsWidest(t *testing.T) {
	r := PinRules{Diameter: 6, Cover: 4}
	p, _ := pins(t, []own.Region{rect(80, 80), rect(80, 80)}, nil, r)
	if len(p) != 2 || math.Abs(p[0].Room-40) > 0.01 || p[0].At.Sub(own.Vec2{X: 40, Y: 40}).Len() > 0.01 {
		t.Errorf("square: %v", p)
	}
	const w = 50
	p, _ = pins(t, []own.Region{ell(w, 3), rect(400, 400)}, nil, r)
	if want := w * math.Sqrt2 / (1 + math.Sqrt2); len(p) != 2 || math.Abs(p[0].Room-want) > 0.02 {
		t.Errorf("L: %v, want room %.3f", p, want)
	}
}

func TestPinsStayInTheCommonArea(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		parts := statue(rapid.Uint64().Draw(t, "seed"), 7, 120)
		a, b := parts[4].Shadow, parts[6].Shadow
		core := own.Region{scaled(a[0], 0.3)}
		r := PinRules{Diameter: 6, Cover: 3}
		p, commons, err := Pins(context.Background(), []own.Region{a, b}, []own.Region{core}, r)
		if err != nil {
			t.Fatal(err)
		}
		room := 0
		for _, c := range commons {
			room += c.Pins
		}
		if room != len(p) {
			t.Fatalf("%d pins, the pieces have %d", len(p), room)
		}
		for i, q := range p {
			for _, g := range []own.Region{a, b} {
				if d := newOutlineRim(g, q.At); !g.Contains(q.At) || d < 6-1e-9 || d < q.Room-1e-9 {
					t.Fatalf("a pin %g mm from an edge, room %g", d, q.Room)
				}
			}
			if core.Contains(q.At) || newOutlineRim(core, q.At) < 6-1e-9 {
				t.Fatal("a pin in the core")
			}
			for _, o := range p[:i] {
				if q.At.Sub(o.At).Len() < 3*r.Diameter-1e-9 {
					t.Fatal("two pins on one another")
				}
			}
		}
	})
}

// Pieces that adjoin are two: pins keep their wood from the line between them as from any edge.
func TestPinsKeepOffTheLineBetweenPieces(t *testing.T) {
	r := PinRules{Diameter: 6, Cover: 4}
	for _, at := range []float64{12, 20, 90, 178, 182} {
		halves := own.Region{rect(at, 60)[0], shifted(rect(200-at, 60), own.Vec2{X: at})[0]}
		p, _ := pins(t, []own.Region{rect(200, 60), halves}, nil, r)
		if len(p) != 2 {
			t.Errorf("line at %g mm: %d pins", at, len(p))
		}
		for _, q := range p {
			if math.Abs(q.At.X-at) < r.Diameter/2+r.Cover-1e-9 || math.Abs(q.At.X-at) < q.Room-1e-9 {
				t.Errorf("a pin of room %.2f mm, %.2f mm off the line at %g mm", q.Room, math.Abs(q.At.X-at), at)
			}
		}
	}
}

// A layer turned round by half a turn must show it, most of all where its outline does not.
func TestPinsShowATurnedLayer(t *testing.T) {
	for name, g := range map[string]own.Region{
		"square": rect(80, 80), "lath": rect(300, 40),
		"ring": {rect(200, 200)[0], backwards(shifted(rect(120, 120), own.Vec2{X: 40, Y: 40})[0])},
	} {
		p, _ := pins(t, []own.Region{g, g}, nil, PinRules{Diameter: 8, Cover: 4})
		if len(p) != 2 {
			t.Errorf("%s: %d pins", name, len(p))
			continue
		}
		middle, _ := g.Centroid()
		half := func(v own.Vec2) own.Vec2 { return middle.Scale(2).Sub(v) }
		off := math.Min(math.Max(half(p[0].At).Sub(p[0].At).Len(), half(p[1].At).Sub(p[1].At).Len()),
			math.Max(half(p[0].At).Sub(p[1].At).Len(), half(p[1].At).Sub(p[0].At).Len()))
		if off < 7 {
			t.Errorf("%s: turned by half a turn the pins are %g mm off", name, off)
		}
	}
}

func TestPinsHeedDepthAndNeighbours(t *testing.T) {
	g := []own.Region{rect(100, 60), rect(100, 60)}
	slope := func(p own.Vec2) float64 { return p.X / 4 } // the surface comes in from the left
	p, _ := pins(t, g, nil, PinRules{Diameter: 6, Cover: 4, Clear: slope})
	for _, q := range p {
		if q.At.X < 28-1e-6 || q.Room > slope(q.At)+1e-9 {
			t.Errorf("a pin at %v with room %g would show", q.At, q.Room)
		}
	}
	if len(p) != 2 {
		t.Errorf("%d pins", len(p))
	}
	if p, c := pins(t, g, nil, PinRules{Diameter: 6, Cover: 4, Clear: func(own.Vec2) float64 { return math.NaN() }}); len(p) != 0 || len(c) != 1 {
		t.Errorf("pins where no depth is known: %v", p)
	}
	first, _ := pins(t, g, nil, PinRules{Diameter: 6, Cover: 4})
	spacing := first[1].At.Sub(first[0].At).Len()
	p, _ = pins(t, g, nil, PinRules{Diameter: 6, Cover: 4, Avoid: []own.Vec2{first[0].At, first[1].At}, Differ: []float64{spacing}})
	for _, q := range p {
		for _, o := range first {
			if q.At.Sub(o.At).Len() < 12-1e-9 {
				t.Error("a pin meets one of the next joint")
			}
		}
	}
	if len(p) == 2 && math.Abs(p[1].At.Sub(p[0].At).Len()-spacing) < 6 {
		t.Error("the pair is as far apart as that of the next joint")
	}
	if p, c := pins(t, []own.Region{rect(10, 10), shifted(rect(10, 10), own.Vec2{X: 50})}, nil, PinRules{Diameter: 6}); len(p)+len(c) != 0 {
		t.Error("pins where nothing is common")
	}
	long := []own.Region{rect(500, 60), rect(500, 60)}
	if p, _ := pins(t, long, nil, PinRules{Diameter: 6, Cover: 4, Third: 200}); len(p) != 3 {
		t.Errorf("%d pins on a long joint, want 3", len(p))
	}
	legs := own.Region{rect(60, 60)[0], shifted(rect(44, 44), own.Vec2{X: 200})[0]}
	if p, c := pins(t, []own.Region{legs, rect(400, 400)}, nil, PinRules{Diameter: 6, Cover: 4}); len(p) != 4 || len(c) != 2 {
		t.Errorf("%d pins in %d legs, want 4 in 2", len(p), len(c))
	}
}

// The distance transform's slow twin.
func TestClearancesAgainstAllPairs(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := newMask(rapid.IntRange(1, 14).Draw(t, "columns"), rapid.IntRange(1, 70).Draw(t, "rows"))
		for i := range m.H {
			for j := range m.W {
				if rapid.IntRange(0, 9).Draw(t, "bit") > 0 {
					m.SetSpan(i, j, j+1)
				}
			}
		}
		marked := func(i, j int) bool {
			return i >= 0 && j >= 0 && i < m.H && j < m.W && m.Row(i)[j>>6]>>(j&63)&1 == 1
		}
		got := clearances(&m)
		for i := range m.H {
			for j := range m.W {
				want := math.MaxInt
				for x := -1; x <= m.H; x++ {
					for y := -1; y <= m.W; y++ {
						if !marked(x, y) {
							want = min(want, (x-i)*(x-i)+(y-j)*(y-j))
						}
					}
				}
				if got[i*m.W+j] != int32(want) {
					t.Fatalf("cell %d,%d of %dx%d: %d, want %d", i, j, m.H, m.W, got[i*m.W+j], want)
				}
			}
		}
	})
}

// newTabPlaces are the places of the sites with the rules' own holes and feet.
func newTabPlaces(g own.Region, r TabRules) (*TabPlaces, error) {
	t, err := NewTabSites(g, r)
	if err != nil {
		return nil, err
	}
	return t.Places(r.Hole, r.Foot), nil
}
