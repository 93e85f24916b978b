package look

import (
	"math"
	"slices"
)

// mostMixed bounds the bins of a mixed stack's table, which runs over all layers once: 1.5 MB for its finest level.
const mostMixed = 1 << 15

// wood is what a layer is made of.
func (d *Dress) wood(l *Layer) *Wood {
	if l.Wood >= 1 && l.Wood <= len(d.Woods) {
		return &d.Woods[l.Wood-1]
	}
	return &d.Wood
}

// woodOnly is a copy of what the stripes are made from.
func (d *Dress) woodOnly() Dress {
	c := Dress{Wood: d.Wood.clone(), Layers: slices.Clone(d.Layers)}
	if len(d.Layers) == 0 {
		return c
	}
	for i := range d.Woods {
		c.Woods = append(c.Woods, d.Woods[i].clone())
	}
	return c
}

func (w *Wood) clone() Wood {
	c := *w
	c.Veneers = slices.Clone(w.Veneers)
	return c
}

// sameWood reports whether two dresses make the same stripes; d is one that woodOnly made.
func (d *Dress) sameWood(e *Dress) bool {
	if !sameWood(&d.Wood, &e.Wood) || !slices.Equal(d.Layers, e.Layers) {
		return false
	}
	return len(d.Layers) == 0 || slices.EqualFunc(d.Woods, e.Woods, func(a, b Wood) bool { return sameWood(&a, &b) })
}

func sameWood(a, b *Wood) bool {
	return slices.Equal(a.Veneers, b.Veneers) && a.Bottom == b.Bottom && a.Turned == b.Turned && a.Alternate == b.Alternate &&
		a.GlueLine == b.GlueLine && a.Joint == b.Joint && a.Coat == b.Coat && a.Seed == b.Seed
}

// buildMixed makes the table for a dress with layers. A layer of the dress's own Wood looks as it would in a stack of that
// wood alone, down to the chance tones of its veneers.
func (s *stripes) buildMixed(d *Dress) {
	layers := d.ordered()
	first, last := &layers[0], &layers[len(layers)-1]
	s.panels, s.joint = 0, 0
	for i := range layers {
		w := d.wood(&layers[i])
		s.joint = max(s.joint, within(w.Joint, w.panel()))
	}
	// At least one more panel at either end keeps the coarse levels, which close in a ring, from mixing top and bottom. The
	// bins are those of the dress's own wood in height and place, or so many doublings of them, for the same softness of its
	// stripes.
	room := max(d.wood(first).panel(), d.wood(last).panel())
	tall := last.Bottom + d.wood(last).panel() - first.Bottom
	usual := d.Wood.panel() * float64(d.Wood.inPeriod())
	bin, bins := usual/finest, finest
	for least := tall + 2*room + usual; bin*float64(bins) < least; {
		if bins < mostMixed {
			bins *= 2
		} else {
			bin *= 2
		}
	}
	s.period = bin * float64(bins)
	low := first.Bottom - (s.period-usual-tall)/2
	s.bottom = d.Wood.Bottom - usual*math.Ceil((d.Wood.Bottom-low)/usual)
	s.layOut(bins)
	s.stack(d, layers)
	s.smooth()
}

// ordered are the layers from the lowest up, heights that cannot be left out.
func (d *Dress) ordered() []Layer {
	out := slices.DeleteFunc(slices.Clone(d.Layers), func(l Layer) bool { return !(l.Bottom > -farthest && l.Bottom < farthest) })
	slices.SortStableFunc(out, func(a, b Layer) int {
		switch {
		case a.Bottom < b.Bottom:
			return -1
		case a.Bottom > b.Bottom:
			return 1
		}
		return 0
	})
	if len(out) == 0 {
		return []Layer{{}}
	}
	return out
}

// farthest bounds what is believed of a layer's height, in mm.
const farthest = 1e5

// stack paints all layers, then the glue between their veneers and the joints between them.
func (s *stripes) stack(d *Dress, layers []Layer) {
	for i := range layers {
		l := &layers[i]
		top := s.bottom + s.period
		if i+1 < len(layers) {
			top = layers[i+1].Bottom
		}
		s.layer(d.wood(l), l, i, top)
	}
	s.layer(d.wood(&layers[0]), &Layer{Bottom: s.bottom, Turned: layers[0].Turned}, 0, layers[0].Bottom)
	for i := range layers[1:] {
		below, w := d.wood(&layers[i]), d.wood(&layers[i+1])
		gap := max(within(below.Joint, below.panel()), within(w.Joint, w.panel())) / 2
		z := layers[i+1].Bottom - s.bottom
		s.lay(z-gap, z+gap, glueCell(jointTone, w.Coat))
	}
}

// layer paints one panel up to top; where the recipe ends before, its highest veneer goes on. The number of the panel
// stands for its turn with the chance tones.
func (s *stripes) layer(w *Wood, l *Layer, number int, top float64) {
	tint := panelTint(w.Seed, uint32(number+offset*w.inPeriod()))
	z, top := l.Bottom-s.bottom, top-s.bottom
	glue, film := within(w.GlueLine, w.panel())/2, glueCell(filmTone, w.Coat)
	for i, v := range w.Veneers {
		to := z + v.thick()
		if i == len(w.Veneers)-1 {
			to = top
		}
		if to = min(to, top); to > z {
			c := w.plyCell(number%w.inPeriod(), i, v.Along != l.Turned)
			for k := range cellRun {
				c[k] *= 1 + tint
			}
			s.lay(z, to, c)
		}
		z += v.thick()
	}
	z = l.Bottom - s.bottom
	for _, v := range w.Veneers[:max(0, len(w.Veneers)-1)] {
		if z += v.thick(); z < top {
			s.lay(z-glue, z+glue, film)
		}
	}
}

// inPeriod is how many panels have chance tones of their own.
func (w *Wood) inPeriod() int {
	if w.Alternate {
		return 2
	}
	return 1
}

// tintSeed is the seed of what is still to be tinted pixel by pixel.
func (s *stripes) tintSeed(seed uint32) uint32 {
	if s.panels == 0 {
		return 0
	}
	return seed
}
