package files

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"testing"

	"grainstack/render/book"
	"grainstack/slicing/job"
	"grainstack/slicing/panel"
	"grainstack/slicing/solidtest"
)

// TestStepsOfAPanel: the steps come in carving order, with one change of cutter; nothing is done to a side that is down; every
// pin's hole is drilled, and parts are marked before they are freed. A panel without pins has no step for them.
func TestStepsOfAPanel(t *testing.T) {
	order := []string{"Saw the panel", "Clamp", "Drill the register", "Skim side A", "Rough pass, side A", "Turn", "Skim side B", "Rough pass, side B",
		"Change", "Finish pass, side B", "Drill the pins' holes of side B", "Turn", "Finish pass, side A", "Drill the pins' holes of side A", "Mark", "Free", "Pare"}
	w := work(t, solidtest.Box(120, 70, 48), job.Places{}, solid)
	b := newBench(context.Background(), w)
	steps := b.steps(0)
	if len(steps) != len(order) {
		t.Fatalf("%d steps: %v", len(steps), steps)
	}
	for i, s := range steps {
		if !strings.HasPrefix(s.Name, order[i]) {
			t.Errorf("step %d is %q, want %q", i+1, s.Name, order[i])
		}
		if strings.Contains(s.Name, "side A") && s.SideB && !strings.HasPrefix(s.Name, "Turn") || strings.Contains(s.Name, "side B") && !s.SideB {
			t.Errorf("step %d, %q, is on the wrong side", i+1, s.Name)
		}
	}
	up, down := 0, 0
	for i := range w.Workshop.Parts {
		for _, h := range w.Workshop.PinHoles(&w.Workshop.Parts[i]) {
			if h.Lower {
				down++
			} else {
				up++
			}
		}
	}
	if up == 0 || up != down {
		t.Fatalf("%d holes in upper faces, %d in lower ones", up, down)
	}
	for _, tt := range []struct {
		name  string
		holes int
	}{{"Drill the pins' holes of side B", down}, {"Drill the pins' holes of side A", up}} {
		i := slices.IndexFunc(steps, func(s book.Step) bool { return s.Name == tt.name })
		if want := fmt.Sprintf("%d holes, ", tt.holes); !strings.Contains(steps[i].How, want) || !strings.Contains(steps[i].How, "8 mm drill") {
			t.Errorf("%s: %q", tt.name, steps[i].How)
		}
	}
	bare := work(t, solidtest.Box(120, 70, 48), job.Places{}, func(s *job.Settings) { s.Wall, s.Shop.PinDiameter = 0, 0 })
	for _, s := range newBench(context.Background(), bare).steps(0) {
		if strings.Contains(s.Name, "pins") {
			t.Errorf("without pins there is the step %q", s.Name)
		}
	}
}

// TestDatumIsTold: the figures that whoever sets the machine up needs are those of the settings, whichever way the panel turns.
func TestDatumIsTold(t *testing.T) {
	w := work(t, solidtest.Box(120, 70, 48), job.Places{}, func(s *job.Settings) { s.Wall, s.Shop.Axis, s.Shop.DowelDepth = 0, panel.AlongY, 9 })
	words := newBench(context.Background(), w).readMe()
	flat := strings.Join(strings.Fields(words), " ")
	for _, want := range []string{"17.7 mm thick", "0.85 mm off each face", "Z = 16 mm", "Z = 0 lies 0.85 mm above the spoilboard", "at least 13 mm thick", "stand 9 mm deep", "its right end on side A"} {
		if !strings.Contains(flat, want) {
			t.Errorf("it does not say %q:\n%s", want, words)
		}
	}
	for _, line := range strings.Split(words, "\n") {
		if len([]rune(line)) > textWidth {
			t.Errorf("a line of %d letters: %q", len([]rune(line)), line)
		}
	}
}
