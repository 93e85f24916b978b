package mesh

import (
	"math"
	"math/rand"
	"reflect"
	"slices"
	"strconv"
	"testing"
)

// sheet is a sheet of 2·side² facets in random order.
func sheet(side int) []facet {
	facets := make([]facet, 0, 2*side*side)
	for j := range side {
		for i := range side {
			at := func(i, j int) Point { return Point{float32(i), float32(j), float32((i * j) % 7)} }
			facets = append(facets, facet{at(i, j), at(i+1, j), at(i+1, j+1)}, facet{at(i, j), at(i+1, j+1), at(i, j+1)})
		}
	}
	rand.New(rand.NewSource(1)).Shuffle(len(facets), func(i, j int) { facets[i], facets[j] = facets[j], facets[i] })
	return facets
}

// slowWeld is the obvious way: a map from places to numbers.
func slowWeld(facets []facet, order []uint64) (*Mesh, int) {
	m, dropped, at := &Mesh{}, 0, map[Point]int32{}
	for _, o := range order {
		f := facets[uint32(o)]
		if f[0] == f[1] || f[1] == f[2] || f[2] == f[0] {
			dropped++
			continue
		}
		var t Triangle
		for k, p := range f {
			if _, known := at[p]; !known {
				at[p] = int32(len(m.Points))
				m.Points = append(m.Points, p)
			}
			t[k] = at[p]
		}
		m.Triangles = append(m.Triangles, t)
	}
	return m, dropped
}

func TestWeldAgreesWithSlowTwin(t *testing.T) {
	rnd := rand.New(rand.NewSource(2))
	coarse := make([]facet, 40_000) // corners on a small grid: many equal, many facets without area
	for i := range coarse {
		for k := range 3 {
			for a := range 3 {
				coarse[i][k][a] = float32(rnd.Intn(12))
			}
		}
	}
	for _, tt := range []struct {
		name   string
		facets []facet
	}{{"sheet of several patches", sheet(150)}, {"sheet of one patch", sheet(20)}, {"coarse", coarse}, {"one", sheet(1)[:1]}} {
		order := spatialOrder(tt.facets, bounds(tt.facets))
		got, dropped := weld(tt.facets, order)
		want, wantDropped := slowWeld(tt.facets, order)
		if dropped != wantDropped || !reflect.DeepEqual(got, want) {
			t.Errorf("%s: %d points, %d triangles, %d dropped; slow twin %d, %d, %d", tt.name, len(got.Points),
				len(got.Triangles), dropped, len(want.Points), len(want.Triangles), wantDropped)
		}
	}
}

func TestSortByKey(t *testing.T) {
	rnd := rand.New(rand.NewSource(3))
	keys := make([]uint64, 3*span+17)
	for i := range keys {
		keys[i] = uint64(rnd.Intn(1<<(3*keyBits))&^0xfff)<<32 | uint64(i)
	}
	want := slices.Clone(keys)
	slices.Sort(want) // the number in the low bits makes it the stable order
	if got := sortByKey(keys); !slices.Equal(got, want) {
		t.Error("not in order")
	}
}

func TestSpread(t *testing.T) {
	for v := range uint32(1 << keyBits) {
		want := uint32(0)
		for b := range keyBits {
			want |= v >> b & 1 << (3 * b)
		}
		if got := spread(v); got != want {
			t.Fatalf("spread(%b) = %b, want %b", v, got, want)
		}
	}
}

// The plain numbers of files are read as strconv reads them, to the bit of a float64.
func TestNumberAgreesWithStrconv(t *testing.T) {
	words := []string{"0", "-0", "+1", "1.", ".5", "-.5e1", "1e22", "1e23", "1e-22", "9007199254740993", "123456789012345678", "1e400", "0x1p4",
		"00000000000000000000001", "3.4028236e38", "1e", "e5", "", "-", ".", "1e+5", "1e-0005", "1.5.2", "12a", "nan", "-inf", "Infinity"}
	rnd := rand.New(rand.NewSource(4))
	for range 20_000 {
		v := (rnd.Float64() - 0.5) * math.Pow(10, float64(rnd.Intn(20)-8))
		words = append(words, strconv.FormatFloat(v, "gef"[rnd.Intn(3)], rnd.Intn(19)-1, 64))
	}
	for _, w := range words {
		want, err := strconv.ParseFloat(w, 64)
		got, ok := number([]byte(w))
		if ok != (err == nil || math.IsInf(want, 0)) {
			t.Errorf("%q: read %v, strconv says %v", w, ok, err)
		}
		if ok && math.Float64bits(got) != math.Float64bits(want) && !math.IsNaN(want) {
			t.Errorf("%q: %v, strconv %v", w, got, want)
		}
	}
}

// BenchmarkWeld welds the facets of a million-triangle sheet from random order, spatial ordering not counted.
func BenchmarkWeld(b *testing.B) {
	const side = 707
	facets := sheet(side)
	order := spatialOrder(facets, bounds(facets))
	b.ReportAllocs()
	for b.Loop() {
		if m, dropped := weld(facets, order); len(m.Points) != (side+1)*(side+1) || dropped != 0 {
			b.Fatalf("%d points, %d dropped", len(m.Points), dropped)
		}
	}
}

func BenchmarkSpatialOrder(b *testing.B) {
	facets := sheet(707)
	for b.Loop() {
		spatialOrder(facets, bounds(facets))
	}
}
