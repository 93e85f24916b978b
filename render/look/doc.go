// Package look draws the finished piece: the stack of veneers as it will come out of the board, in daylight, on paper.
//
// It takes a Body (the piece's surface in its own frame), a View (camera, stand, cut, lift: whatever moves the picture) and
// a Dress (wood, varnish, paper, marks: whatever only colours it), and gives a frame.Frame. Raster goes over the triangles
// and leaves a height, a place and a normal for each pixel; Shade turns those into colours, so that a slider which only
// colours never touches a triangle. Lengths are mm in the stand's frame, Z up, angles radians, pixels count from the upper
// left corner with y down.
//
// Methods: a visibility buffer of depth and facet number (Burns & Hunt, JCGT 2(2), 2013) kept by whole-number edge functions
// on a grid of 1/256 pixel; stripes averaged over each pixel's height range through a pyramid of ever smoother tables
// (Williams, Pyramidal parametrics, SIGGRAPH 1983); end grain darker by the squared cosine between normal and fibres, after
// the measurements of Hirata, Hayashi & Ohta, J. Wood Sci. 66, 2020; a highlight that turns with the grain, on a cone about the
// fibres (Marschner, Westin, Arbree & Moon, ACM TOG 24(3), 2005); streaks, vessels and pores that lie in the wood and are
// averaged like the stripes, so that they fade out and move no tone. A stack that is cut or lifted apart needs no new
// triangles: slabs are drawn in the order in which a ray meets them, and the face that a plane lays bare is filled row by row
// where the winding of its outline is not zero. The core is not a surface at all: rays march through its depth field (Hart,
// Sphere tracing, The Visual Computer 12, 1996).
package look
