package session

import (
	"math/rand/v2"
	"testing"
)

func TestGestureIsOneStep(t *testing.T) {
	h := begin(0)
	for n := 1; n <= 50; n++ {
		h.Do("wall", n)
	}
	h.Rest()
	for n := 51; n <= 60; n++ {
		h.Do("wall", n)
	}
	h.Do("skim", 100)
	for _, want := range []struct {
		name string
		now  int
	}{{"skim", 60}, {"wall", 50}, {"wall", 0}} {
		if got := h.undoName(); got != want.name {
			t.Errorf("undo is called %q, want %q", got, want.name)
		}
		if !h.Undo() || h.now() != want.now {
			t.Errorf("after undoing %s: %d, want %d", want.name, h.now(), want.now)
		}
	}
	if h.Undo() {
		t.Error("undid the beginning")
	}
	for _, want := range []int{50, 60, 100} {
		if !h.Redo() || h.now() != want {
			t.Errorf("redo: %d, want %d", h.now(), want)
		}
	}
	if h.Redo() || h.redoName() != "" {
		t.Error("redid more than there was")
	}
}

func TestNothingDoneKeepsNoStep(t *testing.T) {
	h := begin(7)
	if h.Do("same", 7) || h.undoName() != "" {
		t.Error("a change to the same value became a step")
	}
	h.Do("there", 8)
	h.Do("there", 7)
	h.Rest()
	if h.undoName() != "" {
		t.Error("a gesture that came back left a step")
	}
}

func TestANewStepForgetsTheUndone(t *testing.T) {
	h := begin(0)
	h.Do("a", 1)
	h.Do("b", 2)
	h.Undo()
	h.Do("c", 3)
	if h.redoName() != "" || h.now() != 3 {
		t.Errorf("redo %q, now %d", h.redoName(), h.now())
	}
	h.Undo()
	if h.now() != 1 {
		t.Errorf("now %d, want 1", h.now())
	}
}

// An undone step of the same name takes no further changes into it.
func TestUndoneStepIsClosed(t *testing.T) {
	h := begin(0)
	h.Do("wall", 1)
	h.Undo()
	h.Redo()
	h.Do("wall", 2)
	h.Undo()
	if h.now() != 1 {
		t.Errorf("now %d, want 1", h.now())
	}
}

// The slow twin keeps all states that a maker saw at rest; undoing everything walks back through them.
func TestWalk(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for range 200 {
		h, seen := begin(0), []int{0}
		for range 40 {
			switch r.IntN(4) {
			case 0:
				if h.Undo() {
					seen = seen[:len(seen)-1]
				}
			default:
				v := r.IntN(5)
				h.Do("x", v)
				h.Rest()
				if v != seen[len(seen)-1] {
					seen = append(seen, v)
				}
			}
			if h.now() != seen[len(seen)-1] {
				t.Fatalf("now %d, want %d", h.now(), seen[len(seen)-1])
			}
		}
	}
}
