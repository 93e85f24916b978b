package state

import (
	"errors"

	"grainstack/slicing/job"
	"grainstack/slicing/jobfile"
	"grainstack/slicing/stock"
)

// A Shelf is the stock that there is to choose from.
type Shelf struct {
	Program *stock.Catalogue // what comes with the program
	Mine    *stock.Catalogue // with the maker's own laid over it: what a new piece begins with
	Now     *stock.Catalogue // with what the open job brought along
	Own     jobfile.OwnStock // the maker's own file
	Fault   string           // why that is left out, "" where it isn't
}

// NewShelf reads the maker's own stock file; without a path there is none.
func NewShelf(program *stock.Catalogue, path string) Shelf {
	s := Shelf{Program: program, Mine: program, Now: program}
	if path == "" {
		return s
	}
	own, mine, err := jobfile.LoadOwnStock(path, program)
	if err != nil {
		s.Fault = err.Error()
	}
	s.Own, s.Mine, s.Now = own, mine, mine
	return s
}

// With is the shelf with another text of the maker's own file. What the job with these settings has brought along stays, but
// for the cutter that has just been changed.
func (s Shelf) With(text []byte, changed string, in job.Settings) (Shelf, error) {
	if s.Fault != "" {
		return s, errors.New(s.Fault)
	}
	mine, _, err := s.Program.Merge(s.Own.Path, text)
	if err != nil {
		return s, err
	}
	now := mine
	if brought := s.Now.Carry(in.Uses()...); brought != nil {
		if brought, err = stock.WithoutCutter(brought, changed); err != nil {
			return s, err
		}
		if now, _, err = mine.Merge("the job", brought); err != nil {
			return s, err
		}
	}
	s.Own.Text, s.Mine, s.Now = text, mine, now
	return s, nil
}
