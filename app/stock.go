package app

import (
	"grainstack/slicing/stock"
)

// A stocker keeps the maker's own stock.
type stocker struct {
	*core
	tasks *tasks
	saves int // counts what was written
}

// keepCutter puts a cutter of the maker's own on the shelf and into the file.
func (s *stocker) keepCutter(k stock.Cutter) error {
	text, err := stock.WithCutter(s.bench.Shelf.Own.Text, k)
	if err != nil {
		return err
	}
	if err := s.restock(text, k.Key); err != nil {
		return err
	}
	s.Hint("Kept in your own stock: " + k.Name)
	return nil
}

// dropCutter takes a cutter out of the file. The job on the bench keeps it where it uses it.
func (s *stocker) dropCutter(k stock.Cutter) error {
	text, err := stock.WithoutCutter(s.bench.Shelf.Own.Text, k.Key)
	if err != nil {
		return err
	}
	if err := s.restock(text, ""); err != nil {
		return err
	}
	s.Hint("Taken out of your own stock: " + k.Name)
	return nil
}

// restock saves the maker's own file with another text and works everything out anew from it.
func (s *stocker) restock(text []byte, changed string) error {
	shelf, err := s.bench.Shelf.With(text, changed, s.bench.Settings())
	if err != nil {
		return err
	}
	s.bench.Shelf = shelf
	if shelf.Own.Path != "" {
		s.saves++
		s.tasks.stock.Want(s.saves, 0, shelf.Own)
	}
	s.bench.Reach.Last, s.bench.Reach.Sought = nil, false
	s.changed()
	return nil
}
