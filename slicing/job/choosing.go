package job

import "grainstack/slicing/geom"

// MassCentre is the middle of all wood, mm on the stand, without glue; ok is false for figures without wood.
func (f *Figures) MassCentre(st *Standing) (at geom.Vec, ok bool) {
	var sum geom.Vec
	wood := 0.0
	for i := range f.Layers {
		wood += f.Layers[i].Wood
		sum = sum.Add(f.Moment(st, &f.Layers[i]))
	}
	if !(wood > 0) {
		return geom.Vec{}, false
	}
	return sum.Scale(1 / wood), true
}

// Moment is ∫ (x, y, z) over the wood of a layer, mm⁴.
func (f *Figures) Moment(st *Standing, l *Layer) geom.Vec {
	return st.Profile.Moment(l.Bottom, l.Top).Sub(l.coreMoment)
}

// Centre is that of the wood of a layer.
func (f *Figures) Centre(st *Standing, l *Layer) geom.Vec {
	if !(l.Wood > 0) {
		return geom.Vec{Z: (l.Bottom + l.Top) / 2}
	}
	return f.Moment(st, l).Scale(1 / l.Wood)
}
