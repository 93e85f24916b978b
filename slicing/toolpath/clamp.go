package toolpath

import (
	"math"
	"slices"

	"grainstack/slicing/geom"
	"grainstack/slicing/hours"
	"grainstack/slicing/program"
)

// A Clamp holds the panel down, whichever side is up: as the panel lies, and how high it stands above the face that lies up.
type Clamp struct {
	geom.Box2
	Height float64
}

const (
	// overClamp is how far above a clamp the cutter crosses it, mm (common practice, no source).
	overClamp = 3.0
	// besideClamp is how far from a clamp the cutter passes it, mm.
	besideClamp = 1.0
)

// OverClamp is the height at which a clamp of a height is crossed, both above the face that lies up.
func OverClamp(height float64) float64 { return height + overClamp }

// A fence is what rapids at the safe height of a program have to keep out of.
type fence struct {
	bench  *Bench
	boxes  []geom.Box2 // clamps, and the cutter's half width round them
	over   float64     // height that is clear of all of them
	places []geom.Vec2 // their corners that lie over the panel and are clear of the others
}

// fence is made of the clamps that reach up to a program's rapids; it has no boxes where there are none.
func (b *Bench) fence(m *Made) *fence {
	f := &fence{bench: b, over: m.Safe}
	for _, c := range b.panel.Clamps {
		if c.Height < m.Safe {
			continue
		}
		wide := max(m.Cutter.Diameter, m.Cutter.Shank) / 2
		if m.Cutter.Reach > 0 && m.Safe+m.Cutter.Reach < c.Height {
			wide = max(wide, b.panel.Nut/2)
		}
		off := geom.Vec2{X: wide + besideClamp, Y: wide + besideClamp}
		f.boxes = append(f.boxes, geom.Box2{Min: c.Min.Sub(off), Max: c.Max.Add(off)})
		f.over = max(f.over, OverClamp(c.Height))
	}
	for _, box := range f.boxes {
		for _, v := range [4]geom.Vec2{box.Min, {X: box.Max.X, Y: box.Min.Y}, box.Max, {X: box.Min.X, Y: box.Max.Y}} {
			if v.X >= 0 && v.Y >= 0 && v.X <= b.panel.X && v.Y <= b.panel.Y && f.clear(v, v) {
				f.places = append(f.places, v)
			}
		}
	}
	return f
}

// clear reports whether a straight way keeps out of all boxes; it may touch them.
func (f *fence) clear(a, b geom.Vec2) bool {
	return !slices.ContainsFunc(f.boxes, func(box geom.Box2) bool { return enters(a, b, box) })
}

// enters reports whether a straight way goes through the inside of a box.
func enters(a, b geom.Vec2, box geom.Box2) bool {
	const hair = 1e-9
	from, to := 0.0, 1.0
	for _, axis := range [2][4]float64{{a.X, b.X - a.X, box.Min.X, box.Max.X}, {a.Y, b.Y - a.Y, box.Min.Y, box.Max.Y}} {
		at, way, low, high := axis[0], axis[1], axis[2]+hair, axis[3]-hair
		if math.Abs(way) < hair {
			if at <= low || at >= high {
				return false
			}
			continue
		}
		t, u := (low-at)/way, (high-at)/way
		from, to = max(from, min(t, u)), min(to, max(t, u))
	}
	return from <= to
}

// pastClamps lets a program's rapids go round clamps or over them, whichever is quicker, and lets it begin and end above them: where
// the cutter comes from nobody knows. Its first and last move are from and to the place where it begins and ends.
func (b *Bench) pastClamps(m *Made) {
	f := b.fence(m)
	if len(f.boxes) == 0 || len(m.Moves) < 2 {
		return
	}
	m.Home = f.over
	moves, last := m.Moves, len(m.Moves)-1
	m.Moves = make([]program.Move, 0, len(moves)+16)
	rapid := func(at geom.Vec2, z float64) {
		m.Moves = append(m.Moves, program.Move{To: geom.Vec{X: at.X, Y: at.Y, Z: z}})
	}
	flat := func(v geom.Vec) geom.Vec2 { return geom.Vec2{X: v.X, Y: v.Y} }
	home := flat(moves[last].To)
	at := geom.Vec{X: home.X, Y: home.Y, Z: f.over}
	for i, one := range moves {
		level := one.Rapid() && one.To.Z == at.Z
		switch {
		case i == 0 && one.Rapid():
			rapid(flat(one.To), f.over)
			rapid(flat(one.To), one.To.Z)
		case i == last:
			rapid(flat(at), f.over)
			rapid(home, f.over)
		case level && at.Z < f.over && !f.clear(flat(at), flat(one.To)):
			f.pass(m, at, one.To)
		default:
			m.Moves = append(m.Moves, one)
		}
		at = one.To
	}
	m.Box = m.Box.Add(geom.Vec{X: home.X, Y: home.Y, Z: f.over})
}

// pass goes from one place to another at the same height, round what is in the way or over it.
func (f *fence) pass(m *Made, from, to geom.Vec) {
	over := []geom.Vec{{X: from.X, Y: from.Y, Z: f.over}, {X: to.X, Y: to.Y, Z: f.over}, to}
	best, trip := over, f.timed(from, over)
	if round := f.round(from, to); round != nil {
		if t := f.timed(from, round); t.Min < trip.Min {
			best, trip = round, t
		}
	}
	for _, v := range best {
		m.Moves = append(m.Moves, program.Move{To: v})
	}
	straight := f.timed(from, []geom.Vec{to})
	m.Min += trip.Min - straight.Min
	m.RapidMetres += trip.RapidMetres - straight.RapidMetres
	m.Retracts += trip.Retracts
}

func (f *fence) timed(from geom.Vec, way []geom.Vec) hours.Trip {
	return hours.Replay(f.bench.setup, from, len(way), func(i int) (geom.Vec, float64) { return way[i], 0 })
}

// round is the shortest way by corners of the boxes, nil where there is none.
func (f *fence) round(from, to geom.Vec) []geom.Vec {
	places := append([]geom.Vec2{{X: from.X, Y: from.Y}, {X: to.X, Y: to.Y}}, f.places...)
	far, by, done := make([]float64, len(places)), make([]int, len(places)), make([]bool, len(places))
	for i := range far {
		far[i] = math.Inf(1)
	}
	far[0] = 0
	for {
		next := -1
		for i, d := range far {
			if !done[i] && !math.IsInf(d, 1) && (next < 0 || d < far[next]) {
				next = i
			}
		}
		if next < 0 {
			return nil
		}
		if next == 1 {
			break
		}
		done[next] = true
		for i, p := range places {
			if d := far[next] + p.Sub(places[next]).Len(); !done[i] && d < far[i] && f.clear(places[next], p) {
				far[i], by[i] = d, next
			}
		}
	}
	way := []geom.Vec{to}
	for i := by[1]; i != 0; i = by[i] {
		way = append(way, geom.Vec{X: places[i].X, Y: places[i].Y, Z: from.Z})
	}
	slices.Reverse(way)
	return way
}
