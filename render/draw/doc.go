// Package draw holds drawings apart from how they are shown: strokes, fills, grain lines and lettering in drawing units,
// on a sheet whose origin is the top left corner, X to the right and Y down.
//
// A drawing unit is one picture point of a screen at scale 1; on paper whoever prints says how many millimetres it is. A
// Drawing is played to a Backend: Raster makes an *image.RGBA with github.com/fogleman/gg. Regions follow package geom:
// inside is where the windings add up to more than zero. Hatching is cut to its region by the scan-line method (Foley, van
// Dam, Feiner, Hughes, Computer Graphics: Principles and Practice, 2nd ed. 1990, 3.6), clipping by Sutherland and Hodgman
// (CACM 17(1), 1974) and by Liang and Barsky (ACM TOG 3(1), 1984).
package draw
