// Package frame holds finished pictures on their way from a drawing goroutine to the window.
//
// It takes a size in pixels and gives a tight picture (Stride = 4 · width, starting at Pix[0], opaque, sRGB), the only kind
// that a window can show without a copy. Three pictures are enough for a reader and a writer that never wait for each
// other: one shown, one finished, one being drawn.
package frame
