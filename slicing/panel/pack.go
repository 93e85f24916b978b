package panel

// An extent is a box of cells; the zero extent is empty.
type extent struct{ x0, y0, x1, y1 int32 }

// with is the extent grown by a part.
func (e extent) with(s *shop, q spot) extent {
	p := &s.shapes[q.part][q.turn]
	f := extent{q.x, q.y, q.x + p.extentX, q.y + p.extentY}
	if e == (extent{}) {
		return f
	}
	return extent{min(e.x0, f.x0), min(e.y0, f.y0), max(e.x1, f.x1), max(e.y1, f.y1)}
}

// share is the extent's part of the grid.
func (e extent) share(g *grid) float64 {
	return float64(e.x1-e.x0) * float64(e.y1-e.y0) / (float64(g.columns) * float64(g.rows))
}

// A packer lays parts; it keeps scratch memory and serves one goroutine.
type packer struct {
	shop    *shop
	scratch []uint64
	sheets  [2]*sheet
}

func newPacker(s *shop) *packer {
	return &packer{s, make([]uint64, s.grid.stride()), [2]*sheet{s.bare.clone(), s.bare.clone()}}
}

// bothTurns lets place choose.
const bothTurns = -1

// place lays a part on a sheet as near to the corner as it goes.
func (p *packer) place(on *sheet, part, turn int, c corner) (spot, bool) {
	best, found := spot{}, false
	for k := range 2 {
		shape := &p.shop.shapes[part][k]
		if turn != bothTurns && turn != k || !shape.fits {
			continue
		}
		w := shape.window()
		if found {
			w = w.upTo(c, best.x, best.y)
		}
		x, y, ok := on.find(shape, c, w, p.scratch)
		if !ok || found && !c.nearer(x, y, best.x, best.y) {
			continue
		}
		best, found = spot{part, k, x, y, c}, true
	}
	if found {
		on.take(&p.shop.shapes[part][best.turn], best.x, best.y)
	}
	return best, found
}

// nearer reports whether the first place is nearer to the corner than the second.
func (c corner) nearer(x, y, toX, toY int32) bool {
	dx, dy := toX-x, toY-y
	if c&fromRight != 0 {
		dx = -dx
	}
	if c&fromTop != 0 {
		dy = -dy
	}
	if c&byRows != 0 {
		dx, dy = dy, dx
	}
	return dx > 0 || dx == 0 && dy > 0
}

// A wish is a part with how it is to be laid.
type wish struct {
	part, turn int
	corner     corner
}

// fill lays wishes in their order on a panel; the first of them, as many as kept has, lie already there. It gives how many
// lie when one finds no place.
func (p *packer) fill(l *load, kept []spot, wishes []wish, on *sheet) int {
	for _, q := range kept {
		l.add(p.shop, q)
	}
	p.draw(on, l)
	for n, w := range wishes[len(kept):] {
		q, ok := p.place(on, w.part, w.turn, w.corner)
		if !ok {
			return n + len(kept)
		}
		l.add(p.shop, q)
	}
	return len(wishes)
}

// draw makes a sheet that of a panel with its parts.
func (p *packer) draw(on *sheet, l *load) {
	on.copyFrom(l.base)
	for _, q := range l.spots {
		on.take(&p.shop.shapes[q.part][q.turn], q.x, q.y)
	}
}

// spill lays wishes in their order on two panels, each on the first of them that has room; ok is false when one finds none.
func (p *packer) spill(a, b *load, wishes []wish) bool {
	p.sheets[0].copyFrom(a.base)
	p.sheets[1].copyFrom(b.base)
	return p.lay(a, b, wishes)
}

// lay is spill on panels that lie on the two sheets with parts already.
func (p *packer) lay(a, b *load, wishes []wish) bool {
	for _, w := range wishes {
		l := a
		q, ok := spot{}, false
		if a.area+p.shop.areas[w.part] <= 1 {
			q, ok = p.place(p.sheets[0], w.part, w.turn, w.corner)
		}
		if !ok {
			l = b
			if q, ok = p.place(p.sheets[1], w.part, w.turn, w.corner); !ok {
				return false
			}
		}
		l.add(p.shop, q)
	}
	return true
}
