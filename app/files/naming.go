package files

import (
	"slices"

	"grainstack/render/sheet"
	"grainstack/slicing/export"
	"grainstack/slicing/geom"
)

// A naming writes the names of parts on a drawing: each on its part or, where that is too small, beside it with a line to it.
type naming struct {
	room  geom.Box2 // the drawing
	parts []named
}

type named struct {
	name    string
	outline geom.Region
	box     geom.Box2
}

func newNaming(room geom.Box2) *naming { return &naming{room: room} }

func (n *naming) add(name string, outline geom.Region) {
	n.parts = append(n.parts, named{name, outline, outline.Box()})
}

// nameHigh is how high the letters of a part's name are, mm; each is taken to be three quarters as wide, as in most typefaces.
const (
	nameHigh = 4.0
	nameWide = 0.75 * nameHigh
)

// write writes the names, those on their parts first.
func (n *naming) write(d *drawingSet) {
	var taken []geom.Box2
	var rest []named
	put := func(p named, at geom.Vec2) geom.Box2 {
		half := p.half()
		b := geom.Box2{Min: at.Sub(half), Max: at.Add(half)}
		taken = append(taken, b)
		d.text(onNames, at.Sub(geom.Vec2{X: half.X, Y: nameHigh / 2}), nameHigh, p.name)
		return b
	}
	for _, p := range n.parts {
		size, half := p.box.Size(), p.half()
		if size.X < 2*half.X || size.Y < 2*half.Y {
			rest = append(rest, p)
			continue
		}
		put(p, insideOf(p.outline))
	}
	for _, p := range rest {
		within := func(b geom.Box2) bool {
			return b.Min.X >= n.room.Min.X && b.Min.Y >= n.room.Min.Y && b.Max.X <= n.room.Max.X && b.Max.Y <= n.room.Max.Y && !hits(b, taken)
		}
		clear := func(b geom.Box2) bool {
			return !slices.ContainsFunc(n.parts, func(q named) bool { return hits(b, []geom.Box2{q.box}) })
		}
		at, ok := sheet.Beside(p.box, p.half(), 2, sheet.Rounds, within, clear)
		b := put(p, at)
		if ok {
			on, middle := d.on(onNames), insideOf(p.outline)
			on.Lines = append(on.Lines, export.Line{Points: []geom.Vec2{middle, sheet.EdgeOf(b, middle)}})
		}
	}
}

// half is half the size of a name.
func (p named) half() geom.Vec2 {
	return geom.Vec2{X: nameWide * float64(len(p.name)) / 2, Y: nameHigh/2 + 0.5}
}

// hits reports whether a box shares anything with one of others.
func hits(b geom.Box2, others []geom.Box2) bool {
	return slices.ContainsFunc(others, func(o geom.Box2) bool {
		return b.Min.X < o.Max.X && o.Min.X < b.Max.X && b.Min.Y < o.Max.Y && o.Min.Y < b.Max.Y
	})
}

// insideOf is a place in a region to write its name: its centre, or where that lies outside the middle of the widest of some
// chords.
func insideOf(g geom.Region) geom.Vec2 {
	if c, ok := g.Centroid(); ok && g.Contains(c) {
		return c
	}
	b := g.Box()
	best, widest := b.Min.Add(b.Max).Scale(0.5), 0.0
	const chords = 16
	for k := range chords {
		y := b.Min.Y + (float64(k)+0.5)/chords*(b.Max.Y-b.Min.Y)
		var xs []float64
		for _, r := range g {
			for i, p := range r {
				if q := r[(i+1)%len(r)]; (p.Y > y) != (q.Y > y) {
					xs = append(xs, p.X+(q.X-p.X)*(y-p.Y)/(q.Y-p.Y))
				}
			}
		}
		slices.Sort(xs)
		for i := 0; i+1 < len(xs); i += 2 {
			if w := xs[i+1] - xs[i]; w > widest {
				best, widest = geom.Vec2{X: (xs[i] + xs[i+1]) / 2, Y: y}, w
			}
		}
	}
	return best
}
