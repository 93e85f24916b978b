package stock_test

import (
	"math"
	"testing"

	"grainstack/assets"
	"grainstack/slicing/stock"
)

func catalogue(t testing.TB) *stock.Catalogue {
	c, err := stock.Load(assets.FS, "stock.json")
	if err != nil {
		t.Fatal(err)
	}
	return c
}

func board(t testing.TB, key string) stock.Board {
	b, ok := catalogue(t).Board(key)
	if !ok {
		t.Fatalf("no board %q", key)
	}
	return b
}

// Plies per nominal size from two birch plywood mills' size tables; average measured thickness and density from a trade
// birch plywood data sheet (United Kingdom).
func TestBirch(t *testing.T) {
	for _, tt := range []struct {
		key                string
		plies              int
		measured, low, top float64
		density            float64
	}{
		{"birch-9-7", 7, 9.2, 8.8, 9.5, 710},
		{"birch-12-9", 9, 12.0, 11.5, 12.5, 695},
		{"birch-15-11", 11, 14.9, 14.3, 15.3, 690},
		{"birch-18-13", 13, 17.7, 17.1, 18.1, 685},
		{"birch-21-15", 15, 20.5, 20.0, 20.9, 680},
	} {
		b := board(t, tt.key)
		if len(b.Recipe) != tt.plies || b.Thickness != tt.measured || b.Density != tt.density {
			t.Errorf("%s: got %d veneers, %g mm, %g kg/m³, want %d, %g, %g", tt.key, len(b.Recipe), b.Thickness, b.Density,
				tt.plies, tt.measured, tt.density)
		}
		if sum := total(b.Recipe); math.Abs(sum-b.Thickness) > 1e-9 || sum < tt.low || sum > tt.top {
			t.Errorf("%s: the recipe sums to %g", tt.key, sum)
		}
		for i, v := range b.Recipe { // faces with the board, every second veneer across; inner veneers 1.4 mm: same sheet
			if (v.Grain == stock.Along) != (i%2 == 0) {
				t.Errorf("%s: veneer %d runs %v", tt.key, i+1, v.Grain)
			}
			if inner := i > 0 && i < tt.plies-1; inner && v.Thickness != 1.4 {
				t.Errorf("%s: veneer %d is %g mm, want 1.4", tt.key, i+1, v.Thickness)
			}
		}
	}
}

// The catalogue holds what is promised, and says of every figure where it comes from.
func TestCatalogue(t *testing.T) {
	c := catalogue(t)
	for _, key := range []string{"birch-18-13", "birch-12-9", "softwood-18-7", "softwood-18-5", "poplar-18-9", "mdf-18"} {
		if _, ok := c.Board(key); !ok {
			t.Errorf("no board %q", key)
		}
	}
	if _, ok := c.Board("none"); ok {
		t.Error("found a board that is not there")
	}
	sourced := func(kind, key string, sources map[string]string, want int) {
		for name, s := range sources {
			if s == "" {
				t.Errorf("%s %q: %s has no source", kind, key, name)
			}
		}
		if len(sources) != want {
			t.Errorf("%s %q: %d sources, want %d: %v", kind, key, len(sources), want, sources)
		}
	}
	for _, b := range c.Boards {
		sourced("board", b.Key, b.Sources, 8)
		if _, ok := c.Wood(b.Recipe[0].Species); !ok {
			t.Errorf("board %q: no species %q", b.Key, b.Recipe[0].Species)
		}
	}
	for _, s := range c.Species {
		sourced("species", s.Key, s.Sources, 4)
		// End grain is darker and duller than long grain (Hirata, Hayashi and Ohta, J. Wood Sci. 2020, 60 species).
		if s.Key != "fibre" && !(s.End[0] < s.Long[0] && math.Hypot(s.End[1], s.End[2]) < math.Hypot(s.Long[1], s.Long[2])) {
			t.Errorf("species %q: end grain %v is not darker and duller than long grain %v", s.Key, s.End, s.Long)
		}
	}
	for _, k := range c.Cutters {
		want := 10
		if k.CornerRadius > 0 {
			want++
		}
		if k.TaperDeg > 0 {
			want++
		}
		sourced("cutter", k.Key, k.Sources, want)
	}
	for _, m := range c.Machines {
		sourced("machine", m.Key, m.Sources, 15)
	}
	for _, g := range c.Glues {
		sourced("glue", g.Key, g.Sources, 9)
	}
	for _, f := range c.Finishes {
		want := 9
		if f.Coats == 0 {
			want = 5
		}
		sourced("finish", f.Key, f.Sources, want)
	}
	for _, p := range c.Panels {
		sourced("panel", p.Key, p.Sources, 2)
	}
}

// A 17.8 mm board skimmed 0.9 mm on each face leaves a layer of exactly 16.0 mm (common practice, no published source).
func TestSkimmed(t *testing.T) {
	b := board(t, "birch-18-13").Measured(17.8)
	left, err := b.Skimmed(0.9)
	if err != nil {
		t.Fatal(err)
	}
	if got := total(left); math.Abs(got-16) > 1e-9 || len(left) != 13 {
		t.Errorf("got %g mm in %d veneers, want 16 in 13", got, len(left))
	}
	if got, want := left[0].Thickness, 1.15*17.8/17.7-0.9; math.Abs(got-want) > 1e-9 {
		t.Errorf("outer veneer: got %g, want %g", got, want)
	}
	// Equal veneers of 17.7/13 = 1.36 mm leave 0.46 mm outside after 0.9 mm (arithmetic).
	even := stock.Board{Key: "even", Thickness: 17.7}
	for range 13 {
		even.Recipe = append(even.Recipe, stock.Veneer{Thickness: 17.7 / 13})
	}
	if left, err = even.Skimmed(0.9); err != nil || math.Abs(left[0].Thickness-0.46) > 0.005 {
		t.Errorf("equal veneers: got %v, %v, want 0.46 outside", left[0].Thickness, err)
	}
	// Thin faces are gone after the same skim, and the next veneer runs across.
	left, err = board(t, "softwood-18-7").Skimmed(0.9)
	if err != nil || len(left) != 5 || left[0].Grain != stock.Across {
		t.Errorf("thin faces: got %v, %v, want 5 veneers, the outer across", left, err)
	}
}

// Whatever the skim, veneers keep their order, none grows, and they sum to the layer; skimming nothing changes nothing.
func TestSkimmedSums(t *testing.T) {
	for _, b := range catalogue(t).Boards {
		for skim := 0.0; 2*skim < b.Thickness; skim += 0.173 {
			left, err := b.Skimmed(skim)
			if err != nil {
				t.Fatal(err)
			}
			if got, want := total(left), b.Thickness-2*skim; math.Abs(got-want) > 1e-8 {
				t.Fatalf("%s, skim %g: sums to %g, want %g", b.Key, skim, got, want)
			}
			for _, v := range left {
				if !(v.Thickness > 0) {
					t.Fatalf("%s, skim %g: a veneer of %g mm", b.Key, skim, v.Thickness)
				}
			}
		}
		for _, skim := range []float64{-0.1, math.NaN(), b.Thickness / 2, b.Thickness, math.Inf(1)} {
			if left, err := b.Skimmed(skim); err == nil {
				t.Errorf("%s: a skim of %g leaves %v", b.Key, skim, left)
			}
		}
	}
}

// A maker's own caliper scales the recipe and leaves the catalogue's board as it was.
func TestMeasured(t *testing.T) {
	b := board(t, "birch-18-13")
	own := b.Measured(18.06)
	if own.Thickness != 18.06 || math.Abs(total(own.Recipe)-18.06) > 1e-9 {
		t.Errorf("got %g, summing to %g", own.Thickness, total(own.Recipe))
	}
	if b.Thickness != 17.7 || math.Abs(total(b.Recipe)-17.7) > 1e-9 {
		t.Error("the board itself was changed")
	}
	if back := own.Measured(17.7); math.Abs(back.Recipe[0].Thickness-b.Recipe[0].Thickness) > 1e-12 {
		t.Errorf("there and back: outer veneer %g", back.Recipe[0].Thickness)
	}
	for _, bad := range []float64{0, -1, math.NaN(), math.Inf(1)} {
		if b.Measured(bad).Thickness != 17.7 {
			t.Errorf("%g was taken as a measure", bad)
		}
	}
}

func TestGrain(t *testing.T) {
	for _, tt := range []struct{ grain, turned stock.Grain }{
		{stock.Along, stock.Across}, {stock.Across, stock.Along}, {stock.Plain, stock.Plain},
	} {
		if got := tt.grain.Turned(); got != tt.turned {
			t.Errorf("%v turned is %v, want %v", tt.grain, got, tt.turned)
		}
	}
}

// Clear coats darken, end grain more than long grain, and colour grows stronger (Tashiro and Nakamura, J. Soc. Mater. Sci.
// Japan 62(4), 248-253); L* falls by 4 to 10 (from memory). Bare wood stays as it is.
func TestTone(t *testing.T) {
	c := catalogue(t)
	birch, _ := c.Wood("birch")
	bare, _ := c.Finish("bare")
	coat, _ := c.Finish("varnish")
	if got := bare.Tone(birch.Long, 0); got != birch.Long {
		t.Errorf("bare: got %v, want %v", got, birch.Long)
	}
	long, end := coat.Tone(birch.Long, 0), coat.Tone(birch.End, 1)
	if fall := birch.Long[0] - long[0]; fall < 4 || fall > 10 {
		t.Errorf("long grain falls by %g", fall)
	}
	if birch.End[0]-end[0] <= birch.Long[0]-long[0] {
		t.Error("end grain does not darken more than long grain")
	}
	if math.Hypot(long[1], long[2]) <= math.Hypot(birch.Long[1], birch.Long[2]) {
		t.Error("colour does not grow stronger")
	}
	if half := coat.Tone(birch.Long, 0.5)[0]; half >= long[0] || half <= coat.Tone(birch.Long, 1)[0] {
		t.Errorf("half end grain: %g is not between", half)
	}
}

// A square metre of joint takes 220 g (cross-banded beech: BioResources, Réh and others), of which about half stays
// (technical-cooperation woodworking text). 3 coats of varnish at 11 m²/L.
func TestQuantities(t *testing.T) {
	c := catalogue(t)
	pva, _ := c.Glue("pva")
	if wet, dry := pva.Wet(1e6), pva.Dry(1e6); wet != 220 || dry != 110 {
		t.Errorf("glue: got %g g wet, %g g dry, want 220, 110", wet, dry)
	}
	coat, _ := c.Finish("varnish")
	if got := coat.Litres(11e6); math.Abs(got-3) > 1e-12 {
		t.Errorf("varnish: got %g L, want 3", got)
	}
	bare, _ := c.Finish("bare")
	if got := coat.Dry(11e6); math.Abs(got-3*0.95*530) > 1e-9 { // 3 L of 0.95 kg each, of which 53 % stay
		t.Errorf("dry it weighs %v g", got)
	}
	if got := bare.Litres(1e6); got != 0 {
		t.Errorf("bare: got %g L", got)
	}
	// Feed = rpm x flutes x chip load: 18000 x 2 x 0.1 mm = 3600 mm/min (vendor page).
	if got := (stock.Cutter{FeedMmMin: 3600, RPM: 18000, Flutes: 2}).ChipLoad(); math.Abs(got-0.1) > 1e-12 {
		t.Errorf("chip load: got %g, want 0.1", got)
	}
}

func total(recipe []stock.Veneer) (sum float64) {
	for _, v := range recipe {
		sum += v.Thickness
	}
	return sum
}
