package proof

import (
	"fmt"
	"math"
	"slices"
	"sync"

	"grainstack/slicing/geom"
	"grainstack/slicing/panel"
	"grainstack/slicing/program"
	"grainstack/slicing/stock"
)

// The bench of these tests: a lens of wood on a small panel, held by two tabs, and a maker who lays paths by brute force.

var (
	endMill  = stock.Cutter{Key: "end", Name: "End mill 6.35 mm", Shape: stock.Flat, Diameter: 6.35, CutLength: 25, Reach: 38, Shank: 6.35, FeedMmMin: 2200, PlungeMmMin: 800, RPM: 12000, Stepdown: 3, Stepover: 2}
	ballNose = stock.Cutter{Key: "ball", Name: "Ball nose 6.35 mm", Shape: stock.Ball, Diameter: 6.35, CutLength: 25, Reach: 38, Shank: 6.35, FeedMmMin: 3100, PlungeMmMin: 1000, RPM: 10000, Stepdown: 3, Stepover: 0.4}
	drill    = stock.Cutter{Key: "hole", Name: "End mill 4 mm", Shape: stock.Flat, Diameter: 4, CutLength: 20, Reach: 30, Shank: 4, FeedMmMin: 900, PlungeMmMin: 400, RPM: 12000, Stepdown: 2, Stepover: 1.5}
)

const (
	panelX, panelY, boardThick, skim = 100.0, 80.0, 12.0, 1.0
	step                             = 0.4
	midX, midY                       = 48.8, 38.4 // of the part
	margin                           = 8.35
	safe                             = 5.0
)

// lens is how high and how low the part's wood is at a place, mm above the bed.
func lens(x, y float64) (low, high float64, in bool) {
	r := math.Hypot(x-midX, y-midY)
	if r > 18 {
		return 0, 0, false
	}
	bulge := math.Sqrt(1 - r*r/(18*18)*0.9)
	return 6 - 4*bulge, 6 + 4.8*bulge, true
}

func wanted() *Wanted {
	w := &Wanted{Blank: program.Blank{X: panelX, Y: panelY, Board: boardThick}, Skim: skim, DowelDepth: 3,
		Dowels: [2]panel.Dowel{{At: geom.Vec2{X: 8, Y: 40}, Diameter: 6}, {At: geom.Vec2{X: 86, Y: 40}, Diameter: 6}},
		W:      int(panelX/step) + 1, H: int(panelY/step) + 1, StepX: step, StepY: step}
	n := w.W * w.H
	w.Low, w.High, w.Kind, w.Whose = make([]int16, n), make([]int16, n), make([]Kind, n), make([]int16, n)
	for k := range n {
		x, y := float64(k%w.W)*step, float64(k/w.W)*step
		r := math.Hypot(x-midX, y-midY)
		low, high, in := lens(x, y)
		switch {
		case in:
			w.Kind[k], w.Whose[k], w.Low[k], w.High[k] = Part, 1, Counts(low), Counts(high)
		case r > 18+margin:
			w.Kind[k], w.Low[k], w.High[k] = Frame, Counts(skim), Counts(boardThick-skim)
		case math.Abs(x-midX) <= 4.1:
			w.Kind[k], w.Low[k], w.High[k] = Tab, Counts(4.5), Counts(7.5)
		}
	}
	return w
}

func usual() (Limits, program.Machine) {
	l := UsualLimits()
	l.Lattice = step
	l.Clamps = []Clamp{
		{geom.Box2{Min: geom.Vec2{X: 85, Y: 0}, Max: geom.Vec2{X: 100, Y: 12}}, panel.SideA, 15},
		{geom.Box2{Min: geom.Vec2{X: 0, Y: 68}, Max: geom.Vec2{X: 12, Y: 80}}, panel.SideB, 15},
	}
	m := program.Machine{Controller: stock.UsualController()}
	m.Travel = geom.Vec{X: 110, Y: 90, Z: 60}
	return l, m
}

// tips is how low a cutter may go on every column with a side up, mm above the bed: by looking at every column under it.
func tips(w *Wanted, side panel.Face, c stock.Cutter, leave float64) []float64 {
	b := newBoard(w)
	if side == panel.SideB {
		b.turn()
	}
	type spot struct {
		i, j int
		rise float64
	}
	var under []spot
	grown := c.Grown(leave)
	for j := -20; j <= 20; j++ {
		for i := -20; i <= 20; i++ {
			if rise, ok := grown.Profile(math.Hypot(float64(i), float64(j)) * step); ok {
				under = append(under, spot{i, j, rise})
			}
		}
	}
	out := make([]float64, len(b.high))
	for n := range out {
		low := 1.5
		for _, o := range under {
			x, y := n%w.W+o.i, n/w.W+o.j
			if x < 0 || y < 0 || x >= w.W || y >= w.H {
				continue
			}
			switch k := y*w.W + x; b.kind[k] {
			case Part, Tab:
				low = max(low, float64(b.high[k])*unit-o.rise+leave)
			case Free:
			default:
				low = max(low, boardThick+1)
			}
		}
		out[n] = low
	}
	return out
}

// rows are paths in rows over where the tip may go below the board, no lower than a level.
func rows(w *Wanted, tip []float64, c stock.Cutter, level float64) (out []program.Move) {
	every := int(math.Round(c.Stepover / step))
	for j := 0; j < w.H; j += every {
		at := func(i int) geom.Vec {
			return geom.Vec{X: float64(i) * step, Y: float64(j) * step, Z: max(tip[j*w.W+i], level) - boardThick}
		}
		for i := 0; i < w.W; i++ {
			if tip[j*w.W+i] >= boardThick {
				continue
			}
			first := at(i)
			out = append(out, program.Move{To: geom.Vec{X: first.X, Y: first.Y, Z: safe}}, program.Move{To: first, FeedMmMin: c.PlungeMmMin})
			last := first
			for ; i < w.W && tip[j*w.W+i] < boardThick; i++ {
				p := at(i)
				if math.Abs(p.Z-last.Z) > 0.3 { // beside a wall: over it at the greater height
					corner := geom.Vec{X: p.X, Y: p.Y, Z: last.Z}
					if p.Z > last.Z {
						corner = geom.Vec{X: last.X, Y: last.Y, Z: p.Z}
					}
					out = append(out, program.Move{To: corner, FeedMmMin: c.FeedMmMin})
					last = corner
				}
				feed := c.FeedMmMin
				if d := p.Sub(last); d.Z < 0 {
					feed = min(feed, c.PlungeMmMin*d.Len()/-d.Z)
				}
				out = append(out, program.Move{To: p, FeedMmMin: math.Floor(feed)})
				last = p
			}
			out = append(out, program.Move{To: geom.Vec{X: last.X, Y: last.Y, Z: safe}})
		}
	}
	return out
}

// sink is a hole, in turns.
func sink(at geom.Vec2, diameter, depth float64, c stock.Cutter) (out []program.Move) {
	r := diameter/2 - c.Diameter/2
	out = append(out, program.Move{To: geom.Vec{X: at.X + r, Y: at.Y, Z: safe}}, program.Move{To: geom.Vec{X: at.X + r, Y: at.Y, Z: 0.5}, FeedMmMin: 400})
	z := 0.5
	for turn := 0; ; turn++ {
		for k := 1; k <= 24; k++ {
			z = max(z-0.04, -depth)
			sin, cos := math.Sincos(float64(k) * math.Pi / 12)
			out = append(out, program.Move{To: geom.Vec{X: at.X + r*cos, Y: at.Y + r*sin, Z: z}, FeedMmMin: 600})
		}
		if z == -depth && turn > 0 && out[len(out)-25].To.Z == -depth {
			break
		}
	}
	return append(out, program.Move{To: geom.Vec{X: at.X + r, Y: at.Y, Z: safe}})
}

// programs are the programs of the panel in the order of work, to be changed as a test likes.
func programs() []program.Program {
	out := slices.Clone(sound())
	for i := range out {
		out[i].Moves = slices.Clone(out[i].Moves)
	}
	return out
}

var sound = sync.OnceValue(func() (out []program.Program) {
	w := wanted()
	add := func(side panel.Face, s program.Step, c stock.Cutter, moves []program.Move) {
		out = append(out, program.Program{
			Name: fmt.Sprintf("panel-01-%d-%v-%v.nc", len(out)+1, side, s), Panel: 1, Side: side, Step: s, Cutter: c, RPM: c.RPM, Safe: safe,
			Moves: moves, Blank: w.Blank, Dowels: w.dowels(side),
		})
	}
	rough := func(side panel.Face) (moves []program.Move) {
		t := tips(w, side, endMill, 0.4)
		for level := boardThick - 2.5; level > -3; level -= 2.5 {
			moves = append(moves, rows(w, t, endMill, level)...)
		}
		return moves
	}
	finish := func(side panel.Face) []program.Move { return rows(w, tips(w, side, ballNose, 0), ballNose, 0) }
	add(panel.SideA, program.Holes, drill, append(sink(w.Dowels[0].At, 6, boardThick+3, drill), sink(w.Dowels[1].At, 6, boardThick+3, drill)...))
	add(panel.SideA, program.Rough, endMill, rough(panel.SideA))
	add(panel.SideB, program.Rough, endMill, rough(panel.SideB))
	add(panel.SideB, program.Finish, ballNose, finish(panel.SideB))
	add(panel.SideA, program.Finish, ballNose, finish(panel.SideA))
	return out
})
