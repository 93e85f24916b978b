// Package job is the one function from settings to consequences: it takes a piece and what the maker chose, and gives
// layers, weight, joints, hours and whatever needs a look.
//
// The way of a figure: OpenPiece reads, welds and checks a file once. Stand places it and tabulates it against height, once
// per turn and scale. Standing.WithField adds the table of the hollow. Instant is look-ups only and follows a slider;
// Settle adds what needs a walk over the facets or the field. Both carry the settings that they are for, so that a stale
// figure can be told from a current one by ==. All results are immutable.
package job
