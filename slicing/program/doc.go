// Package program has what the machine is told for one cutter on one side of a panel, and writes it in the common subset of
// RS-274 that small controllers take: NIST RS274/NGC version 3 (Kramer, Proctor, Messina, NISTIR 6556, 2000), which goes back
// to ISO 6983-1.
//
// A Program is a list of moves of the cutter's tip, straight or round arcs, in the frame of the panel as it lies for that side. Its
// origin is the panel's front left corner as it lies, X runs to the right along the panel's length, Y to the back, and Z up;
// Z = 0 is the face that lies up as the board was bought, before anything is skimmed off it, so that the skimmed face lies at
// minus the skim and the bed at minus the board's thickness. For side A that is the frame in which parts lie on the panel.
// Between the sides the panel is turned over about the centre line through its register dowels (panel.Register.TurnOver): about
// that along X, a point x, y of side A comes to lie at x, PanelY - y, about that along Y at PanelX - x, y; what lay at z then
// lies at -board - z.
//
// Before the first move the tip is at the safe height over X0 Y0, or at Home where that is higher, and the spindle turns. A Machine
// says how all of this is written: zeros, units, arcs or short straight moves, one file or parts of it. What a line of the maker's
// own does is known as far as package rs274 reads it.
//
// Lengths are mm, feeds mm/min.
package program
