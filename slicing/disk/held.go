package disk

import "strings"

// held is why a name can't be changed where the system tells which programs have it, or a file in it, open.
type held struct {
	by  []string // names of programs, at least one
	err error
}

func (h *held) Error() string { return strings.Join(h.by, ", ") + " has it open: " + h.err.Error() }

func (h *held) Unwrap() error { return h.err }
