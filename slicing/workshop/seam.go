package workshop

import (
	"cmp"
	"slices"

	"grainstack/slicing/finding"
	"grainstack/slicing/geom"
	"grainstack/slicing/glue"
	"grainstack/slicing/job"
	"grainstack/slicing/panel"
)

// seamStep is how far apart along a joint line the wood is looked at, mm.
const seamStep = 0.5

// seam works out the joints between the pieces of split parts, and adds their glue and time to the glue-up's.
func (w *making) seam() {
	if len(w.Seams) == 0 {
		return
	}
	g, _ := w.For.GlueIn(w.c)
	h := w.For.Shop
	rules := glue.Rules{Glue: g, Clamp: glue.Clamp{ForceN: h.ClampForceN, Count: h.Clamps}}
	closing := 0.0
	for i := range w.Seams {
		s := &w.Seams[i]
		contact := glue.Contact{Below: s.Left.Layer, Above: s.Left.Layer, Area: w.seamArea(s), Density: w.Figures.Layers[s.Left.Layer-1].Board.Density}
		s.Joint = glue.Join([]glue.Contact{contact}, g, rules.Clamp)[0]
		w.GlueUp.WetG += s.WetG
		w.GlueUp.DryG += s.DryG
		w.GlueUp.Clamps = max(w.GlueUp.Clamps, s.Clamps)
		closing += glue.Closing(s.Joint, rules)
	}
	w.GlueUp.Minutes += closing + g.ClampMin
}

// seamArea is the wood that a joint line cuts, mm², by looking at it every half millimetre along the line and at the heights
// at which the part's cover is known.
func (w *making) seamArea(s *Seam) float64 {
	p, ok := w.Part(s.Left)
	if !ok {
		return 0
	}
	way := s.line.B.Sub(s.line.A)
	length := way.Len()
	way = way.Scale(1 / length)
	box := p.cover.box()
	reach := box.Size().Len() + box.Min.Add(box.Max).Scale(0.5).Sub(s.line.A).Len()
	rise := (p.slab.Top - p.slab.Bottom) / (partHeights - 1)

	sum := 0.0
	for t := -reach; t <= reach; t += seamStep {
		at := s.line.A.Add(way.Scale(t))
		if !onSide(at, s.halves) {
			continue
		}
		bits := p.cover.at(at)
		for k := range partHeights {
			if bits>>k&1 == 0 || p.hollow(at, p.slab.Bottom+float64(k)*rise) {
				continue
			}
			share := 1.0
			if k == 0 || k == partHeights-1 {
				share = 0.5
			}
			sum += share * seamStep * rise
		}
	}
	return sum
}

// box is what the raster covers.
func (c *cover) box() geom.Box2 {
	return geom.Box2{Min: c.corner, Max: c.corner.Add(geom.Vec2{X: float64(c.nx), Y: float64(c.ny)}.Scale(c.step))}
}

// pieces are the sections of a layer's bodies with the parts' joint lines as edges, which a pin keeps off as it does off any
// other; nil where no part of the layer is split.
func (w *making) pieces(sections []geom.Region, layer int) (out geom.Region) {
	split := false
	for i := range w.Parts {
		p := &w.Parts[i]
		if p.Layer != layer {
			continue
		}
		g, cut := p.Cut(sections[p.body])
		out, split = append(out, g...), split || cut
	}
	if !split {
		return nil
	}
	return out
}

// Cut is what the hollow and the part's joint lines leave it of a region; cut is false where none of these lines meets it.
func (p *Part) Cut(g geom.Region) (own geom.Region, cut bool) {
	g = p.mine(g)
	for _, h := range p.Halves {
		left, right, err := panel.SplitPart(g, h.A, h.B)
		if err != nil {
			continue // the line misses it here: whole in either piece it is the same region
		}
		cut = true
		if g = right; h.Left {
			g = left
		}
	}
	return g, cut
}

// split divides parts as the maker asked, with the seams between the pieces; what can't be divided stays whole and is told of.
func split(parts []Part, splits []job.Split) (out []Part, seams []Seam, cautions []finding.Finding) {
	out = slices.Clone(parts)
	for _, s := range splits {
		i := slices.IndexFunc(out, func(p Part) bool { return p.ID == s.Part })
		if i < 0 {
			cautions = append(cautions, finding.Of(finding.LostSplit, finding.Place{Layer: s.Part.Layer, Name: s.Part.String()}))
			continue
		}
		left, right, err := panel.SplitPart(out[i].Shadow, s.A, s.B)
		if err != nil {
			cautions = append(cautions, finding.Of(finding.MissedSplit, finding.Place{Layer: s.Part.Layer, Name: s.Part.String()}))
			continue
		}
		other := out[i]
		out[i].Shadow, out[i].Halves = left, append(slices.Clip(other.Halves), Half{s.A, s.B, true})
		out[i].seats, other.seats = newSeats(), newSeats()
		other.Shadow, other.Halves = right, append(slices.Clip(other.Halves), Half{s.A, s.B, false})
		for _, p := range out {
			if p.Layer == other.Layer {
				other.ID.Part = max(other.ID.Part, p.ID.Part+1)
			}
		}
		out = append(out, other)
		seams = append(seams, Seam{Left: s.Part, Right: other.ID, line: s, halves: other.Halves[:len(other.Halves)-1]})
	}
	slices.SortStableFunc(out, func(a, b Part) int {
		return cmp.Or(cmp.Compare(a.Layer, b.Layer), cmp.Compare(a.ID.Part, b.ID.Part))
	})
	return out, seams, cautions
}
