package picture

import (
	"grainstack/render/look"
	"grainstack/render/sheet"
	"grainstack/slicing/carve"
	"grainstack/slicing/geom"
	"grainstack/slicing/job"
)

// Reached are the places on the finished piece where the cutters fall short: every undercut outside, and of other kinds the
// worst place. What nobody sees is left out.
func Reached(r *job.Reached) []look.Mark {
	var all []look.Mark
	known := map[geom.Vec]bool{}
	add := func(at geom.Vec) {
		if !known[at] {
			known[at] = true
			all = append(all, look.Mark{Point: at})
		}
	}
	for _, f := range r.Findings {
		if f.Kind == carve.TrappedAir {
			add(f.At)
		}
	}
	for _, c := range r.Cautions {
		if c.Placed && !c.Quiet {
			add(c.At)
		}
	}
	return all
}

// WithReached is a layer sheet with every place of that layer where the cutters fall short, inside and out, and maps of the
// wood that stays.
func WithReached(v sheet.LayerView, r *job.Reached) sheet.LayerView {
	v.Stays = stays(r, v.Number)
	v.Marks = v.Marks[:len(v.Marks):len(v.Marks)]
	known := map[geom.Vec2]bool{}
	for _, m := range v.Marks {
		known[m] = true
	}
	for _, f := range r.Findings {
		if at := (geom.Vec2{X: f.At.X, Y: f.At.Y}); f.Layer == v.Number && !known[at] {
			known[at] = true
			v.Marks = append(v.Marks, at)
		}
	}
	return v
}
