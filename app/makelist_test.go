package app

import (
	"fmt"
	"testing"

	"grainstack/app/files"
	"grainstack/slicing/export"
)

// TestFilesStandInGroups by kind, with count and size, and unfold one by one.
func TestFilesStandInGroups(t *testing.T) {
	var all []files.File
	sizes := map[string]int64{}
	plan := export.Plan{Removed: []string{"panels/old-1.stl", "panels/old-2.stl"}}
	add := func(k files.Kind, n int, bytes int64) {
		for i := range n {
			f := files.File{Kind: k, Name: fmt.Sprintf("%s/%d", k, i), Does: "something"}
			all, sizes[f.Name] = append(all, f), bytes
			plan.Files = append(plan.Files, export.Planned{Name: f.Name, Replaces: k == files.Panels && i < 2})
		}
	}
	add(files.Layers, 100, 1_000_000)
	add(files.Panels, 27, 2_000_000)
	add(files.Book, 1, 500_000)
	delete(sizes, "panels/0")
	open := map[string]bool{}
	rows := rowsOf(groupFiles(all, plan, sizes), open)
	want := [][3]string{
		{"+  " + files.Layers.Words(), "100 files", "100.0 MB"}, {"+  " + files.Panels.Words(), "27 files, 2 replace", "…"},
		{"book/0", "something", "500 kB"}, {"+  made before · goes", "2 files", ""},
	}
	if len(rows) != len(want) {
		t.Fatalf("%d rows: %v", len(rows), rows)
	}
	for i, r := range rows {
		if r.words != want[i] {
			t.Errorf("row %d is %q, want %q", i, r.words, want[i])
		}
	}
	open[files.Panels.Words()] = true
	rows = rowsOf(groupFiles(all, plan, sizes), open)
	if len(rows) != 4+27 || rows[2].words != [3]string{"panels/0", "something", "replaces · …"} || rows[4].words[2] != "2.0 MB" || rows[1].words[0] != "–  "+files.Panels.Words() {
		t.Errorf("unfolded there are %d rows: %v", len(rows), rows[:5])
	}
}
