package job

import (
	"fmt"

	"grainstack/slicing/stock"
)

// A boardSum adds up what is made of one kind of board.
type boardSum struct {
	board       stock.Board
	wood, whole float64 // mm³, without and with the hollow
	panels      float64
}

// boardSums are in the order in which the boards came.
type boardSums []*boardSum

// of is the sum for a board.
func (k *boardSums) of(b stock.Board) *boardSum {
	for _, one := range *k {
		if one.board.Key == b.Key {
			return one
		}
	}
	one := &boardSum{board: b}
	*k = append(*k, one)
	return one
}

// checkBlanks refuses boards that are thinner than their layer, and names the ways out.
func (f *Figures) checkBlanks() error {
	for i := range f.Layers {
		l := &f.Layers[i]
		if len(l.Veneers) > 0 {
			continue
		}
		return fmt.Errorf("layer %d: %s measures %.4g mm and can't be planed to a layer of %.4g mm: give that layer a thicker board, or skim the others more so that layers are %.4g mm or less",
			l.Number, l.Board.Name, l.Board.Thickness, f.Thickness, l.Board.Thickness)
	}
	return nil
}
