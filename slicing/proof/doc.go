// Package proof carries out programs for a panel on a model of its board, and says where they would spoil it.
//
// It takes what the panel is to become (Wanted), the programs as they are written (bytes, not moves) and how far they may go
// (Limits). The bytes are read by package rs274, which knows nothing of what wrote them, and every move of the cutter is cut
// out of columns of wood: each has a lowest and a highest place, and the cutter takes what lies above its end along the whole
// straight way. Where a flat end or a ball is lowest over a column in the course of a straight move has a closed form; for
// other cutters it is searched for, which is sound because the height of a convex cutter over a place is a convex function of
// the way. Between the sides the board is turned over about the line through its register dowels.
//
// What is proven holds on the columns, 0.2 mm apart, to 0.01 mm; where a part ends between two of them, its rim may be cut by
// up to what they lie apart without being seen. Fault has the kinds of what may be found. It can't know a wrong zero, a board
// that slips, another cutter or other wood.
//
// Lengths are mm, feeds mm/min. Heights in a Wanted are hundredths of a mm above the bed.
package proof
