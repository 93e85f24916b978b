package draw

import (
	"image/color"
	"math"
)

// An Ink is the set of colours that a sheet is drawn with. Ink, Faint and Accent are for lettering too: each has at least
// 4.5 : 1 contrast on Paper. Colours of wood mean wood and nothing else; Accent marks what needs a look.
type Ink struct {
	Paper  color.RGBA // the sheet
	Ink    color.RGBA // outlines and main lettering
	Faint  color.RGBA // dimension lines and lesser lettering
	Rule   color.RGBA // hair lines, frames; never lettering
	Wood   color.RGBA // the face of a panel, as a quiet fill
	Grain  color.RGBA // grain lines on Wood
	Long   color.RGBA // a veneer's edge, cut along the fibres
	End    color.RGBA // a veneer's edge, cut across the fibres
	Joint  color.RGBA // glue line between layers
	Accent color.RGBA // the one red
}

// LightInk is ink on warm white paper, for daylight.
func LightInk() Ink {
	return Ink{
		Paper: rgb(0xfbf7ee), Ink: rgb(0x2a241d), Faint: rgb(0x6a6053), Rule: rgb(0xc9beaa),
		Wood: rgb(0xf3e3c3), Grain: rgb(0xb98f58), Long: rgb(0xe9cd9c), End: rgb(0xb98c58),
		Joint: rgb(0x4b3521), Accent: rgb(0xa8321f),
	}
}

// DarkInk is chalk on a dark board, for the evening.
func DarkInk() Ink {
	return Ink{
		Paper: rgb(0x23201c), Ink: rgb(0xefe8da), Faint: rgb(0xb0a694), Rule: rgb(0x575044),
		Wood: rgb(0x4d3c28), Grain: rgb(0xa07c4c), Long: rgb(0xcfae79), End: rgb(0x93693f),
		Joint: rgb(0x1c140c), Accent: rgb(0xf2836f),
	}
}

// Mix is a with the share t of b, t in [0, 1], as straight 8-bit mixing.
func Mix(a, b color.RGBA, t float64) color.RGBA {
	m := func(x, y uint8) uint8 { return uint8(math.Round(float64(x) + (float64(y)-float64(x))*t)) }
	return color.RGBA{m(a.R, b.R), m(a.G, b.G), m(a.B, b.B), m(a.A, b.A)}
}

func rgb(hex uint32) color.RGBA {
	return color.RGBA{uint8(hex >> 16), uint8(hex >> 8), uint8(hex), 255}
}
