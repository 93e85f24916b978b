package proof

import (
	"math"

	"grainstack/slicing/geom"
	"grainstack/slicing/rs274"
)

// place is where a column lies, with a height of counts above the bed.
func (p *prover) place(n int, z int32) geom.Vec {
	w := p.want
	return geom.Vec{X: float64(n%w.W) * w.StepX, Y: float64(n/w.W) * w.StepY, Z: float64(z)*unit - w.Blank.Board}
}

// seen is a place of the tip as it is told.
func (p *prover) seen(at geom.Vec) geom.Vec {
	at.Z -= p.want.Blank.Board
	return at
}

// touches is what a cutting move does to a column.
func (p *prover) touches() func(n int, z int32) {
	b := p.board
	return func(n int, z int32) {
		t := int32(b.top[n])
		if z >= t {
			return
		}
		floor := int32(b.floor[n])
		if t > floor {
			p.suspect = p.suspect || z < int32(b.keep[n])
			bite := t - max(z, floor)
			if bite > p.bite {
				p.bitten[n] = t
				return
			}
			p.figure.RemovedCm3 += float64(bite) * unit * p.want.StepX * p.want.StepY / 1000
			p.figure.Deepest = max(p.figure.Deepest, float64(bite)*unit)
		}
		b.top[n] = int16(max(z, -32000))
	}
}

// bites looks at columns of which a move takes more at once than it may, and cuts them then. What only its rim grazes doesn't
// count: between two rows slivers stay beside every wall.
func (p *prover) bites(from, to geom.Vec, how stretch, touches func(n int, z int32)) {
	most, b := p.bite, p.board
	s := p.slimmer(graze)
	s.along(from, to)
	deepestBite := int32(0)
	s.visit(stretch{whole: true, beyond: 2 * s.radius}, func(n int, z int32) {
		if t, deep := p.bitten[n]; deep {
			if bite := t - max(z, int32(b.floor[n])); bite > most {
				deepestBite = max(deepestBite, bite)
				p.tell(Fault{What: TooDeep, At: p.place(n, z), Size: float64(bite) * unit, Bound: float64(most) * unit})
				p.figure.Deepest = max(p.figure.Deepest, float64(bite)*unit)
			}
		}
	})
	if deepestBite > 0 {
		p.out.Bites = append(p.out.Bites, Bite{len(p.out.Figures) - 1, p.number, p.line, float64(deepestBite) * unit})
	}
	clear(p.bitten)
	p.bite = 1 << 30
	deepest := p.figure.Deepest
	p.sweep.along(from, to)
	p.sweep.visit(how, touches)
	p.bite, p.figure.Deepest = most, deepest
}

// slimmer is the cutter's sweep with a cutter that is so much slimmer on either side, its tip where it was.
func (p *prover) slimmer(mm float64) sweep {
	c := p.now.Cutter
	c.Diameter = max(c.Diameter-2*mm, c.Diameter/2)
	return newSweep(c, p.want)
}

// graze is how far the cutter's rim may go into wood aside in a rapid, or deeper than it may take at once, mm. Where rows end at a
// wall slivers about as wide stay between them.
const graze = 0.3

// spoils looks whether a move cuts into what stays, deeper than it may. How deep is a matter of the wall's way: beside an upright
// one a hair aside is millimetres down. So it is asked of a cutter that is smaller all round.
func (p *prover) spoils(from, to geom.Vec) {
	deep, at, ok := p.worstCut(from, to, p.limits.Gouge)
	if !ok {
		return
	}
	low, high := p.limits.Gouge, p.sweep.radius
	if p.measured++; p.measured > mostMeasured {
		high = low
	}
	for high-low > 0.01 {
		mid := (low + high) / 2
		if n, z, still := p.worstCut(from, to, mid); still {
			low, deep, at = mid, n, z
		} else {
			high = mid
		}
	}
	b := p.board
	f := Fault{At: p.place(deep, at), Bound: p.limits.Gouge, Size: low, Part: int(b.whose[deep])}
	switch b.kind[deep] {
	case Part, Pin:
		f.What = IntoPart
	case Tab:
		f.What = IntoTab
	case dowel:
		f.What = IntoDowel
	default:
		f.What = IntoFrame
	}
	if f.What == IntoPart || f.What == IntoTab {
		p.figure.IntoPart = max(p.figure.IntoPart, f.Size)
	}
	p.tell(f)
}

// mostMeasured is how many such moves of a file are measured; of the others it is only known that they cut too deep.
const mostMeasured = 100

// worstCut is the column that a move cuts deepest below where it may, with a cutter that is smaller by so much all round.
func (p *prover) worstCut(from, to geom.Vec, smaller float64) (n int, z int32, ok bool) {
	c := p.now.Cutter
	c.Diameter -= 2 * smaller
	c.CornerRadius = max(c.CornerRadius-smaller, 0)
	if !(c.Diameter > 0) {
		return 0, 0, false
	}
	s := newSweep(c, p.want)
	lift := geom.Vec{Z: smaller}
	s.along(from.Add(lift), to.Add(lift))
	b := p.board
	worst := int32(1)
	s.visit(stretch{whole: true, beyond: 2 * s.radius}, func(k int, height int32) {
		keep := int32(b.keep[k])
		if b.keep[k] == anyDepth {
			return
		}
		if deep := keep - height; deep > worst {
			n, z, worst, ok = k, height, deep, true
		}
	})
	return n, z, ok
}

// crosses is what a rapid finds in a column.
func (p *prover) crosses(n int, z int32) {
	b := p.board
	if t := int32(b.top[n]); t-z > rapidFit && t > int32(b.floor[n]) {
		p.tell(Fault{What: RapidCut, At: p.place(n, z), Size: float64(t-z) * unit})
	}
}

// rapidFit is how much a rapid may go below the wood's counts: what rounding makes of a cutter that is lifted out of its own
// groove.
const rapidFit = 2

// look checks a move by itself: against the bed, clamps, feeds, and the way that rapids go.
func (p *prover) look(m *rs274.Move, from, to geom.Vec) {
	down, aside := from.Z-to.Z, math.Hypot(to.X-from.X, to.Y-from.Y)
	if below := -min(from.Z, to.Z); below > p.bed(to)+fit {
		p.tell(Fault{What: IntoBed, At: p.seen(to), Size: below, Bound: p.bed(to)})
	}
	if m.Feed == 0 {
		if math.Abs(down) > fit && aside > fit {
			p.tell(Fault{What: RapidSlant, At: p.seen(to), Size: aside})
		}
	} else {
		p.feeds(m, down, aside, to)
	}
	if low := min(from.Z, to.Z); low < p.want.Blank.Board {
		p.nut(from, to)
	}
	p.clamps(from, to)
}

// fit is what rounding to the file's decimals may come to, mm.
const fit = 0.002

// bed is how deep the tip may go below the board at a place: into the holes of the dowels while they are drilled.
func (p *prover) bed(at geom.Vec) float64 {
	if p.registers {
		for _, d := range p.want.dowels(p.board.side) {
			if math.Hypot(at.X-d.X, at.Y-d.Y) <= p.want.Dowels[0].Diameter {
				return p.want.DowelDepth + p.limits.Bed
			}
		}
	}
	return p.limits.Bed
}

// feeds checks the speed of a cutting move.
func (p *prover) feeds(m *rs274.Move, down, aside float64, to geom.Vec) {
	c := p.now.Cutter
	if m.Feed > c.FeedMmMin+1 {
		p.tell(Fault{What: TooFast, At: p.seen(to), Size: m.Feed, Bound: c.FeedMmMin})
	}
	if d := math.Hypot(down, aside); down > fit {
		if speed := m.Feed * down / d; speed > c.PlungeMmMin*plungeFit+1 {
			p.tell(Fault{What: TooSteep, At: p.seen(to), Size: speed, Bound: c.PlungeMmMin})
		}
	}
	if !m.Turning && p.machine.Spindle && min(to.Z, to.Z+down) < p.want.Blank.Board {
		p.tell(Fault{What: StillCut, At: p.seen(to)})
	}
}

// plungeFit is how much faster than its plunge a short move may come down: its ends are rounded to the file's decimals.
const plungeFit = 1.05

// nut looks for wood in the way of the shank and the collet nut.
func (p *prover) nut(from, to geom.Vec) {
	c := p.now.Cutter
	for _, body := range [2]struct{ diameter, above float64 }{{c.Shank, c.CutLength}, {p.limits.Nut, c.Reach}} {
		if !(body.above > 0) || body.diameter <= c.Diameter || min(from.Z, to.Z)+body.above >= p.want.Blank.Board {
			continue
		}
		s := p.body(body.diameter)
		lift := geom.Vec{Z: body.above}
		s.along(from.Add(lift), to.Add(lift))
		b := p.board
		s.visit(stretch{whole: true, beyond: 2 * s.radius}, func(n int, z int32) {
			if t := int32(b.top[n]); t-z > rapidFit && t > int32(b.floor[n]) {
				p.tell(Fault{What: NutRubs, At: p.place(n, z), Size: float64(t-z) * unit})
			}
		})
	}
}

// body is the sweep of an upright cylinder.
func (p *prover) body(diameter float64) sweep {
	s := p.sweep
	s.cutter.Shape, s.radius, s.tip, s.level, s.closed = 0, diameter/2, 0, diameter/2, true
	s.edge = s.cutter.Edge()
	return s
}

// clamps looks for clamps in the way of the cutter and of the collet nut.
func (p *prover) clamps(from, to geom.Vec) {
	c := p.now.Cutter
	for _, k := range p.limits.Clamps {
		if k.Side != p.board.side {
			continue
		}
		bodies := []struct {
			name          string
			radius, above float64
		}{{"", max(c.Diameter, c.Shank) / 2, 0}, {nutName, p.limits.Nut / 2, c.Reach}}
		if !(p.limits.Nut > 0 && c.Reach > 0) {
			bodies = bodies[:1]
		}
		for _, body := range bodies {
			top := p.want.Blank.Board + k.Height
			a, b, ok := below(from, to, top-body.above)
			if !ok {
				continue
			}
			if max(a.X, b.X) < k.Min.X-body.radius || min(a.X, b.X) > k.Max.X+body.radius || max(a.Y, b.Y) < k.Min.Y-body.radius || min(a.Y, b.Y) > k.Max.Y+body.radius {
				continue
			}
			if d := apart(a, b, k.Box2); d < body.radius-fit {
				p.tell(Fault{What: IntoClamp, At: p.seen(b), Size: body.radius - d, Text: body.name})
			}
		}
	}
}

// nutName stands in a fault that the collet nut makes.
const nutName = "nut"

// below is the part of a move that lies below a height.
func below(from, to geom.Vec, z float64) (a, b geom.Vec, ok bool) {
	if from.Z >= z && to.Z >= z {
		return a, b, false
	}
	cut := func(low, high geom.Vec) geom.Vec {
		t := (z - low.Z) / (high.Z - low.Z)
		return low.Add(high.Sub(low).Scale(t))
	}
	if from.Z > z {
		from = cut(to, from)
	}
	if to.Z > z {
		to = cut(from, to)
	}
	return from, to, true
}

// apart is how far a move stays from a rectangle, seen from above; 0 where it goes over it.
func apart(a, b geom.Vec, r geom.Box2) float64 {
	// the distance to a convex shape is convex along a straight line
	at := func(t float64) float64 {
		x, y := a.X+t*(b.X-a.X), a.Y+t*(b.Y-a.Y)
		return math.Hypot(max(r.Min.X-x, 0, x-r.Max.X), max(r.Min.Y-y, 0, y-r.Max.Y))
	}
	low, high := 0.0, 1.0
	for range 60 {
		m, n := low+(high-low)/3, high-(high-low)/3
		if at(m) <= at(n) {
			high = n
		} else {
			low = m
		}
	}
	return min(at(0), at(1), at((low+high)/2))
}

// travel checks what a program needs against what the machine has.
func (p *prover) travel(box geom.Box) {
	if box.Empty() {
		return
	}
	p.figure.Travel = box.Size()
	for _, axis := range []struct {
		name       string
		needs, has float64
	}{{"X", box.Size().X, p.machine.Travel.X}, {"Y", box.Size().Y, p.machine.Travel.Y}, {"Z", box.Size().Z, p.machine.Travel.Z}} {
		if axis.has > 0 && axis.needs > axis.has+fit {
			p.tell(Fault{What: Beyond, Text: axis.name, Size: axis.needs, Bound: axis.has, At: p.seen(box.Max)})
		}
	}
}

// holes checks that the register dowels' holes are through, and lets the dowels stand in them.
func (p *prover) holes() {
	b := p.board
	missing := map[int]bool{}
	for i, d := range p.want.Dowels {
		at := p.want.onSide(d.At, b.side)
		b.disc(at.X, at.Y, d.Diameter/2-p.want.StepX, func(n int, _ float64) {
			if b.top[n] > 0 && b.top[n] > b.floor[n] && !missing[i] {
				missing[i] = true
				p.tell(Fault{What: NoHole, At: p.place(n, int32(b.top[n])), Size: float64(b.top[n]) * unit})
			}
		})
	}
	b.stand()
}
