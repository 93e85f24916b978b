// Package toolpath makes the programs for the two sides of a panel: holes, rough and finish, in the order of work.
//
// It takes a panel as plain figures (the parts' solids as they lie, tabs, register dowels, holes for pins) and gives
// program.Programs with the figures of their ways. Paths are those that package hours follows to tell the minutes
// (hours.Trace), on the same grounds, laid out for a whole panel instead of a layer and with tips that are exact: minutes of a
// program and of the hours are of one kind.
//
// Where a tip touches is not read off columns. The surface of the tip of a convex cutter over facets is the highest of three
// kinds: facets moved by where the cutter touches their slope, edges and corners (drop-cutter; Choi and Jerard, Sculptured
// Surface Machining, 1998; from memory). They are drawn into a height map whose rows are the rows of the finish pass, so that
// heights on rows are exact; between two columns of a row the same is asked of single places. Rapids
// go round clamps or over them, whichever is quicker; what would be cut beside one the proof refuses.
//
// Lengths are mm. Places are those of the panel's side A seen from above, heights are above the planed face that lies down,
// unless a comment says otherwise. Programs are in their own frame, see package program.
package toolpath
