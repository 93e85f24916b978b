package panel

import (
	"math"
	"slices"
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
		if best == nil || len(picks) > 0 && p.stretch(picks) < p.stretch(best) {
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

// holds reports whether tabs stand on all sides of the ring's middle: no half turn round it is without one.
func (p *ringPlaces) holds(picks []int) bool {
	if len(picks) < 2 {
		return false
	}
	var angles []float64
	for _, k := range picks {
		d := p.tabs[k].At.Sub(p.middle)
		angles = append(angles, math.Atan2(d.Y, d.X))
	}
	slices.Sort(angles)
	wide := angles[0] + 2*math.Pi - angles[len(angles)-1]
	for k := 1; k < len(angles); k++ {
		wide = math.Max(wide, angles[k]-angles[k-1])
	}
	return wide <= math.Pi+1e-9
}
