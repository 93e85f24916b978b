// Package chalk is what the maker marks on the piece with a brush: what shall stay whole, which side is seen, what nobody
// cares about.
//
// Marks are strokes in the frame and the units of the piece's file: where the brush went, how wide it was and from where the
// maker looked, so that a stroke does not come out at the back. They name no facets: a piece that is mended, thinned or read
// again takes the same marks. An Index of a mesh turns them into a Kind for each facet (Cover); a Cover gives the regions that
// shall stay whole, and a Region its heights in a stand, so that joints can be kept out of it.
//
// A facet is under the brush when its middle is no farther from the brush's way than the radius and it faces the viewer. Of
// facets that are larger than the brush the one that the brush went over is under it as well. The distance of a point from a
// way is that of the nearest straight piece of it (schoolbook).
package chalk
