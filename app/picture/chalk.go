package picture

import (
	"image/color"

	"grainstack/render/look"
	"grainstack/render/sheet"
	"grainstack/slicing/chalk"
	"grainstack/slicing/geom"
	"grainstack/slicing/job"
)

// Chalk is how marks are shown on the finished piece: blue and white chalk, and the grey of a soft pencil, as they lie on any
// bench.
func Chalk(kinds []chalk.Kind) look.Chalk {
	return look.Chalk{Kinds: kinds, Colours: [4]color.RGBA{
		chalk.KeepWhole: rgb(0x1a, 0x56, 0xb8),
		chalk.SeenSide:  rgb(0xff, 0xfd, 0xf6),
		chalk.DontCare:  rgb(0x55, 0x53, 0x50),
	}}
}

// kept are the places on the stick that shall stay whole.
func kept(f *job.Figures) []sheet.StickKept {
	var out []sheet.StickKept
	for _, k := range f.Kept {
		one := sheet.StickKept{Low: k.Low, High: k.High}
		for _, c := range k.Crossings {
			one.Crossed = append(one.Crossed, f.Layers[c.Layer-1].Bottom)
		}
		out = append(out, one)
	}
	return out
}

// crossed are the places of a layer's lower face where its joint goes through what shall stay whole; those that a caution marks
// are left to it.
func crossed(f *job.Figures, layer int) []geom.Vec2 {
	var out []geom.Vec2
	for _, k := range f.Kept {
		for i, c := range k.Crossings {
			if i > 0 && c.Layer == layer {
				out = append(out, geom.Vec2{X: c.At.X, Y: c.At.Y})
			}
		}
	}
	return out
}
