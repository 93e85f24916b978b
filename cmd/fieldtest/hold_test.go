package fieldtest

import (
	"math"
	"slices"
)

// A tabSize is what a tab was asked to be, mm.
type tabSize struct{ width, thickness float64 }

const (
	columns     = 0.5  // mm between a panel's columns: a tab may come out narrower by one at either side
	fullSection = 0.9  // of what is left of it then, which may stand askew to the columns
	cutThrough  = 0.25 // of a full section: a tab with less, beside two that are full, is cut through
	isleCell    = 2.0  // mm between the lines by which frame and isles are told apart
	isleLeast   = 50.0 // mm² of waste that count as an isle
	outlineTrue = 0.1  // mm from a part's outline: wood there is the part's, since its drawing and its solid are rounded apart
)

// A ground is what is left of a panel round its parts, on a lattice: which cells hang together.
type ground struct {
	nx, ny int
	wood   [][]span
	body   []int // by cell; 0 for none
	area   []float64
	frame  []bool // by body: it reaches the panel's edge
	parts  []*laidPart
}

// newGround tells frame and isles apart. Tabs of parts don't count as ground: an isle that hangs on them alone is one.
func newGround(p *prober, parts []*laidPart, d *drawing) *ground {
	_, high := p.s.box()
	g := &ground{nx: int(high[0] / isleCell), ny: int(high[1] / isleCell), area: []float64{0}, frame: []bool{false}, parts: parts}
	g.wood, g.body = make([][]span, g.nx*g.ny), make([]int, g.nx*g.ny)
	barred := d.lines["TABS"]
	for i := range g.wood {
		at := g.place(i)
		free := true
		for _, q := range parts {
			free = free && !inside(q.rings, at)
		}
		for _, t := range barred {
			free = free && !inside([][]place{t}, at)
		}
		if free {
			g.wood[i] = p.wood(at.x, at.y)
		}
	}
	for i := range g.wood {
		if len(g.wood[i]) > 0 && g.body[i] == 0 {
			g.flood(i)
		}
	}
	return g
}

func (g *ground) place(i int) place {
	return place{(float64(i%g.nx) + 0.5) * isleCell, (float64(i/g.nx) + 0.5) * isleCell}
}

// flood numbers what hangs together with a cell.
func (g *ground) flood(from int) {
	n := len(g.area)
	g.area, g.frame = append(g.area, 0), append(g.frame, false)
	g.body[from] = n
	for todo := []int{from}; len(todo) > 0; {
		i := todo[len(todo)-1]
		todo = todo[:len(todo)-1]
		g.area[n] += isleCell * isleCell
		x, y := i%g.nx, i/g.nx
		if x == 0 || y == 0 || x == g.nx-1 || y == g.ny-1 {
			g.frame[n] = true
		}
		for _, k := range [][2]int{{1, 0}, {-1, 0}, {0, 1}, {0, -1}} {
			x1, y1 := x+k[0], y+k[1]
			if x1 < 0 || y1 < 0 || x1 >= g.nx || y1 >= g.ny {
				continue
			}
			if j := y1*g.nx + x1; g.body[j] == 0 && shared(g.wood[i], g.wood[j]) > 0.5 {
				g.body[j] = n
				todo = append(todo, j)
			}
		}
	}
}

// framed reports whether the frame is within a radius of a place.
func (g *ground) framed(at place, r float64) bool {
	for i := range g.body {
		if g.body[i] > 0 && g.frame[g.body[i]] && g.place(i).minus(at).long() <= r {
			return true
		}
	}
	return false
}

// checkIsles names waste that doesn't hang on the frame.
func (g *ground) checkIsles(number int, f *faults) {
	for n := 1; n < len(g.area); n++ {
		if g.area[n] < isleLeast || g.frame[n] {
			continue
		}
		area, at := 0.0, place{}
		for i, body := range g.body {
			if body == n && !g.onOutline(g.place(i)) {
				area, at = area+isleCell*isleCell, g.place(i)
			}
		}
		if area >= isleLeast {
			f.add("isle", "panel %d: %.1f cm² of waste at %.0f, %.0f mm hang on parts alone", number, area/100, at.x, at.y)
		}
	}
}

// onOutline reports whether a part's outline passes by a place that is outside of all parts.
func (g *ground) onOutline(at place) bool {
	for _, way := range []place{{1, 0}, {-1, 0}, {0, 1}, {0, -1}} {
		for _, q := range g.parts {
			if inside(q.rings, at.plus(way.times(outlineTrue))) {
				return true
			}
		}
	}
	return false
}

// checkTabs measures every tab along its length on the panel's solid.
func (m *made) checkTabs(number int, d *drawing, p *prober, g *ground, parts []*laidPart, f *faults) {
	drawn := map[*laidPart]int{}
	for _, r := range d.lines["TABS"] {
		if len(r) != 4 {
			f.add("drawings", "panel %d: a tab of %d corners", number, len(r))
			continue
		}
		root, far := r[0].plus(r[3]).times(0.5), r[1].plus(r[2]).times(0.5)
		of := partAt(parts, root.minus(far.minus(root).times(0.7/far.minus(root).long())))
		if of == nil {
			f.add("drawings", "panel %d: a tab at %.1f, %.1f mm stands on no part", number, root.x, root.y)
			continue
		}
		drawn[of]++
		got, at := section(p, root, far, r[0].minus(r[3]).long())
		whole := (r[0].minus(r[3]).long() - 2*columns) * min(m.tab.thickness, m.report.Settings.LayerMm)
		if of.worst = min(of.worst, got/whole); got < fullSection*whole {
			if of.held && got < cutThrough*whole { // what is told to be held badly may be
				f.add("tab's section", "panel %d, part %s, which is told to be held: a tab at %.1f, %.1f mm keeps %.1f of %.1f mm²", number, of.name, at.x, at.y, got, whole)
			}
			continue
		}
		if g.framed(far.plus(far.minus(root).times(2/far.minus(root).long())), 2*isleCell) {
			of.good++
		} else if of.held {
			f.add("tab on an isle", "panel %d, part %s, which is told to be held: its tab at %.1f, %.1f mm doesn't reach the frame", number, of.name, far.x, far.y)
		}
	}
	for _, of := range parts {
		if of.held && of.good < 2 {
			f.add("held badly", "panel %d, part %s is told to be held, by %d good tabs of %d, the weakest of which has %.2f of its section", number, of.name, of.good, of.tabs, of.worst)
		}
		if drawn[of] != of.tabs {
			f.add("drawings", "panel %d, part %s: %d tabs are drawn, %d listed", number, of.name, drawn[of], of.tabs)
		}
	}
}

// partAt is the part that a place lies on: the one with the smallest outline round it.
func partAt(parts []*laidPart, at place) (of *laidPart) {
	least := math.Inf(1)
	for _, q := range parts {
		low, high := bounds(slices.Concat(q.rings...))
		if size := (high.x - low.x) * (high.y - low.y); size < least && inside(q.rings, at) {
			of, least = q, size
		}
	}
	return of
}

// section is the least that a tab keeps across its length, mm², as wood that goes on from one line across to the next, and where.
func section(p *prober, root, far place, width float64) (least float64, at place) {
	const step = 0.25
	way := far.minus(root).times(1 / far.minus(root).long())
	across := place{-way.y, way.x}
	n := max(1, int(math.Round(width/step)))
	line := func(l float64) [][]span {
		out := make([][]span, n)
		for k := range out {
			q := root.plus(way.times(l)).plus(across.times(((float64(k)+0.5)/float64(n) - 0.5) * width))
			out[k] = p.wood(q.x, q.y)
		}
		return out
	}
	least, at = math.Inf(1), root
	before := line(0)
	for l := step; l <= far.minus(root).long()+0.5; l += step {
		now := line(l)
		sum := 0.0
		for k := range now {
			sum += shared(before[k], now[k]) * width / float64(n)
		}
		if sum < least {
			least, at = sum, root.plus(way.times(l))
		}
		before = now
	}
	return least, at
}
