package fieldtest

import (
	"fmt"
	"math"
	"path/filepath"
	"slices"
	"strings"
)

const (
	pinCover = 2.0  // mm of wood that every pin keeps all round
	pinSlack = 0.25 // mm that the panel's columns may be off
)

// checkHoles measures the wood round every pin's hole on the panel's solid.
func checkHoles(number int, d *drawing, p *prober, f *faults) {
	for layer, circles := range d.circles {
		if !strings.HasPrefix(layer, "PINS") {
			continue
		}
		below := strings.Contains(layer, "LOWER")
		for _, c := range circles {
			if wrong := pinWrong(p, c, below); wrong != "" {
				f.add("pin", "panel %d, %s at %.1f, %.1f mm: %s", number, strings.ToLower(layer), c.at.x, c.at.y, wrong)
			}
		}
	}
}

// pinWrong says what is wrong with a pin's hole; "" for nothing. Heights are taken upside down for the upper face.
func pinWrong(p *prober, c circle, below bool) string {
	first := func(at place) (span, bool) {
		w := p.wood(at.x, at.y)
		switch {
		case len(w) == 0:
			return span{}, false
		case below:
			return w[0], true
		}
		last := w[len(w)-1]
		return span{-last.high, -last.low}, true
	}
	end, ok := first(c.at)
	if !ok {
		return "it goes through"
	}
	const rays = 36
	face, out := math.Inf(1), 0
	var ring []span
	for k := range rays {
		w, ok := first(c.at.beside(c.radius+pinCover-pinSlack, 2*math.Pi*float64(k)/rays))
		if !ok {
			out++
			continue
		}
		ring = append(ring, w)
		face = min(face, w.low)
	}
	if end.low-face < 1 {
		return fmt.Sprintf("no hole is there, %.2f mm deep", end.low-face)
	}
	for _, w := range ring {
		if w.low > face+pinSlack || w.high < end.low+pinCover-pinSlack {
			out++
		}
	}
	if end.high-end.low < pinCover-pinSlack {
		return fmt.Sprintf("it ends %.2f mm below the other face, %.2f mm deep", end.high-end.low, end.low-face)
	}
	if out > 0 {
		return fmt.Sprintf("on %d of %d lines %.2f mm off it there is not wood enough over its depth of %.2f mm and 2 mm more", out, rays, pinCover-pinSlack, end.low-face)
	}
	return ""
}

// checkPins holds every hole of the list of pins against the drawing of its layer, and the wood round it against the layer's own
// solid: there the air under a part's overhang is air, which on a panel no cutter reaches.
func (m *made) checkPins(f *faults) {
	pins, err := readCSV(filepath.Join(m.dir, "lists", "pins.csv"))
	if err != nil {
		f.add("files", "%v", err)
		return
	}
	for _, l := range m.report.Layers {
		var own table
		for _, row := range pins {
			if row["layer"] == fmt.Sprint(l.Number) {
				own = append(own, row)
			}
		}
		if len(own) > 0 {
			m.checkLayerPins(l.Number, own, f)
		}
	}
}

// checkLayerPins looks at the pins of one layer.
func (m *made) checkLayerPins(number int, pins table, f *faults) {
	s, err := readSTL(filepath.Join(m.dir, "layers", fmt.Sprintf("layer-%02d.stl", number)))
	if err != nil {
		return // told where layers are looked at
	}
	d, err := readDXF(filepath.Join(m.dir, "outlines", fmt.Sprintf("layer-%02d.dxf", number)))
	if err != nil {
		f.add("files", "%v", err)
		return
	}
	l := m.report.Layers[number-1]
	off, ok := offset(s, d, l.Bottom, l.Top)
	if !ok {
		f.add("drawings", "layer %d: neither face lies in the drawing as in the solid", number)
		return
	}
	p := newProber(s, 2)
	for _, row := range pins {
		below := row["face of the part"] == "lower"
		layer, face := "PINS_UPPER_FACE", l.Top
		if below {
			layer, face = "PINS_LOWER_FACE", l.Bottom
		}
		at, ok := m.onLayer(row, d, layer)
		if !ok {
			f.add("drawings", "layer %d: the hole of panel %s at %s, %s mm is not drawn on the layer", number, row["panel"], row["x mm"], row["y mm"])
			continue
		}
		if out := pinInAir(p, circle{at.plus(off), figure(row["diameter mm"]) / 2}, below, face, figure(row["depth from the part's face mm"])); out > 0 {
			f.add("pin in the air", "layer %d, %s face, panel %s at %s, %s mm, %s mm deep: on %d of %d lines there is not 2 mm of wood round it", number, row["face of the part"], row["panel"], row["x mm"], row["y mm"], row["depth from the part's face mm"], out, pinLines)
		}
	}
}

const (
	pinLines = 2*36 + 1 // on the circle 2 mm off the hole, at its edge, and through its middle
	pinTrue  = 0.05     // mm that a list's figures and a drawing may be off
)

// pinInAir is on how many lines there is not wood enough: over the hole's depth off it, and 2 mm below its end.
func pinInAir(p *prober, c circle, below bool, face, depth float64) (out int) {
	lacks := func(at place, from, to float64) bool {
		low, high := face+from+pinTrue, face+to-pinTrue
		if !below {
			low, high = face-to+pinTrue, face-from-pinTrue
		}
		return !slices.ContainsFunc(p.wood(at.x, at.y), func(w span) bool { return w.low <= low && w.high >= high })
	}
	if lacks(c.at, 0, depth+pinCover) {
		out++
	}
	for k := range 36 {
		a := 2 * math.Pi * float64(k) / 36
		if lacks(c.at.beside(c.radius+pinCover-pinTrue, a), 0, depth) {
			out++
		}
		if lacks(c.at.beside(c.radius, a), 0, depth+pinCover) {
			out++
		}
	}
	return out
}

// offset is what a layer's drawing is moved by against its solid, found from the face that both have.
func offset(s *solid, d *drawing, bottom, top float64) (place, bool) {
	for layer, z := range map[string]float64{"LOWER_FACE": bottom, "UPPER_FACE": top} {
		var all []place
		for _, ring := range d.lines[layer] {
			all = append(all, ring...)
		}
		var level []place
		for _, q := range s.facets {
			a, b, c := s.points[q[0]], s.points[q[1]], s.points[q[2]]
			if math.Abs(a[2]-z) < 1e-3 && math.Abs(b[2]-z) < 1e-3 && math.Abs(c[2]-z) < 1e-3 {
				level = append(level, place{a[0], a[1]}, place{b[0], b[1]}, place{c[0], c[1]})
			}
		}
		if len(all) == 0 || len(level) == 0 {
			continue
		}
		low, high := bounds(all)
		l, h := bounds(level)
		if h.minus(l).minus(high.minus(low)).long() < 4*pinTrue {
			return l.minus(low), true
		}
	}
	return place{}, false
}

// onLayer is where a hole of the list lies on its layer's drawing: found by turning it back about its part's middle, and there
// must be a circle.
func (m *made) onLayer(row map[string]string, d *drawing, layer string) (place, bool) {
	at := place{figure(row["x mm"]), figure(row["y mm"])}
	if row["side that is up"] == "B" {
		at = m.over(at, row["panel"])
	}
	for _, part := range m.parts {
		if part["layer"] != row["layer"] || part["part"] != row["part"] {
			continue
		}
		q := at.minus(place{figure(part["middle x mm"]), figure(part["middle y mm"])})
		switch part["turn deg"] {
		case "90":
			q = place{q.y, -q.x}
		case "180":
			q = place{-q.x, -q.y}
		case "270":
			q = place{-q.y, q.x}
		}
		for _, ring := range d.lines["OUTLINE"] {
			low, high := bounds(ring)
			on := low.plus(high).times(0.5).plus(q)
			for _, c := range d.circles[layer] {
				if c.at.minus(on).long() < ringTrue {
					return c.at, true
				}
			}
		}
	}
	return place{}, false
}

// ringTrue is how far the middle of an outline may be from that of the part that the list has, mm.
const ringTrue = 0.5

// over is a place of side B as it lies on side A.
func (m *made) over(p place, panel string) place {
	low, high := bounds(m.frames[panel])
	if m.alongY {
		return place{low.x + high.x - p.x, p.y}
	}
	return place{p.x, low.y + high.y - p.y}
}

// checkListed holds the list of pins against the holes of a panel's drawing: as many, each where a circle is.
func (m *made) checkListed(number int, d *drawing, f *faults) {
	m.frames[fmt.Sprint(number)] = slices.Concat(d.lines["PANEL"]...)
	pins, err := readCSV(filepath.Join(m.dir, "lists", "pins.csv"))
	if err != nil {
		return // told elsewhere
	}
	drawn := 0
	for layer, circles := range d.circles {
		if strings.HasPrefix(layer, "PINS") {
			drawn += len(circles)
		}
	}
	listed := 0
	for _, row := range pins {
		if row["panel"] == fmt.Sprint(number) {
			listed++
		}
	}
	if drawn != listed {
		f.add("drawings", "panel %d: %d holes for pins are drawn, %d listed", number, drawn, listed)
	}
}
