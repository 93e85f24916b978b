package carve

import (
	"math"
	"slices"

	"grainstack/slicing/finding"
	"grainstack/slicing/geom"
)

// thickness of wood in column i, mm: what stays trapped in it isn't counted.
func (l *LayerColumns) woodIn(i int) float32 {
	v := l.Top.Z[i] - l.Bottom.Z[i]
	for _, t := range []*Trapped{&l.Outside, &l.Core} {
		if t.Map.Z != nil {
			v -= t.Map.Z[i]
		}
	}
	return v
}

// has reports whether column i has wood.
func (l *LayerColumns) has(i int) bool { return l.Top.Z[i] != NoWood }

// lids are places thinner than the limit from top to bottom and more than twice as wide as the limit: narrower ones are
// the edges that every rounded layer has.
func (t *Task) lids(l *LayerColumns) []Finding {
	in := func(i int) bool { return l.has(i) && float64(l.woodIn(i)) < t.Limits.Thin }
	some := false
	for i := range l.Top.Z {
		if in(i) {
			some = true
			break
		}
	}
	if !some {
		return nil
	}
	room := l.Top.distances(func(i int) bool { return !in(i) }, true)
	labels, n := l.Top.label(in)
	widest := make([]int, n)
	for i, label := range labels {
		if label > 0 && (widest[label-1] == 0 || room[i] > room[widest[label-1]]) {
			widest[label-1] = i
		}
	}
	var out []Finding
	for _, i := range widest {
		if float64(room[i])-l.Top.Step/2 < t.Limits.Thin {
			continue
		}
		thick := float64(l.woodIn(i))
		out = append(out, Finding{Kind: finding.ThinWood, Layer: l.Number, Side: Both, At: l.middle(i), Size: thick, Reach: float64(room[i]), More: [2]float64{2 * float64(room[i])}})
	}
	return out
}

// middle is the middle of the wood in column i.
func (l *LayerColumns) middle(i int) geom.Vec {
	p := l.Top.Place(i%l.Top.W, i/l.Top.W)
	return geom.Vec{X: p.X, Y: p.Y, Z: float64(l.Top.Z[i]+l.Bottom.Z[i]) / 2}
}

// A plan is a layer's wood seen from above, with how far each column lies from what is left when all that is narrower than
// a width is taken away (the opening by a disc).
type plan struct {
	apart []float32 // mm to the nearest column that the disc's middle may lie in
	half  float32   // of the width
	limit float32   // columns further away than this are in narrow wood
}

// open opens a layer by a disc of a width; room is the way from each column to the wood's edge.
func (l *LayerColumns) open(room []float32, width float64) plan {
	step := float32(l.Top.Step)
	p := plan{half: float32(width / 2)}
	p.limit = p.half + step/2
	p.apart = l.Top.distances(func(i int) bool { return room[i]-step/2 >= p.half }, false)
	return p
}

// walls are upright pieces of wood narrower than the limit that go on for more than the limit: corners don't.
func (t *Task) walls(l *LayerColumns, room []float32) []Finding {
	p := l.open(room, t.Limits.Thin)
	labels, n := l.Top.label(func(i int) bool { return l.has(i) && p.apart[i] > p.limit })
	type wall struct{ widest, furthest int }
	ws := make([]wall, n)
	for i, label := range labels {
		if label == 0 {
			continue
		}
		w := &ws[label-1]
		if *w == (wall{}) {
			*w = wall{i, i}
		}
		if room[i] > room[w.widest] {
			w.widest = i
		}
		if p.apart[i] > p.apart[w.furthest] {
			w.furthest = i
		}
	}
	var out []Finding
	for _, w := range ws {
		if float64(p.apart[w.furthest]-p.half) < t.Limits.Thin {
			continue
		}
		width := min(max(2*float64(room[w.widest])-l.Top.Step, l.Top.Step), t.Limits.Thin)
		out = append(out, Finding{Kind: finding.ThinWood, Layer: l.Number, Side: Both, At: l.middle(w.widest), Size: width})
	}
	return out
}

// loose names the parts that little holds while the second side is carved.
func (t *Task) loose(l *LayerColumns) []Finding {
	var out []Finding
	cell := l.Top.Step * l.Top.Step
	labels, n := l.Top.label(l.has)
	counts, mids := l.census(labels, n)
	for i, c := range counts {
		if area := float64(c) * cell; area < t.Limits.PlanArea {
			out = append(out, Finding{Kind: finding.LoosePart, Layer: l.Number, Side: Both, At: mids[i], Size: area, Reach: math.Sqrt(area / math.Pi)})
		}
	}
	return out
}

// census counts the columns of each label and finds their middle.
func (l *LayerColumns) census(labels []int32, n int) (counts []int, mids []geom.Vec) {
	counts, mids = make([]int, n), make([]geom.Vec, n)
	for i, label := range labels {
		if label > 0 {
			counts[label-1]++
			mids[label-1] = mids[label-1].Add(l.middle(i))
		}
	}
	for i := range mids {
		mids[i] = mids[i].Scale(1 / float64(counts[i]))
	}
	return counts, mids
}

// necks are narrow places that join two wide ones, each large enough to pull at them.
func (t *Task) necks(l *LayerColumns, room []float32) []Finding {
	p := l.open(room, t.Limits.Neck)
	between, m := l.Top.label(func(i int) bool { return l.has(i) && p.apart[i] > p.limit })
	if m == 0 {
		return nil
	}
	wide, n := l.Top.label(func(i int) bool { return l.has(i) && p.apart[i] <= p.limit })
	counts, _ := l.census(wide, n)
	least := t.Limits.PlanArea / (l.Top.Step * l.Top.Step)
	joins := make([][]int32, m)
	width := make([]float32, m)
	for i, b := range between {
		if b == 0 {
			continue
		}
		width[b-1] = max(width[b-1], room[i])
		l.Top.beside(i, func(k int) {
			if w := wide[k]; w > 0 && float64(counts[w-1]) >= least && !contains(joins[b-1], w) {
				joins[b-1] = append(joins[b-1], w)
			}
		})
	}
	_, mids := l.census(between, m)
	var out []Finding
	for b, j := range joins {
		if len(j) < 2 {
			continue
		}
		mm := min(max(2*float64(width[b])-l.Top.Step, l.Top.Step), t.Limits.Neck)
		out = append(out, Finding{Kind: finding.Neck, Layer: l.Number, Side: Both, At: mids[b], Size: mm, Reach: mm})
	}
	return out
}

func contains(list []int32, v int32) bool {
	return slices.Contains(list, v)
}

// beside visits the columns round column i.
func (m *HeightMap) beside(i int, visit func(k int)) {
	x, y := i%m.W, i/m.W
	for j := max(y-1, 0); j <= min(y+1, m.H-1); j++ {
		for c := max(x-1, 0); c <= min(x+1, m.W-1); c++ {
			visit(j*m.W + c)
		}
	}
}
