package app

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"grainstack/app/state"
	"grainstack/slicing/job"
	"grainstack/slicing/stock"
)

func shedBall() stock.Cutter {
	return stock.Cutter{Key: "shed-ball", Name: "Ball from the shed", Shape: stock.Ball, Diameter: 5, Flutes: 2, CutLength: 22, Reach: 32,
		Shank: 6, FeedMmMin: 1800, PlungeMmMin: 600, RPM: 10000, Stepdown: 2, Stepover: 0.5}
}

// TestOwnCutterInTheWindow: a cutter kept in the form is written to the maker's file and worked with; the figures follow when
// it is changed; taken out, it stays with the job that uses it and travels in the job's file.
func TestOwnCutterInTheWindow(t *testing.T) {
	r := newRig(t, ring())
	r.bench.Shelf.Own.Path = filepath.Join(t.TempDir(), "folder", "stock.json")
	if err := r.keepCutter(shedBall()); err != nil {
		t.Fatal(err)
	}
	r.tasks.stock.Wait()
	if text, err := os.ReadFile(r.bench.Shelf.Own.Path); err != nil || !strings.Contains(string(text), "Ball from the shed") {
		t.Fatalf("the file holds %s (%v)", text, err)
	}
	r.Do("finish", func(s job.Settings) job.Settings { s.Fine = job.CutterUse{Key: "shed-ball"}; return s })
	r.Rest()
	r.settle()
	first := r.bench.Figures.Totals.FineMin
	if r.bench.Figured.Fault != "" || !(first > 0) {
		t.Fatalf("with the cutter: %g min, %s", first, r.bench.Figured.Fault)
	}
	wider := shedBall()
	wider.Stepover = 1
	if err := r.keepCutter(wider); err != nil {
		t.Fatal(err)
	}
	r.settle()
	if now := r.bench.Figures.Totals.FineMin; now > 0.7*first {
		t.Errorf("with rows twice as far apart it takes %.1f min, before %.1f", now, first)
	}
	if err := r.dropCutter(wider); err != nil {
		t.Fatal(err)
	}
	r.settle()
	r.tasks.stock.Wait()
	if text, _ := os.ReadFile(r.bench.Shelf.Own.Path); strings.Contains(string(text), "shed-ball") {
		t.Errorf("it is still in the file: %s", text)
	}
	if r.bench.Figured.Fault != "" || r.cardState().Catalogue != r.bench.Shelf.Now {
		t.Errorf("the job lost its cutter: %s", r.bench.Figured.Fault)
	}
	if j := r.bench.Job(); !strings.Contains(string(j.Catalogue.Carry(j.Settings.Uses()...)), "shed-ball") {
		t.Error("the job doesn't carry it along")
	}
}

// TestBrokenStockFile: a fault is told, nothing is written over the file, and the program's own stock is there.
func TestBrokenStockFile(t *testing.T) {
	r := newRig(t, ring())
	path := filepath.Join(t.TempDir(), "stock.json")
	const broken = `{"cutters": [{"key": "a"}]}`
	if err := os.WriteFile(path, []byte(broken), 0o644); err != nil {
		t.Fatal(err)
	}
	r.bench.Shelf = state.NewShelf(r.o.Catalogue, path)
	if !strings.Contains(r.bench.Shelf.Fault, "line 1") || r.bench.Shelf.Now != r.o.Catalogue {
		t.Errorf("said: %q", r.bench.Shelf.Fault)
	}
	if err := r.keepCutter(shedBall()); err == nil {
		t.Error("a cutter is kept in a file that could not be read")
	}
	r.tasks.stock.Wait()
	if text, _ := os.ReadFile(path); string(text) != broken {
		t.Errorf("the file is now %s", text)
	}
}
