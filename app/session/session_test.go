package session

import (
	"testing"

	"grainstack/slicing/job"
	"grainstack/slicing/trial"
)

func TestRevisionFollowsChanges(t *testing.T) {
	s := New(job.Settings{Hollow: job.Hollow{Wall: 10}})
	s.Do("wall", job.Settings{Hollow: job.Hollow{Wall: 10}})
	if s.Revision() != 0 || s.Dirty() {
		t.Error("nothing was changed")
	}
	s.Do("wall", job.Settings{Hollow: job.Hollow{Wall: 12}})
	if s.Revision() != 1 || !s.Dirty() || s.UndoName() != "wall" {
		t.Errorf("revision %d, dirty %v, undo %q", s.Revision(), s.Dirty(), s.UndoName())
	}
	if name, ok := s.Undo(); !ok || name != "wall" || s.Dirty() || s.Settings().Wall != 10 {
		t.Errorf("undo %q %v: %v", name, ok, s.Settings().Wall)
	}
	if name, ok := s.Redo(); !ok || name != "wall" || s.Settings().Wall != 12 || s.Revision() != 3 {
		t.Errorf("redo %q %v: %v", name, ok, s.Settings().Wall)
	}
	s.Replace(job.Settings{Hollow: job.Hollow{Wall: 1}}, nil, job.Places{}, nil)
	if s.UndoName() != "" || s.Dirty() || s.Revision() != 4 {
		t.Error("another piece kept the former one's steps")
	}
}

// Keeping a trial is a step of its own: undo takes it back, leaves the settings, and then goes on with theirs.
func TestTrialsAreUndoneWithTheRest(t *testing.T) {
	s := New(job.Settings{Hollow: job.Hollow{Wall: 10}})
	s.Do("wall", job.Settings{Hollow: job.Hollow{Wall: 12}})
	s.Keep("keep", []trial.Trial{{Name: "a", Settings: s.Settings()}})
	s.Do("wall", job.Settings{Hollow: job.Hollow{Wall: 14}})
	s.Do("wall", job.Settings{Hollow: job.Hollow{Wall: 15}})
	s.Keep("keep", append(s.Trials()[:1:1], trial.Trial{Name: "b", Settings: s.Settings()}))
	for i, want := range []struct {
		name   string
		wall   float64
		trials int
	}{{"keep", 15, 1}, {"wall", 12, 1}, {"keep", 12, 0}, {"wall", 10, 0}} {
		name, ok := s.Undo()
		if !ok || name != want.name || s.Settings().Wall != want.wall || len(s.Trials()) != want.trials {
			t.Errorf("step %d back: %q, wall %v, %d trials; want %v", i, name, s.Settings().Wall, len(s.Trials()), want)
		}
	}
	if s.Dirty() {
		t.Error("all is as it was at the start, but unsaved")
	}
	s.Redo()
	s.Redo()
	if len(s.Trials()) != 1 || !s.Dirty() {
		t.Errorf("%d trials after redo, unsaved %v", len(s.Trials()), s.Dirty())
	}
	s.Replace(job.Settings{}, nil, job.Places{}, nil, trial.Trial{Name: "c"})
	if len(s.Trials()) != 1 || s.Trials()[0].Name != "c" || s.Dirty() || s.UndoName() != "" {
		t.Error("another job's trials are not its own")
	}
}

func TestPickStaysInTheStack(t *testing.T) {
	s := New(job.Settings{})
	for _, tt := range []struct {
		ask, count, want int
		other            bool
	}{{5, 17, 5, true}, {5, 17, 5, false}, {99, 17, 17, true}, {-3, 17, 1, true}, {4, 0, 1, false}} {
		if got := s.Pick(tt.ask, tt.count); got != tt.other || s.Layer() != tt.want {
			t.Errorf("Pick(%d of %d): layer %d %v, want %d %v", tt.ask, tt.count, s.Layer(), got, tt.want, tt.other)
		}
	}
}
