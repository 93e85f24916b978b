package carve

import (
	"math"

	"grainstack/slicing/finding"
	"grainstack/slicing/geom"
	"grainstack/slicing/stock"
)

// cut names what is the matter with the cutter on each side.
func (t *Task) cut(l *LayerColumns, k int) []Finding {
	if t.Cuts == nil {
		return nil
	}
	c := &t.Cuts[k]
	var out []Finding
	name := t.Work.Cutter.Name
	for s := Up; s <= Down; s++ {
		out = append(out, t.depth(l, s, &c.Sides[s])...)
		out = append(out, t.shank(l, s, &c.Sides[s])...)
		if r := &c.Sides[s].Residue; r.Max > t.Limits.Residue {
			n := len(r.bodies(t.Limits.Residue, l.of(s)))
			out = append(out, Finding{Kind: finding.NoFit, Layer: l.Number, Side: s, At: r.At, Size: r.Max, More: [2]float64{float64(n)}, Cutter: name})
		}
	}
	if r := &c.Through; r.Max > t.Limits.Residue {
		n := len(r.bodies(t.Limits.Residue, nil))
		out = append(out, Finding{Kind: finding.NoFit, Layer: l.Number, Side: Both, At: r.At, Size: r.Max, More: [2]float64{float64(n)}, Cutter: name})
	}
	return out
}

// bodies are the connected places where more than limit stays, on the wood of z (nil where there is none).
func (r *Residue) bodies(limit float64, z *HeightMap) []Body {
	if r.Map.Z == nil {
		return nil
	}
	return r.Map.bodies(func(i int) (float64, float64) {
		mm := float64(r.Map.Z[i])
		if mm <= limit {
			return 0, 0
		}
		if z == nil {
			return mm, r.At.Z
		}
		return mm, float64(z.Z[i])
	}, 0)
}

// depth sets what a side needs against the cutting length and the reach.
func (t *Task) depth(l *LayerColumns, s Side, c *Cut) []Finding {
	cutter := &t.Work.Cutter
	var out []Finding
	if over := c.Depth - cutter.Reach; cutter.Reach > 0 && over > 0 {
		out = append(out, Finding{Kind: finding.BeyondReach, Layer: l.Number, Side: s, At: c.DepthAt, Size: over, More: [2]float64{c.Depth, cutter.Reach}, Cutter: cutter.Name})
	}
	if over := c.Depth - cutter.CutLength; cutter.CutLength > 0 && over > 0 {
		out = append(out, Finding{Kind: finding.BeyondEdge, Layer: l.Number, Side: s, At: c.DepthAt, Size: over, More: [2]float64{c.Depth, cutter.CutLength}, Cutter: cutter.Name})
	}
	return out
}

// shank looks for walls that reach above the cutting edge and stand in the way of the shank, or above the reach in the way
// of the collet nut. Wood is as high as it will be once the side is done.
func (t *Task) shank(l *LayerColumns, s Side, c *Cut) []Finding {
	cutter := &t.Work.Cutter
	var out []Finding
	for _, body := range []struct{ diameter, above float64 }{{cutter.Shank, cutter.CutLength}, {t.Limits.Nut, cutter.Reach}} {
		if !(body.above > 0) || body.diameter <= cutter.Diameter || l.thickness()+t.Work.Past <= body.above {
			continue
		}
		over, at := l.clash(s, &c.Tip, body.diameter, body.above)
		if over <= t.Limits.Residue {
			continue
		}
		nut := 0.0
		if body.above == cutter.Reach {
			nut = 1
		}
		out = append(out, Finding{Kind: finding.ShankRubs, Layer: l.Number, Side: s, At: at, Size: over, More: [2]float64{nut}, Cutter: cutter.Name})
	}
	return out
}

// clash is how far wood stands into a cylinder that starts at a height above the tip, over all places of the tip above the
// layer's columns, and where the tip is then.
func (l *LayerColumns) clash(s Side, tip *HeightMap, diameter, above float64) (over float64, at geom.Vec) {
	w := Work{Cutter: stock.Cutter{Shape: stock.Flat, Diameter: diameter}, Rough: true}
	b := bench{stop: func() bool { return false }}
	clear := b.side(l, s, w).Tip // the lowest that the cylinder's end may go
	di := int(math.Round((tip.Origin.X - clear.Origin.X) / clear.Step))
	dj := int(math.Round((tip.Origin.Y - clear.Origin.Y) / clear.Step))
	free := tip.like(make([]float32, len(tip.Z))) // what is free above the wood, negative where it is too little
	for k := range free.Z {
		x, y := k%tip.W+di, k/tip.W+dj
		if x >= 0 && y >= 0 && x < clear.W && y < clear.H {
			free.Z[k] = float32(float64(tip.Z[k]) + above - float64(clear.At(x, y)))
		}
	}
	i := free.lowest()
	p := tip.Place(i%tip.W, i/tip.W)
	return max(-float64(free.Z[i]), 0), geom.Vec{X: p.X, Y: p.Y, Z: l.height(s, float64(tip.Z[i]))}
}
