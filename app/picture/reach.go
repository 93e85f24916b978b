package picture

import (
	"grainstack/render/sheet"
	"grainstack/slicing/geom"
	"grainstack/slicing/job"
)

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
