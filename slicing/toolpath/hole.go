package toolpath

import (
	"fmt"
	"math"
	"slices"

	"grainstack/slicing/carve"
	"grainstack/slicing/geom"
	"grainstack/slicing/hours"
	"grainstack/slicing/program"
	"grainstack/slicing/stock"
)

const (
	// snug is how much wider than a cutter a hole may be that it is plunged for, mm.
	snug = 0.05
	// lift is how far above wood a rapid down into a hole ends, mm.
	lift = 1.0
	// roundness is how far off a turn chords may lie by which it is timed, mm.
	roundness = 0.01
	// pitch is how much a turn goes down, in diameters of the cutter (common practice, no source).
	pitch = 0.25
)

// A bore is a hole as it lies with its side up: its depth is from the raw face.
type bore struct {
	at       geom.Vec2
	diameter float64
	deep     float64
}

// bores are the holes of a task: those of the register dowels where it is the rough cutter's, else those of the pins in the faces
// that are up.
func (p *Panel) bores(t Task) (out []bore) {
	if t.registers {
		for _, d := range p.Register.Dowels {
			out = append(out, bore{d.At, d.Diameter, p.Thickness + 2*p.Skim + p.Register.Depth})
		}
		return out
	}
	for _, h := range p.Holes {
		if h.FromBelow == (t.from == carve.Down) {
			out = append(out, bore{h.At, h.Diameter, h.Depth + p.Skim})
		}
	}
	return out
}

// fits says why a cutter can't make a hole, "" where it can.
func (h bore) fits(c stock.Cutter) string {
	switch {
	case c.Shape == stock.Taper:
		return fmt.Sprintf("%s makes no straight hole", c.Name)
	case c.Diameter > h.diameter+1e-9:
		return fmt.Sprintf("%s is wider than a hole of %.4g mm", c.Name, h.diameter)
	case h.deep > reach(c):
		return fmt.Sprintf("%s does not reach %.4g mm deep", c.Name, h.deep)
	}
	return ""
}

// drill is the program of a task's holes.
func (b *Bench) drill(t Task, start func([2]geom.Vec2) geom.Vec2) Made {
	m := b.begin(t)
	from := start(m.Dowels)
	home := geom.Vec{X: from.X, Y: from.Y, Z: m.Safe}
	at := home
	left := b.panel.bores(t)
	for len(left) > 0 { // the nearest next
		best := 0
		for i, h := range left {
			if b.middle(h, t).Sub(geom.Vec2{X: at.X, Y: at.Y}).Len() < b.middle(left[best], t).Sub(geom.Vec2{X: at.X, Y: at.Y}).Len() {
				best = i
			}
		}
		h := left[best]
		left = append(left[:best], left[best+1:]...)
		h.at = b.middle(h, t)
		if h.diameter <= m.Cutter.Diameter+snug {
			m.peck(h)
		} else {
			m.turnOut(h)
		}
		at = m.Moves[len(m.Moves)-1].To
	}
	m.add(home, 0)
	flat := program.Straightened(home, m.Moves, roundness)
	m.Trip = hours.Replay(b.setup, home, len(flat), func(i int) (geom.Vec, float64) { return flat[i].To, flat[i].FeedMmMin })
	return m
}

// middle is where a hole lies with its side up.
func (b *Bench) middle(h bore, t Task) geom.Vec2 {
	q := b.lies(geom.Vec{X: h.at.X, Y: h.at.Y}, t.from)
	return geom.Vec2{X: q.X, Y: q.Y}
}

// peck goes straight down by no more than the cutter takes, and up to the face each time to clear chips.
func (m *Made) peck(h bore) {
	c := m.Cutter
	at := func(z float64) geom.Vec { return geom.Vec{X: h.at.X, Y: h.at.Y, Z: z} }
	m.add(at(m.Safe), 0)
	m.add(at(lift), 0)
	n := math.Ceil(h.deep/c.Stepdown - 1e-9)
	for k := 1.0; k <= n; k++ {
		m.add(at(-h.deep*k/n), coarse(c.PlungeMmMin))
		m.add(at(lift), 0)
		if k < n {
			m.add(at(-h.deep*k/n+lift/2), 0)
		}
	}
	m.add(at(m.Safe), 0)
}

// turnOut goes down in turns, from the inner to the outer ring where the hole is much wider than the cutter.
func (m *Made) turnOut(h bore) {
	c := m.Cutter
	outer := (h.diameter - c.Diameter) / 2
	rings := math.Ceil(outer / (0.45 * c.Diameter))
	down := min(c.Stepdown, pitch*c.Diameter)
	turns := math.Ceil(h.deep/down - 1e-9)
	for ring := 1.0; ring <= rings; ring++ {
		r := outer * ring / rings
		beside := func(x, z float64) geom.Vec { return geom.Vec{X: h.at.X + x, Y: h.at.Y, Z: z} }
		m.add(beside(r, m.Safe), 0)
		m.add(beside(r, lift), 0)
		m.add(beside(r, 0), coarse(c.PlungeMmMin))
		slope := h.deep / turns / (2 * math.Pi * r)
		feed := coarse(min(c.FeedMmMin, c.PlungeMmMin*math.Sqrt(1+slope*slope)/slope))
		side := 1.0
		for half := 1.0; half <= 2*turns+2; half++ { // the last turn is level
			side = -side
			m.Moves = append(m.Moves, program.Move{To: beside(side*r, -h.deep*min(half/(2*turns), 1)), FeedMmMin: feed, Turn: program.CounterClockwise, Middle: h.at})
		}
		m.Box = m.Box.Add(geom.Vec{X: h.at.X - r, Y: h.at.Y - r, Z: -h.deep}).Add(geom.Vec{X: h.at.X + r, Y: h.at.Y + r})
		m.add(beside(0, -h.deep), feed)
		m.add(beside(0, m.Safe), 0)
	}
}

// undrilled says which holes no program makes, and why.
func (p *Panel) undrilled(t Task) string {
	for _, h := range p.bores(t) {
		why := h.fits(t.Cutter)
		if why == "" && p.clamped(h, t) {
			why = "a clamp is in the way of one"
		}
		if why != "" {
			what, when := "alignment pins", ""
			if t.registers {
				what, when = "register dowels", " by hand before the first program"
			}
			return fmt.Sprintf("Panel %d, side %v: no program drills the holes of the %s, since %s. Drill them%s, as the work book says.", p.Number, t.Side, what, why, when)
		}
	}
	return ""
}

// clamped reports whether a clamp is in the way of the cutter, or of its nut, at a hole.
func (p *Panel) clamped(h bore, t Task) bool {
	at, c := h.at, t.Cutter
	if t.from == carve.Down {
		at = p.Register.TurnOver(at)
	}
	turn := max(h.diameter-c.Diameter, 0) / 2
	return slices.ContainsFunc(p.Clamps, func(k Clamp) bool {
		body := max(c.Diameter, c.Shank) / 2
		if c.Reach > 0 && c.Reach-h.deep < k.Height {
			body = max(body, p.Nut/2)
		}
		return math.Hypot(max(k.Min.X-at.X, 0, at.X-k.Max.X), max(k.Min.Y-at.Y, 0, at.Y-k.Max.Y)) < turn+body
	})
}
