package main

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"image/png"
	"io"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"grainstack/slicing/mesh"
	"grainstack/slicing/par"
	"grainstack/slicing/solidtest"
)

func write(t *testing.T, name string, m *mesh.Mesh) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), name)
	f, err := os.Create(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if err := mesh.WriteSTL(f, m); err != nil {
		t.Fatal(err)
	}
	return path
}

func reportOf(t *testing.T, args ...string) map[string]any {
	t.Helper()
	var out bytes.Buffer
	if err := run(context.Background(), append([]string{"report"}, args...), &out); err != nil {
		t.Fatal(err)
	}
	var r map[string]any
	if err := json.Unmarshal(out.Bytes(), &r); err != nil {
		t.Fatal(err)
	}
	return r
}

func number(t *testing.T, r map[string]any, keys ...string) float64 {
	t.Helper()
	for _, k := range keys[:len(keys)-1] {
		r = r[k].(map[string]any)
	}
	v, ok := r[keys[len(keys)-1]].(float64)
	if !ok {
		t.Fatalf("no figure %v in the report", keys)
	}
	return v
}

func near(t *testing.T, what string, got, want, share float64) {
	t.Helper()
	if !(math.Abs(got-want) <= share*math.Abs(want)) {
		t.Errorf("%s: got %.6g, want %.6g within %.2g %%", what, got, want, 100*share)
	}
}

// TestReportOfABox: a box of 100 × 60 × 80 mm has a volume of 480 cm³ and an area of 376 cm² (any handbook); laid on its
// side it is 60 or 100 high; scaled by 2 it is 8 times the volume.
func TestReportOfABox(t *testing.T) {
	path := write(t, "box.stl", solidtest.Box(100, 60, 80))
	r := reportOf(t, path, "-wall", "0", "-sections", "4", "-board", "birch-18-13", "-skim", "0.85")
	near(t, "volume", number(t, r, "piece", "volume_cm3"), 480, 1e-6)
	near(t, "area", number(t, r, "piece", "area_cm2"), 376, 1e-6)
	near(t, "layers", number(t, r, "totals", "layers"), 5, 0)
	near(t, "wood", number(t, r, "totals", "wood_cm3"), 480, 1e-6)
	near(t, "joints", number(t, r, "totals", "joint_cm2"), 4*60, 1e-6)
	near(t, "weight", number(t, r, "totals", "wood_kg"), 480e-6*685, 1e-6)
	sections := r["sections"].([]any)
	if len(sections) != 4 {
		t.Fatalf("%d sections, want 4", len(sections))
	}
	for i, s := range sections {
		s := s.(map[string]any)
		near(t, "height", s["z_mm"].(float64), (float64(i)+0.5)*20, 1e-6)
		near(t, "section", s["area_cm2"].(float64), 60, 1e-6)
		near(t, "perimeter", s["perimeter_mm"].(float64), 320, 1e-6)
	}
	turned := reportOf(t, "-turn", "0,90,0", "-scale", "2", "-wall", "0", path)
	near(t, "turned volume", number(t, turned, "piece", "volume_cm3"), 8*480, 1e-6)
	near(t, "turned height", turned["piece"].(map[string]any)["size_mm"].([]any)[2].(float64), 200, 1e-6)
	high := reportOf(t, path, "-height", "4 in", "-wall", "0")
	near(t, "height of 4 in", high["piece"].(map[string]any)["size_mm"].([]any)[2].(float64), 101.6, 1e-6)
}

// TestReportHasItsFields: programs rely on these names.
func TestReportHasItsFields(t *testing.T) {
	r := reportOf(t, write(t, "ball.stl", solidtest.Sphere(60, 8000)), "-sections", "2", "-mix", "2:turn", "-tones", "d9b38c,c79a6b,a87443")
	first := func(key string) map[string]any { return r[key].([]any)[0].(map[string]any) }
	for key, names := range map[string]string{
		"piece":    "file triangles shells open_edges nonmanifold_edges solid volume_cm3 area_cm2 size_mm",
		"settings": "scale turn_deg board board_thickness_mm skim_mm layer_mm wall_mm core caps finish mix tones",
		"totals":   "layers layer_mm wood_cm3 core_cm3 weight_kg joint_cm2 glue_g rough_min finish_min router_min",
	} {
		for _, n := range strings.Fields(names) {
			if _, ok := r[key].(map[string]any)[n]; !ok {
				t.Errorf("the report's %s lacks %s", key, n)
			}
		}
	}
	for key, names := range map[string]string{
		"layers":   "number bottom_mm top_mm wood_cm3 core_cm3 joint_below_cm2 parts grain_deg size_mm",
		"sections": "z_mm area_cm2 perimeter_mm contours",
	} {
		for _, n := range strings.Fields(names) {
			if _, ok := first(key)[n]; !ok {
				t.Errorf("the report's %s lack %s", key, n)
			}
		}
	}
}

// TestWrongWords: a wrong command line ends with 2, a fault of the file with 1, both with a sentence.
func TestWrongWords(t *testing.T) {
	dir := t.TempDir()
	empty := filepath.Join(dir, "empty.stl")
	if err := os.WriteFile(empty, nil, 0o644); err != nil {
		t.Fatal(err)
	}
	ball := write(t, "ball.stl", solidtest.Sphere(60, 500))
	for _, tt := range []struct {
		args string
		want int
	}{
		{"report", 2}, {"report a b", 2}, {"report -wide x", 2}, {"report " + ball + " -core round", 2},
		{"report " + ball + " -turn 1,2", 2}, {"report " + ball + " -caps 1", 2}, {"report " + ball + " -sections -1", 2},
		{"report " + ball + " -wall thick", 2}, {"report " + ball + " -scale -1", 2},
		{"picture " + ball, 2}, {"picture " + ball + " -o x.png -view front", 2}, {"picture " + ball + " -o x.png -size 0x4", 2},
		{"report " + filepath.Join(dir, "gone.stl"), 1}, {"report " + empty, 1}, {"report " + ball + " -board ebony", 1},
		{"report " + ball + " -wall -4", 1}, {"report " + ball + " -skim 20", 1},
		{"picture " + ball + " -view layer -layer 99 -o " + filepath.Join(dir, "x.png"), 1},
		{"picture " + ball + " -o " + filepath.Join(dir, "no", "x.png"), 1},
		{"help", 0},
	} {
		var out, told bytes.Buffer
		got := status(run(context.Background(), strings.Fields(tt.args), &out), &told)
		if got != tt.want {
			t.Errorf("grainstack %s: exit status %d, want %d (%s)", tt.args, got, tt.want, told.String())
		}
		if got != 0 && (told.Len() == 0 || strings.Contains(told.String(), "panic")) {
			t.Errorf("grainstack %s: says %q", tt.args, told.String())
		}
	}
}

// TestPictures: each view is drawn at the size asked for, and shows something.
func TestPictures(t *testing.T) {
	ball := write(t, "ball.stl", solidtest.Sphere(60, 8000))
	seen := map[string]bool{}
	for _, view := range []string{"finished", "finished -cut-away -layer 4", "finished -lift 12", "layer -layer 3", "stick -dark",
		"finished -light spot", "finished -light overcast -ground floor", "finished -ground plinth", "still -ground plinth"} {
		to := filepath.Join(t.TempDir(), "x.png")
		args := append([]string{"picture", ball, "-o", to, "-size", "320x240", "-view"}, strings.Fields(view)...)
		if err := run(context.Background(), args, &bytes.Buffer{}); err != nil {
			t.Fatalf("%s: %v", view, err)
		}
		raw, err := os.ReadFile(to)
		if err != nil {
			t.Fatal(err)
		}
		img, err := png.Decode(bytes.NewReader(raw))
		if err != nil {
			t.Fatal(err)
		}
		if b := img.Bounds(); b.Dx() != 320 || b.Dy() != 240 {
			t.Errorf("%s: %v", view, b)
		}
		if seen[string(raw)] {
			t.Errorf("%s is the same picture as another view", view)
		}
		seen[string(raw)] = true
	}
}

// TestSampleIsASolid: what 'sample' writes is read back as one solid.
func TestSampleIsASolid(t *testing.T) {
	to := filepath.Join(t.TempDir(), "hare.stl")
	if err := run(context.Background(), []string{"sample", "-o", to}, &bytes.Buffer{}); err != nil {
		t.Fatal(err)
	}
	r := reportOf(t, to)
	p := r["piece"].(map[string]any)
	if p["solid"] != true || p["triangles"].(float64) < 300_000 {
		t.Errorf("the demo piece is %v", p)
	}
}

// TestNumbersAreFinite: no flag takes what is no number or without end, and each says so before the piece is read.
func TestNumbersAreFinite(t *testing.T) {
	for command, flags := range map[string]string{
		"report":     "height scale saw-base smooth thin board-thickness skim layer-thickness wall first-joint",
		"picture":    "azimuth elevation seconds lift",
		"directions": "weights",
	} {
		for name := range strings.FieldsSeq(flags) {
			for _, value := range []string{"nan", "inf", "-Inf", "1e309", "1e400 mm", ""} {
				if name == "weights" {
					value = "layers=" + value
				}
				err := run(context.Background(), []string{command, "-" + name, value, "none.stl"}, io.Discard)
				var wrong *usageError
				if !errors.As(err, &wrong) || !strings.Contains(err.Error(), name) && !strings.Contains(err.Error(), "weight") {
					t.Errorf("%s -%s %s: %v", command, name, value, err)
				}
			}
		}
	}
}

// TestTold: names from outside can't act on the terminal, and being called off is a sentence.
func TestTold(t *testing.T) {
	var out strings.Builder
	if got := status(fmt.Errorf("a\x1b[31m: %w", os.ErrNotExist), &out); got != 1 || strings.ContainsAny(out.String(), "\x1b") {
		t.Errorf("%d, %q", got, out.String())
	}
	out.Reset()
	if got := status(fmt.Errorf("work: %w", context.Canceled), &out); got != 1 || out.String() != "grainstack: called off before anything was written\n" {
		t.Errorf("%d, %q", got, out.String())
	}
}

// TestSlipsAreSentences: a command that panics, on a goroutine of a loop too, ends with a sentence.
func TestSlipsAreSentences(t *testing.T) {
	slip := command{run: func(ctx context.Context, _ []string, _ io.Writer) error {
		return par.Spans(ctx, 8, 1, func(int, int) { panic("a slip") })
	}}
	if err := try(context.Background(), slip, nil, io.Discard); err == nil || !strings.Contains(err.Error(), "the program made a mistake while it worked this out (a slip)") {
		t.Errorf("told: %v", err)
	}
}
