package hours

import "math"

const (
	// landing is how far above wood a rapid move down ends, mm.
	landing = 1.0
	// levelSlack is how much above a level the tip may have to stay for a place to belong to it, mm: what tip maps are told to.
	levelSlack = 0.005
)

// rough takes the side down level by level. On each it clears in rows what the level before left above the tip's surface,
// down to the level or, on gentle slopes, to the surface; then it follows the walls once.
func (w *worker) rough() {
	above := w.Thickness + w.Skim
	for _, z := range w.levels() {
		if w.halt() {
			return
		}
		w.region.fill(w.Rough, float32(above-levelSlack), &w.mayRough)
		if w.region.none() {
			continue
		}
		w.walls.lacks(&w.mayRough, &w.region)
		w.words = w.near.wider(&w.walls, w.setup.Rough.Stepover/w.Step, w.words)
		w.rest.lacks(&w.region, &w.near)
		w.region.fill(w.Rough, float32(z+levelSlack), &w.mayRough)
		w.clearRows(z, above)
		w.outline.trace(&w.region, &w.mayRough, w.Rough, float32(z))
		w.follow(z, above, &w.region)
		above = z
	}
}

// levels are the heights of the rough pass from the top down: first what the skim takes, then equal steps down to the
// lowest tip.
func (w *worker) levels() []float64 {
	near := w.Thickness + w.setup.Leave
	low := near
	for j := range w.H {
		for k, in := range w.mayRough.row(j) {
			if in == 0 {
				continue
			}
			for n, z := range w.Rough[j*w.W+k*64 : min(j*w.W+k*64+64, (j+1)*w.W)] {
				if in>>n&1 == 1 {
					low = min(low, float64(z))
				}
			}
		}
	}
	zs := steps(nil, w.Thickness+w.Skim, near, w.setup.Rough.Stepdown)
	return steps(zs, near, low, w.setup.Rough.Stepdown)
}

// steps appends the heights of equal steps from one height down to another, none larger than most; 1e-9 keeps a depth of
// whole steps from taking one more by rounding.
func steps(zs []float64, from, to, most float64) []float64 {
	if !(from-to > levelSlack) {
		return zs
	}
	n := math.Ceil((from-to)/most - 1e-9)
	for k := 1.0; k <= n; k++ {
		zs = append(zs, from+(to-from)*k/n)
	}
	return zs
}

// clearRows goes over what is left on a level in rows at the stepover. Next to walls the rows are a stepover short of where
// the trip along them goes.
func (w *worker) clearRows(z, above float64) {
	rows := w.setup.Rough.Stepover / w.Step // raster rows from one to the next
	w.chains.runs = w.chains.runs[:0]
	for k := 0; ; k++ {
		j := int(math.Round((float64(k) + 0.5) * rows))
		if j >= w.H {
			break
		}
		w.chains.runs = w.rest.runs(w.chains.runs, j, k)
	}
	w.chains.build()
	w.chains.order(w.whereabouts(rows), rows, func(s start) {
		w.turn = w.chains.along(w.turn[:0], s)
		right := s.right
		for n, r := range w.turn {
			heights, x, dx := w.lay(w.Rough, r, math.Round((float64(r.row)+0.5)*rows), right)
			for i, h := range heights {
				heights[i] = max(h, float32(z))
			}
			p := place{x, math.Round((float64(r.row)+0.5)*rows) * w.Step, float64(heights[0])}
			if n == 0 {
				w.reach(p, above, &w.region)
			} else {
				w.to(p)
			}
			w.strokes(heights, x, dx, p.y)
			right = !right
		}
	})
}

// whereabouts is where the cutter is, in columns and in rows so many raster rows apart.
func (w *worker) whereabouts(rows float64) func() (x, y float64) {
	return func() (x, y float64) { return w.at.x / w.Step, w.at.y/w.Step - rows/2 }
}

// reach brings the cutter to p on the level it is on: straight on where the way is clear and no slower than a hop, or else
// with a hop that comes down at rapid to just above what the level before left.
func (w *worker) reach(p place, above float64, clear *stencil) {
	if w.motion.at.z == p.z {
		d := math.Hypot(p.x-w.at.x, p.y-w.at.y)
		up := Move(w.safe-p.z, w.rapidZ, w.accelZ)
		if d/w.feed <= 2*up+d/w.rapid && w.sees(p, clear) {
			w.to(p)
			return
		}
	}
	w.hop(p, above+landing)
}

// follow goes along all outlines that were traced.
func (w *worker) follow(z, above float64, clear *stencil) {
	w.outline.each(w.Step, func(line []point, closed bool) {
		first := 0
		if closed {
			first = nearest(line, w.at.x, w.at.y)
		}
		at := func(k int) place {
			q := line[(first+k)%len(line)]
			return place{q.x, q.y, z}
		}
		w.reach(at(0), above, clear)
		n := len(line)
		if closed {
			n++
		}
		for k := 1; k < n; k++ {
			w.to(at(k))
		}
	})
}

func nearest(line []point, x, y float64) int {
	best, least := 0, math.MaxFloat64
	for i, p := range line {
		if d := (p.x-x)*(p.x-x) + (p.y-y)*(p.y-y); d < least {
			best, least = i, d
		}
	}
	return best
}

// saw cuts a straight core free along its outline, level by level through the panel and both skims.
func (w *worker) saw() {
	if w.slot.b == nil || w.slot.none() {
		return
	}
	all := &w.walls
	all.shape(w.W, w.H)
	all.turnOver(all)
	above := w.Thickness + w.Skim
	for _, z := range steps(nil, above, -w.Skim, w.setup.Rough.Stepdown) {
		w.outline.trace(&w.slot, all, nil, 0)
		w.follow(z, above, &w.slot)
		above = z
	}
}
