package trial_test

import (
	"strings"
	"testing"

	"grainstack/assets/stocktest"
	"grainstack/slicing/job"
	"grainstack/slicing/trial"
)

func TestTrialsKeepTheirNamesApart(t *testing.T) {
	c := stocktest.Catalogue(t)
	s := job.Default(c)
	wall := func(mm float64) job.Settings { s := s; s.Wall = mm; return s }
	var all []trial.Trial
	var err error
	for _, mm := range []float64{10, 20, 30} {
		if all, err = trial.Keep(all, "", wall(mm)); err != nil {
			t.Fatal(err)
		}
	}
	if all[0].Name != "Trial 1" || all[2].Name != "Trial 3" || all[1].Settings.Wall != 20 {
		t.Errorf("three trials are %q, %q, %q", all[0].Name, all[1].Name, all[2].Name)
	}
	left := trial.Remove(all, 0)
	if len(left) != 2 || len(all) != 3 || left[0].Name != "Trial 2" {
		t.Errorf("%d and %d trials after one was removed", len(left), len(all))
	}
	again, err := trial.Keep(left, "", wall(40))
	if err != nil || again[2].Name == "Trial 3" {
		t.Errorf("a name was given twice: %v, %v", again[2].Name, err)
	}
	named, err := trial.Rename(all, 1, "  lying \t on\n its side\x00 ")
	if err != nil || named[1].Name != "lying on its side" || all[1].Name != "Trial 2" {
		t.Errorf("renamed to %q, %v; the list before says %q", named[1].Name, err, all[1].Name)
	}
	for _, tt := range []struct{ name, want string }{
		{"", "give"}, {" \x07", "give"}, {"trial 3", "another trial"}, {strings.Repeat("ä", trial.MostName+1), "41"},
	} {
		if _, err := trial.Rename(all, 0, tt.name); err == nil || !strings.Contains(err.Error(), tt.want) {
			t.Errorf("renamed to %q: %v, want %q in it", tt.name, err, tt.want)
		}
	}
	if _, err := trial.Rename(all, 2, "TRIAL 3"); err != nil {
		t.Errorf("a trial can't have its own name in capitals: %v", err)
	}
	if _, err := trial.Keep(all, "", wall(20)); err == nil || !strings.Contains(err.Error(), "Trial 2") {
		t.Errorf("the same settings twice: %v", err)
	}
	for n := len(all); n < trial.Most; n++ {
		if all, err = trial.Keep(all, "", wall(float64(100+n))); err != nil {
			t.Fatal(err)
		}
	}
	if _, err := trial.Keep(all, "", wall(5)); err == nil {
		t.Errorf("%d trials are kept", trial.Most+1)
	}
}
