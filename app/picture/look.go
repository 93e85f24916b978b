package picture

import (
	"image"
	"image/color"

	"grainstack/render/look"
	"grainstack/render/tone"
	"grainstack/slicing/geom"
	"grainstack/slicing/job"
	"grainstack/slicing/stock"
)

// fullCoat is the shift in lightness that render's full coat stands for.
const fullCoat = 8.0

// Wood is what the stack is made of, by the settings of the figures.
func Wood(f *job.Figures, c *stock.Catalogue) look.Wood {
	b, _ := f.For.BoardIn(c)
	w := look.Wood{Alternate: f.For.Alternate, GlueLine: b.GlueLine, Seed: 7}
	if g, ok := c.Glue(f.For.Glue); ok {
		w.Joint = g.Line
	}
	if finish, ok := c.Finish(f.For.Finish); ok {
		w.Coat = max(0, min(1, -finish.Shift/fullCoat))
	}
	for _, v := range f.For.Veneers(c) {
		s, _ := c.Wood(v.Species)
		w.Veneers = append(w.Veneers, look.Veneer{Thickness: v.Thickness, Along: v.Grain == stock.Along, Long: tone.Lab(s.Long), End: tone.Lab(s.End)})
	}
	if len(f.Layers) > 0 {
		w.Bottom = f.Layers[0].PanelBottom
	}
	return w
}

// Joints are the heights of the joints, rising, mm.
func Joints(f *job.Figures) []float64 {
	var z []float64
	for _, l := range f.Layers[min(1, len(f.Layers)):] {
		z = append(z, l.Bottom)
	}
	return z
}

// Core is the hollow as faces that are laid bare show it. Upright pockets are shown as far as the wall reaches.
func Core(st *job.Standing, f *job.Figures) look.Core {
	if st.Grid == nil || f.For.Wall <= 0 || f.Withheld != "" {
		return look.Core{}
	}
	core := look.Core{Depth: st.Grid, Wall: f.For.Wall}
	first := true
	for _, l := range f.Layers {
		if l.Capped {
			continue
		}
		if first {
			core.Bottom, first = l.Bottom, false
		}
		core.Top = l.Top
	}
	return core
}

// A Sight is how the finished piece is looked at.
type Sight struct {
	Camera  look.Camera
	Size    image.Point // pixels
	CutAway bool
	Lift    float64 // mm
	Layer   int     // picked, from 1
}

// View is what moves the pixels of the finished piece.
func View(st *job.Standing, f *job.Figures, s Sight) look.View {
	v := look.View{Camera: s.Camera, Placement: st.Placed.Placement, Height: st.Height(), Size: s.Size, Lift: s.Lift}
	if s.CutAway && s.Layer >= 1 && s.Layer <= len(f.Layers) {
		v.Cut = f.Layers[s.Layer-1].Top
	}
	if s.Lift > 0 {
		v.Joints = Joints(f)
	}
	if v.Cut > 0 || v.Lift > 0 {
		v.Core = Core(st, f)
	}
	return v
}

// Picked is the space that the picked layer takes.
func Picked(f *job.Figures, layer int) look.Band {
	if layer < 1 || layer > len(f.Layers) {
		return look.Band{}
	}
	l := f.Layers[layer-1]
	return look.Band{From: l.Bottom, To: l.Top}
}

// Marks are the places that need a look.
func Marks(f *job.Figures) []look.Mark {
	var all []look.Mark
	for _, c := range f.Cautions {
		if c.Placed {
			all = append(all, look.Mark{Point: c.At})
		}
	}
	return all
}

// Paper is the sheet under the finished piece, light or dark.
func Paper(dark bool) look.Paper {
	if dark {
		return look.Paper{Top: rgb(0x2c, 0x28, 0x24), Bottom: rgb(0x1f, 0x1c, 0x19), Ink: rgb(0xee, 0xe7, 0xd9), Accent: rgb(0xf0, 0x80, 0x6a), Shadow: 1}
	}
	return look.Paper{Top: rgb(0xf6, 0xf1, 0xe6), Bottom: rgb(0xe4, 0xde, 0xd2), Ink: rgb(0x29, 0x24, 0x1f), Accent: rgb(0xa3, 0x2b, 0x1c), Shadow: 1}
}

func rgb(r, g, b uint8) color.RGBA { return color.RGBA{r, g, b, 255} }

// FacetNormal is the outward normal of a facet in the piece's own frame, not of unit length.
func FacetNormal(p *job.Piece, facet int) (n geom.Vec, ok bool) {
	if facet < 0 || facet >= len(p.Mesh.Triangles) {
		return geom.Vec{}, false
	}
	a, b, c := p.Mesh.Corners(facet)
	return b.Sub(a).Cross(c.Sub(a)), true
}
