package main

import (
	"bytes"
	"context"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"grainstack/slicing/hours"
	"grainstack/slicing/jobfile"
	"grainstack/slicing/solidtest"
)

const shedStock = `{"boards": [{"key": "shed-15", "name": "From the shed", "nominal": 15, "thickness": 15, "sheetX": 900, "sheetY": 600,
 "density": 650, "glueLine": 0.1, "glueTone": [34, 10, 12], "recipe": {"veneers": [{"thickness": 7.5, "grain": "along", "species": "birch"},
 {"thickness": 7.5, "grain": "across", "species": "birch"}]}}]}`

// TestReportLearns: minutes that sides really took are learned from on request only, and the report says so.
func TestReportLearns(t *testing.T) {
	dir := t.TempDir()
	piece := write(t, "box.stl", solidtest.Box(60, 40, 30))
	file := filepath.Join(dir, "minutes.json")
	if err := jobfile.SaveRecords(file, []hours.Record{{Machine: "middle", Layer: 1, Reckoned: 100, Took: 150}, {Machine: "middle", Layer: 2, Reckoned: 100, Took: 150},
		{Machine: "small", Layer: 1, Reckoned: 100, Took: 900}}); err != nil {
		t.Fatal(err)
	}
	plain := reportOf(t, piece, "-wall", "0")
	if _, there := plain["carve"].(map[string]any)["learned"]; there {
		t.Error("without a file something was learned")
	}
	r := reportOf(t, piece, "-wall", "0", "-minutes", file)
	near(t, "times", number(t, r, "carve", "learned", "times"), 1.5, 1e-9)
	near(t, "router", number(t, r, "carve", "learned", "router_min"), 1.5*number(t, r, "carve", "router_min"), 1e-9)
	near(t, "reckoned as before", number(t, r, "carve", "router_min"), number(t, plain, "carve", "router_min"), 1e-9)
	if n := number(t, r, "carve", "evenings"); n < 1 {
		t.Errorf("%g evenings", n)
	}
	var out bytes.Buffer
	if err := run(context.Background(), []string{"report", piece, "-minutes", filepath.Join(dir, "none.json")}, &out); err == nil {
		t.Error("minutes that are not there are taken")
	}
}

// TestOwnBoard: a command works with a board of the maker's own, and says with the line what is wrong with a file.
func TestOwnBoard(t *testing.T) {
	dir := t.TempDir()
	own := filepath.Join(dir, "own.json")
	if err := os.WriteFile(own, []byte(shedStock), 0o644); err != nil {
		t.Fatal(err)
	}
	piece := write(t, "box.stl", solidtest.Box(60, 40, 50))
	var out bytes.Buffer
	if err := run(context.Background(), []string{"report", piece, "-stock", own, "-board", "shed-15", "-skim", "1"}, &out); err != nil {
		t.Fatal(err)
	}
	var r struct {
		Settings struct {
			LayerMm float64 `json:"layer_mm"`
		} `json:"settings"`
	}
	if err := json.Unmarshal(out.Bytes(), &r); err != nil || r.Settings.LayerMm != 13 {
		t.Errorf("layers of %g mm, want 13 (%v)", r.Settings.LayerMm, err)
	}
	if err := os.WriteFile(own, []byte(strings.Replace(shedStock, `"density": 650`, `"density": 0`, 1)), 0o644); err != nil {
		t.Fatal(err)
	}
	err := run(context.Background(), []string{"report", piece, "-stock", own, "-board", "shed-15"}, &out)
	if err == nil || !strings.Contains(err.Error(), `line 1: board "shed-15": density is 0`) {
		t.Errorf("got %v", err)
	}
	if err := run(context.Background(), []string{"report", piece, "-stock", filepath.Join(dir, "none.json")}, &out); err == nil {
		t.Error("a stock file that is not there is taken")
	}
}
