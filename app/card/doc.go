// Package card is the cards at the right of the bench: each a fold-out list of settings, every setting with a rule to slide
// and a value to type.
//
// It takes a State to show and a Bench to write on. A card decides nothing about wood: it writes settings through the bench
// and shows what comes back. Showing a state never calls the bench.
package card
