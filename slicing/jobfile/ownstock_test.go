package jobfile_test

import (
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"grainstack/assets/stocktest"
	"grainstack/slicing/job"
	"grainstack/slicing/jobfile"
	"grainstack/slicing/stock"
)

// ownBall is a cutter that no catalogue has.
func ownBall() stock.Cutter {
	return stock.Cutter{Key: "shed-ball", Name: "Ball from the shed", Shape: stock.Ball, Diameter: 5, Flutes: 2, CutLength: 22, Reach: 32,
		Shank: 6, FeedMmMin: 1800, PlungeMmMin: 600, RPM: 14000, Stepdown: 2, Stepover: 0.5}
}

// TestOwnStock: a cutter put into the maker's own file is there at the next start; a job that uses it opens where the file
// is not; without either the job says what is missing.
func TestOwnStock(t *testing.T) {
	c := stocktest.Catalogue(t)
	dir := t.TempDir()
	path := filepath.Join(dir, "new", "stock.json")
	own, same, err := jobfile.LoadOwnStock(path, c)
	if err != nil || same != c || own.Text != nil {
		t.Fatalf("without a file: %v", err)
	}
	text, err := stock.WithCutter(own.Text, ownBall())
	if err != nil {
		t.Fatal(err)
	}
	own.Text = text
	if err := own.Save(); err != nil {
		t.Fatal(err)
	}
	_, mine, err := jobfile.LoadOwnStock(path, c)
	if err != nil {
		t.Fatal(err)
	}
	s := job.Default(mine)
	s.Fine = job.CutterUse{Key: "shed-ball"}
	at := filepath.Join(dir, "with.grainstack")
	if err := (jobfile.Job{Piece: job.Demo(), Settings: s, Catalogue: mine}).Save(at, false); err != nil {
		t.Fatal(err)
	}
	got, err := jobfile.Open(context.Background(), at, "", c, nil)
	if err != nil {
		t.Fatalf("elsewhere: %v", err)
	}
	if k := got.Settings.Fine.In(got.Catalogue); k.Diameter != 5 || len(got.Notes) != 0 {
		t.Errorf("elsewhere the cutter is %+v, said: %q", k, got.Notes)
	}
	again := filepath.Join(dir, "again.grainstack")
	if err := got.Save(again, false); err != nil {
		t.Fatal(err)
	}
	if _, err := jobfile.Open(context.Background(), again, "", c, nil); err != nil {
		t.Errorf("saved elsewhere: %v", err)
	}
	other := ownBall()
	other.Diameter = 4
	text, _ = stock.WithCutter(text, other)
	theirs, _, err := c.Merge("theirs", text)
	if err != nil {
		t.Fatal(err)
	}
	if got, err := jobfile.Open(context.Background(), at, "", theirs, nil); err != nil || len(got.Notes) != 1 || got.Settings.Fine.In(got.Catalogue).Diameter != 5 {
		t.Errorf("where the name means another cutter: %v, %q", err, got.Notes)
	}
	bare := filepath.Join(dir, "bare.grainstack")
	if err := (jobfile.Job{Piece: job.Demo(), Settings: s}).Save(bare, false); err != nil {
		t.Fatal(err)
	}
	if _, err := jobfile.Open(context.Background(), bare, "", c, nil); err == nil || !strings.Contains(err.Error(), `no cutter "shed-ball"`) {
		t.Errorf("without the cutter: %v", err)
	}
}

// TestOwnStockMarked: an editor's mark is no part of the file; null is a fault that is told.
func TestOwnStockMarked(t *testing.T) {
	c := stocktest.Catalogue(t)
	path := filepath.Join(t.TempDir(), "stock.json")
	for text, fault := range map[string]string{"\ufeff{}": "", "null": "null stands where { ought to", "": "stops too early"} {
		if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
		if _, _, err := jobfile.LoadOwnStock(path, c); (err == nil) != (fault == "") || err != nil && !strings.Contains(err.Error(), fault) {
			t.Errorf("%q: %v, wants %q", text, err, fault)
		}
	}
}

// TestOwnStockBroken: a file with a fault leaves the catalogue as it was and names the line.
func TestOwnStockBroken(t *testing.T) {
	c := stocktest.Catalogue(t)
	path := filepath.Join(t.TempDir(), "stock.json")
	if err := os.WriteFile(path, []byte("{\n\"cutters\": [\n{\"key\": \"a\"}]}"), 0o644); err != nil {
		t.Fatal(err)
	}
	_, same, err := jobfile.LoadOwnStock(path, c)
	if same != c || err == nil || !strings.Contains(err.Error(), `line 3: cutter "a": has no name`) || !strings.Contains(err.Error(), path) {
		t.Errorf("got %v", err)
	}
}
