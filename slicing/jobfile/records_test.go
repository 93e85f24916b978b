package jobfile_test

import (
	"os"
	"path/filepath"
	"slices"
	"testing"

	"grainstack/slicing/hours"
	"grainstack/slicing/jobfile"
)

// TestMinutesComeBack: what was entered is read again; no file is no minutes; a broken one is told.
func TestMinutesComeBack(t *testing.T) {
	path := filepath.Join(t.TempDir(), "minutes.json")
	if all, err := jobfile.LoadRecords(path); err != nil || all != nil {
		t.Errorf("no file: %v, %v", all, err)
	}
	want := []hours.Record{{Machine: "middle", Layer: 3, Reckoned: 120, Took: 150}, {Machine: "middle", Layer: 3, Down: true, Reckoned: 80, Took: 100}}
	if err := jobfile.SaveRecords(path, want); err != nil {
		t.Fatal(err)
	}
	if got, err := jobfile.LoadRecords(path); err != nil || !slices.Equal(got, want) {
		t.Errorf("%v, %v", got, err)
	}
	if err := os.WriteFile(path, []byte("[{\"took_min\": -3}]"), 0o644); err != nil {
		t.Fatal(err)
	}
	if _, err := jobfile.LoadRecords(path); err == nil {
		t.Error("a side that took -3 minutes is believed")
	}
}
