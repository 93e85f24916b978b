// Package rs274 reads programs for machines in a subset of RS-274 and says what the machine would do, line by line.
//
// The subset is that which small controllers take of NIST RS274/NGC version 3 (Kramer, Proctor, Messina, NISTIR 6556, 2000):
// straight moves (G0, G1) and arcs in the plane of X and Y (G17; G2, G3 with the middle by I and J), in inches or millimetres (G20, G21), to places (G90), at feeds by the
// minute (G94), with spindle (S, M3, M5), pause (M0) and end (M2, M30), line numbers and comments. Words that move nothing are
// passed over where they are as the standard has them: G40, G49, G80, G54, G61, G64, M7, M8, M9. All else is refused, with its
// line: what is not sure to be understood as the controller understands it proves nothing.
//
// It knows nothing of what wrote a program. Lengths are mm, feeds mm/min, whatever the file's units.
package rs274
