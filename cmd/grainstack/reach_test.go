package main

import (
	"bytes"
	"context"
	"image"
	"image/png"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
	"grainstack/slicing/solidtest"
)

// mushroom is a cap on a foot that lean by 17 degrees when turned so: no cutter sees what lies under the cap then.
func mushroom() *mesh.Mesh {
	return solidtest.Join(solidtest.Frustum(14, 14, 40, 200), solidtest.Moved(solidtest.Ellipsoid(60, 60, 9, 20_000), geom.Vec{Z: 46}))
}

// TestReportOfTheReach: programs rely on these names; two sides a layer, times add up, and what is trapped is named.
func TestReportOfTheReach(t *testing.T) {
	r := reportOf(t, write(t, "mushroom.stl", mushroom()), "-turn", "17,0,0", "-wall", "0")
	c := r["carve"].(map[string]any)
	for _, n := range strings.Fields("trapped_cm3 trapped_core_cm3 residue_mm_max residue_mm_mean sides hands_on_min total_min estimate_min") {
		if _, ok := c[n]; !ok {
			t.Errorf("carve lacks %s", n)
		}
	}
	sides := c["sides"].([]any)
	if len(sides) != 2*len(r["layers"].([]any)) {
		t.Errorf("%d sides of %d layers", len(sides), len(r["layers"].([]any)))
	}
	minutes, named := number(t, c, "hands_on_min"), false
	for _, s := range sides {
		s := s.(map[string]any)
		for _, n := range strings.Fields("layer side rough_min finish_min rough_m finish_m depth_mm findings") {
			if _, ok := s[n]; !ok {
				t.Errorf("a side lacks %s", n)
			}
		}
		minutes += number(t, s, "rough_min") + number(t, s, "finish_min")
		for _, f := range s["findings"].([]any) {
			named = named || f.(map[string]any)["kind"] == "trapped"
		}
	}
	near(t, "total", number(t, c, "total_min"), minutes, 1e-9)
	near(t, "the ticket's router", number(t, r, "totals", "router_min"), number(t, c, "router_min"), 1e-9)
	near(t, "the ticket's hands", number(t, r, "totals", "hands_on_min"), number(t, c, "hands_on_min"), 1e-9)
	byLayer := 0.0
	for _, l := range r["layers"].([]any) {
		byLayer += number(t, l.(map[string]any), "rough_min") + number(t, l.(map[string]any), "finish_min")
	}
	near(t, "the layers' router", byLayer, number(t, c, "router_min"), 1e-9)
	// 23 minutes a panel: 6 to fix it, 4 to drill, twice 4 to turn it, 5 to change the cutter (common practice, no source).
	near(t, "by hand", number(t, c, "hands_on_min"), 23*float64(len(r["panels"].([]any))), 1e-9)
	if number(t, c, "trapped_cm3") < 0.3 || !named {
		t.Errorf("%.2f cm³ are trapped, named %v", number(t, c, "trapped_cm3"), named)
	}
	cautioned := false
	for _, one := range r["cautions"].([]any) {
		cautioned = cautioned || strings.Contains(one.(string), "can't be reached")
	}
	if !cautioned {
		t.Errorf("no caution names it: %v", r["cautions"])
	}
}

// TestMarks: with marks there is more red in the picture than without.
func TestMarks(t *testing.T) {
	piece := write(t, "mushroom.stl", mushroom())
	red := func(words string) (n int) {
		to := filepath.Join(t.TempDir(), "x.png")
		args := append([]string{"picture", piece, "-o", to, "-size", "400x300", "-turn", "17,0,0", "-wall", "0"}, strings.Fields(words)...)
		if err := run(context.Background(), args, &bytes.Buffer{}); err != nil {
			t.Fatal(err)
		}
		raw, err := os.ReadFile(to)
		if err != nil {
			t.Fatal(err)
		}
		img, err := png.Decode(bytes.NewReader(raw))
		if err != nil {
			t.Fatal(err)
		}
		return redOf(img)
	}
	for _, view := range []string{"-view finished -elevation -35", "-view layer -layer 3"} {
		if without, with := red(view), red(view+" -marks"); with < without+20 {
			t.Errorf("%s: %d red pixels with marks, %d without", view, with, without)
		}
	}
}

// redOf counts pixels that are much more red than green and blue.
func redOf(img image.Image) (n int) {
	b := img.Bounds()
	for y := b.Min.Y; y < b.Max.Y; y++ {
		for x := b.Min.X; x < b.Max.X; x++ {
			if r, g, bl, _ := img.At(x, y).RGBA(); r > 0x7000 && g < r/2 && bl < r/2 {
				n++
			}
		}
	}
	return n
}
