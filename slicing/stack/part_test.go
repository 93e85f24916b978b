package stack

import (
	"math"
	"reflect"
	"testing"

	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
	"grainstack/slicing/solidtest"
)

func partsOf(t testing.TB, m *mesh.Mesh, slabs []Slab) [][]Part {
	t.Helper()
	return divide(t, m, slabs).Parts
}

func divide(t testing.TB, m *mesh.Mesh, slabs []Slab) *Division {
	t.Helper()
	d, err := Divide(ctx, NewSlicer(m, twins(m)), slabs)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// slabsAt makes slabs between heights.
func slabsAt(z ...float64) (out []Slab) {
	for i := range len(z) - 1 {
		out = append(out, Slab{i + 1, z[i], z[i+1], z[i]})
	}
	return out
}

func TestPartsCounted(t *testing.T) {
	at := func(m *mesh.Mesh, x, z float64) *mesh.Mesh { return solidtest.Moved(m, geom.Vec{X: x, Z: z}) }
	ball := func(r float64) *mesh.Mesh { return solidtest.Sphere(r, 3000) }
	ring := solidtest.Turned(solidtest.Torus(40, 12, 90, 40), geom.TurnXYZ(90, 0, 0))
	for _, tt := range []struct {
		name  string
		mesh  *mesh.Mesh
		at    []float64
		parts []int
	}{
		{"ball in one layer", ball(30), []float64{-30, 30}, []int{1}},
		{"ball in four", ball(30), []float64{-30, -10, 0, 10, 30}, []int{1, 1, 1, 1}},
		{"two balls", solidtest.Join(ball(30), at(ball(20), 60, 5)), []float64{-30, -18, 0, 26, 30}, []int{1, 2, 2, 1}},
		{"standing ring", ring, []float64{-52, -27, -10, 10, 27, 52}, []int{1, 2, 2, 2, 1}},
		{"standing ring, two layers", ring, []float64{-52, 0, 52}, []int{1, 1}},
		{"shell", solidtest.Join(ball(30), solidtest.Flip(ball(20))), []float64{-30, -22, -5, 5, 30}, []int{1, 1, 1, 1}},
		{"cavity within a layer", solidtest.Join(ball(30), solidtest.Flip(ball(9))), []float64{-30, -10, 10, 30}, []int{1, 1, 1}},
		{"ball within the cavity", solidtest.Join(ball(30), solidtest.Flip(ball(20)), ball(9)), []float64{-30, -25, 25, 30}, []int{1, 2, 1}},
		{"joint at the step", stepped(40, 20, 16, 16), []float64{0, 16, 32}, []int{1, 1}},
		{"joint near the step", stepped(40, 20, 16, 16), []float64{0, 8, 16 - 1e-6, 32}, []int{1, 1, 1}},
		{"boxes beside each other", solidtest.Join(solidtest.Box(10, 10, 10), at(solidtest.Box(10, 10, 16), 11, 0)), []float64{0, 10, 20}, []int{2, 1}},
		{"cube on its edge", solidtest.Turned(solidtest.Box(10, 10, 10), geom.TurnXYZ(45, 0, 0)), []float64{0, 5, 5 * math.Sqrt2, 15}, []int{1, 1, 1}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			slabs := slabsAt(tt.at...)
			got := partsOf(t, tt.mesh, slabs)
			p := profileOf(t, tt.mesh)
			for i, want := range tt.parts {
				if len(got[i]) != want {
					t.Errorf("layer %d: got %d parts, want %d: %+v", i+1, len(got[i]), want, got[i])
				}
				checkLayer(t, p, slabs[i], got[i])
			}
			for s := range uint64(2) {
				again := partsOf(t, solidtest.Shuffle(tt.mesh, int64(s)), slabs)
				for i := range got {
					if len(again[i]) != len(got[i]) {
						t.Errorf("shuffled, layer %d: got %d parts, want %d", i+1, len(again[i]), len(got[i]))
					}
				}
			}
		})
	}
}

// checkLayer compares the sums over a layer's parts with the profile.
func checkLayer(t *testing.T, p *Profile, s Slab, parts []Part) {
	t.Helper()
	var all Part
	for _, q := range parts {
		all.Volume += q.Volume
		all.Below += q.Below
		all.Above += q.Above
		if q.Box.Min.Z < s.Bottom || q.Box.Max.Z > s.Top {
			t.Errorf("layer %d: a part's box %v leaves the layer", s.Number, q.Box)
		}
	}
	agree(t, "volume", all.Volume, p.Volume(s.Bottom, s.Top), 1e-5, 1e-5)
	agree(t, "lower face", all.Below, p.Area(s.Bottom), 1e-4, 0.02)
	agree(t, "upper face", all.Above, p.AreaBelow(s.Top), 1e-4, 0.02)
}

func TestPartBoxes(t *testing.T) {
	// A ball of radius 50 between heights 30 and 40: radius 40 at the bottom, 30 at the top.
	m := solidtest.Sphere(50, 100000)
	p := partsOf(t, m, slabsAt(30, 40))[0][0]
	for _, c := range []struct{ got, want float64 }{
		{p.Box.Min.X, -40}, {p.Box.Max.X, 40}, {p.Box.Min.Y, -40}, {p.Box.Max.Y, 40}, {p.Box.Min.Z, 30}, {p.Box.Max.Z, 40},
	} {
		agree(t, "side", c.got, c.want, 1e-3, 0)
	}
	// Without a vertex in the slab only the cut faces bound the part.
	box := partsOf(t, solidtest.Box(30, 20, 100), slabsAt(40, 50))[0][0]
	want := geom.Box{Min: geom.Vec{Z: 40}, Max: geom.Vec{X: 30, Y: 20, Z: 50}}
	agree(t, "box", box.Box.Max.Sub(want.Max).Len()+box.Box.Min.Sub(want.Min).Len(), 0, 0, 1e-6)
	agree(t, "volume", box.Volume, 6000, 1e-9, 0)
}

func TestPartsOfOrganicPiece(t *testing.T) {
	m := solidtest.Bumpy(100, 40000)
	p := profileOf(t, m)
	slabs, err := Layers(p.Top()-p.Bottom(), 16, 5)
	if err != nil {
		t.Fatal(err)
	}
	for i := range slabs {
		slabs[i].Bottom += p.Bottom()
		slabs[i].Top += p.Bottom()
	}
	got := partsOf(t, m, slabs)
	for i, parts := range got {
		checkLayer(t, p, slabs[i], parts)
		for j := 1; j < len(parts); j++ {
			if parts[j].Volume > parts[j-1].Volume {
				t.Errorf("layer %d: parts are not the largest first", i+1)
			}
		}
	}
	if again := partsOf(t, m, slabs); !reflect.DeepEqual(got, again) {
		t.Error("a second run differs")
	}
}

func TestPartsRefuses(t *testing.T) {
	m := solidtest.Box(1, 1, 1)
	for name, slabs := range map[string][]Slab{
		"overlapping": {{1, 0, 2, 0}, {2, 1, 3, 1}},
		"empty slab":  {{1, 1, 1, 1}},
		"no number":   {{1, 0, math.NaN(), 0}},
	} {
		if _, err := Divide(ctx, NewSlicer(m, twins(m)), slabs); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
	if got := partsOf(t, m, nil); len(got) != 0 {
		t.Errorf("no slabs: got %v", got)
	}
}

// TestSlivers: what is under 20 mm³, or narrow and under 1 cm³, is left out, told, and belongs to no part; the largest stays.
func TestSlivers(t *testing.T) {
	at := func(x, y, z, from float64) *mesh.Mesh {
		return solidtest.Moved(solidtest.Box(x, y, z), geom.Vec{X: from})
	}
	for _, c := range []struct {
		name    string
		mesh    *mesh.Mesh
		parts   []float64 // volumes
		slivers []float64
	}{
		{"crumb", solidtest.Join(at(20, 20, 10, 0), at(2.6, 2.6, 2.9, 30)), []float64{4000}, []float64{2.6 * 2.6 * 2.9}},
		{"needle", solidtest.Join(at(20, 20, 10, 0), at(1.9, 5, 10, 30)), []float64{4000}, []float64{95}},
		{"no needle", solidtest.Join(at(20, 20, 10, 0), at(2.1, 5, 10, 30)), []float64{4000, 105}, nil},
		{"fin", solidtest.Join(at(20, 20, 10, 0), at(1, 110, 10, 30)), []float64{4000, 1100}, nil},
		{"flat", solidtest.Join(at(20, 20, 10, 0), at(10, 10, 0.5, 30)), []float64{4000, 50}, nil},
		{"leaning needle", solidtest.Join(at(20, 20, 10, 0), solidtest.Turned(at(1.5, 1.5, 13, 30), geom.TurnXYZ(0, 45, 0))), []float64{4000}, nil},
		{"only crumbs", solidtest.Join(at(2, 2, 2, 0), at(1, 1, 2, 30)), []float64{8}, []float64{2}},
	} {
		d := divide(t, c.mesh, slabsAt(0, 10))
		var parts, slivers []float64
		for _, p := range d.Parts[0] {
			parts = append(parts, math.Round(p.Volume*1e3)/1e3)
		}
		for _, p := range d.Slivers[0] {
			slivers = append(slivers, math.Round(p.Volume*1e3)/1e3)
		}
		if !reflect.DeepEqual(parts, c.parts) || c.slivers != nil && !reflect.DeepEqual(slivers, c.slivers) {
			t.Errorf("%s: parts of %v and slivers of %v, want %v and %v", c.name, parts, slivers, c.parts, c.slivers)
		}
		sum := 0.0
		for i := range c.mesh.Triangles {
			if k := d.Of(i, 0); k >= len(parts) {
				t.Errorf("%s: facet %d belongs to part %d of %d", c.name, i, k, len(parts))
			} else if k >= 0 {
				sum++
			}
		}
		if sum == 0 {
			t.Errorf("%s: no facet belongs to a part", c.name)
		}
	}
}

// TestPartSections: the sections by part are those of the whole, each with its part.
func TestPartSections(t *testing.T) {
	shell := solidtest.Join(solidtest.Sphere(30, 3000), solidtest.Flip(solidtest.Sphere(20, 3000)), solidtest.Sphere(9, 3000))
	d := divide(t, shell, slabsAt(-30, -25, 25, 30))
	cuts, err := d.Sections(ctx, []Plane{{1, 25}, {1, 0}, {1, -40}, {0, -25}})
	if err != nil {
		t.Fatal(err)
	}
	agree(t, "ball", cuts[1][1].Area(), math.Pi*81, 0.01, 0)
	agree(t, "shell", cuts[1][0].Area(), math.Pi*500, 0.01, 0)
	for _, k := range []int{0, 2} {
		agree(t, "at the joint", cuts[k][0].Area(), math.Pi*275, 0.02, 0)
		if len(cuts[k][1]) != 0 {
			t.Error("the ball within has a section at the joint")
		}
	}
	agree(t, "below the joint", cuts[3][0].Area(), math.Pi*275, 0.02, 0)
}
