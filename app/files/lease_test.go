package files

import (
	"context"
	"testing"

	"grainstack/slicing/export"
	"grainstack/slicing/job"
	"grainstack/slicing/solidtest"
)

// TestPanelsAreLetGoOf: while its files are made a panel is carved once, and kept by nobody afterwards: who asks then has it made
// anew.
func TestPanelsAreLetGoOf(t *testing.T) {
	w := work(t, solidtest.Box(120, 70, 48), job.Places{}, solid)
	ctx := context.Background()
	b := newBench(ctx, w)
	carved := 0
	b.panels[0] = lease(modelAskings, func() (*export.PanelModel, error) {
		carved++
		return b.panelModel(ctx, 0)
	})
	for _, f := range panelFiles(w)[:4] {
		if _, err := f.make(ctx, b); err != nil {
			t.Fatal(err)
		}
	}
	if carved != 1 {
		t.Errorf("the panel was carved %d times for its four files", carved)
	}
	if m, err := b.panels[0](); m == nil || err != nil || carved != 2 {
		t.Errorf("asked for once more it was carved %d times in all, %v, want 2", carved, err)
	}
}
