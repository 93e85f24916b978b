package main

import (
	"bytes"
	"context"
	"image/png"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"grainstack/slicing/geom"
	"grainstack/slicing/job"
	"grainstack/slicing/jobfile"
	"grainstack/slicing/solidtest"
	"grainstack/slicing/trial"
)

// TestTrialsOfAJob: the picture of its trials is drawn, the work book has a page of them, and a piece without a job has none.
func TestTrialsOfAJob(t *testing.T) {
	ctx := context.Background()
	c, err := catalogue()
	if err != nil {
		t.Fatal(err)
	}
	mesh := write(t, "block.stl", solidtest.Box(120, 90, 64))
	p, err := job.OpenPiece(ctx, mesh)
	if err != nil {
		t.Fatal(err)
	}
	s := job.Default(c)
	s.Wall = 0
	side, gone := s, s
	side.Turn, gone.Board = geom.TurnXYZ(90, 0, 0), "ebony"
	trials := []trial.Trial{{Name: "standing", Settings: s}, {Name: "lying", Settings: side}, {Name: "lost", Settings: gone}}
	dir := t.TempDir()
	at := filepath.Join(dir, "block.grainstack")
	if err := (jobfile.Job{Piece: p, Settings: s, Trials: trials}.Save(at, false)); err != nil {
		t.Fatal(err)
	}
	to := filepath.Join(dir, "trials.png")
	var out bytes.Buffer
	if err := run(ctx, []string{"picture", at, "-view", "trials", "-size", "700x420", "-o", to}, &out); err != nil {
		t.Fatal(err)
	}
	f, err := os.Open(to)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if img, err := png.Decode(f); err != nil || img.Bounds().Dx() != 700 || img.Bounds().Dy() != 420 {
		t.Errorf("the picture: %v, %v", img.Bounds(), err)
	}
	if err := run(ctx, []string{"picture", mesh, "-view", "trials", "-o", to}, &out); err == nil || !strings.Contains(err.Error(), "no trials") {
		t.Errorf("a mesh has no trials: %v", err)
	}
	if _, err := exec.LookPath("pdftotext"); err != nil {
		t.Skip("pdftotext is not installed: the work book is not read")
	}
	if _, err := runMake(at, "-out", filepath.Join(dir, "out"), "-only", "book"); err != nil {
		t.Fatal(err)
	}
	text, err := exec.Command("pdftotext", "-layout", filepath.Join(dir, "out", "work-book.pdf"), "-").Output()
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"standing · as it is", "lying", "lost", "stand as it came → forward 90°", "There is no board \"ebony\"", "Tips at"} {
		if !strings.Contains(string(text), want) {
			t.Errorf("the work book lacks %q", want)
		}
	}
}
