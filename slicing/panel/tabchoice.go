package panel

import (
	"math"
	"slices"

	"grainstack/slicing/geom"
)

// starts is how many first places are tried for an even spread of tabs.
const starts = 48

// An outline has mostTabs at the most; when the fewest that could do are not enough, moreTabs more are tried.
const (
	mostTabs = 200
	moreTabs = 8
)

// choose spreads the fewest tabs that do along one ring.
func (p *ringPlaces) choose(r TabRules) (tabs []Tab, held bool) {
	room := int(p.length / (2 * r.Width)) // no more than leave as much free as they take
	fewest := r.Least
	if r.Spacing > 0 {
		fewest = max(fewest, int(math.Min(mostTabs, math.Ceil(p.length/r.Spacing-exact))))
	}
	fewest = max(1, min(fewest, room))
	var best []int
	for n := fewest; n <= min(fewest+moreTabs, max(room, 1)); n++ {
		picks := p.spreadOver(n)
		if best == nil || p.better(picks, best) {
			best = picks
		}
		if len(picks) >= r.Least && p.holds(picks) && (r.Spacing == 0 || p.stretch(picks) <= r.Spacing+exact) {
			best, held = picks, true
			break
		}
	}
	for _, i := range best {
		tabs = append(tabs, p.tabs[i])
	}
	return tabs, held
}

// better reports whether places are more than others: on all sides, or no worse in that and with a shorter stretch between them.
func (p *ringPlaces) better(picks, others []int) bool {
	if len(picks) == 0 {
		return false
	}
	if round := p.holds(picks); round != p.holds(others) {
		return round
	}
	return p.stretch(picks) < p.stretch(others)
}

// AllRound reports whether tabs stand on all sides of every outline's middle, so that the cutter can't turn the part about them.
func (t *TabPlaces) AllRound(tabs []Tab) bool {
	for _, r := range t.rings {
		var at []geom.Vec2
		for _, tab := range tabs {
			if tab.Ring == r.ring {
				at = append(at, tab.At)
			}
		}
		if !allRound(r.middle, at) {
			return false
		}
	}
	return len(t.rings) > 0
}

// spreadOver takes n places, as even and as good as they go together: even marks from many starts, each moved to the best
// place within a third of the way to its neighbours.
func (p *ringPlaces) spreadOver(n int) (best []int) {
	count := len(p.tabs)
	gap := float64(count) / float64(n)
	top := math.Inf(-1)
	for k := range starts {
		start := gap * float64(k) / starts
		var picks []int
		sum := 0.0
		for m := range n {
			at, merit := p.bestNear(start+gap*float64(m), gap/3)
			if merit > 0 && !slices.Contains(picks, at) {
				picks, sum = append(picks, at), sum+merit
			}
		}
		slices.Sort(picks)
		sum -= 4 * math.Max(0, p.stretch(picks)/p.length*float64(n)-1)
		if !p.holds(picks) {
			sum -= float64(n)
		}
		if len(picks) > len(best) || len(picks) == len(best) && sum > top {
			best, top = picks, sum
		}
	}
	return best
}

// bestNear is the best place within a reach of a mark, those in the middle first.
func (p *ringPlaces) bestNear(mark, reach float64) (at int, merit float64) {
	count := len(p.tabs)
	most := 0.0
	for i := int(math.Ceil(mark - reach)); float64(i) <= mark+reach; i++ {
		k := ((i % count) + count) % count
		if p.merit[k] <= 0 {
			continue
		}
		off := math.Abs(float64(i)-mark) / (reach + 1)
		if v := p.merit[k] - 0.2*off*off; v > most || merit == 0 {
			at, merit, most = k, p.merit[k], v
		}
	}
	return at, merit
}

// stretch is the longest way along the ring without a tab, measured between middles.
func (p *ringPlaces) stretch(picks []int) float64 {
	if len(picks) == 0 {
		return p.length
	}
	long := p.length - p.tabs[picks[len(picks)-1]].Along + p.tabs[picks[0]].Along
	for k := 1; k < len(picks); k++ {
		long = math.Max(long, p.tabs[picks[k]].Along-p.tabs[picks[k-1]].Along)
	}
	return long
}

// holds reports whether tabs stand on all sides of the ring's middle.
func (p *ringPlaces) holds(picks []int) bool {
	var at []geom.Vec2
	for _, k := range picks {
		at = append(at, p.tabs[k].At)
	}
	return allRound(p.middle, at)
}

// allRound reports whether places lie on all sides of a middle: no half turn round it is without one.
func allRound(middle geom.Vec2, places []geom.Vec2) bool {
	if len(places) < 2 {
		return false
	}
	var angles []float64
	for _, at := range places {
		d := at.Sub(middle)
		angles = append(angles, math.Atan2(d.Y, d.X))
	}
	slices.Sort(angles)
	wide := angles[0] + 2*math.Pi - angles[len(angles)-1]
	for k := 1; k < len(angles); k++ {
		wide = math.Max(wide, angles[k]-angles[k-1])
	}
	return wide <= math.Pi+1e-9
}
