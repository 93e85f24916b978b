package job

import (
	"grainstack/slicing/stock"
	"grainstack/slicing/unit"
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
func (f *Figures) checkBlanks() unit.Said {
	for i := range f.Layers {
		if l := &f.Layers[i]; len(l.Veneers) == 0 {
			board := unit.Mm(l.Board.Thickness)
			return unit.Say("Layer %d: %s measures %s and can't be planed to a layer of %s: give that layer a thicker board, or skim the others more so that layers are %s or less.",
				l.Number, l.Board.Name, board, unit.Mm(f.Thickness), board)
		}
	}
	return unit.Said{}
}
