// Package edit is what a hand does on the sheets and on the piece, as values: what lies under it, what it holds and where that may
// be let go, and what the places or marks are then. It draws nothing and knows no window.
package edit
