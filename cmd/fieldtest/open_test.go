package fieldtest

import (
	"slices"
	"strings"
)

// openFaults are kinds of faults that pieces of the short form still show, by the piece: found, told at every run, and not mended. They alone
// do not fail the test, so that a new one is seen at once. With its cause a kind leaves the list; nothing comes in otherwise.
var openFaults = map[string][]string{}

// open reports whether all faults of a case are known ones.
func (one *trial) open() bool {
	name, _, _ := strings.Cut(one.name, " ")
	return !slices.ContainsFunc(one.found, func(f fault) bool { return !slices.Contains(openFaults[name], f.kind) })
}
