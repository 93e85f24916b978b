package still

import "image"

// UsualSize is a still's size in pixels where no other is wanted.
func UsualSize() image.Point { return image.Pt(3840, 2160) }

// UsualTurn is a turntable's size in pixels, its pictures, and the seconds that it takes to go round.
func UsualTurn() (size image.Point, frames int, seconds float64) { return image.Pt(720, 720), 48, 8 }
