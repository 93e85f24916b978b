package hours

import "math"

// rough takes the skim off all that lies in the carve boundary, then level by level what lies beside the wood: in rows where
// it is wider than a trip along the walls takes, and once along the walls and the frame. flat is the area of the joint face.
func (s Setup) rough(l Layer, flat float64, rims []rim) tally {
	p := s.pace(s.Rough.FeedMmMin, s.Rough.PlungeMmMin)
	reach, over := s.boundaryOf(s.Rough.Diameter), s.Rough.Stepover
	area, border := flat, 0.0
	pieces := float64(max(l.Parts, 1))
	for _, r := range rims {
		a, b := r.floor(reach)
		area, border = area+a+r.slope, border+b
	}
	var t tally
	deep := l.Skim - s.Leave
	levels := s.levels(deep)
	t.rows(levels, area/over, border, over, p)
	t.steps(levels, border, over, p)
	t.along(levels, border, p)
	t.hops(levels*pieces, s.SafeHeight, border/4, deep/max(levels, 1)+landing, p)
	for _, r := range rims {
		s.terraces(&t, r, min(r.deep+s.Finish.TipRadius(), l.Thickness), p)
	}
	return t
}

// levels is how many stepdowns reach a depth; 1e-9 keeps a depth of whole stepdowns from taking one more by rounding.
func (s Setup) levels(depth float64) float64 {
	return min(max(math.Ceil(depth/s.Rough.Stepdown-1e-9), 0), mostLevels)
}

// terraces adds the levels beside one edge, down to a depth. What lies beside the wood at a depth is taken to grow evenly
// narrower down to the edge. A trip along the walls on each level clears the cutter's width; rows begin a stepover from there.
// Rows round wood fall into four zigzags, one before it, one on either side and one behind (the cells of Choset and Pignon),
// and the cutter is lifted to get from one to the next; a hole is one zigzag.
func (s Setup) terraces(t *tally, r rim, depth float64, p pace) {
	n, over := s.levels(depth), s.Rough.Stepover
	_, border := r.floor(s.boundaryOf(s.Rough.Diameter))
	walls := r.around + 2*math.Pi*r.out*(s.Rough.Diameter/2+s.Leave)
	taken := walls * (over + s.Leave - s.Clearance)
	for k := 0.0; k < n; k++ {
		left := 1 - k/n*depth/r.deep
		if r.deep <= 0 || left < 0 {
			left = 0
		}
		t.along(1, walls+border, p)
		pieces := max(r.out, 1)
		if rows := r.slope*left - taken; rows > 0 {
			t.rows(1, rows/over, 2*walls, over, p)
			t.steps(1, 2*walls, over, p)
			zigzags := max(4*r.out, 1)
			if fewer := r.slope * depth / (r.deep * n); fewer > rows { // the lowest with rows, for a part of its depth
				zigzags *= rows / fewer
			}
			pieces += zigzags
		}
		t.hops(pieces, s.SafeHeight+k/n*depth, walls/4, depth/n+landing, p)
	}
}

// saw adds a cut along the outline of a straight core, level by level through the panel and both skims.
func (s Setup) saw(t *tally, l Layer, p pace) {
	around := l.Core.Perimeter - math.Pi*s.Rough.Diameter // the axis keeps its radius inside
	if !(around > 0) {
		return
	}
	depth := l.Thickness + 2*l.Skim
	levels := s.levels(depth)
	t.along(levels, around, p)
	t.hops(1, s.SafeHeight, around/4, depth/levels+landing, p)
	t.s += (levels - 1) * Move(depth/levels+landing, p.plunge, p.accelZ)
	t.mm += (levels - 1) * (depth/levels + landing)
}
