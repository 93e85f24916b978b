package workshop

import (
	"context"
	"slices"

	"grainstack/slicing/geom"
	"grainstack/slicing/job"
)

// LayerParts are what a layer is made in: the one answer to which parts it has, for lists, drawings, panels and glue-up. What figures
// and solids have as job.Layer.Parts are its bodies, of which the hollow may cut several parts.
type LayerParts struct {
	Parts  []geom.Box2 // those before joint lines, in the order of their numbers: where they lie, seen from above
	Pieces int         // how many those are with the pieces that joint lines split them in
}

// layersOf are the parts of so many layers.
func layersOf(parts []Part, layers int) []LayerParts {
	out := make([]LayerParts, layers)
	for i := range parts {
		p := &parts[i]
		l := &out[p.Layer-1]
		l.Pieces++
		for len(l.Parts) <= p.Of {
			l.Parts = append(l.Parts, geom.EmptyBox2())
		}
		l.Parts[p.Of] = l.Parts[p.Of].Union(p.Shadow.Box())
	}
	return out
}

// PartsOf is what one layer of settled figures is made in where no joint line splits it, nil where figures are withheld. Layers are
// counted from 1.
func PartsOf(ctx context.Context, f *job.Figures, layer int) (*LayerParts, error) {
	if !f.Settled {
		return nil, nil
	}
	parts, err := partsOf(ctx, f, layer-1, layer)
	if err != nil {
		return nil, err
	}
	return &layersOf(parts, len(f.Layers))[layer-1], nil
}

// faces are the sections of a layer's parts, out of those of its bodies at the same height.
func (w *Workshop) faces(bodies []geom.Region, layer int) []geom.Region {
	out := make([]geom.Region, len(w.Layers[layer-1].Parts))
	for i := range w.Parts {
		if p := &w.Parts[i]; p.Layer == layer && out[p.Of] == nil {
			out[p.Of] = p.face(bodies[p.body])
		}
	}
	return out
}

// face is what of a body's section lies on the part's side of the hollow that has cut pieces free.
func (p *Part) face(g geom.Region) geom.Region {
	if len(g) == 0 {
		return nil
	}
	out := slices.Clone(p.mine(g))
	if p.rim != nil {
		out = append(out, p.rim)
	}
	for _, r := range p.rims {
		hole := slices.Clone(r)
		slices.Reverse(hole)
		out = append(out, hole)
	}
	return out
}
