package job_test

import (
	"math"
	"strings"
	"testing"

	"grainstack/assets/stocktest"
	"grainstack/slicing/job"
	"grainstack/slicing/unit"
)

// TestTableOfSettings: every row can be asked for by its key, its sensible range lies on its rule, the rule within its limits, and
// its flag says what is to be given.
func TestTableOfSettings(t *testing.T) {
	seen := map[string]bool{}
	for _, f := range job.AllSettings() {
		if seen[f.Key] || job.SettingOf(f.Key) != f {
			t.Errorf("two settings are called %s", f.Key)
		}
		seen[f.Key] = true
		if f.Name == "" || f.Label() == "" || !f.Switch && strings.Count(f.Usage(), "`") != 2 {
			t.Errorf("%s: named %q, on its card %q, its flag %q", f.Key, f.Name, f.Label(), f.Usage())
		}
		from, to := f.From, f.To
		if from == to {
			from, to = f.Least, f.Most
		}
		if f.High > 0 && !(f.Low < f.High && from <= f.Low && f.High <= to && to <= f.Most) {
			t.Errorf("%s is sensible from %g to %g, on a rule from %g to %g, within %g to %g", f.Key, f.Low, f.High, from, to, f.Least, f.Most)
		}
	}
}

// TestSettingsAreReadAndChecked: what a flag says of a figure is what the settings hold; the ends of its limits can be worked with as
// far as that figure goes, and what is beyond them is refused by its name.
func TestSettingsAreReadAndChecked(t *testing.T) {
	c := stocktest.Catalogue(t)
	tried := 0
	for _, f := range job.AllSettings() {
		if f.High == 0 || f.Key == "height" || f.Key == "saw-base" || f.Key == "layer-thickness" { // these three are no fields
			continue
		}
		tried++
		middle := math.Round(f.Low+f.High) / 2
		if f.Kind == unit.Counts {
			middle = math.Floor(middle)
		}
		s := job.Default(c)
		if err := f.Read(&s, f.Kind.Write(middle, unit.Metric)); err != nil || math.Abs(f.Figure(s, c)-middle) > 1e-9 {
			t.Errorf("%s: %g is read as %g (%v)", f.Key, middle, f.Figure(s, c), err)
		}
		for _, v := range []float64{f.Most * 1.01, -1} {
			if f.Key == "debris" && v < 0 {
				continue // stands for none
			}
			err := f.With(job.Default(c), v).Check(c)
			if err == nil || !strings.Contains(err.Error(), "the "+f.Name+" can't be") {
				t.Errorf("%s: of %g is said: %v", f.Key, v, err)
			}
		}
		for _, v := range []float64{f.Most, f.Least} {
			if err := f.With(job.Default(c), v).Check(c); err != nil && strings.Contains(err.Error(), "the "+f.Name+" can't be") {
				t.Errorf("%s: %v", f.Key, err)
			}
		}
	}
	if tried < 40 {
		t.Errorf("%d figures were tried", tried)
	}
}

// TestUsualFigures: where nothing is chosen, a setting shows what that comes to.
func TestUsualFigures(t *testing.T) {
	c := stocktest.Catalogue(t)
	s := job.Default(c)
	board, _ := c.Board(s.Board)
	cutter, _ := c.Cutter(s.Rough.Key)
	for key, want := range map[string]float64{"board-thickness": board.Thickness, "first-joint": s.LayerThickness(c), "rough-feed": cutter.FeedMmMin, "rough-stepdown": cutter.Stepdown, "wall": 20} {
		if got := job.SettingOf(key).Figure(s, c); got != want {
			t.Errorf("%s shows %g, want %g", key, got, want)
		}
	}
	if got := job.SettingOf("wall").Figure(job.SettingOf("wall").With(s, 0), c); got != 0 {
		t.Errorf("a solid piece has a wall of %g", got)
	}
}
