package job

import (
	"grainstack/slicing/finding"
	"grainstack/slicing/geom"
)

// Middle is where a place is looked at that is a whole layer, or a part of one: the middle of that part, or of its largest part, and
// how far that goes round it, mm. ok is false while parts are not known.
func (f *Figures) Middle(p finding.Place) (at geom.Vec, reach float64, ok bool) {
	if p.Layer < 1 || p.Layer > len(f.Layers) {
		return at, 0, false
	}
	parts := f.Layers[p.Layer-1].Parts
	most := p.Part - 1
	if most < 0 || most >= len(parts) {
		most = 0
		for i := range parts {
			if parts[i].Volume > parts[most].Volume {
				most = i
			}
		}
	}
	if most >= len(parts) {
		return at, 0, false
	}
	size := parts[most].Box.Size()
	return parts[most].Box.Center(), min(size.X, size.Y) / 2, true
}
