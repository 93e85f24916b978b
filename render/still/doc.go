// Package still draws the finished piece as a photograph would show it, in the time that a photograph takes to set up, and
// turns it round for a short film.
//
// It takes a Scene (body, view and dress of package look) and gives a picture. Light comes from many directions one after the
// other: samples of a wide window or a spot, of the room above, and of the floor, which throws back what falls on it. For
// each the piece is looked at from the light (Williams, Casting curved shadows on curved surfaces, SIGGRAPH 1978), and what is
// hidden from it lies in its shadow; the sum has soft shadows and dark corners. Each of several looks a pixel takes its own
// share of the directions, so that edges and shadows get smooth together (Haeberli & Akeley, The accumulation buffer,
// SIGGRAPH 1990).
//
// A turntable is a row of pictures in package look's settled quality. As an animated GIF they share one palette, chosen among
// the pictures' own colours (Heckbert, Color image quantization for frame buffer display, SIGGRAPH 1982), and an ordered
// pattern that lies still on the screen, so that nothing crawls where nothing moves.
package still
