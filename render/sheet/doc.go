// Package sheet draws the sheets of a job: the layer sheet (one layer in plan) and the story stick (the stack in
// elevation), with their furniture: dimension lines, scale bar, grain arrow.
//
// It takes results in plain values, millimetres with Z up, and gives a draw.Drawing together with the way from a point of
// the sheet back to millimetres. It works nothing out about wood. Line conventions follow ISO 128-2 in spirit (heavy
// visible outline, dashed and dotted for what lies below and above, chain line for the axis), dimensions ISO 129-1 (read
// from below and from the right).
package sheet
