// Package hours says how long the router is at work on a layer: metres and minutes of the rough and the finish pass for
// each side. It takes plain figures of the layer (areas, volumes, lengths) and the maker's setup, and costs well under a
// microsecond, so that it can hang on a slider. It is an estimate by integrals: no path is laid out.
//
// Rough pass: flat levels at the stepdown, each cleared in rows at the stepover and followed once along its outlines.
// Finish pass: parallel rows at the stepover over everything that is seen from that side. A row is a move from rest to
// rest (trapezoidal speed, t = d/v + v/a; standard kinematics), and how many rows a region takes follows from its
// boundary: lines a distance s apart cross a curve of length L about 2L/(πs) times (Cauchy and Crofton's formula;
// Santaló, Integral Geometry and Geometric Probability, 1976; cited from memory).
//
// Lengths mm, areas mm², volumes mm³, times minutes, paths metres.
package hours
