package look

// PerMM is how many pixels of the picture a millimetre of the piece takes across the line of sight.
func (v View) PerMM(b *Body) float64 {
	l := newLens(b, &v, Strip{})
	return l.scale
}

// AtScale is the view's camera zoomed so that a millimetre takes so many pixels at zoom 1, and moved so that the floor in the
// middle of the piece is as far below the middle of the picture as that of a piece tall mm high. Views of several pieces with
// the same camera then show them at one scale on one floor.
func (v View) AtScale(b *Body, perMM, tall float64) Camera {
	c := v.Camera
	whole := v
	whole.Zoom = 1
	c.Zoom *= perMM / whole.PerMM(b)
	zoomed := v
	zoomed.Camera = c
	l := newLens(b, &zoomed, Strip{})
	side := float64(min(l.w, l.h))
	c.PanY -= (tall - v.lifted()) / 2 * l.up.Z * l.scale / side
	return c
}
