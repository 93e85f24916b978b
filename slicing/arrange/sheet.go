package arrange

import (
	"cmp"
	"slices"

	"grainstack/slicing/mesh"
)

// A sheet is one facet that others meet, or several of one plane that lie on one another, with the points and segments at which
// others meet them.
type sheet struct {
	facets []int32
	lines  [][2]int32
	spots  []int32
}

// A part is a triangle of a sheet that was cut: how often it bounds wood on the side away from its face, and one facet that it
// is a part of.
type part struct {
	mesh.Triangle
	times int8
	of    int32
}

// cut divides a sheet along its lines. Facets of one plane that cancel each other leave nothing.
func (p *points) cut(s *sheet) ([]part, error) {
	first := p.m.Triangles[s.facets[0]]
	v, handed, _ := p.viewOf(first)
	lines := slices.Clone(s.lines)
	spots := slices.Clone(s.spots)
	for _, f := range s.facets {
		t := p.m.Triangles[f]
		spots = append(spots, t[:]...)
		if len(s.facets) > 1 {
			lines = append(lines, [2]int32{t[0], t[1]}, [2]int32{t[1], t[2]}, [2]int32{t[2], t[0]})
		}
	}
	for _, l := range lines {
		spots = append(spots, l[0], l[1])
	}
	lines, spots = p.divided(v, lines, spots)
	d := newDissection(p, v)
	if len(s.facets) == 1 {
		d.beginWith(first, handed)
	} else {
		d.beginRound(spots)
	}
	for _, id := range spots {
		if err := d.put(id); err != nil {
			return nil, err
		}
	}
	for _, l := range lines {
		if err := d.keep(l[0], l[1]); err != nil {
			return nil, err
		}
	}
	d.improve()
	if len(s.facets) == 1 {
		return d.partsOf(s.facets[0], handed), nil
	}
	return p.layers(s, v, d.partsOf(s.facets[0], 1)), nil
}

// layers says of each part of several facets of one plane how often it bounds wood, and leaves out what lies in none.
func (p *points) layers(s *sheet, v view, all []part) (out []part) {
	type layer struct {
		a, b, c *spot
		handed  int
		facet   int32
	}
	var layers []layer
	for _, f := range s.facets {
		t := p.m.Triangles[f]
		a, b, c := p.of(t[0]), p.of(t[1]), p.of(t[2])
		layers = append(layers, layer{a, b, c, v.turn(a, b, c), f})
	}
	for _, t := range all {
		t.times = 0
		for _, l := range layers {
			in := true
			for _, id := range t.Triangle {
				in = in && id >= 0 && v.within(l.a, l.b, l.c, p.of(id), l.handed)
			}
			if in {
				t.times += int8(l.handed)
				t.of = l.facet
			}
		}
		switch {
		case t.times < 0:
			t.Triangle[1], t.Triangle[2] = t.Triangle[2], t.Triangle[1]
			t.times = -t.times
			fallthrough
		case t.times > 0:
			out = append(out, t)
		}
	}
	return out
}

// divided are lines in pieces that meet each other only at their ends, each once, and all points, each once.
func (p *points) divided(v view, lines [][2]int32, spots []int32) ([][2]int32, []int32) {
	slices.Sort(spots)
	spots = slices.Compact(spots)
	for i, l := range lines {
		if v.order(p.of(l[0]), p.of(l[1])) > 0 {
			lines[i] = [2]int32{l[1], l[0]}
		}
	}
	slices.SortFunc(lines, func(a, b [2]int32) int { return cmp.Or(cmp.Compare(a[0], b[0]), cmp.Compare(a[1], b[1])) })
	lines = slices.Compact(lines)
	lines = slices.DeleteFunc(lines, func(l [2]int32) bool { return l[0] == l[1] })
	slices.SortStableFunc(lines, func(a, b [2]int32) int { return cmp.Compare(p.of(a[0]).at[v.i], p.of(b[0]).at[v.i]) })
	on := make([][]int32, len(lines))
	var more []int32
	for i, l := range lines {
		a, b := p.of(l[0]), p.of(l[1])
		for j := i + 1; j < len(lines); j++ {
			c, d := p.of(lines[j][0]), p.of(lines[j][1])
			if c.at[v.i] > b.at[v.i]+b.off()+c.off() {
				break
			}
			if v.clear(a, b, c, d) || !v.across(a, b, c, d) {
				continue
			}
			wc, wd := v.area(a, b, d), v.area(a, b, c)
			id := p.between(c, d, wc, wd.Neg(wd))
			on[i], on[j] = append(on[i], id), append(on[j], id)
			more = append(more, id)
		}
		for _, id := range spots {
			if v.on(a, b, p.of(id)) {
				on[i] = append(on[i], id)
			}
		}
	}
	spots = append(spots, more...)
	slices.Sort(spots)
	var out [][2]int32
	for i, l := range lines {
		way := append(on[i], l[0], l[1])
		slices.SortFunc(way, func(a, b int32) int {
			if a == b {
				return 0
			}
			return v.order(p.of(a), p.of(b))
		})
		way = slices.Compact(way)
		for k := range len(way) - 1 {
			out = append(out, [2]int32{min(way[k], way[k+1]), max(way[k], way[k+1])})
		}
	}
	slices.SortFunc(out, func(a, b [2]int32) int { return cmp.Or(cmp.Compare(a[0], b[0]), cmp.Compare(a[1], b[1])) })
	return slices.Compact(out), slices.Compact(spots)
}

// clear reports whether two segments clearly lie apart from below to above.
func (v view) clear(a, b, c, d *spot) bool {
	near := a.off() + b.off() + c.off() + d.off()
	return max(a.at[v.j], b.at[v.j])+near < min(c.at[v.j], d.at[v.j]) || max(c.at[v.j], d.at[v.j])+near < min(a.at[v.j], b.at[v.j])
}
