package panel

import (
	"cmp"
	"math"
	"slices"

	"grainstack/slicing/geom"
)

// need is the least room of a pin's axis.
func (f *face) need() float64 { return f.rules.Diameter/2 + f.rules.Cover }

// enough is the part of the greatest room that later pins have to have, if they can.
const enough = 0.6

// A place is a cell with the room of its middle.
type place struct {
	at   geom.Vec2
	room float64
}

// pair places up to three pins in one piece.
func (f *face) pair(cells []int) []Pin {
	var sum geom.Vec2
	var near []int
	for _, c := range cells {
		sum = sum.Add(f.middle(c))
		if f.most(c) >= f.need() {
			near = append(near, c)
		}
	}
	first, ok := f.widest(near)
	if !ok {
		return nil
	}
	pins := []Pin{{At: first.at, Room: first.room}}
	places := f.places(near)
	middle := sum.Scale(1 / float64(len(cells)))
	second, ok := f.second(places, first, middle)
	if !ok {
		return pins
	}
	pins = append(pins, Pin{At: second.at, Room: f.room(second.at)})
	if f.rules.Third > 0 && second.at.Sub(first.at).Len() > f.rules.Third {
		if third, ok := f.third(places, first, second); ok {
			pins = append(pins, Pin{At: third.at, Room: f.room(third.at)})
		}
	}
	return pins
}

// widest is the place of greatest room. Cells are looked at from the widest in plan on, until none can be better.
func (f *face) widest(cells []int) (best place, ok bool) {
	order := slices.Clone(cells)
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(f.square[b], f.square[a]) })
	for _, c := range order {
		if f.most(c) <= best.room {
			break
		}
		p := f.middle(c)
		if most := f.within(p, f.most(c)); most <= best.room {
			continue
		}
		if r := f.room(p); r > best.room {
			best = place{p, r}
		}
	}
	if best.room+2*f.step < f.need() {
		return best, false
	}
	best = f.climb(best)
	return best, best.room >= f.need()
}

// climb moves a place to where its room is greatest, by ever smaller steps.
func (f *face) climb(p place) place {
	for step := f.step; step > 5e-3; {
		better := p
		for k := range 8 {
			sin, cos := math.Sincos(float64(k) * math.Pi / 4)
			q := p.at.Add(geom.Vec2{X: cos, Y: sin}.Scale(step))
			if r := f.room(q); r > better.room {
				better = place{q, r}
			}
		}
		if better == p {
			step /= 2
		}
		p = better
	}
	return p
}

// mostPlaces is how many places are looked at for the later pins.
const mostPlaces = 20000

// places are the middles of cells that surely have room for a pin, with the room that they have at least. Where
// pieces of a face adjoin, the cells don't show the edge between them.
func (f *face) places(cells []int) (out []place) {
	stride := len(cells)/mostPlaces + 1
	for k := 0; k < len(cells); k += stride {
		p := f.middle(cells[k])
		r := (math.Sqrt(float64(f.square[cells[k]])) - math.Sqrt2/2) * f.step
		if r < f.need() {
			r = f.rim(p, f.most(cells[k]))
		}
		for _, i := range f.several {
			r = f.solid[i].rim(p, r)
		}
		if r >= f.need() {
			if r = f.within(p, r); r >= f.need() {
				out = append(out, place{p, r})
			}
		}
	}
	return out
}

// second is the place furthest from the first; of those nearly as far the one with most room.
func (f *face) second(places []place, first place, middle geom.Vec2) (place, bool) {
	apart := func(p place) float64 { return p.at.Sub(first.at).Len() }
	suits := func(p place) bool {
		d := apart(p)
		if d < 3*f.rules.Diameter || p.at.Add(first.at).Scale(0.5).Sub(middle).Len() < math.Max(2, f.rules.Diameter/2) {
			return false
		}
		return !slices.ContainsFunc(f.rules.Differ, func(e float64) bool { return math.Abs(d-e) < f.rules.Diameter })
	}
	return furthest(places, first.room, apart, suits)
}

// third is the place furthest from both.
func (f *face) third(places []place, a, b place) (place, bool) {
	apart := func(p place) float64 { return math.Min(p.at.Sub(a.at).Len(), p.at.Sub(b.at).Len()) }
	return furthest(places, a.room, apart, func(p place) bool { return apart(p) >= 3*f.rules.Diameter })
}

// furthest is the place with most room among those within a tenth of the furthest; places with enough of the most room go
// before all others.
func furthest(places []place, most float64, apart func(place) float64, suits func(place) bool) (best place, ok bool) {
	for _, least := range [2]float64{enough * most, 0} {
		far := 0.0
		for _, p := range places {
			if p.room >= least && apart(p) > far && suits(p) {
				far, ok = apart(p), true
			}
		}
		if !ok {
			continue
		}
		for _, p := range places {
			if p.room >= least && p.room > best.room && apart(p) >= 0.9*far && suits(p) {
				best = p
			}
		}
		return best, true
	}
	return place{}, false
}
