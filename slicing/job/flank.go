package job

import (
	"grainstack/slicing/mesh"
	"grainstack/slicing/stack"
)

// A Flank is how far the piece reaches at one height: from MinX to MaxX seen from the front, from MinY to MaxY from the
// side, all mm. Where there is no wood Min is more than Max.
type Flank struct{ Z, MinX, MaxX, MinY, MaxY float64 }

// flankRows is how many heights the outline is kept at.
const flankRows = 512

// flanks are the extents of the piece in equal steps of height; row i covers the heights round Z of row i.
func flanks(p *stack.Placed) []Flank {
	height := p.Box.Size().Z
	rows := make([]Flank, flankRows)
	for i := range rows {
		rows[i] = Flank{(float64(i) + 0.5) * height / flankRows, 1, -1, 1, -1}
	}
	if !(height > 0) {
		return rows
	}
	for _, t := range p.Mesh.Triangles {
		for e := range 3 {
			if a, b := t[e], t[(e+1)%3]; a < b {
				sweep(rows, height, p.Mesh.Points[a], p.Mesh.Points[b])
			}
		}
	}
	return rows
}

// sweep widens the rows that an edge passes, by the stretch of the edge that lies in each.
func sweep(rows []Flank, height float64, a, b mesh.Point) {
	if a[2] > b[2] {
		a, b = b, a
	}
	row := func(z float32) int { return max(0, min(len(rows)-1, int(float64(z)/height*float64(len(rows))))) }
	first, last := row(a[2]), row(b[2])
	if first == last {
		rows[first].widen(a)
		rows[first].widen(b)
		return
	}
	rows[first].widen(a)
	rows[last].widen(b)
	for i := first; i < last; i++ {
		z := float32(float64(i+1) / float64(len(rows)) * height)
		f := (z - a[2]) / (b[2] - a[2])
		at := mesh.Point{a[0] + f*(b[0]-a[0]), a[1] + f*(b[1]-a[1]), z}
		rows[i].widen(at)
		rows[i+1].widen(at)
	}
}

func (f *Flank) widen(p mesh.Point) {
	x, y := float64(p[0]), float64(p[1])
	if f.MinX > f.MaxX {
		f.MinX, f.MaxX, f.MinY, f.MaxY = x, x, y, y
		return
	}
	f.MinX, f.MaxX = min(f.MinX, x), max(f.MaxX, x)
	f.MinY, f.MaxY = min(f.MinY, y), max(f.MaxY, y)
}

// reach is the extent of the rows between two heights, both directions at once; ok is false where there is no wood.
func reach(rows []Flank, height, bottom, top float64) (all Flank, ok bool) {
	all = Flank{MinX: 1, MaxX: -1}
	step := height / float64(len(rows))
	for i, r := range rows {
		if r.MinX > r.MaxX || float64(i+1)*step <= bottom || float64(i)*step >= top {
			continue
		}
		if all.MinX > all.MaxX {
			all = r
			continue
		}
		all.MinX, all.MaxX = min(all.MinX, r.MinX), max(all.MaxX, r.MaxX)
		all.MinY, all.MaxY = min(all.MinY, r.MinY), max(all.MaxY, r.MaxY)
	}
	return all, all.MinX <= all.MaxX
}
