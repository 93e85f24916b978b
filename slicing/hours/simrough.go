package hours

import (
	"math"
	"math/bits"

	"grainstack/slicing/geom"
	"grainstack/slicing/plane"
)

const (
	// landing is how far above wood a rapid move down ends, mm.
	landing = 1.0
	// levelSlack is how much above a level the tip may have to stay for a place to belong to it, mm: what tip maps are told to.
	levelSlack = 0.005
	// lineSlack is how far a corner of the border may lie beside the line that is followed, in columns.
	lineSlack = 0.6
	stairs    = 0.72
)

// rough takes the side down level by level. On each it clears in rows what the level before left above the tip's surface,
// down to the level or, on gentle slopes, to the surface; then it follows the walls once, and the frame, where rows that end have
// left cusps: no row of the next level takes more of what stands beside it than that level.
func (w *worker) rough() {
	above := w.Thickness + w.Skim
	for _, z := range w.Levels(w.setup) {
		if w.halt() {
			return
		}
		w.left.AtMost(w.Rough, float32(above-levelSlack), &w.mayRough)
		if w.left.Empty() {
			continue
		}
		w.walls.Difference(&w.mayRough, &w.left)
		w.words = w.near.Dilate(&w.walls, w.setup.Rough.Stepover/w.Step, w.words)
		w.shelves(z)
		w.rest.Difference(&w.left, &w.near)
		w.fall()
		w.through(&w.air, above)
		w.rest.Remove(&w.air)
		w.clearRows(z, above)
		w.region.AtMost(w.Rough, float32(z+levelSlack), &w.mayRough)
		w.keepOff()
		walls := w.Rough
		if w.probe != nil {
			walls = nil
		}
		w.walls.Complement(&w.air)
		w.border.Trace(&w.region, &w.walls, walls, float32(z))
		w.follow(z, above, &w.left)
		above = z
	}
	w.fall()
}

// Levels are the heights of the rough pass on a side from the top down, in mm above the panel's far face: first what the
// skim takes, then equal steps down to the lowest place of the rough cutter's tip.
func (g *Ground) Levels(s Setup) []float64 {
	near := g.Thickness + s.Leave
	zs := steps(nil, g.Thickness+g.Skim, near, s.Rough.Stepdown)
	return steps(zs, near, min(lowestIn(g.Rough, &g.mayRough), near), s.Rough.Stepdown)
}

// Depth is how far below the panel's near face the finish cutter's tip goes.
func (g *Ground) Depth() float64 {
	return max(g.Thickness-lowestIn(g.Finish, &g.mayFinish), 0)
}

// lowestIn is the lowest of the figures where in says yes.
func lowestIn(z []float32, in *plane.Mask) float64 {
	low := float32(endless)
	for j := range in.H {
		for k, v := range in.Row(j) {
			for ; v != 0; v &= v - 1 {
				low = min(low, z[j*in.W+k*64+bits.TrailingZeros64(v)])
			}
		}
	}
	return float64(low)
}

// steps appends the heights of equal steps from one height down to another, none larger than most; 1e-9 keeps a depth of
// whole steps from taking one more by rounding.
func steps(zs []float64, from, to, most float64) []float64 {
	if !(from-to > levelSlack) {
		return zs
	}
	n := min(math.Ceil((from-to)/most-1e-9), mostLevels)
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
		j := int(math.Round(rowAt(k, rows)))
		if j >= w.H {
			break
		}
		w.chains.runs = w.rest.Runs(w.chains.runs, j, k)
	}
	w.chains.build()
	w.chains.order(w.whereabouts(rows), rows, func(s start) {
		w.turn = w.chains.along(w.turn[:0], s)
		right := s.right
		for n, r := range w.turn {
			heights, x, dx := w.lay(w.Rough, r, math.Round(rowAt(int(r.Row), rows)), right)
			for i, h := range heights {
				heights[i] = max(h, float32(z))
				if w.stands != nil {
					heights[i] = max(heights[i], float32(w.bite(x+float64(i)*dx, math.Round(rowAt(int(r.Row), rows))*w.Step)))
				}
			}
			p := place{x, math.Round(rowAt(int(r.Row), rows)) * w.Step, float64(heights[0])}
			if n == 0 || !w.step(p, w.turn[n-1], r, w.Rough, z, &w.mayRough) {
				w.reach(p, z, above, &w.left, func() { w.rampRow(heights, x, dx, p.y, w.motion.at.z) })
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

// reach brings the cutter to p on a level: straight on, no lower than the level and the tip's surface, where the way is clear
// and no slower than a hop; or else with a hop that comes down at rapid to just above what the level before left, and from there
// by a ramp, which ends at p.
func (w *worker) reach(p place, z, above float64, clear *plane.Mask, ramp func()) {
	if w.motion.at.z <= above && math.Hypot(p.x-w.at.x, p.y-w.at.y)/w.feed <= w.hopTime(p) && w.sees(p, clear) {
		w.across(p, w.Rough, z)
		return
	}
	above = w.clearOf(p, above)
	if !(above-p.z > flatEnough) {
		w.hop(p, above+landing)
		return
	}
	w.hop(place{p.x, p.y, above}, above+landing)
	ramp()
}

// across cuts over to p along a tip's surface, no lower than a height.
func (w *worker) across(p place, tips []float32, least float64) {
	if w.probe != nil {
		w.over(p, least)
		return
	}
	from := w.at
	n := math.Ceil(math.Hypot(p.x-from.x, p.y-from.y) / w.Step)
	for k := 1.0; k < n; k++ {
		x, y := from.x+(p.x-from.x)*k/n, from.y+(p.y-from.y)*k/n
		i, j := int(math.Round(x/w.Step)), int(math.Round(y/w.Step))
		w.to(place{x, y, max(float64(tips[j*w.W+i]), least)})
	}
	w.to(p)
}

// slack is how far a corner of the border may lie beside the line that is followed, in columns: for a machine's path as far as the
// stairs of half-way places lie beside a straight line, or it would stop at each. Such a line keeps two columns off walls.
func (w *worker) slack() float64 {
	if w.probe == nil {
		return lineSlack
	}
	return stairs
}

// follow goes along all outlines that were traced.
func (w *worker) follow(z, above float64, clear *plane.Mask) {
	w.border.Each(w.Step, w.slack(), func(line []geom.Vec2, closed bool) {
		first, z := 0, z
		if closed {
			first = nearest(line, w.at.x, w.at.y)
		}
		at := func(k int) place {
			q := line[(first+k)%len(line)]
			return place{q.X, q.Y, z}
		}
		w.reach(at(0), z, above, clear, func() {
			if closed {
				first = w.spiral(line, first, z, w.motion.at.z)
			} else {
				w.rampLine(line, z, w.motion.at.z)
			}
		})
		n := len(line)
		if closed {
			n++
		}
		for k := 1; k < n; k++ {
			if w.probe != nil {
				w.held = false
				z = w.over(at(k), z)
			} else {
				w.to(at(k))
			}
		}
	})
}

func nearest(line []geom.Vec2, x, y float64) int {
	best, least := 0, math.MaxFloat64
	for i, p := range line {
		if d := (p.X-x)*(p.X-x) + (p.Y-y)*(p.Y-y); d < least {
			best, least = i, d
		}
	}
	return best
}

// saw cuts a straight core free along its outline, level by level through the panel and both skims.
func (w *worker) saw() {
	if w.slot.Empty() {
		return
	}
	all := &w.walls
	all.SetAll(w.W, w.H)
	above := w.Thickness + w.Skim
	for _, z := range steps(nil, above, -w.Skim, w.setup.Rough.Stepdown) {
		w.border.Trace(&w.slot, all, nil, 0)
		w.follow(z, above, &w.slot)
		above = z
	}
}
