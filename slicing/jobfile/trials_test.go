package jobfile_test

import (
	"context"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"grainstack/assets/stocktest"
	"grainstack/slicing/geom"
	"grainstack/slicing/job"
	"grainstack/slicing/jobfile"
	"grainstack/slicing/trial"
)

// TestTrialsComeBackWithTheirJob: names and settings after saving and opening are those before.
func TestTrialsComeBackWithTheirJob(t *testing.T) {
	c := stocktest.Catalogue(t)
	s := job.Default(c)
	other := s
	other.Turn, other.Wall, other.Shop.Kerf = geom.TurnXYZ(12, -34, 56), 7.5, 2.2
	all, _ := trial.Keep(nil, "", s)
	all, err := trial.Keep(all, "lying", other)
	if err != nil {
		t.Fatal(err)
	}
	at := filepath.Join(t.TempDir(), "demo.grainstack")
	if err := (jobfile.Job{Piece: job.Demo(), Settings: s, Trials: all}.Save(at, false)); err != nil {
		t.Fatal(err)
	}
	back, err := jobfile.Open(context.Background(), at, "", c, nil)
	if err != nil || !slices.Equal(back.Trials, all) {
		t.Errorf("%d trials came back as %d, equal %v, %v", len(all), len(back.Trials), slices.Equal(back.Trials, all), err)
	}
}

// TestTrialsOfAFileAreTidied: names that this program would not give are made fit, too many are refused.
func TestTrialsOfAFileAreTidied(t *testing.T) {
	c := stocktest.Catalogue(t)
	s := job.Default(c)
	at := filepath.Join(t.TempDir(), "demo.grainstack")
	odd := []trial.Trial{{Name: "a", Settings: s}, {Name: "A", Settings: s}, {Name: "", Settings: s}, {Name: strings.Repeat("long ", 20), Settings: s}}
	if err := (jobfile.Job{Piece: job.Demo(), Settings: s, Trials: odd}.Save(at, false)); err != nil {
		t.Fatal(err)
	}
	back, err := jobfile.Open(context.Background(), at, "", c, nil)
	if err != nil || len(back.Trials) != 4 {
		t.Fatalf("%d trials, %v", len(back.Trials), err)
	}
	seen := map[string]bool{}
	for _, one := range back.Trials {
		if one.Name == "" || len(one.Name) > trial.MostName || seen[strings.ToLower(one.Name)] {
			t.Errorf("a trial is called %q", one.Name)
		}
		seen[strings.ToLower(one.Name)] = true
	}
	if err := (jobfile.Job{Piece: job.Demo(), Settings: s, Trials: make([]trial.Trial, trial.Most+1)}.Save(at, false)); err != nil {
		t.Fatal(err)
	}
	if _, err := jobfile.Open(context.Background(), at, "", c, nil); err == nil || !strings.Contains(err.Error(), "trials") {
		t.Errorf("too many trials: %v", err)
	}
}
