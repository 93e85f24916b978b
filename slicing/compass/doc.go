// Package compass looks at many ways in which the stack could run through a piece and says what each of them costs.
//
// It takes a piece in its own frame with the maker's settings, and gives Bearings: for each a direction that becomes the
// stack axis, with layers, trapped wood, what the ball leaves, hours, panels, weight, joints, balance, and how the stripes
// lie. Map holds what has been found: which bearings nothing beats, and which is best by the maker's weights.
//
// Up and down. An axis is looked at once, with the end down on which the piece stands better: the two ends differ in the
// balance, in which layers are the solid ones and in where the first joint falls, hardly in anything else. So the map needs
// half a sphere only, that above the XY plane of the piece's own frame (z ≥ 0), while a bearing's Up may point below it. The
// present stand is the exception: it is looked at just as it is.
//
// Order. Directions lie on a spiral of equal areas (the Fibonacci grid: Swinbank and Purser, Quarterly Journal of the Royal
// Meteorological Society 132, 2006) and are taken so that each is as far as possible from all before (Gonzalez, Theoretical
// Computer Science 38, 1985), so that the first few cover the sphere already. Then come the ways in which the piece rests by itself (rest.go), which are too narrow to be met by
// chance, and then the best places are looked at more closely.
//
// Computation. Figures are those of job.Instant, reach and residue those of carve, on a thinned piece (decimate.Thin, the
// greatest distance between the two surfaces is stated) and on columns that are wider apart than for settled results. The first answers come from a
// surface thinned more quickly; they are marked as rough and are worked out again. How stripes lie needs no thinning: it is
// taken from the full surface, gathered once (look.go).
//
// Lengths mm unless they are the piece's own, areas mm², volumes mm³, angles radians unless the name says degrees.
package compass
