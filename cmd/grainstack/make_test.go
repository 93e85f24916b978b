package main

import (
	"bytes"
	"context"
	"errors"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"grainstack/slicing/job"
	"grainstack/slicing/jobfile"
	"grainstack/slicing/solidtest"
	"grainstack/slicing/workshop"
)

func runMake(args ...string) (string, error) {
	var out bytes.Buffer
	err := run(context.Background(), append([]string{"make"}, args...), &out)
	return out.String(), err
}

// TestMakeWritesWhatIsAskedFor of a piece, and what it names beforehand.
func TestMakeWritesWhatIsAskedFor(t *testing.T) {
	piece := write(t, "block.stl", solidtest.Box(200, 150, 64))
	dir := filepath.Join(t.TempDir(), "out")
	words, err := runMake(piece, "-out", dir, "-wall", "0", "-only", "lists,layers", "-list")
	if err != nil || !strings.Contains(words, "layers/layer-04.stl") || strings.Contains(words, "outlines/") {
		t.Fatalf("%v: %s", err, words)
	}
	if _, err := os.Stat(dir); !os.IsNotExist(err) {
		t.Error("naming the files has written something")
	}
	if _, err := runMake(piece, "-out", dir, "-wall", "0", "-only", "lists,layers"); err != nil {
		t.Fatal(err)
	}
	if _, err := os.Stat(filepath.Join(dir, "layers", "layer-04.stl")); err != nil {
		t.Error(err)
	}
	if words, err = runMake(piece, "-out", dir, "-wall", "0", "-only", "lists", "-list"); err != nil || !strings.Contains(words, "replaces") || !strings.Contains(words, "layers/layer-04.stl: stays") {
		t.Errorf("%v: %s", err, words)
	}
	// half as high: of the layers two go, the lists stay
	low := []string{piece, "-out", dir, "-wall", "0", "-height", "32", "-only", "layers"}
	if words, err = runMake(append(low, "-list")...); err != nil || !strings.Contains(words, "layers/layer-04.stl: goes") || !strings.Contains(words, "lists/parts.csv: stays") {
		t.Errorf("%v: %s", err, words)
	}
	if words, err = runMake(low...); err != nil || !strings.Contains(words, "stay") || !strings.Contains(words, "layer-03.stl") {
		t.Errorf("%v: %s", err, words)
	}
	for name, there := range map[string]bool{"lists/parts.csv": true, "layers/layer-02.stl": true, "layers/layer-03.stl": false, "contents.txt": true} {
		if _, err := os.Stat(filepath.Join(dir, name)); (err == nil) != there {
			t.Errorf("%s: %v", name, err)
		}
	}
	for _, wrong := range [][]string{{piece}, {piece, "-out", dir, "-only", "toys"}, {piece, "-out", dir, "-paper", "a3"}, {"-out", dir}} {
		var usage *usageError
		if _, err := runMake(wrong...); !errors.As(err, &usage) {
			t.Errorf("%v: %v", wrong, err)
		}
	}
}

// TestMakeOfWhatFitsNoPanel: it ends with a sentence and the status 1, and writes nothing.
func TestMakeOfWhatFitsNoPanel(t *testing.T) {
	piece := write(t, "block.stl", solidtest.Box(2000, 1500, 640))
	dir := filepath.Join(t.TempDir(), "out")
	_, err := runMake(piece, "-out", dir, "-wall", "0")
	var said bytes.Buffer
	if code := status(err, &said); code != 1 || !strings.Contains(said.String(), "nothing of this piece fits its panel") {
		t.Errorf("status %d: %s", code, said.String())
	}
	if _, err := os.Stat(dir); !os.IsNotExist(err) {
		t.Error("something was written")
	}
}

// TestMakeTakesTheLayoutOfAJob: a part that the maker has locked lies there in the files.
func TestMakeTakesTheLayoutOfAJob(t *testing.T) {
	ctx := context.Background()
	c, err := catalogue()
	if err != nil {
		t.Fatal(err)
	}
	p, err := job.OpenPiece(ctx, write(t, "block.stl", solidtest.Box(200, 150, 64)))
	if err != nil {
		t.Fatal(err)
	}
	s := job.Default(c)
	s.Wall = 0
	st, err := job.Stand(ctx, p, s.Stand())
	if err != nil {
		t.Fatal(err)
	}
	f, err := job.Settle(ctx, st, s, c)
	if err != nil {
		t.Fatal(err)
	}
	w, err := workshop.New(ctx, st, f, job.Places{}, c, workshop.Watch{})
	if err != nil {
		t.Fatal(err)
	}
	number, at, ok := w.Layout.Find(w.Parts[0].ID)
	if !ok {
		t.Fatal("layer 1 lies nowhere")
	}
	at.Locked = true
	at.At.X += 0.125
	places, err := w.Put(number, at)
	if err != nil {
		at.At.X -= 0.25
		if places, err = w.Put(number, at); err != nil {
			t.Fatal(err)
		}
	}
	path := filepath.Join(t.TempDir(), "block.grainstack")
	if err := (jobfile.Job{Piece: p, Settings: s, Places: places}).Save(path, true); err != nil {
		t.Fatal(err)
	}
	r := reportOf(t, path)
	first := r["panels"].([]any)[number-1].(map[string]any)["parts"].([]any)
	found := false
	for _, q := range first {
		part := q.(map[string]any)
		off := math.Hypot(part["x_mm"].(float64)-at.At.X, part["y_mm"].(float64)-at.At.Y)
		found = found || part["layer"] == 1.0 && off < 0.5 // the block's middle lies on its axis; outlines are taken in cells of half a mm
	}
	if !found {
		t.Errorf("layer 1 does not lie at %v: %v", at.At, first)
	}
}

// TestReportOfTheWorkshop: a block of 200 × 150 × 64 mm tips at atan(75 / 32) (statics), its three joints take the glue of
// 300 cm² each, and four layers of it go on one panel.
func TestReportOfTheWorkshop(t *testing.T) {
	r := reportOf(t, write(t, "block.stl", solidtest.Box(200, 150, 64)), "-wall", "0")
	near(t, "tip", number(t, r, "balance", "tip_deg"), math.Atan2(75, 32)*180/math.Pi, 1e-3)
	com := r["balance"].(map[string]any)["com_mm"].([]any)
	if z := com[2].(float64); math.Abs(z-32) > 0.01 {
		t.Errorf("centre of mass at %v", com)
	}
	joints := r["joints"].([]any)
	if len(joints) != 3 || len(r["glue_up"].([]any)) != 3 {
		t.Fatalf("%d joints, %d pressings", len(joints), len(r["glue_up"].([]any)))
	}
	for _, j := range joints {
		near(t, "joint", number(t, j.(map[string]any), "area_cm2"), 300, 1e-6)
		near(t, "pins", number(t, j.(map[string]any), "pins"), 2, 0)
	}
	panels := r["panels"].([]any)
	parts := 0
	for _, p := range panels {
		parts += len(p.(map[string]any)["parts"].([]any))
	}
	if parts != 4 || number(t, r, "boards", "count") != 1 {
		t.Errorf("%d parts, boards %v", parts, r["boards"])
	}
}
