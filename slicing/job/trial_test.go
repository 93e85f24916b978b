package job_test

import (
	"context"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"grainstack/assets/stocktest"
	"grainstack/slicing/geom"
	"grainstack/slicing/job"
)

func TestTrialsKeepTheirNamesApart(t *testing.T) {
	c := stocktest.Catalogue(t)
	s := job.Default(c)
	wall := func(mm float64) job.Settings { s := s; s.Wall = mm; return s }
	var all []job.Trial
	var err error
	for _, mm := range []float64{10, 20, 30} {
		if all, err = job.KeepTrial(all, "", wall(mm)); err != nil {
			t.Fatal(err)
		}
	}
	if all[0].Name != "Trial 1" || all[2].Name != "Trial 3" || all[1].Settings.Wall != 20 {
		t.Errorf("three trials are %q, %q, %q", all[0].Name, all[1].Name, all[2].Name)
	}
	left := job.RemoveTrial(all, 0)
	if len(left) != 2 || len(all) != 3 || left[0].Name != "Trial 2" {
		t.Errorf("%d and %d trials after one was removed", len(left), len(all))
	}
	again, err := job.KeepTrial(left, "", wall(40))
	if err != nil || again[2].Name == "Trial 3" {
		t.Errorf("a name was given twice: %v, %v", again[2].Name, err)
	}
	named, err := job.RenameTrial(all, 1, "  lying \t on\n its side\x00 ")
	if err != nil || named[1].Name != "lying on its side" || all[1].Name != "Trial 2" {
		t.Errorf("renamed to %q, %v; the list before says %q", named[1].Name, err, all[1].Name)
	}
	for _, tt := range []struct{ name, want string }{
		{"", "give"}, {" \x07", "give"}, {"trial 3", "another trial"}, {strings.Repeat("ä", job.MostTrialName+1), "41"},
	} {
		if _, err := job.RenameTrial(all, 0, tt.name); err == nil || !strings.Contains(err.Error(), tt.want) {
			t.Errorf("renamed to %q: %v, want %q in it", tt.name, err, tt.want)
		}
	}
	if _, err := job.RenameTrial(all, 2, "TRIAL 3"); err != nil {
		t.Errorf("a trial can't have its own name in capitals: %v", err)
	}
	if _, err := job.KeepTrial(all, "", wall(20)); err == nil || !strings.Contains(err.Error(), "Trial 2") {
		t.Errorf("the same settings twice: %v", err)
	}
	for n := len(all); n < job.MostTrials; n++ {
		if all, err = job.KeepTrial(all, "", wall(float64(100+n))); err != nil {
			t.Fatal(err)
		}
	}
	if _, err := job.KeepTrial(all, "", wall(5)); err == nil {
		t.Errorf("%d trials are kept", job.MostTrials+1)
	}
}

// TestTrialsComeBackWithTheirJob: names and settings after saving and opening are those before.
func TestTrialsComeBackWithTheirJob(t *testing.T) {
	c := stocktest.Catalogue(t)
	s := job.Default(c)
	other := s
	other.Turn, other.Wall, other.Shop.Kerf = geom.TurnXYZ(12, -34, 56), 7.5, 2.2
	all, _ := job.KeepTrial(nil, "", s)
	all, err := job.KeepTrial(all, "lying", other)
	if err != nil {
		t.Fatal(err)
	}
	at := filepath.Join(t.TempDir(), "demo.grainstack")
	if err := (job.Job{Piece: job.Demo(), Settings: s, Trials: all}.Save(at, false)); err != nil {
		t.Fatal(err)
	}
	back, err := job.Open(context.Background(), at, "", c)
	if err != nil || !slices.Equal(back.Trials, all) {
		t.Errorf("%d trials came back as %d, equal %v, %v", len(all), len(back.Trials), slices.Equal(back.Trials, all), err)
	}
}

// TestTrialsOfAFileAreTidied: names that this program would not give are made fit, too many are refused.
func TestTrialsOfAFileAreTidied(t *testing.T) {
	c := stocktest.Catalogue(t)
	s := job.Default(c)
	at := filepath.Join(t.TempDir(), "demo.grainstack")
	odd := []job.Trial{{"a", s}, {"A", s}, {"", s}, {strings.Repeat("long ", 20), s}}
	if err := (job.Job{Piece: job.Demo(), Settings: s, Trials: odd}.Save(at, false)); err != nil {
		t.Fatal(err)
	}
	back, err := job.Open(context.Background(), at, "", c)
	if err != nil || len(back.Trials) != 4 {
		t.Fatalf("%d trials, %v", len(back.Trials), err)
	}
	seen := map[string]bool{}
	for _, one := range back.Trials {
		if one.Name == "" || len(one.Name) > job.MostTrialName || seen[strings.ToLower(one.Name)] {
			t.Errorf("a trial is called %q", one.Name)
		}
		seen[strings.ToLower(one.Name)] = true
	}
	if err := (job.Job{Piece: job.Demo(), Settings: s, Trials: make([]job.Trial, job.MostTrials+1)}.Save(at, false)); err != nil {
		t.Fatal(err)
	}
	if _, err := job.Open(context.Background(), at, "", c); err == nil || !strings.Contains(err.Error(), "trials") {
		t.Errorf("too many trials: %v", err)
	}
}
