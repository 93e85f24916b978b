package main

import (
	"bytes"
	"context"
	"image"
	"image/color"
	"image/png"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"grainstack/render/tone"
	"grainstack/slicing/solidtest"
)

// TestMixFlag: the report has each layer's board and turn, the boards by kind and their cost.
func TestMixFlag(t *testing.T) {
	path := write(t, "block.stl", solidtest.Box(100, 80, 64))
	r := reportOf(t, path, "-wall", "0", "-mix", "2:walnut-18-13, 3:turn", "-prices", "birch-18-13:80,walnut-18-13:145")
	layers := r["layers"].([]any)
	for i, want := range []struct {
		board string
		deg   float64
		kg    float64
	}{{"birch-18-13", 0, 0.08768}, {"walnut-18-13", 90, 0.08064}, {"birch-18-13", 90, 0.08768}, {"birch-18-13", 90, 0.08768}} {
		l := layers[i].(map[string]any)
		if l["board"] != want.board || l["grain_deg"] != want.deg {
			t.Errorf("layer %d: %v at %v, want %s at %g", i+1, l["board"], l["grain_deg"], want.board, want.deg)
		}
		near(t, "weight of the layer", l["weight_kg"].(float64), want.kg, 1e-6)
	}
	near(t, "cost", number(t, r, "boards", "cost"), 225, 1e-9)
	if kinds := r["boards"].(map[string]any)["kinds"].([]any); len(kinds) != 2 {
		t.Errorf("%d kinds of board, want 2", len(kinds))
	}
	for _, args := range [][]string{{"-mix", "0:turn"}, {"-prices", "a"}, {"-tones", "red"}, {"-tones", "fff,fff"}, {"-photo-at", "1,1"}, {"-photo", "x", "-tones", "ffffff,ffffff,ffffff"}} {
		err := run(context.Background(), append([]string{"report", path}, args...), &bytes.Buffer{})
		if status(err, &bytes.Buffer{}) != 2 {
			t.Errorf("%v: %v, want wrong usage", args, err)
		}
	}
}

// TestTonesFromPhoto: three flat colours and a white card on a photo come into the settings as they are, and the card takes a
// colour cast out.
func TestTonesFromPhoto(t *testing.T) {
	img := image.NewRGBA(image.Rect(0, 0, 400, 100))
	for y := range 100 {
		for x := range 400 {
			img.SetRGBA(x, y, []color.RGBA{{210, 170, 120, 255}, {180, 130, 80, 255}, {140, 95, 60, 255}, {200, 200, 200, 255}}[x/100])
		}
	}
	photo := filepath.Join(t.TempDir(), "board.png")
	var b bytes.Buffer
	if err := png.Encode(&b, img); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(photo, b.Bytes(), 0o600); err != nil {
		t.Fatal(err)
	}
	path := write(t, "block.stl", solidtest.Box(100, 80, 64))
	tones := func(args ...string) string {
		r := reportOf(t, append([]string{path, "-wall", "0"}, args...)...)
		s := r["settings"].(map[string]any)["tones"].(map[string]any)
		var out []string
		for _, name := range []string{"Light", "Dark", "End"} {
			v := s[name].([]any)
			out = append(out, hexOf(v[0].(float64), v[1].(float64), v[2].(float64)))
		}
		return strings.Join(out, ",")
	}
	at := []string{"-photo", photo, "-photo-at", "50,50 150,50 250,50"}
	const want = "#d2aa78,#b48250,#8c5f3c"
	if got := tones(at...); got != want {
		t.Errorf("from the photo %s, want %s", got, want)
	}
	if got := tones(append(at, "-photo-card", "350,50")...); got != want {
		t.Errorf("balanced by a card that is neutral %s, want %s", got, want)
	}
	if got := tones("-tones", strings.ReplaceAll(want, "#", "")); got != want {
		t.Errorf("from colours %s, want %s", got, want)
	}
}

func hexOf(l, a, b float64) string { return tone.Lab{l, a, b}.Hex() }
