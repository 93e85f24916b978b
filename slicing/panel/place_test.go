package panel

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/peterstace/simplefeatures/geom"
	"pgregory.net/rapid"

	own "grainstack/slicing/geom"
	"grainstack/slicing/plane"
)

// A random star-shaped outline, with a hole now and then.
func anyRegion(t *rapid.T) own.Region {
	r := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 3))
	n := rapid.IntRange(3, 40).Draw(t, "points")
	a, b := 5+60*r.Float64(), 5+60*r.Float64()
	ring := wavy(r, a, b, n)
	g := own.Region{ring}
	if r.IntN(2) == 0 && n > 8 {
		g = append(g, backwards(scaled(ring, 0.5)))
	}
	return g
}

func shifted(g own.Region, by own.Vec2) own.Region {
	out := turnRegion(g, 0)
	for _, r := range out {
		for i := range r {
			r[i] = r[i].Add(by)
		}
	}
	return out
}

// The raster's slow twin: the distance from each cell to the region, cell by cell.
func TestDrawMarksWhatIsNear(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := anyRegion(t)
		step := rapid.Float64Range(1, 5).Draw(t, "step")
		margin := float64(rapid.IntRange(0, 3).Draw(t, "margin")) * 3.1
		shift := own.Vec2{X: rapid.Float64Range(0, 100).Draw(t, "x"), Y: rapid.Float64Range(0, 100).Draw(t, "y")}
		m := newMask(40, 37)
		o := newOutline(g)
		m.draw(&o, shift, margin, step)
		at := shifted(g, shift)
		solid := newOutline(at)
		for i := range m.H {
			for j := range m.W {
				box := own.Box2{Min: own.Vec2{X: float64(i), Y: float64(j)}.Scale(step), Max: own.Vec2{X: float64(i + 1), Y: float64(j + 1)}.Scale(step)}
				cell := boxOutline(box)
				d := solid.nearer(&cell, own.Vec2{}, margin+1)
				got := m.Row(i)[j>>6]>>(j&63)&1 == 1
				if margin == 0 && d > 0 && got || margin > 0 && d > margin+1e-5 && got || d < margin-1e-5 && !got {
					t.Fatalf("cell %d,%d is %g mm from the region, margin %g: marked %v", i, j, d, margin, got)
				}
				if inside := at.Contains(box.Min.Add(box.Max).Scale(0.5)); inside && !got {
					t.Fatalf("cell %d,%d lies inside and is not marked", i, j)
				}
			}
		}
	})
}

func TestDistanceAgainstAnotherLibrary(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := anyRegion(t), anyRegion(t)
		shift := own.Vec2{X: rapid.Float64Range(-150, 150).Draw(t, "x"), Y: rapid.Float64Range(-150, 150).Draw(t, "y")}
		o, p := newOutline(a), newOutline(b)
		want, _ := geom.Distance(foreign(a), foreign(shifted(b, shift)))
		if got := o.nearer(&p, shift, 1000); math.Abs(got-want) > 1e-9 {
			t.Fatalf("distance %g, another library has %g", got, want)
		}
		for range 10 {
			v := own.Vec2{X: rapid.Float64Range(-80, 80).Draw(t, "vx"), Y: rapid.Float64Range(-80, 80).Draw(t, "vy")}
			if o.contains(v) != a.Contains(v) {
				t.Fatalf("%v inside: %v, the region says otherwise", v, o.contains(v))
			}
		}
		if got := o.nearer(&p, shift, 20); math.Abs(got-math.Min(want, 20)) > 1e-9 {
			t.Fatalf("distance up to 20: %g, want %g", got, math.Min(want, 20))
		}
	})
}

// What find gives is free, and nothing nearer to the corner is: against a search cell by cell.
func TestFindAgainstCellByCell(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := anyRegion(t), anyRegion(t)
		r := Rules{PanelX: 200, PanelY: 170, Margin: 5, Edge: 1, Dowels: []Dowel{{own.Vec2{X: 90, Y: 80}, 6}}}
		bench, err := NewBench(context.Background(), []Part{{ID: ID{1, 0}, Shadow: a}, {ID: ID{2, 0}, Shadow: b}}, r)
		if err != nil {
			t.Fatal(err)
		}
		shop, _ := newShop(context.Background(), bench, 1)
		p := newPacker(shop)
		on := shop.bare.clone()
		c := corner(rapid.IntRange(0, int(corners)-1).Draw(t, "corner"))
		p.place(on, 0, 0, c)
		shape := &shop.shapes[1][0]
		if !shape.fits {
			return
		}
		free := func(x, y int) bool {
			for _, q := range shape.touched {
				for j := q.from; j < q.to; j++ {
					k := int(j) + y
					if on.column(int(q.column) + x)[k>>6]>>(k&63)&1 == 1 {
						return false
					}
				}
			}
			return true
		}
		var wx, wy int32
		found := false
		for x := range shape.wide + 1 {
			for y := range shape.tall + 1 {
				if free(x, y) && (!found || c.nearer(int32(x), int32(y), wx, wy)) {
					wx, wy, found = int32(x), int32(y), true
				}
			}
		}
		x, y, ok := on.find(shape, c, shape.window(), p.scratch)
		if ok != found || ok && (x != wx || y != wy) {
			t.Fatalf("corner %d: found %d,%d %v, cell by cell %d,%d %v", c, x, y, ok, wx, wy, found)
		}
	})
}

func TestFitsSaysWithWhat(t *testing.T) {
	parts := []Part{{ID: ID{1, 0}, Shadow: rect(100, 100)}, {ID: ID{2, 1}, Shadow: rect(100, 50), Turned: true}}
	b := newBench(t, parts, held())
	l := Layout{Panels: []Panel{{Number: 1, Placed: []Placed{{Part: ID{1, 0}, At: own.Vec2{X: 200, Y: 200}}}}}}
	for _, tt := range []struct {
		name string
		at   own.Vec2
		deg  int
		want []Against
	}{
		{"free", own.Vec2{X: 400, Y: 100}, 90, nil},
		{"just clear", own.Vec2{X: 358.36, Y: 200}, 90, nil}, // turned by 90 it covers x from -50 to 0
		{"just not", own.Vec2{X: 358.34, Y: 200}, 90, []Against{AnotherPart}},
		{"edge", own.Vec2{X: 59, Y: 150}, 90, []Against{PanelEdge}},
		{"clamp", own.Vec2{X: 61, Y: 31}, 90, []Against{Clamp}},
		{"dowel", own.Vec2{X: 80, Y: 250}, 90, []Against{RegisterDowel}},
		{"grain", own.Vec2{X: 400, Y: 100}, 0, []Against{Grain}},
		{"on it", own.Vec2{X: 280, Y: 220}, 270, []Against{AnotherPart}},
	} {
		ok, hits := b.Fits(l, 1, Placed{Part: ID{2, 1}, At: tt.at, TurnDeg: tt.deg})
		if ok != (len(tt.want) == 0) || len(hits) != len(tt.want) {
			t.Errorf("%s: %v %v", tt.name, ok, hits)
			continue
		}
		for i, h := range hits {
			if h.Kind != tt.want[i] || h.String() == "" || h.Kind == AnotherPart && h.Part != (ID{1, 0}) {
				t.Errorf("%s: %v, want kind %d", tt.name, h, tt.want[i])
			}
		}
	}
	if ok, hits := b.Fits(l, 1, l.Panels[0].Placed[0]); !ok {
		t.Errorf("a part collides with itself: %v", hits)
	}
}

func TestPlacedThereAndBack(t *testing.T) {
	for _, deg := range []int{0, 90, 180, 270} {
		p := Placed{At: own.Vec2{X: 3, Y: 5}, TurnDeg: deg}
		v := own.Vec2{X: 7, Y: 11}
		if got := p.Back(p.Apply(v)); got != v {
			t.Errorf("%d: %v came back as %v", deg, v, got)
		}
	}
	if got := (Placed{TurnDeg: 90}).Apply(own.Vec2{X: 1}); got != (own.Vec2{Y: 1}) {
		t.Errorf("X turned by 90 is %v", got)
	}
}

func TestSplitKeepsArea(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := anyRegion(t)
		angle := rapid.Float64Range(0, 2*math.Pi).Draw(t, "angle")
		sin, cos := math.Sincos(angle)
		a := own.Vec2{X: rapid.Float64Range(-30, 30).Draw(t, "x"), Y: rapid.Float64Range(-30, 30).Draw(t, "y")}
		left, right, err := SplitPart(g, a, a.Add(own.Vec2{X: cos, Y: sin}))
		if err != nil {
			return
		}
		if got, want := left.Area()+right.Area(), g.Area(); math.Abs(got-want) > 1e-9*want {
			t.Fatalf("halves of %g, whole %g", got, want)
		}
		for _, half := range []own.Region{left, right} {
			for _, p := range plane.Pieces(half) {
				f := foreign(p)
				if err := f.Validate(); err != nil && p.Area() > 1e-6 {
					t.Fatalf("a half is no polygon: %v", err)
				}
			}
		}
		for range 20 {
			p := own.Vec2{X: rapid.Float64Range(-80, 80).Draw(t, "px"), Y: rapid.Float64Range(-80, 80).Draw(t, "py")}
			side := own.Vec2{X: cos, Y: sin}.Cross(p.Sub(a))
			if math.Abs(side) < 1e-6 || math.Abs(newOutlineRim(g, p)) < 1e-6 {
				continue
			}
			if left.Contains(p) != (g.Contains(p) && side > 0) || right.Contains(p) != (g.Contains(p) && side < 0) {
				t.Fatalf("%v is on the wrong side", p)
			}
		}
	})
}

func newOutlineRim(g own.Region, p own.Vec2) float64 {
	o := newOutline(g)
	return o.rim(p, 1e9)
}

func TestSplitARing(t *testing.T) {
	g := own.Region{rect(100, 60)[0], backwards(shifted(rect(40, 20), own.Vec2{X: 30, Y: 20})[0])}
	left, right, err := SplitPart(g, own.Vec2{X: 50, Y: 0}, own.Vec2{X: 50, Y: 10})
	if err != nil || left.Area() != 2600 || right.Area() != 2600 || len(left) != 1 || len(right) != 1 {
		t.Errorf("%v: areas %g and %g in %d and %d rings", err, left.Area(), right.Area(), len(left), len(right))
	}
	left, right, err = SplitPart(g, own.Vec2{X: 0, Y: 30}, own.Vec2{X: 1, Y: 30})
	if err != nil || left.Area() != 2600 || right.Area() != 2600 {
		t.Errorf("%v: areas %g and %g", err, left.Area(), right.Area())
	}
	if _, _, err := SplitPart(g, own.Vec2{X: 200, Y: 0}, own.Vec2{X: 200, Y: 1}); err == nil {
		t.Error("a line beside the part splits it")
	}
	if _, _, err := SplitPart(g, own.Vec2{}, own.Vec2{}); err == nil {
		t.Error("a point splits the part")
	}
}
