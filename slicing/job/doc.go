// Package job is the one function from settings to consequences: it takes a piece and what the maker chose, and gives
// layers, weight, joints, hours and whatever needs a look.
//
// The way of a figure: OpenPiece reads, welds and checks a file once. Stand places it and tabulates it against height, once
// per turn and scale. Standing.WithField adds the table of the hollow. Instant is look-ups only and follows a slider;
// Settle adds what needs a walk over the facets or the field. Both carry the settings that they are for, so that a stale
// figure can be told from a current one by ==. All results are immutable.
//
// What the router makes of it: Reach follows both cutters over every side of settled figures and gives a Reached: what they
// don't see, don't fit into or can't hold, and the minutes along their real paths. Figures.TiedTo puts it into figures: simulated
// minutes and cautions where the settings are the same, an estimate tied to them where only the stack is another;
// Figures.Learned adds what the maker's own machine was seen to take (hours.Learn).
package job
