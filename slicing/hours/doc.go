// Package hours says how long the router is at work on a layer, in metres and minutes of the rough and the finish pass for
// each side, and in what order a panel is worked.
//
// There are two tellings of the same work. Estimate takes plain figures of a layer (areas, volumes, lengths) and costs a few
// microseconds, so that it can hang on a slider; no path is laid out. SimulateAll takes Grounds, each the tip maps of both cutters on
// one side, and goes along the paths that they really take; it settles the matter in some ten milliseconds a side. Over the
// test pieces the estimate is within a few percent of the simulation in all, within 15 % for the rough pass alone. Tie and
// Learn carry what a simulation, or the maker's watch, has shown over to what has not been worked yet.
//
// Rough pass: what the skim takes, then equal levels of no more than the stepdown. Each level is cleared in rows at the stepover,
// no lower than the tip's surface, and followed once along its walls and the frame. Finish pass: parallel rows at the stepover along the tip's
// surface, all over the carve boundary. The cutter is lifted only where the next place can't be reached more quickly without.
//
// Time follows a trapezoidal speed profile on every straight stretch, with limits of speed and acceleration of their own up and
// down, and with look-ahead: no corner is entered faster than all that follows can be braked for. The speed in a corner is that
// of the junction deviation rule (Jeon, technical note on cornering, 2011; from memory). Walls are found by marching squares
// (Lorensen and Cline, SIGGRAPH 1987, in the plane), regions split into zigzags by the cells of Choset and Pignon ("Coverage path
// planning: the boustrophedon cellular decomposition", 1998; from memory). The estimate counts rows by their boundary: lines a
// distance s apart cross a curve of length L about 2L/(πs) times (Cauchy and Crofton's formula; Santaló, Integral Geometry and
// Geometric Probability, 1976; from memory).
//
// The estimate minds neither tabs nor wood that the other side has taken already; neither minds the drilling of register dowels.
//
// Lengths mm, areas mm², volumes mm³, times minutes, paths metres.
package hours
