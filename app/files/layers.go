package files

import (
	"bytes"
	"context"
	"errors"
	"fmt"

	"grainstack/slicing/export"
	"grainstack/slicing/geom"
	"grainstack/slicing/job"
	"grainstack/slicing/mesh"
	"grainstack/slicing/stack"
	"grainstack/slicing/workshop"
)

// layerFiles are each layer as STL, and all of them as one 3MF.
func layerFiles(w Work) []File {
	var out []File
	for i, l := range w.Figures.Layers {
		out = append(out, File{Kind: Layers, Name: fmt.Sprintf("layers/layer-%02d.stl", l.Number), Does: "layer as a closed solid, where it stands", make: func(_ context.Context, b *bench) ([]byte, error) {
			all, err := b.solids()
			if err != nil {
				return nil, err
			}
			return stl(all[i].Mesh)
		}})
	}
	return append(out, File{Kind: Layers, Name: "layers/layers.3mf", Does: "all layers as one file in millimetres", make: func(_ context.Context, b *bench) ([]byte, error) {
		all, err := b.solids()
		if err != nil {
			return nil, err
		}
		objects := make([]export.Object, len(all))
		for i, m := range all {
			objects[i] = export.Object{Name: fmt.Sprintf("Layer %d", i+1), Mesh: m.Mesh}
		}
		var buf bytes.Buffer
		err = export.Write3MF(&buf, b.Standing.Piece.Name, objects)
		return buf.Bytes(), err
	}})
}

func stl(m *mesh.Mesh) ([]byte, error) {
	var buf bytes.Buffer
	buf.Grow(84 + 50*len(m.Triangles))
	err := mesh.WriteSTL(&buf, m)
	return buf.Bytes(), err
}

// layerSolids are all layers, with the wood for sanding.
func layerSolids(ctx context.Context, w Work) ([]export.LayerSolid, error) {
	st, _ := w.Figures.Made()
	if st == nil {
		return nil, errors.New("the layers are not settled yet")
	}
	numbers := make([]int, len(w.Figures.Layers))
	for i, l := range w.Figures.Layers {
		numbers[i] = l.Number
	}
	return export.LayerSolids(ctx, st, w.Figures, numbers)
}

func (b *bench) partSolids(ctx context.Context) (partSolids, error) {
	layers, err := b.solids()
	if err != nil {
		return nil, err
	}
	out := make(partSolids)
	split := make(map[int][]*mesh.Mesh)
	for i := range b.Workshop.Parts {
		p := &b.Workshop.Parts[i]
		all, ok := split[p.Layer]
		if !ok {
			all = layers[p.Layer-1].Parts()
			split[p.Layer] = all
		}
		m := p.Own(all)
		for _, h := range p.Halves {
			if m, err = halve(ctx, m, h); err != nil {
				return nil, fmt.Errorf("%v can't be split: %w", p.ID, err)
			}
		}
		out[p.ID] = m
	}
	return out, nil
}

// halve is the half of a closed solid on one side of an upright plane: the solid is laid so that the plane is level, cut in
// two layers there, and the one that is wanted put back.
func halve(ctx context.Context, m *mesh.Mesh, h workshop.Half) (*mesh.Mesh, error) {
	way := h.B.Sub(h.A)
	left := geom.Vec{X: -way.Y, Y: way.X}
	st, err := job.Stand(ctx, job.NewPiece("part", m, mesh.Raw{}), stack.Stand{Turn: geom.TurnTo(left, geom.Vec{Z: 1}), Scale: 1})
	if err != nil {
		return nil, err
	}
	at, high := st.Placed.Placement.Apply(geom.Vec{X: h.A.X, Y: h.A.Y}).Z, st.Height()
	if at <= 0 || at >= high {
		return m, nil
	}
	f := &job.Figures{Thickness: high, Layers: []job.Layer{{Slab: stack.Slab{Number: 1, Top: at}}, {Slab: stack.Slab{Number: 2, Bottom: at, Top: high, PanelBottom: at}}}}
	want := 1
	if h.Left {
		want = 2
	}
	halves, err := export.LayerSolids(ctx, st, f, []int{want})
	if err != nil {
		return nil, err
	}
	out := &mesh.Mesh{Points: make([]mesh.Point, len(halves[0].Points)), Triangles: halves[0].Triangles}
	for i, p := range halves[0].Points {
		q := st.Placed.Placement.Back(p.Vec())
		out.Points[i] = mesh.PointOf(q)
	}
	return out, nil
}
