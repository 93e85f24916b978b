package stack

import (
	"math"
	"testing"

	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
	"grainstack/slicing/solidtest"
	"grainstack/slicing/stock"

	"pgregory.net/rapid"
)

func TestLayers(t *testing.T) {
	up := math.Nextafter32(240, 300)
	for _, tt := range []struct {
		name                     string
		height, thickness, first float64
		layers                   int
		last                     float64 // wood in the last layer
		whole                    bool
	}{
		{"whole", 240, 16, 16, 15, 16, true}, // common practice: 240 mm in layers of 16 mm is 15 layers
		{"whole but for rounding", float64(up), 16, 16, 15, 16, true},
		{"whole but for the thickness", 240, 17.8 - 2*0.9, 16, 15, 16, true},
		{"one hundredth over", 240.01, 16, 16, 16, 0.01, false},
		{"first joint low", 240, 16, 4, 16, 12, false},
		{"first joint low, whole", 244, 16, 4, 16, 16, true},
		{"joint at the floor is none", 240, 16, 1e-9, 15, 16, true},
		{"lower than a layer", 10, 16, 16, 1, 10, false},
		{"one layer", 16, 16, 16, 1, 16, true},
		{"lower than the first joint", 3, 16, 5, 1, 3, false},
	} {
		t.Run(tt.name, func(t *testing.T) {
			slabs, err := Layers(tt.height, tt.thickness, tt.first)
			if err != nil || len(slabs) != tt.layers {
				t.Fatalf("got %d layers, %v, want %d", len(slabs), err, tt.layers)
			}
			last := slabs[len(slabs)-1]
			agree(t, "last", last.Thickness(), tt.last, 0, 1e-4)
			r, err := Remainder(tt.height, tt.thickness, tt.first)
			if err != nil || r.Layers != tt.layers || r.Whole != tt.whole {
				t.Fatalf("remainder: got %+v, %v", r, err)
			}
			agree(t, "remainder", r.Last, tt.last, 0, 1e-4)
		})
	}
	for _, bad := range [][3]float64{{0, 16, 16}, {-1, 16, 16}, {math.NaN(), 16, 16}, {math.Inf(1), 16, 16}, {240, 0, 0}, {240, -3, 2},
		{240, math.NaN(), 2}, {240, 16, 0}, {240, 16, 17}, {240, 16, math.NaN()}, {240, 1e-9, 1e-9}} {
		if s, err := Layers(bad[0], bad[1], bad[2]); err == nil {
			t.Errorf("%v: got %d layers and no error", bad, len(s))
		}
		if _, err := Remainder(bad[0], bad[1], bad[2]); err == nil {
			t.Errorf("%v: no error", bad)
		}
	}
}

// Layers fill the height without gap, and the sizes that Remainder names do come out whole.
func TestLayersFillAnyHeight(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		height := rapid.Float64Range(1, 2000).Draw(t, "height")
		thickness := rapid.Float64Range(3, 40).Draw(t, "thickness")
		first := thickness * rapid.Float64Range(0.01, 1).Draw(t, "first joint")
		slabs, err := Layers(height, thickness, first)
		if err != nil {
			t.Fatal(err)
		}
		at := 0.0
		for i, s := range slabs {
			if s.Bottom != at || s.Number != i+1 || !(s.Top > s.Bottom) || s.Thickness() > thickness*(1+1e-9)+1e-6*height {
				t.Fatalf("layer %d: %+v after %g", i+1, s, at)
			}
			if s.PanelBottom > s.Bottom+1e-9 || s.PanelBottom+thickness < s.Top-1e-6*height {
				t.Fatalf("layer %d: wood %+v outside its panel", i+1, s)
			}
			at = s.Top
		}
		if at != height {
			t.Fatalf("the stack ends at %g, want %g", at, height)
		}
		r, err := Remainder(height, thickness, first)
		if err != nil || r.Layers != len(slabs) || !(r.More > 1) || r.Fewer >= 1 {
			t.Fatalf("%+v, %v", r, err)
		}
		for _, to := range []struct {
			scale  float64
			layers int
		}{{r.Fewer, r.FewerLayers}, {r.More, r.MoreLayers}} {
			if to.layers == 0 {
				continue
			}
			if got, err := Remainder(height*to.scale, thickness, first); err != nil || !got.Whole || got.Layers != to.layers {
				t.Fatalf("scaled by %g: %+v, %v, want %d whole layers", to.scale, got, err, to.layers)
			}
		}
	})
}

// Whatever the layers, they add up to the piece, and so do their moments and skins.
func TestLayersAddUpToPiece(t *testing.T) {
	m := placed(t, solidtest.Bumpy(100, 20000), geom.TurnXYZ(30, 0, 0), 1).Mesh
	p := profileOf(t, m)
	whole, skin, moment := p.Volume(0, p.Top()), p.Surface(0, p.Top()), p.Moment(0, p.Top())
	agree(t, "piece", whole, m.Volume(), 1e-9, 0)
	rapid.Check(t, func(t *rapid.T) {
		thickness := rapid.Float64Range(5, 40).Draw(t, "thickness")
		slabs, err := Layers(p.Top(), thickness, thickness*rapid.Float64Range(0.01, 1).Draw(t, "first joint"))
		if err != nil {
			t.Fatal(err)
		}
		v, s, c := 0.0, 0.0, geom.Vec{}
		for _, l := range slabs {
			v += p.Volume(l.Bottom, l.Top)
			s += p.Surface(l.Bottom, l.Top)
			c = c.Add(p.Moment(l.Bottom, l.Top))
		}
		if math.Abs(v-whole) > 1e-9*whole || math.Abs(s-skin) > 1e-9*skin || c.Sub(moment).Len() > 1e-9*whole*p.Top() {
			t.Fatalf("got %g, %g, %v, want %g, %g, %v", v, s, c, whole, skin, moment)
		}
	})
}

func TestPlace(t *testing.T) {
	m := solidtest.Moved(solidtest.Bumpy(3, 3000), geom.Vec{X: 40, Y: -7, Z: 9})
	turn := geom.TurnXYZ(25, -130, 61)
	p := placed(t, m, turn, 25.4)
	box := p.Mesh.Box()
	if box != p.Box {
		t.Errorf("box: got %v, the points have %v", p.Box, box)
	}
	if box.Min.Z != 0 {
		t.Errorf("the lowest point is at %g", box.Min.Z)
	}
	agree(t, "middle X", box.Min.X+box.Max.X, 0, 0, 1e-4)
	agree(t, "middle Y", box.Min.Y+box.Max.Y, 0, 0, 1e-4)
	agree(t, "volume", p.Mesh.Volume(), m.Volume()*25.4*25.4*25.4, 1e-5, 0)
	for i, q := range m.Points {
		to := p.Placement.Apply(q.Vec())
		if d := to.Sub(p.Mesh.Points[i].Vec()).Len(); d > 2e-5 {
			t.Fatalf("point %d is %g mm off its placement", i, d)
		}
		if d := p.Placement.Back(to).Sub(q.Vec()).Len(); d > 1e-9 {
			t.Fatalf("point %d comes back %g off", i, d)
		}
	}
	if &p.Mesh.Triangles[0] != &m.Triangles[0] {
		t.Error("the triangles were copied")
	}
}

func TestPlaceRefuses(t *testing.T) {
	ok := solidtest.Box(1, 1, 1)
	nan := &mesh.Mesh{Points: []mesh.Point{{0, 0, float32(math.NaN())}}, Triangles: []mesh.Triangle{{0, 0, 0}}}
	mirror := geom.NoTurn()
	mirror[0][0] = -1
	for _, tt := range []struct {
		name string
		mesh *mesh.Mesh
		s    Stand
	}{
		{"no turn", ok, Stand{Scale: 1}},
		{"mirror", ok, Stand{mirror, 1}},
		{"no scale", ok, Stand{geom.NoTurn(), 0}},
		{"endless scale", ok, Stand{geom.NoTurn(), math.Inf(1)}},
		{"too large", ok, Stand{geom.NoTurn(), 1e39}},
		{"no triangles", &mesh.Mesh{}, Stand{geom.NoTurn(), 1}},
		{"no number", nan, Stand{geom.NoTurn(), 1}},
	} {
		if p, err := Place(ctx, tt.mesh, tt.s); err == nil || p != nil {
			t.Errorf("%s: no error", tt.name)
		}
	}
}

func TestLayOnFacet(t *testing.T) {
	s := Stand{geom.TurnXYZ(12, 34, 56), 2}
	m := solidtest.Turned(solidtest.Box(30, 20, 10), geom.TurnXYZ(80, 10, 5))
	for i := range m.Triangles {
		a, b, c := m.Corners(i)
		n := b.Sub(a).Cross(c.Sub(a))
		laid := s.LayOnFacet(n)
		if d := laid.Turn.Apply(n.Unit()).Sub(geom.Vec{Z: -1}).Len(); d > 1e-9 {
			t.Errorf("facet %d: its normal is %g off straight down", i, d)
		}
		p := profileOf(t, placed(t, m, laid.Turn, laid.Scale).Mesh)
		if p.Area(0) < 799 {
			t.Errorf("facet %d: only %g mm² lie on the floor", i, p.Area(0))
		}
	}
	if s.LayOnFacet(geom.Vec{}) != s {
		t.Error("no normal: the stand has changed")
	}
}

// Common practice: every second layer is turned so that the grain alternates across the joint.
func TestJointGrain(t *testing.T) {
	x, y, mdf := stock.Veneer{Thickness: 1.4, Grain: stock.Along}, stock.Veneer{Thickness: 1.4, Grain: stock.Across}, stock.Veneer{Thickness: 16, Grain: stock.Plain}
	odd, even := []stock.Veneer{x, y, x}, []stock.Veneer{x, y}
	for _, tt := range []struct {
		name         string
		below, above []stock.Veneer
		turned       bool
		want         Grain
	}{
		{"odd, alike", odd, odd, false, Doubles},
		{"odd, turned", odd, odd, true, Alternates},
		{"one face skimmed off, alike", even, even, false, Alternates},
		{"one face skimmed off, turned", even, even, true, Doubles},
		{"nothing left", odd, nil, false, NoGrain},
		{"no grain", []stock.Veneer{mdf}, odd, false, NoGrain},
	} {
		if got := JointGrain(tt.below, tt.above, false, tt.turned); got != tt.want {
			t.Errorf("%s: got %v, want %v", tt.name, got, tt.want)
		}
		if a, b := JointGrain(tt.below, tt.above, tt.turned, false), JointGrain(tt.below, tt.above, tt.turned, true); !tt.turned && a != tt.want || tt.turned && b == tt.want && b != NoGrain {
			t.Errorf("%s: turning both layers, or the other one, gives %v, %v", tt.name, a, b)
		}
	}
}
