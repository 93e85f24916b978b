package hours

import (
	"math"

	"grainstack/slicing/carve"
	"grainstack/slicing/geom"
	"grainstack/slicing/plane"
	"grainstack/slicing/stock"
)

// A Ground is one side of one layer as the router finds it: how low the tips of both cutters may go, and where. Heights are
// mm above the panel's far face (after the skim), the cutter comes from above. Place i, j of its raster lies at Origin plus
// i, j steps.
type Ground struct {
	Origin    geom.Vec2
	Step      float64
	W, H      int
	Thickness float64   // of the skimmed panel: height of its near face
	Skim      float64   // still on the near face when the work begins
	Rough     []float32 // height of the rough cutter's tip, with the wood that it leaves
	Finish    []float32 // height of the finish cutter's tip
	AlongY    bool      // rows run along Y of the stand, else along X

	mayRough, mayFinish plane.Mask // within the carve boundary
	slot                plane.Mask // where the rough cutter's axis may go in a straight core
	exact               [2]func(x, y, least float64) float64
	traced              []*Ground // the areas of the pass that was traced last
	other               *Ground   // the same wood's other side where that is roughed before, else nil
	standing            *standing // what the rough pass that was last traced left
}

// A Seat is how a layer lies in its panel.
type Seat struct {
	Skim   float64     // carved off each face
	Turned bool        // the grain of its faces runs along Y of the stand, not along X
	Pocket geom.Region // outline of a straight core, which is sawn out from the upper side, or nothing
	Tabs   []Tab       // on the stand; none where the cutters' tips have them already

	// Exact are the heights of the rough and the finish cutter's tip at any place, above what they leave, mm above the far face, or
	// least where that is higher. Paths are then true enough for a machine to follow; nil where the columns' heights will do.
	Exact [2]func(x, y, least float64) float64
}

// NewGround lays out one side of a layer with wood in it; ok is false for a layer without, and for a setup that Check refuses or
// whose margin is out of all proportion to the raster. The carve boundary lies the
// setup's margin round the part, and a cutter's axis keeps its own radius inside. rough and finish are what the two cutters
// do to this side, the rough one with the wood that the setup leaves.
//
// Beside the wood a side is carved as deep as any edge within the carve boundary's reach asks for: to where the two sides
// meet, and where neither shows the whole edge (an upright wall) they share it. The finish cutter goes its rounding deeper so
// that its round end leaves no ring, but not through the panel.
func NewGround(l *carve.LayerColumns, side carve.Side, rough, finish *carve.Cut, seat Seat, s Setup) (g *Ground, ok bool) {
	if side > carve.Down || l.Top.Z == nil || rough.Tip.Z == nil || finish.Tip.Z == nil || s.Check() != nil {
		return nil, false
	}
	seen, step := l.Seen(side), l.Top.Step
	reach := max(s.boundaryOf(s.Rough.Diameter), s.boundaryOf(s.Finish.Diameter))
	if !(reach/step < mostReach) {
		return nil, false
	}
	pad := int(math.Ceil(reach/step)) + 4
	g = &Ground{
		Origin: seen.Place(-pad, -pad), Step: step, W: seen.W + 2*pad, H: seen.H + 2*pad,
		Thickness: l.PanelTop - l.PanelBottom, Skim: seat.Skim,
	}
	wood := g.wood(&seen, pad)
	inside := 0.0 // steps that an axis keeps inside the boundary
	if seat.Exact[0] != nil {
		inside = 1 // lines along it run between places, and the part may begin before its first column
	}
	scratch := g.mayRough.Dilate(wood, s.boundaryOf(s.Rough.Diameter)/step-inside, nil)
	scratch = g.mayFinish.Dilate(wood, s.boundaryOf(s.Finish.Diameter)/step-inside, scratch)
	far := l.Seen(1 - side)
	floors := g.floors(wood, &seen, &far, pad, reach+2*step, s.Finish.TipRadius())
	g.Rough = g.tips(&rough.Tip, floors, float32(s.Leave))
	g.Finish = g.tips(&finish.Tip, floors, 0)
	g.bridge(seat.Tabs, side, &s)
	if len(seat.Pocket) > 0 {
		var hole plane.Mask
		hole.Reset(g.W, g.H)
		hole.Fill(seat.Pocket, g.Origin, step)
		g.mayRough.Remove(&hole)
		g.mayFinish.Remove(&hole)
		if side == carve.Up {
			reach := s.Rough.Diameter / 2 / step
			if seat.Exact[0] != nil {
				reach++ // the wall may lie anywhere before the first column beyond it
			}
			g.slot = slot(&hole, reach)
		}
	}
	if seat.Exact[0] != nil {
		g.keepExact(seat.Exact, floors, &s)
	}
	if seat.Turned != s.AcrossGrain {
		g.transpose()
	}
	return g, true
}

// keepExact has both tips' exact heights, above the floors too. They are only asked for where they may be higher than the least: a
// tip between columns stands no higher than on one of the sixteen round them, since what holds it up lies nearer to one of those, but
// where that lies between the same four: then as much higher as the cutter rises towards half their diagonal.
func (g *Ground) keepExact(tips [2]func(x, y, least float64) float64, floors []float32, s *Setup) {
	w, h, origin := g.W, g.H, g.Origin
	for pass, tip := range tips {
		rest := []float64{s.Leave, 0}[pass]
		c := [2]stock.Cutter{s.Rough, s.Finish}[pass]
		rise, _ := c.Profile(min(g.Step/math.Sqrt2, c.Diameter/2))
		ceiling := highestRound([][]float32{g.Rough, g.Finish}[pass], w, h)
		g.exact[pass] = func(x, y, least float64) float64 {
			i := min(max(int((x-origin.X)/g.Step), 0), w-2)
			j := min(max(int((y-origin.Y)/g.Step), 0), h-2)
			if float64(ceiling[j*w+i])+rise <= least {
				return least
			}
			low := max(floors[j*w+i], floors[j*w+i+1], floors[(j+1)*w+i], floors[(j+1)*w+i+1])
			return tip(x, y, max(least, float64(low)+rest))
		}
	}
}

// highestRound is for each square between four places of a raster, told by its first one, the highest figure of them and of the
// twelve round them.
func highestRound(z []float32, w, h int) []float32 {
	along, out := make([]float32, w*h), make([]float32, w*h)
	for j := range h {
		row, to := z[j*w:][:w], along[j*w:][:w]
		for i := range row {
			to[i] = max(row[max(i-1, 0)], row[i], row[min(i+1, w-1)], row[min(i+2, w-1)])
		}
	}
	for j := range h {
		a, b, c, d := along[max(j-1, 0)*w:][:w], along[j*w:][:w], along[min(j+1, h-1)*w:][:w], along[min(j+2, h-1)*w:][:w]
		to := out[j*w:][:w]
		for i := range to {
			to[i] = max(a[i], b[i], c[i], d[i])
		}
	}
	return out
}

// mostReach is how many steps a carve boundary may lie from the wood: far more than any cutter is wide.
const mostReach = 1 << 11

// slot is where a cutter's axis may go in a hole, which keeps a radius, in steps, from its wall.
func slot(hole *plane.Mask, radius float64) plane.Mask {
	var wall, kept, free plane.Mask
	wall.Complement(hole)
	kept.Dilate(&wall, radius, nil)
	free.Difference(hole, &kept)
	return free
}

// boundaryOf is how far from the part the axis of a cutter may go.
func (s Setup) boundaryOf(diameter float64) float64 { return s.Margin() - diameter/2 }

// wood is where a side has wood.
func (g *Ground) wood(seen *carve.HeightMap, pad int) *plane.Mask {
	var wood plane.Mask
	wood.Reset(g.W, g.H)
	for j := range seen.H {
		for i, z := range seen.Z[j*seen.W:][:seen.W] {
			if z != carve.NoWood {
				wood.Set(i+pad, j+pad)
			}
		}
	}
	return &wood
}

// floors are how low the tip may go beside the wood, as the edges within reach ask for. seen and far are the wood as this and
// the other side see it. Over wood it is 0: nothing.
func (g *Ground) floors(wood *plane.Mask, seen, far *carve.HeightMap, pad int, reach, rounding float64) []float32 {
	here, there := g.edges(wood, seen, pad, reach), g.edges(wood, far, pad, reach)
	for j := range g.H {
		row, in := here[j*g.W:][:g.W], wood.Row(j)
		for i, z := range row {
			switch {
			case in[i>>6]>>(i&63)&1 == 1:
				row[i] = 0
			case z < endless:
				row[i] = float32(g.floor(float64(z), float64(there[j*g.W+i]), rounding))
			default:
				row[i] = float32(g.Thickness)
			}
		}
	}
	return here
}

// endless is the height of an edge where none is within reach.
const endless = math.MaxFloat32

// edges are the lowest heights of the wood's edge within reach of each place.
func (g *Ground) edges(wood *plane.Mask, m *carve.HeightMap, pad int, reach float64) []float32 {
	out := make([]float32, g.W*g.H)
	for i := range out {
		out[i] = endless
	}
	r := int(reach / g.Step)
	chords := make([]int, r+1)
	for d := range chords {
		chords[d] = plane.HalfChord(reach/g.Step, d)
	}
	for j := range m.H {
		for i := range m.W {
			x, y := i+pad, j+pad
			if !wood.Has(x, y) || wood.Has(x-1, y) && wood.Has(x+1, y) && wood.Has(x, y-1) && wood.Has(x, y+1) {
				continue
			}
			z := m.At(i, j)
			for d := -r; d <= r; d++ {
				n := chords[max(d, -d)]
				row := out[(y+d)*g.W+x-n:][:2*n+1]
				for k, f := range row {
					row[k] = min(f, z)
				}
			}
		}
	}
	return out
}

// vague is the share of the thickness below which a depth says little: the last column of wood lies up to a step inside the
// edge.
const vague = 0.05

// floor is the height above the far face to which a side is carved beside an edge whose wood lies so high above each side's
// far face. What neither shows is left to the side that shows more.
func (g *Ground) floor(here, there, rounding float64) float64 {
	a, b := g.Thickness-here, g.Thickness-there
	rest := max(g.Thickness-a-b, 0)
	a2, b2 := a+vague*g.Thickness, b+vague*g.Thickness
	deep := a + rest*a2*a2/(a2*a2+b2*b2)
	return max(g.Thickness-deep-rounding, 0)
}

// tips brings a tip's map onto the raster, above the floors and what is left on them.
func (g *Ground) tips(m *carve.HeightMap, floors []float32, leave float32) []float32 {
	out := make([]float32, g.W*g.H)
	for i, f := range floors {
		out[i] = f + leave
	}
	di := int(math.Round((m.Origin.X - g.Origin.X) / g.Step))
	dj := int(math.Round((m.Origin.Y - g.Origin.Y) / g.Step))
	for j := max(-dj, 0); j < min(m.H, g.H-dj); j++ {
		row := out[(j+dj)*g.W:][:g.W]
		for i := max(-di, 0); i < min(m.W, g.W-di); i++ {
			row[i+di] = max(row[i+di], m.Z[j*m.W+i])
		}
	}
	return out
}

// transpose swaps X and Y, so that rows along Y become rows of the raster.
func (g *Ground) transpose() {
	g.AlongY = true
	g.Rough, g.Finish = transposed(g.Rough, g.W, g.H), transposed(g.Finish, g.W, g.H)
	g.mayRough, g.mayFinish = g.mayRough.Transposed(), g.mayFinish.Transposed()
	if g.slot.W > 0 {
		g.slot = g.slot.Transposed()
	}
	g.Origin = geom.Vec2{X: g.Origin.Y, Y: g.Origin.X}
	g.W, g.H = g.H, g.W
}

func transposed(z []float32, w, h int) []float32 {
	out := make([]float32, len(z))
	const block = 32
	for j0 := 0; j0 < h; j0 += block {
		for i0 := 0; i0 < w; i0 += block {
			for i := i0; i < min(i0+block, w); i++ {
				for j := j0; j < min(j0+block, h); j++ {
					out[i*h+j] = z[j*w+i]
				}
			}
		}
	}
	return out
}
