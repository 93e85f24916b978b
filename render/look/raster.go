package look

import "grainstack/slicing/mesh"

// draw puts the triangles from..to into one lane's depth buffer. Most triangles of a scan are smaller than a pixel and miss
// every pixel's centre; they go first.
func (r *Renderer) draw(lane *lane, b *Body, from, to int) {
	if len(r.slabs) > 1 || !r.slabs[0].whole() {
		r.drawSlabs(lane, b, from, to)
		return
	}
	corners, win := r.corners, r.window
	backs := !b.closed
	f := filler{keys: lane.keys, width: r.lens.w, win: win}
	for i, t := range b.triangles[from:to] {
		c0, c1, c2 := &corners[t[0]], &corners[t[1]], &corners[t[2]]
		x0 := max(win.x0, (int(min(c0.x, c1.x, c2.x))+half-1)>>subShift)
		x1 := min(win.x1-1, (int(max(c0.x, c1.x, c2.x))-half)>>subShift)
		y0 := max(win.y0, (int(min(c0.y, c1.y, c2.y))+half-1)>>subShift)
		y1 := min(win.y1-1, (int(max(c0.y, c1.y, c2.y))-half)>>subShift)
		if x0 > x1 || y0 > y1 {
			continue
		}
		area := twiceArea(c0, c1, c2)
		if area >= 0 && (area == 0 || !backs) {
			continue
		}
		f.x0, f.y0, f.x1, f.y1 = x0, y0, x1, y1
		if area < 0 {
			f.fill(c0, c2, c1, 0, -area, uint64(from+i))
		} else {
			f.fill(c0, c1, c2, 0, area, uint64(from+i))
		}
	}
}

// twiceArea is negative for a triangle that shows its outside, since y runs down.
func twiceArea(a, b, c *corner) int64 {
	return int64(b.x-a.x)*int64(c.y-a.y) - int64(b.y-a.y)*int64(c.x-a.x)
}

// drawSlabs is draw for a stack that is cut or lifted: each triangle is drawn for every slab that it reaches into, and gives
// its part of the outlines in the slabs' planes.
func (r *Renderer) drawSlabs(lane *lane, b *Body, from, to int) {
	f := filler{keys: lane.keys, width: r.lens.w, win: r.window}
	through := r.looksThrough()
	for i, t := range b.triangles[from:to] {
		h0, h1, h2 := r.corners[t[0]].h, r.corners[t[1]].h, r.corners[t[2]].h
		low, high := min(h0, h1, h2), max(h0, h1, h2)
		k0, k1 := r.ladder.reach(low, high)
		for k := k0; k <= k1; k++ {
			s := &r.slabs[k]
			if s.cut && float64(low) < s.entry && float64(high) >= s.entry {
				lane.meet(r, t, k)
			}
			if through {
				lane.reach[k] = append(lane.reach[k], int32(from+i))
			}
			r.drawIn(&f, b, from+i, k)
		}
	}
}

// drawIn draws what of a triangle lies in one slab.
func (r *Renderer) drawIn(f *filler, b *Body, id, slab int) {
	t, s := b.triangles[id], &r.slabs[slab]
	c0, c1, c2 := &r.corners[t[0]], &r.corners[t[1]], &r.corners[t[2]]
	if !f.reach(c0, c1, c2, s.drop) {
		return
	}
	area := twiceArea(c0, c1, c2)
	if area >= 0 && (area == 0 || b.closed) {
		return
	}
	f.low, f.high = float32(s.low), float32(s.high)
	low, high := min(c0.h, c1.h, c2.h), max(c0.h, c1.h, c2.h)
	if high < f.low || low > f.high {
		return
	}
	f.clip = low < f.low || high > f.high
	key := uint64(slab)<<(64-slabBits) | uint64(id)
	if area < 0 {
		f.fill(c0, c2, c1, s.drop, -area, key)
	} else {
		f.fill(c0, c1, c2, s.drop, area, key)
	}
}

// A filler draws one triangle after the other.
type filler struct {
	keys           []uint64
	width          int
	win            window
	x0, y0, x1, y1 int  // pixels to be looked at, bounds included
	clip           bool // keep only heights from low to high
	low, high      float32
}

// reach finds the pixels whose centres can lie in the triangle moved up by drop; it reports whether there are any.
func (f *filler) reach(a, b, c *corner, drop int32) bool {
	f.x0 = max(f.win.x0, (int(min(a.x, b.x, c.x))+half-1)>>subShift)
	f.x1 = min(f.win.x1-1, (int(max(a.x, b.x, c.x))-half)>>subShift)
	f.y0 = max(f.win.y0, (int(min(a.y, b.y, c.y)-drop)+half-1)>>subShift)
	f.y1 = min(f.win.y1-1, (int(max(a.y, b.y, c.y)-drop)-half)>>subShift)
	return f.x0 <= f.x1 && f.y0 <= f.y1
}

// fill draws the triangle a, b, c of positive area moved up by drop. A centre on an edge belongs to the triangle whose upper or
// left edge it is, so that neighbours share no pixel and leave none out.
func (f *filler) fill(a, b, c *corner, drop int32, area int64, key uint64) {
	px, py := int64(f.x0*subPixel+half), int64(f.y0*subPixel+half+int(drop))
	ax, ay, bx, by, cx, cy := int64(a.x), int64(a.y), int64(b.x), int64(b.y), int64(c.x), int64(c.y)
	w0 := (cx-bx)*(py-by) - (cy-by)*(px-bx) + bias(cx-bx, cy-by)
	w1 := (ax-cx)*(py-cy) - (ay-cy)*(px-cx) + bias(ax-cx, ay-cy)
	w2 := (bx-ax)*(py-ay) - (by-ay)*(px-ax) + bias(bx-ax, by-ay)
	w0x, w0y := (by-cy)*subPixel, (cx-bx)*subPixel
	w1x, w1y := (cy-ay)*subPixel, (ax-cx)*subPixel
	w2x, w2y := (ay-by)*subPixel, (bx-ax)*subPixel
	inverse := 1 / float32(area)
	zb, zc := (b.z-a.z)*inverse, (c.z-a.z)*inverse
	hb, hc := (b.h-a.h)*inverse, (c.h-a.h)*inverse
	for y := f.y0; y <= f.y1; y++ {
		u, v, w := w0, w1, w2
		row := f.keys[y*f.width+f.x0 : y*f.width+f.x1+1]
		for i := range row {
			if u|v|w >= 0 {
				h := a.h + float32(v)*hb + float32(w)*hc
				if !f.clip || (h >= f.low && h <= f.high) {
					z := uint64(int64(a.z+float32(v)*zb+float32(w)*zc)) & depthMax
					row[i] = min(row[i], key|z<<facetBits)
				}
			}
			u, v, w = u+w0x, v+w1x, w+w2x
		}
		w0, w1, w2 = w0+w0y, w1+w1y, w2+w2y
	}
}

// bias takes a centre that lies on an edge away from the triangle unless the edge is a left or an upper one. The direction
// given is the edge's, the triangle being of positive area with y down.
func bias(dx, dy int64) int64 {
	if dy < 0 || (dy == 0 && dx > 0) {
		return 0
	}
	return -1
}

// creasedAt reports whether triangle i has a crease.
func (b *Body) creasedAt(i int) bool { return b.creased[i>>3]>>(i&7)&1 != 0 }

// facetUnit is the facet's own normal in the steps of a packed one.
func (b *Body) facetUnit(t mesh.Triangle) vec {
	n := facetNormal(b.points, t)
	l := length(n)
	if !(l > 0) {
		return vec{z: packed}
	}
	k := packed / l
	return vec{n[0] * k, n[1] * k, n[2] * k}
}
