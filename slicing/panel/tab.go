package panel

import (
	"errors"
	"math"
	"slices"

	"grainstack/slicing/geom"
)

// TabRules say what a tab is and where one may stand.
type TabRules struct {
	Width   float64                       // along the outline
	Channel float64                       // width of what is carved free round the part: the saw goes in there
	Spacing float64                       // longest stretch of outline without a tab; 0 for no bound
	Least   int                           // fewest tabs an outline; 0 stands for 3
	Backing float64                       // breadth of wood wanted behind a tab; 0 stands for twice its width
	Foot    func(t Tab) (f Foot, ok bool) // how a tab would stand there, not at all where ok is false; nil where the part is as thick all round
	Hole    func(ring int) (used bool)    // which holes have tabs, for another part that lies in them; nil for none
}

// A Tab is a bridge from the part to its panel.
type Tab struct {
	At    geom.Vec2 // middle of its root on the outline
	Out   geom.Vec2 // away from the part, length 1
	Width float64
	Ring  int     // of the region
	Along float64 // place on that ring, mm from its first point
	Foot
}

// A Foot is how a tab stands between the part and its panel.
type Foot struct {
	Root        float64 // how far behind the outline it runs on, to where the part's own wood takes over
	Length      float64 // from the outline to where the panel's frame takes over
	Bottom, Top float64 // of the tab, mm above the lower face of the skimmed panel
	Section     float64 // least wood on its way from the part to the frame, mm²
	Full        float64 // what that is where nothing is lacking, mm²
}

// TabSites are the places along a part's outlines where a tab of one width may stand as the outline has it. They never change.
type TabSites struct {
	rules TabRules
	solid outline
	rings []ringPlaces
}

// A TabPlaces has every place of a part's outlines where a tab may stand.
type TabPlaces struct {
	rules TabRules
	rings []ringPlaces
}

// ringPlaces are even steps along a ring; merit is 0 where no tab may stand, up to 1 where it stands best.
type ringPlaces struct {
	ring   int
	length float64
	middle geom.Vec2 // of what the ring encloses
	hole   bool
	tabs   []Tab
	merit  []float64
}

// tabFoot is how far beyond the channel there has to be wood of the panel for a tab to stand on, mm.
const tabFoot = 2.0

// Steps along an outline, mm, and the most of them.
const (
	tabStep   = 2.0
	mostSteps = 4000
)

// NewTabSites looks at the outlines of a part, in any frame. A tab may stand where the outline is straight enough, where
// the wood behind it is neither thin nor narrow, where the channel before it is open so that a saw reaches it, and, which Places
// asks, where the panel begins behind the channel. Hole and Foot of the rules are not asked here.
func NewTabSites(g geom.Region, r TabRules) (*TabSites, error) {
	if !(r.Width > 0 && r.Width < 1e4) || !(r.Channel > 0 && r.Channel < 1e4) || !(r.Spacing >= 0) || !(r.Backing >= 0 && r.Backing < 1e4) || r.Least < 0 || r.Least > 100 {
		return nil, errors.New("panel: a tab needs a width and a channel of more than 0 mm, and bounds that are not below 0")
	}
	if r.Backing == 0 {
		r.Backing = 2 * r.Width
	}
	if r.Least == 0 {
		r.Least = 3
	}
	t := &TabSites{rules: r, solid: newOutline(g)}
	for i, ring := range g {
		if ring.Area() != 0 {
			t.rings = append(t.rings, t.look(i, ring))
		}
	}
	return t, nil
}

// Places are the sites at which a tab has a foot, on outlines and on holes that are used; see TabRules for both.
func (t *TabSites) Places(hole func(ring int) bool, foot func(Tab) (Foot, bool)) *TabPlaces {
	out := &TabPlaces{rules: t.rules}
	for _, r := range t.rings {
		if r.hole && (hole == nil || !hole(r.ring)) {
			continue
		}
		if foot != nil {
			tabs, merit := r.tabs, r.merit
			r.tabs, r.merit = slices.Clone(tabs), make([]float64, len(merit))
			for i, m := range merit {
				if m == 0 {
					continue
				}
				if f, ok := foot(tabs[i]); ok {
					r.tabs[i].Foot = f
					r.merit[i] = (m - wholeShare*(1-math.Min(1, f.Section/f.Full))) / (1 + f.Root/t.rules.Width)
				}
			}
		}
		out.rings = append(out.rings, r)
	}
	return out
}

// look goes along a ring.
func (t *TabSites) look(i int, ring geom.Ring) ringPlaces {
	length := ring.Perimeter()
	n := int(math.Max(8, math.Min(mostSteps, math.Ceil(length/tabStep))))
	p := ringPlaces{ring: i, length: length, hole: ring.Area() < 0}
	p.middle, _ = geom.Region{ring}.Centroid()
	half := math.Min(t.rules.Width/2, length/8)
	line := newRuler(ring)
	for k := range n {
		s := length * float64(k) / float64(n)
		before, at, after := line.at(s-half), line.at(s), line.at(s+half)
		tab := Tab{At: at, Out: outward(before, after), Width: t.rules.Width, Ring: i, Along: s}
		p.tabs, p.merit = append(p.tabs, tab), append(p.merit, t.merit(tab, before, after))
	}
	return p
}

// outward is square to the chord, to the right: the solid lies on the left.
func outward(before, after geom.Vec2) geom.Vec2 {
	d := after.Sub(before)
	if n := d.Len(); n > 0 {
		return geom.Vec2{X: d.Y / n, Y: -d.X / n}
	}
	return geom.Vec2{}
}

// bend is by how much the outline may leave the chord of a tab, in parts of the tab's width.
const bend = 0.15

// wholeShare is how much of a tab's merit is that nothing of its section is lacking.
const wholeShare = 0.3

// merit is how well a tab stands if nothing of its section is lacking, 0 where it may not.
func (t *TabSites) merit(tab Tab, before, after geom.Vec2) float64 {
	r := t.rules
	if tab.Out == (geom.Vec2{}) {
		return 0
	}
	chord := edge{before, after}
	straight := 1 - chord.dist(tab.At)/(bend*r.Width)
	if straight <= 0 || after.Sub(before).Len() < 0.9*r.Width {
		return 0
	}
	behind := tab.At.Sub(tab.Out.Scale(r.Backing / 2))
	ahead := tab.At.Add(tab.Out.Scale(r.Channel / 2))
	if !t.solid.contains(behind) || t.solid.contains(ahead) {
		return 0
	}
	if t.solid.rim(behind, r.Backing/2) < 0.45*r.Backing || t.solid.rim(ahead, r.Channel/2) < 0.45*r.Channel {
		return 0
	}
	if end := tab.At.Add(tab.Out.Scale(r.Channel + tabFoot)); t.solid.contains(end) || t.solid.rim(end, r.Channel) < r.Channel-tabFoot {
		return 0 // across a bay that is cleared from both sides it would end in the air
	}
	deep := tab.At.Sub(tab.Out.Scale(1.5 * r.Backing))
	broad := 0.0
	if t.solid.contains(deep) {
		broad = t.solid.rim(deep, 1.5*r.Backing) / (1.5 * r.Backing)
	}
	return 0.1 + 0.3*straight + 0.3*broad + wholeShare
}

// Nearest is the tab that may stand nearest to a point; ok is false where none may stand anywhere.
func (t *TabPlaces) Nearest(p geom.Vec2) (near Tab, ok bool) {
	best := math.Inf(1)
	for _, r := range t.rings {
		for i, tab := range r.tabs {
			if d := tab.At.Sub(p); r.merit[i] > 0 && d.Dot(d) < best {
				near, best, ok = tab, d.Dot(d), true
			}
		}
	}
	return near, ok
}

// Choose takes as few tabs as hold the part: Least on each outline, more where the spacing asks for it, spread so that the
// cutter cannot turn the part about them. held is false where an outline has too few places, or a stretch longer than the
// spacing, or all tabs on one side: the tabs are then the best there are.
func (t *TabPlaces) Choose() (tabs []Tab, held bool) {
	held = len(t.rings) > 0
	for _, r := range t.rings {
		chosen, ok := r.choose(t.rules)
		tabs, held = append(tabs, chosen...), held && ok
	}
	return tabs, held
}

// A ruler measures along a ring.
type ruler struct {
	ring geom.Ring
	to   []float64 // length from the first point to the end of each edge
}

func newRuler(ring geom.Ring) *ruler {
	r := &ruler{ring: ring}
	sum := 0.0
	for i := range ring {
		sum += ring[(i+1)%len(ring)].Sub(ring[i]).Len()
		r.to = append(r.to, sum)
	}
	return r
}

// at is the point a length along the ring, round and round.
func (r *ruler) at(s float64) geom.Vec2 {
	whole := r.to[len(r.to)-1]
	if !(whole > 0) {
		return r.ring[0]
	}
	s = math.Mod(math.Mod(s, whole)+whole, whole)
	low, high := 0, len(r.to)-1
	for low < high {
		if mid := (low + high) / 2; r.to[mid] > s {
			high = mid
		} else {
			low = mid + 1
		}
	}
	from := 0.0
	if low > 0 {
		from = r.to[low-1]
	}
	a, b := r.ring[low], r.ring[(low+1)%len(r.ring)]
	if d := r.to[low] - from; d > 0 {
		return a.Add(b.Sub(a).Scale((s - from) / d))
	}
	return a
}
