package sheet

import (
	"math"
	"slices"

	"grainstack/render/draw"
	"grainstack/slicing/geom"
)

// tags puts numbers beside what is too small to carry one, each with a line to it.
type tags struct {
	*draw.Drawing
	style  Style
	room   geom.Box2            // where they may stand
	taken  []geom.Box2          // by lettering
	covers func(geom.Box2) bool // whether something lies in a box that had better be seen
}

// free reports whether lettering may stand in a box.
func (t *tags) free(b geom.Box2) bool {
	return within(b, t.room) && !slices.ContainsFunc(t.taken, func(o geom.Box2) bool { return overlap(o, b) })
}

// beside writes words beside a thing and draws a line from there to its middle; where there is no room at all they stand on it.
func (t *tags) beside(thing geom.Box2, words string) {
	text := draw.Text{Words: words, Size: t.style.small(), Bold: true, Color: t.style.Ink.Ink, Align: draw.Centre}
	half := vec(t.style.Letters.Width(words, text.Size, true)/2+2, text.Size*0.5+1)
	at, ok := Beside(thing, half, 4, nearTag, t.free, func(b geom.Box2) bool { return !t.covers(b) })
	b := geom.Box2{Min: at.Sub(half), Max: at.Add(half)}
	t.taken = append(t.taken, b)
	if middle := thing.Min.Add(thing.Max).Scale(0.5); ok {
		t.Segments(draw.Pen{Color: t.style.Ink.Ink, Width: 0.6}, draw.Segment{middle, EdgeOf(b, middle)})
	}
	text.At = vec(at.X, at.Y+text.Size*0.36)
	t.Rect(b, t.style.Ink.Paper)
	t.Text(text)
}

// lies reports whether some of an outline's inside lies in a box.
func lies(r geom.Region, b geom.Box2) bool {
	winding, middle := 0, b.Min.Add(b.Max).Scale(0.5)
	for _, ring := range r {
		if !overlap(ring.Box(), b) {
			continue
		}
		for i, p := range ring {
			if meets(ring[(i+len(ring)-1)%len(ring)], p, b) {
				return true
			}
		}
		winding += ring.Winding(middle)
	}
	return winding != 0
}

// meets reports whether the line between two points runs through a box: whether along both axes together some of it is left between
// the box's sides (Liang and Barsky, ACM Transactions on Graphics 3(1), 1984).
func meets(p, q geom.Vec2, b geom.Box2) bool {
	from, to := 0.0, 1.0
	for _, axis := range [2][4]float64{{p.X, q.X, b.Min.X, b.Max.X}, {p.Y, q.Y, b.Min.Y, b.Max.Y}} {
		at, way, low, high := axis[0], axis[1]-axis[0], axis[2], axis[3]
		if way == 0 {
			if at < low || at > high {
				return false
			}
			continue
		}
		in, out := (low-at)/way, (high-at)/way
		from, to = max(from, min(in, out)), min(to, max(in, out))
	}
	return from <= to
}

// nearTag is how many rounds off its thing a number goes for a place that is clear; a line across half the panel leads nowhere.
const nearTag = 4

// Rounds is how many rounds off a thing a place is looked for at the most.
const Rounds = 12

// Beside is the middle of a box of a size, given by half of it, beside a thing: as near as there is room, with a gap at the
// least. free says whether it may be at a place, clear whether it covers nothing there that had better be seen; a place that is
// not clear is taken where no other is within so many near rounds, each of which lies farther out by three quarters of the box. ok is
// false where there is no room at all: it is on the thing then.
func Beside(thing geom.Box2, half geom.Vec2, gap float64, near int, free, clear func(geom.Box2) bool) (at geom.Vec2, ok bool) {
	const ways = 16
	middle := thing.Min.Add(thing.Max).Scale(0.5)
	at = middle
	for n := range Rounds * ways {
		if ok && n >= near*ways {
			break
		}
		sin, cos := math.Sincos(2 * math.Pi * (float64(n%ways) + 0.5) / ways)
		out := vec(thing.Size().X/2+half.X+gap, thing.Size().Y/2+half.Y+gap).Add(half.Scale(1.5 * float64(n/ways)))
		try := middle.Add(vec(out.X*cos, out.Y*sin))
		b := geom.Box2{Min: try.Sub(half), Max: try.Add(half)}
		if !free(b) {
			continue
		}
		if clear(b) {
			return try, true
		}
		if !ok {
			at, ok = try, true
		}
	}
	return at, ok
}

// EdgeOf is where a line from outside to the middle of a box meets its edge.
func EdgeOf(b geom.Box2, from geom.Vec2) geom.Vec2 {
	middle, half := b.Min.Add(b.Max).Scale(0.5), b.Size().Scale(0.5)
	way := from.Sub(middle)
	if n := max(math.Abs(way.X)/half.X, math.Abs(way.Y)/half.Y); n > 1 {
		return middle.Add(way.Scale(1 / n))
	}
	return from
}
