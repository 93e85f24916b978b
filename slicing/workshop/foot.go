package workshop

import (
	"math"

	"grainstack/slicing/geom"
	"grainstack/slicing/job"
	"grainstack/slicing/panel"
)

// A tabFooting tells how a tab of one part stands between the part's wood and the panel's frame.
type tabFooting struct {
	part   *Part
	frame  *frame  // nil where it is taken to be all round
	thick  float64 // of the tab
	panel  float64 // of the panel
	reach  float64 // how far behind the outline the tab may run on
	share  float64 // of the full section that it keeps at the least
	length float64 // of the tab where the frame is all round
}

const (
	// fewestRoot is how far behind the outline every tab runs on, mm: further than the outline is off.
	fewestRoot = 1.5
	// mostRoot is how far behind the outline a tab may run on over thin wood, mm: what is pared off by hand afterwards.
	mostRoot = 15.0
	// beyondRoot is how far behind a tab the part's own wood has to go on as strong as the tab, mm.
	beyondRoot = 3.0
	// rootStep is how closely it is looked for where the wood is thick enough, mm.
	rootStep = 1.0
	// laneStep is the breadth of the lanes in which a tab is measured, mm, and how far apart its wood is looked at.
	laneStep = 0.5
)

// soundShare is the share of its full section that a tab with nothing lacking has at least, as cells measure it. One with halfShare
// does on a stretch between others; one with less than weakShare is none.
const (
	soundShare = 0.95
	halfShare  = 0.5
	weakShare  = 0.25
)

// of is the foot of a tab that is within reach, keeps its share and has the frame before it.
func (f *tabFooting) of(t panel.Tab) (foot panel.Foot, ok bool) {
	l := newLanes(f.part, t)
	length, ok := f.toFrame(l)
	if !ok {
		return foot, false
	}
	foot = f.part.seats.foot(t, func() panel.Foot { return f.stand(l) })
	if foot.Section < f.share*foot.Full || foot.Root > f.reach {
		return foot, false
	}
	foot.Length = length
	return foot, true
}

// toFrame is how long a tab is from the outline to where it stands on the frame with its whole width.
func (f *tabFooting) toFrame(l *lanes) (length float64, ok bool) {
	if f.frame == nil {
		return f.length, true
	}
	for _, s := range l.side {
		at := f.length
		for ; !f.frame.stays(l.at(s, -at)); at += laneStep {
			if at > f.length+2*job.LeastFrame {
				return 0, false
			}
		}
		length = math.Max(length, at)
	}
	return length, true
}

// stand is how a tab stands in the part: it runs on behind the outline to where the part's own wood has the tab's section, or
// most of it, at the height at which that is soonest. It has no section where it would run on over the hollow.
func (f *tabFooting) stand(l *lanes) panel.Foot {
	best := panel.Foot{Full: l.tab.Width * f.thick}
	for root := fewestRoot; root <= mostRoot; root += rootStep {
		bottom, section := f.level(l, root)
		if section > best.Section {
			best.Root, best.Section, best.Bottom = root, math.Min(section, best.Full), bottom
		}
		if section >= soundShare*best.Full {
			break
		}
	}
	if best.Section > 0 && f.overHollow(l, best) {
		best.Section = 0
	}
	best.Bottom -= f.part.PanelLow
	best.Top = best.Bottom + f.thick
	return best
}

// level is at which height a tab that runs on so far behind the outline shares most wood with the part there, and the least
// section from there on.
func (f *tabFooting) level(l *lanes, root float64) (bottom, section float64) {
	first := int(root / laneStep)
	here := l.row(first)
	low, high, middle, n := math.Inf(-1), math.Inf(1), 0.0, 0
	for _, s := range here {
		if s.low <= s.high {
			low, high = math.Max(low, s.low), math.Min(high, s.high)
			middle += (s.low + s.high) / 2
			n++
		}
	}
	if n == 0 {
		return 0, 0
	}
	for _, z := range [3]float64{middle/float64(n) - f.thick/2, low, high - f.thick} {
		z = math.Max(f.part.PanelLow, math.Min(z, f.part.PanelLow+f.panel-f.thick))
		sum := 0.0
		for _, s := range here {
			sum += s.shared(span{z, z + f.thick})
		}
		if sum *= l.wide; sum > section {
			bottom, section = z, sum
		}
	}
	for k := first; k < first+int(beyondRoot/laneStep) && section > 0; k++ {
		section = math.Min(section, l.link(k))
	}
	return bottom, section
}

// overHollow reports whether a tab would run on over the hollow, or end above it.
func (f *tabFooting) overHollow(l *lanes, foot panel.Foot) bool {
	for _, s := range [3]float64{l.side[0], 0, l.side[len(l.side)-1]} {
		at := l.at(s, foot.Root+beyondRoot)
		for k := range 3 {
			if f.part.hollow(at, foot.Bottom+f.thick*float64(k)/2) {
				return true
			}
		}
	}
	return false
}

// lanes are the strips along a tab in which its wood is looked at.
type lanes struct {
	part   *Part
	tab    panel.Tab
	across geom.Vec2
	side   []float64 // from the tab's middle, ascending
	wide   float64   // of each
	rows   [][]span  // as far as they are known
	links  []float64
}

func newLanes(p *Part, t panel.Tab) *lanes {
	n := max(3, int(math.Ceil(t.Width/laneStep)))
	l := &lanes{part: p, tab: t, across: geom.Vec2{X: -t.Out.Y, Y: t.Out.X}, wide: t.Width / float64(n)}
	for i := range n {
		l.side = append(l.side, (float64(i)+0.5)*l.wide-t.Width/2)
	}
	return l
}

// at is a point of a lane, so deep behind the outline.
func (l *lanes) at(side, deep float64) geom.Vec2 {
	return l.tab.At.Sub(l.tab.Out.Scale(deep)).Add(l.across.Scale(side))
}

// row is the part's own wood in each lane, in the middle of the k-th step behind the outline.
func (l *lanes) row(k int) []span {
	for len(l.rows) <= k {
		deep := (float64(len(l.rows)) + 0.5) * laneStep
		row := make([]span, len(l.side))
		for i, s := range l.side {
			at := l.at(s, deep)
			low, high, ok := l.part.columns.wood(at)
			if !ok || !onSide(at, l.part.Halves) {
				low, high = 1, 0
			}
			row[i] = span{low, high}
		}
		l.rows = append(l.rows, row)
	}
	return l.rows[k]
}

// link is the section that hangs together from the k-th step to the next, mm².
func (l *lanes) link(k int) float64 {
	for len(l.links) <= k {
		n := len(l.links)
		next, sum := l.row(n+1), 0.0
		for i, s := range l.row(n) {
			sum += s.shared(next[i])
		}
		l.links = append(l.links, sum*l.wide)
	}
	return l.links[k]
}

// A span is from one height to another; none where low is above high.
type span struct{ low, high float64 }

// shared is how much height two spans have in common.
func (s span) shared(t span) float64 {
	return math.Max(0, math.Min(s.high, t.high)-math.Max(s.low, t.low))
}
