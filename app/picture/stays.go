package picture

import (
	"math"

	"grainstack/render/look"
	"grainstack/render/sheet"
	"grainstack/slicing/carve"
	"grainstack/slicing/geom"
	"grainstack/slicing/job"
)

// A stain is where wood stays on the finished piece: look asks it for every pixel.
type stain struct {
	r      *job.Reached
	layers []job.Layer
}

const (
	// leastTrapped is how much wood has to stay under an overhang to be shown, mm: what sanding takes off by the way.
	leastTrapped = 0.2
	// between is how deep in a column a place has to lie to belong to what is trapped in it, mm. The highest and the lowest wood of
	// the column are in sight of the cutter.
	between = 0.1
	// sideways is how far a surface may face away from a side and still be that side's: walls are everybody's.
	sideways = 0.15
)

// Stain marks where wood stays that ought to go: wholly where no cutter gets to, and more and more from the limit on where
// the finish cutter doesn't fit. r is of the figures' settings.
func Stain(r *job.Reached, f *job.Figures) look.Stain {
	if r == nil || f == nil || len(r.Maps) != len(f.Layers) || len(f.Layers) == 0 {
		return nil
	}
	return &stain{r, f.Layers}
}

// strongest is the mark of what is trapped, and the most for what doesn't fit.
const strongest = 0.82

// At is how strongly a place is marked.
func (s *stain) At(p geom.Vec, up float64) float64 {
	m := s.maps(p.Z)
	if m == nil {
		return 0
	}
	trapped, left := 0.0, 0.0
	m.Top.Around(geom.Vec2{X: p.X, Y: p.Y}, func(k int) {
		top, bottom := m.Top.Z[k], m.Bottom.Z[k]
		if top == carve.NoWood {
			return
		}
		if m.Trapped.Z != nil && p.Z < float64(top)-between && p.Z > float64(bottom)+between {
			trapped = max(trapped, float64(m.Trapped.Z[k]))
		}
		for side, down := range [2]float64{1, -1} {
			if z := m.Residue[side].Z; z != nil && up*down > -sideways {
				left = max(left, float64(z[k]))
			}
		}
	})
	limit := s.r.Limit()
	switch {
	case trapped > leastTrapped:
		return strongest
	case left > limit:
		return strongest * min(1, 0.4+0.3*(left-limit)/limit)
	}
	return 0
}

// maps are those of the layer at a height, nil where that has none.
func (s *stain) maps(z float64) *job.LayerMaps {
	low, high := 0, len(s.layers)-1
	for low < high {
		if mid := (low + high) / 2; z > s.layers[mid].Top {
			low = mid + 1
		} else {
			high = mid
		}
	}
	if m := &s.r.Maps[low]; m.Top.Z != nil {
		return m
	}
	return nil
}

// stays are what of a layer the cutters leave, for its sheet: on the sides more and more from the limit on.
func stays(r *job.Reached, layer int) []sheet.Stays {
	if layer < 1 || layer > len(r.Maps) {
		return nil
	}
	m, limit := &r.Maps[layer-1], r.Limit()
	steps := []float64{limit, 2 * limit, 4 * limit}
	var out []sheet.Stays
	for _, one := range []struct {
		kind sheet.StaysKind
		of   *carve.HeightMap
		from []float64
	}{
		{sheet.UnderOverhang, &m.Trapped, []float64{leastTrapped, 1, 4}},
		{sheet.InHollow, &m.TrappedCore, []float64{leastTrapped}},
		{sheet.OnTop, &m.Residue[carve.Up], steps},
		{sheet.OnUnderside, &m.Residue[carve.Down], steps},
	} {
		s := sheet.Stays{Kind: one.kind, Most: most(one.of)}
		for _, from := range one.from {
			if s.Most > from {
				s.Steps = append(s.Steps, sheet.StaysStep{From: from, Where: one.of.Above(from)})
			}
		}
		if len(s.Steps) > 0 {
			out = append(out, s)
		}
	}
	return out
}

// most is the largest figure of a map.
func most(m *carve.HeightMap) float64 {
	z := float32(0)
	for _, v := range m.Z {
		z = max(z, v)
	}
	return math.Max(float64(z), 0)
}
