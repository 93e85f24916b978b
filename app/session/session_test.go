package session

import (
	"testing"

	"grainstack/slicing/job"
)

func TestRevisionFollowsChanges(t *testing.T) {
	s := New(job.Settings{Wall: 10})
	s.Do("wall", job.Settings{Wall: 10})
	if s.Revision() != 0 || s.Dirty() {
		t.Error("nothing was changed")
	}
	s.Do("wall", job.Settings{Wall: 12})
	if s.Revision() != 1 || !s.Dirty() || s.UndoName() != "wall" {
		t.Errorf("revision %d, dirty %v, undo %q", s.Revision(), s.Dirty(), s.UndoName())
	}
	if name, ok := s.Undo(); !ok || name != "wall" || s.Dirty() || s.Settings().Wall != 10 {
		t.Errorf("undo %q %v: %v", name, ok, s.Settings().Wall)
	}
	if name, ok := s.Redo(); !ok || name != "wall" || s.Settings().Wall != 12 || s.Revision() != 3 {
		t.Errorf("redo %q %v: %v", name, ok, s.Settings().Wall)
	}
	s.Replace(job.Settings{Wall: 1}, job.Places{})
	if s.UndoName() != "" || s.Dirty() || s.Revision() != 4 {
		t.Error("another piece kept the former one's steps")
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
