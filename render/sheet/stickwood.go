package sheet

import (
	"image/color"
	"math"

	"grainstack/render/draw"
	"grainstack/slicing/geom"
)

// A band is a run of heights of one colour.
type band struct {
	z0, z1 float64
	color  color.RGBA
}

// finestVeneer is the height on the sheet, in drawing units, below which veneers run together: they are drawn as rows one
// unit high in their average colour, so that fine stripes neither shimmer nor make false ones.
const finestVeneer = 1.25

// veneers lay the wood down: strong where it is the piece, faint where it goes, fainter and struck through where the panel
// is not needed at all.
func (t StickSheet) veneers(v StickView, s Style, piece geom.Region) {
	bottom, top := v.Layers[0].Bottom, v.Layers[len(v.Layers)-1].Top
	bands := t.bands(v, s)
	var gone, wood palette
	for _, b := range bands {
		if z0, z1 := max(b.z0, bottom), min(b.z1, top); z0 < z1 {
			gone.add(draw.Mix(s.Ink.Paper, b.color, 0.36), draw.BoxRing(box(t.Body.Min.X, t.Y(z1), t.Body.Max.X, t.Y(z0))))
		}
	}
	t.share(piece, bands, func(b band, part geom.Region) {
		for _, r := range part {
			wood.add(b.color, r)
		}
	})
	mean := meanTone(bands, s)
	t.Rect(box(t.Body.Min.X, t.Y(top), t.Body.Max.X, t.Y(bottom)), draw.Mix(s.Ink.Paper, mean, 0.36))
	gone.fill(t.Drawing)
	t.leftOver(s, box(t.Body.Min.X, t.Body.Min.Y, t.Body.Max.X, t.Y(top)), mean)
	t.leftOver(s, box(t.Body.Min.X, t.Y(bottom), t.Body.Max.X, t.Body.Max.Y), mean)
	t.Fill(piece, mean)
	wood.fill(t.Drawing)
	t.Outline(draw.Pen{Color: s.Ink.Ink, Width: 1.2}, piece)
}

// share cuts a region level between bands, which rise, and gives each its part. It halves the bands again and again, so
// that no cut goes through more of the region than it must.
func (t StickSheet) share(piece geom.Region, bands []band, give func(band, geom.Region)) {
	switch {
	case len(piece) == 0 || len(bands) == 0:
	case len(bands) == 1:
		give(bands[0], piece)
	default:
		half := len(bands) / 2
		y := t.Y(bands[half].z0)
		t.share(beyond(piece, y, 1), bands[:half], give)
		t.share(beyond(piece, y, -1), bands[half:], give)
	}
}

// leftOver strikes through what no layer uses of its panel.
func (t StickSheet) leftOver(s Style, b geom.Box2, mean color.RGBA) {
	if b.Max.Y-b.Min.Y < 0.5 {
		return
	}
	t.Rect(b, draw.Mix(s.Ink.Paper, mean, 0.15))
	for _, h := range draw.Hatch(geom.Region{draw.BoxRing(b)}, vec(1, -1), 4, vec(b.Min.X, b.Max.Y)) {
		t.Segments(draw.Pen{Color: s.Ink.Rule, Width: 0.7}, h.Segment)
	}
	t.Outline(draw.Pen{Color: s.Ink.Rule, Width: 0.8}, geom.Region{draw.BoxRing(b)})
}

// bands are the veneers of all layers from below, or rows of their average where they are too thin to be seen.
func (t StickSheet) bands(v StickView, s Style) []band {
	var out []band
	thin := math.Inf(1)
	for _, n := range v.Veneers {
		thin = min(thin, n.Thickness*t.PerMM)
	}
	for _, l := range v.Layers {
		for _, n := range l.Veneers {
			thin = min(thin, n.Thickness*t.PerMM)
		}
	}
	for _, l := range v.Layers {
		var one []band
		z := l.PanelBottom
		for _, n := range v.of(l) {
			one = append(one, band{z, z + n.Thickness, s.tone(n, l.Turned)})
			z += n.Thickness
		}
		if len(one) == 0 {
			one = []band{{l.PanelBottom, l.PanelTop, s.Ink.Long}}
		}
		one[len(one)-1].z1 = max(one[len(one)-1].z1, l.PanelTop)
		if thin < finestVeneer {
			one = t.averaged(one, l)
		}
		for _, b := range one {
			if b.z0, b.z1 = max(b.z0, l.Bottom), min(b.z1, l.Top); b.z0 < b.z1 {
				out = append(out, b)
			}
		}
	}
	return out
}

// of are the veneers of a layer's panel.
func (v StickView) of(l StickLayer) []Veneer {
	if len(l.Veneers) > 0 {
		return l.Veneers
	}
	return v.Veneers
}

// tone is the colour of a veneer seen from the front, along Y: long grain where its fibres run along X.
func (s Style) tone(n Veneer, turned bool) color.RGBA {
	long, end := n.Long, n.End
	if long.A == 0 {
		long = s.Ink.Long
	}
	if end.A == 0 {
		end = s.Ink.End
	}
	if n.Along != turned {
		return long
	}
	return end
}

// averaged cuts one layer into rows of a drawing unit, each the mean of the bands that it covers.
func (t StickSheet) averaged(one []band, l StickLayer) []band {
	step := 1 / t.PerMM
	var out []band
	first := 0
	for z := math.Floor(l.Bottom/step) * step; z < l.Top; z += step {
		z0, z1 := max(z, l.Bottom), min(z+step, l.Top)
		var m mean
		for first < len(one)-1 && one[first].z1 <= z0 {
			first++
		}
		for _, b := range one[first:] {
			if b.z0 >= z1 {
				break
			}
			m.add(b.color, min(b.z1, z1)-max(b.z0, z0))
		}
		out = append(out, band{z0, z1, m.color()})
	}
	return out
}

// A mean adds colours up by weight.
type mean struct{ r, g, b, weight float64 }

func (m *mean) add(c color.RGBA, w float64) {
	if w > 0 {
		m.r += w * float64(c.R)
		m.g += w * float64(c.G)
		m.b += w * float64(c.B)
		m.weight += w
	}
}

// color is rounded to steps of four, so that rows of nearly one colour are filled together.
func (m mean) color() color.RGBA {
	if m.weight == 0 {
		return color.RGBA{}
	}
	q := func(v float64) uint8 { return uint8(min(math.Round(v/m.weight/4)*4, 255)) }
	return color.RGBA{q(m.r), q(m.g), q(m.b), 255}
}

func meanTone(bands []band, s Style) color.RGBA {
	var m mean
	for _, b := range bands {
		m.add(b.color, b.z1-b.z0)
	}
	if m.weight == 0 {
		return s.Ink.Long
	}
	return m.color()
}

// A palette gathers rings by colour, in the order in which the colours came, so that each is filled once.
type palette struct {
	colors []color.RGBA
	rings  []geom.Region
}

func (p *palette) add(c color.RGBA, r geom.Ring) {
	for i, have := range p.colors {
		if have == c {
			p.rings[i] = append(p.rings[i], r)
			return
		}
	}
	p.colors = append(p.colors, c)
	p.rings = append(p.rings, geom.Region{r})
}

func (p palette) fill(d *draw.Drawing) {
	for i, c := range p.colors {
		d.Fill(p.rings[i], c)
	}
}

// joints are the glue lines, strong across the piece, and the edge of the stack.
func (t StickSheet) joints(v StickView, s Style, piece geom.Region) {
	var faint, strong []draw.Segment
	thinnest := math.Inf(1)
	for i, l := range v.Layers {
		thinnest = min(thinnest, (l.Top-l.Bottom)*t.PerMM)
		if i == 0 {
			continue
		}
		y := t.Y(l.Bottom)
		faint = append(faint, draw.Segment{vec(t.Body.Min.X, y), vec(t.Body.Max.X, y)})
		strong = append(strong, across(piece, y)...)
	}
	bottom, top := v.Layers[0].Bottom, v.Layers[len(v.Layers)-1].Top
	t.Segments(draw.Pen{Color: draw.Mix(s.Ink.Paper, s.Ink.Faint, 0.55), Width: 0.6}, faint...)
	t.Segments(draw.Pen{Color: s.Ink.Joint, Width: clamp(thinnest*0.12, 0.5, 1.3)}, strong...)
	t.Outline(draw.Pen{Color: s.Ink.Faint, Width: 0.8}, geom.Region{draw.BoxRing(box(t.Body.Min.X, t.Y(top), t.Body.Max.X, t.Y(bottom)))})
}
