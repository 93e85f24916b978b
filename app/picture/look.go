package picture

import (
	"image"
	"image/color"
	"math"
	"slices"

	"grainstack/render/look"
	"grainstack/render/tone"
	"grainstack/slicing/field"
	"grainstack/slicing/finding"
	"grainstack/slicing/geom"
	"grainstack/slicing/job"
	"grainstack/slicing/mesh"
	"grainstack/slicing/stack"
	"grainstack/slicing/stock"
)

// Wood is what the stack of the figures is made of.
func Wood(f *job.Figures, c *stock.Catalogue) look.Wood { return WoodOf(f.For, c) }

// WoodOf is what a stack with these settings is made of.
func WoodOf(s job.Settings, c *stock.Catalogue) look.Wood {
	thickness := s.LayerThickness(c)
	w := woodOf(s, s.Blanks(c).Usual(), c)
	w.Alternate, w.Bottom = s.Alternate, s.FirstJointIn(thickness)-thickness
	return w
}

// woodOf is what one layer is made of.
func woodOf(s job.Settings, b job.Blank, c *stock.Catalogue) look.Wood {
	w := look.Wood{GlueLine: b.Board.GlueLine, Seed: 7}
	if g, ok := c.Glue(s.Glue); ok {
		w.Joint = g.Line
	}
	if finish, ok := c.Finish(s.Finish); ok {
		w.Finish = look.Finish{Shift: -finish.Shift, EndShift: -finish.EndShift, Chroma: finish.Chroma, Gloss: finish.Gloss}
	}
	coat := w.Finish
	for _, v := range b.Veneers {
		if _, _, finished := s.ToneOf(v, c); finished { // measured tones are not darkened again
			w.Finish = look.Finish{Gloss: coat.Gloss}
		}
	}
	for _, v := range b.Veneers {
		long, end, finished := s.ToneOf(v, c)
		one := look.Veneer{Thickness: v.Thickness, Along: v.Grain == stock.Along, Long: tone.Lab(long), End: tone.Lab(end)}
		if w.Finish != coat && !finished {
			one.Long, one.End = coat.Coated(one.Long), look.Finish{Shift: coat.EndShift, Chroma: coat.Chroma}.Coated(one.End)
		}
		w.Veneers = append(w.Veneers, one)
	}
	return w
}

// Mixed are the other woods of a stack so high, and what each of its layers is of and how it lies; none where all layers are
// alike.
func Mixed(s job.Settings, c *stock.Catalogue, height float64) (woods []look.Wood, layers []look.Layer) {
	if s.Mix == "" {
		return nil, nil
	}
	blanks, mixed := s.Blanks(c), false
	numbers := map[string]int{s.Board: 0}
	for _, slab := range slabs(s, c, height) {
		b := blanks.Of(slab.Number)
		k, known := numbers[b.Board.Key]
		if !known && len(b.Veneers) > 0 {
			woods = append(woods, woodOf(s, b, c))
			k = len(woods)
			numbers[b.Board.Key] = k
		}
		mixed = mixed || blanks.Mixed(slab.Number)
		layers = append(layers, look.Layer{Bottom: slab.PanelBottom, Wood: k, Turned: b.Turned})
	}
	if !mixed {
		return nil, nil
	}
	return woods, layers
}

// slabs are the layers of a stack so high; none where the settings make none.
func slabs(s job.Settings, c *stock.Catalogue, height float64) []stack.Slab {
	thickness := s.LayerThickness(c)
	if !(thickness > 0) || height/thickness > mostShown {
		return nil
	}
	all, err := stack.Layers(height, thickness, s.FirstJointIn(thickness))
	if err != nil {
		return nil
	}
	return all
}

// mostShown is how many layers are told apart in a picture.
const mostShown = 1000

// core is the hollow as faces that are laid bare show it. Upright pockets are shown as far as the wall reaches.
func core(s job.Settings, grid *field.Grid, all []stack.Slab) look.Core {
	open := len(all) - s.CapBottom - s.CapTop
	if grid == nil || s.Wall <= 0 || open <= 0 {
		return look.Core{}
	}
	return look.Core{Depth: grid, Wall: s.Wall, Bottom: all[s.CapBottom].Bottom, Top: all[s.CapBottom+open-1].Top}
}

// A Sight is how the finished piece is looked at.
type Sight struct {
	Camera  look.Camera
	Size    image.Point // pixels
	CutAway bool
	CutAt   float64 // mm: what stands higher is taken off, whatever layer is picked; 0 for nothing
	Lift    float64 // mm
	Layer   int     // picked, from 1
	Light   look.Light
	Ground  look.Ground
}

// A Place is where a piece stands and how high it is there.
type Place struct {
	Placement geom.Placement
	Height    float64 // mm
}

// View is what moves the pixels of the finished piece.
func View(st *job.Standing, f *job.Figures, sight Sight) look.View {
	all := make([]stack.Slab, len(f.Layers))
	for i, l := range f.Layers {
		all[i] = l.Slab
	}
	v, _ := view(Place{st.Placed.Placement, st.Height()}, f.For, all, st.Grid, sight)
	return v
}

// ViewOf is View for a piece that has been set down but not tabulated, and the space of the picked layer. grid may be nil.
func ViewOf(at Place, s job.Settings, c *stock.Catalogue, grid *field.Grid, sight Sight) (look.View, look.Band) {
	return view(at, s, slabs(s, c, at.Height), grid, sight)
}

func view(at Place, s job.Settings, all []stack.Slab, grid *field.Grid, sight Sight) (look.View, look.Band) {
	v := look.View{Camera: sight.Camera, Placement: at.Placement, Height: at.Height, Size: sight.Size, Lift: sight.Lift, Ground: sight.Ground}
	if len(all) == 0 {
		v.Lift = 0
		return v, look.Band{}
	}
	picked := all[max(1, min(sight.Layer, len(all)))-1]
	switch {
	case sight.CutAway:
		v.Cut = picked.Top
	case sight.CutAt > 0:
		v.Cut = sight.CutAt
	}
	if sight.Lift > 0 {
		for _, slab := range all[1:] {
			v.Joints = append(v.Joints, slab.Bottom)
		}
	}
	if v.Cut > 0 || v.Lift > 0 {
		v.Core = core(s, grid, all)
	}
	return v, look.Band{From: picked.Bottom, To: picked.Top}
}

// SetDown is where a mesh stands when it is turned and scaled: on the floor, in the middle. It goes over the points once.
func SetDown(m *mesh.Mesh, s stack.Stand) Place {
	box := geom.EmptyBox()
	for _, p := range m.Points {
		box = box.Add(s.Turn.Apply(p.Vec()))
	}
	if box.Empty() {
		return Place{Placement: geom.Placement{Turn: s.Turn, Scale: s.Scale}}
	}
	mid := box.Center().Scale(-s.Scale)
	mid.Z = -box.Min.Z * s.Scale
	return Place{geom.Placement{Turn: s.Turn, Scale: s.Scale, Shift: mid}, box.Size().Z * s.Scale}
}

// Marks are the places that need a look, the worst last, so that they lie on top; what nobody will see is left out.
func Marks(all []finding.Finding) []look.Mark {
	var out []look.Mark
	known := map[geom.Vec]bool{}
	for _, f := range all {
		for _, p := range f.Places {
			if p.Placed && !f.Kind.Hidden() && !known[p.At] {
				known[p.At] = true
				out = append(out, look.Mark{Point: p.At, Radius: MarkRadius(f.Kind.Class())})
			}
		}
	}
	slices.Reverse(out)
	return out
}

// MarkRadius is how large a place is marked, on the piece and on the story stick alike, pixels.
func MarkRadius(c finding.Class) float64 { return [...]float64{4, 5.5, 7}[c.Weight()-1] }

// Paper is the sheet under the finished piece, light or dark.
func Paper(dark bool) look.Paper {
	if dark {
		return look.Paper{Top: rgb(0x2c, 0x28, 0x24), Bottom: rgb(0x1f, 0x1c, 0x19), Ink: rgb(0xee, 0xe7, 0xd9), Accent: rgb(0xf0, 0x80, 0x6a), Shadow: 1}
	}
	return look.Paper{Top: rgb(0xf6, 0xf1, 0xe6), Bottom: rgb(0xe4, 0xde, 0xd2), Ink: rgb(0x29, 0x24, 0x1f), Accent: rgb(0xa3, 0x2b, 0x1c), Shadow: 1}
}

func rgb(r, g, b uint8) color.RGBA { return color.RGBA{r, g, b, 255} }

// FacetNormal is the outward normal of a facet in the mesh's own frame, not of unit length.
func FacetNormal(m *mesh.Mesh, facet int) (n geom.Vec, ok bool) {
	if facet < 0 || facet >= len(m.Triangles) {
		return geom.Vec{}, false
	}
	a, b, c := m.Corners(facet)
	return b.Sub(a).Cross(c.Sub(a)), true
}

// FirstCamera looks at the piece from the front, a little from the side and from above.
func FirstCamera() look.Camera {
	return look.Camera{Azimuth: -62 * math.Pi / 180, Elevation: 17 * math.Pi / 180, Zoom: 1}
}
