package state

import (
	"slices"

	"grainstack/slicing/mend"
	"grainstack/slicing/scans"
)

// A Scan is what was read, what was made of it and what was found on it.
type Scan struct {
	Raw    *Model         // the scan as it was read
	Made   []*Model       // the last few that were made of it, the newest last
	Survey *mend.Findings // nil until it is known
	Others []*Model       // as they were read and joined otherwise, the newest last, so that undo shows them at once
}

// mostMade is how many mended pieces are kept, so that undo and redo show them at once.
const mostMade = 5

// mostOthers is how many pieces joined otherwise are kept, besides that of one file: each holds all its scans.
const mostOthers = 3

// otherwise is the piece as a plan joins it, nil where it is not kept.
func (s *Scan) otherwise(p *scans.Plan) *Model {
	for _, one := range s.Others {
		if one.Plan() == p {
			return one
		}
	}
	return nil
}

// keep puts a model at the end of those that were made, in place of an older state of it.
func (s *Scan) keep(one *Model) {
	s.Made = slices.DeleteFunc(s.Made, func(o *Model) bool { return o.Key == one.Key })
	s.Made = append(s.Made, one)
	if n := len(s.Made) - mostMade; n > 0 {
		s.Made = slices.Delete(s.Made, 0, n)
	}
}

// Find is the model for a key, nil where there is none.
func (s *Scan) Find(key MendKey) *Model {
	for _, one := range append([]*Model{s.Raw}, s.Made...) {
		if one.Key == key {
			return one
		}
	}
	return nil
}
