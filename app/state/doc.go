// Package state is all that is on the bench, as plain values without the toolkit: what the maker chose, the piece, and what was
// worked out of it. Everything in a Bench belongs to the window's goroutine; what it points to never changes.
//
// What was worked out goes by a key of all it hangs on. The methods of a Bench say what is there, what is of older settings, and
// what was called off; they ask for nothing and show nothing.
package state
