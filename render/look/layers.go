package look

import (
	"cmp"
	"math"
	"slices"
)

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
		a.GlueLine == b.GlueLine && a.Joint == b.Joint && a.Finish == b.Finish && a.Seed == b.Seed
}

const (
	farthest   = 1e5  // mm: bounds what is believed of a layer's height
	mostLayers = 4000 // bounds the work for panels that are thinner than any board; the last one then goes on to the top
)

// stacked are the layers from the lowest up: those of a mixed stack, or as many panels of the usual wood as a piece so high
// takes. Heights that cannot be are left out.
func (d *Dress) stacked(height float64) []Layer {
	if len(d.Layers) == 0 {
		return d.Wood.panels(height)
	}
	out := slices.DeleteFunc(slices.Clone(d.Layers), func(l Layer) bool { return !(math.Abs(l.Bottom) < farthest) })
	slices.SortStableFunc(out, func(a, b Layer) int { return cmp.Compare(a.Bottom, b.Bottom) })
	if len(out) == 0 {
		return []Layer{{}}
	}
	return out
}

// bottom is where the first panel begins, 0 where that cannot be.
func (w *Wood) bottom() float64 {
	if !(math.Abs(w.Bottom) < farthest) {
		return 0
	}
	return w.Bottom
}

// panels are the layers of a stack of one wood.
func (w *Wood) panels(height float64) []Layer {
	bottom, panel := w.bottom(), w.panel()
	count := int(min(mostLayers, max(1, math.Ceil((height-bottom)/panel))))
	out := make([]Layer, count)
	for i := range out {
		out[i] = Layer{Bottom: bottom + panel*float64(i), Turned: w.Turned != (w.Alternate && i%2 == 1)}
	}
	return out
}

// stack paints all layers into the finest level, then the joints between them. Above and below the stack its last and its
// first wood go on, so that a pixel that spans more than the stack sees no other wood.
func (s *stripes) stack(d *Dress, layers []Layer) {
	layers, before := s.beyond(d, layers)
	for i := range layers {
		l := &layers[i]
		top := s.bottom + s.high
		if i+1 < len(layers) {
			top = layers[i+1].Bottom
		}
		s.layer(d.wood(l), l, i-before, top)
	}
	for i := range layers[1:] {
		under, over := d.wood(&layers[i]), d.wood(&layers[i+1])
		gap := max(within(under.Joint, under.panel()), within(over.Joint, over.panel())) / 2
		z := layers[i+1].Bottom - s.bottom
		s.lay(z-gap, z+gap, over.glueCell(jointTone))
	}
}

// layer paints one panel up to top; where its recipe ends before, the highest veneer goes on.
func (s *stripes) layer(w *Wood, l *Layer, number int, top float64) {
	from, top := l.Bottom-s.bottom, top-s.bottom
	z := from
	for i, v := range w.Veneers {
		to := z + v.thick()
		if i == len(w.Veneers)-1 {
			to = top
		}
		if to = min(to, top); to > z {
			s.lay(z, to, w.plyCell(number, i, v.Along != l.Turned))
		}
		z += v.thick()
	}
	glue, film := within(w.GlueLine, w.panel())/2, w.glueCell(filmTone)
	z = from
	for _, v := range w.Veneers[:max(0, len(w.Veneers)-1)] {
		if z += v.thick(); z < top {
			s.lay(z-glue, z+glue, film)
		}
	}
}

// beyond adds layers until they fill the table, and says how many below.
func (s *stripes) beyond(d *Dress, layers []Layer) (all []Layer, below int) {
	next := func(l Layer, by float64) Layer {
		w := d.wood(&l)
		return Layer{Bottom: l.Bottom + by*w.panel(), Wood: l.Wood, Turned: l.Turned != d.Wood.Alternate}
	}
	for l := layers[0]; l.Bottom > s.bottom && below < mostLayers; below++ {
		l = next(l, -1)
		all = append(all, l)
	}
	slices.Reverse(all)
	all = append(all, layers...)
	for range mostLayers {
		l := next(all[len(all)-1], 1)
		if l.Bottom >= s.bottom+s.high {
			break
		}
		all = append(all, l)
	}
	return all, below
}
