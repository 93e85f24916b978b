package files

import (
	"context"
	"image"
	"image/gif"
	"image/png"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"grainstack/render/look"
	"grainstack/render/still"
	"grainstack/slicing/geom"
	"grainstack/slicing/solidtest"
)

func ball(w, h int) still.Scene {
	return still.Scene{
		Body: look.NewBody(solidtest.Moved(solidtest.Sphere(20, 500), geom.Vec{Z: 20})),
		View: look.View{Camera: look.Camera{Elevation: 0.3, Zoom: 1}, Placement: geom.Placement{Turn: geom.NoTurn(), Scale: 1}, Height: 40, Size: image.Pt(w, h)},
	}
}

func TestTurntableAsFilmOrFolder(t *testing.T) {
	dir, ctx := t.TempDir(), context.Background()
	path := filepath.Join(dir, "ball.GIF")
	if err := SaveTurntable(ctx, ball(32, 24), path, 3, 1, nil); err != nil {
		t.Fatal(err)
	}
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if g, err := gif.DecodeAll(f); err != nil || len(g.Image) != 3 {
		t.Errorf("%v, %d pictures", err, len(g.Image))
	}
	series := filepath.Join(dir, "series")
	for range 2 { // the second takes the first one's place
		if err := SaveTurntable(ctx, ball(32, 24), series, 3, 1, nil); err != nil {
			t.Fatal(err)
		}
	}
	last, err := os.Open(filepath.Join(series, "turn-002.png"))
	if err != nil {
		t.Fatal(err)
	}
	defer last.Close()
	if img, err := png.Decode(last); err != nil || img.Bounds().Dx() != 32 {
		t.Errorf("%v", err)
	}
	// A folder with anything else in it is left alone.
	if err := os.WriteFile(filepath.Join(series, "letter.txt"), []byte("dear"), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := SaveTurntable(ctx, ball(32, 24), series, 2, 1, nil); err == nil || !strings.Contains(err.Error(), "letter.txt") {
		t.Errorf("a folder with a letter in it was taken: %v", err)
	}
}

func TestNothingIsLeftOfWhatWasCalledOff(t *testing.T) {
	dir := t.TempDir()
	ctx, stop := context.WithCancel(context.Background())
	stop()
	for _, name := range []string{"a.png", "a.gif", "a"} {
		path := filepath.Join(dir, name)
		err := SaveStill(ctx, ball(32, 24), path, nil)
		if name != "a.png" {
			err = SaveTurntable(ctx, ball(32, 24), path, 3, 1, nil)
		}
		if err == nil {
			t.Errorf("%s was written although it was called off", name)
		}
	}
	if left, _ := os.ReadDir(dir); len(left) > 0 {
		t.Errorf("%v is left", left)
	}
}
