package session

// A History keeps every state of a value, so that each step can be undone and redone. Steps with the same name belong to one
// gesture until Rest, and are undone together.
type History[T comparable] struct {
	steps []step[T] // steps[0] is the beginning
	at    int       // the present
	open  bool      // the newest step still takes changes of its own name
}

type step[T comparable] struct {
	name  string // what led here; "" for the beginning
	state T
}

// begin is a history without steps.
func begin[T comparable](first T) History[T] { return History[T]{steps: []step[T]{{"", first}}} }

// now is the present state.
func (h *History[T]) now() T { return h.steps[h.at].state }

// Do makes next the present under the name of what was done. It reports false, and keeps no step, where nothing changes.
func (h *History[T]) Do(name string, next T) bool {
	if next == h.now() {
		return false
	}
	if h.open && h.at > 0 && h.steps[h.at].name == name {
		h.steps[h.at].state = next
		return true
	}
	h.steps = append(h.steps[:h.at+1:h.at+1], step[T]{name, next})
	h.at++
	h.open = true
	return true
}

// Rest ends the gesture: the next change is a step of its own. A gesture that came back to where it began leaves no step.
func (h *History[T]) Rest() {
	if h.open && h.at > 0 && h.steps[h.at].state == h.steps[h.at-1].state {
		h.steps = h.steps[:h.at]
		h.at--
	}
	h.open = false
}

// Undo goes one step back.
func (h *History[T]) Undo() bool {
	h.Rest()
	if h.at == 0 {
		return false
	}
	h.at--
	return true
}

// Redo goes one step forward again.
func (h *History[T]) Redo() bool {
	h.Rest()
	if h.at+1 >= len(h.steps) {
		return false
	}
	h.at++
	return true
}

// undoName is what Undo would take back, "" where there is nothing.
func (h *History[T]) undoName() string { return h.steps[h.at].name }

// redoName is what Redo would do again, "" where there is nothing.
func (h *History[T]) redoName() string {
	if h.at+1 >= len(h.steps) {
		return ""
	}
	return h.steps[h.at+1].name
}
