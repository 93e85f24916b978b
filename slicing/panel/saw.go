package panel

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"grainstack/slicing/geom"
	"grainstack/slicing/unit"
)

// A Sheet is a board as it is bought: X along the grain of its faces.
type Sheet struct {
	X, Y  float64
	Trim  float64 // taken off each of the four edges first, saw cut included; 0 for clean factory edges
	Kerf  float64 // width of the saw cut
	Price float64 // of one board, in the maker's money
}

// A Cut is one pass of the saw, along the middle of its kerf.
type Cut struct{ From, To geom.Vec2 }

// A SawnBoard is one board with what is sawn from it. All cuts run from edge to edge of the piece that is being cut.
type SawnBoard struct {
	Number  int
	Panels  []geom.Box2
	Cuts    []Cut       // in order
	Offcuts []geom.Box2 // what is left, the largest first, trimmings not counted
}

// A SawPlan is how panels are sawn from boards.
type SawPlan struct {
	Boards   []SawnBoard
	PerBoard int     // panels that a whole board gives
	Cost     float64 // of all boards
	Waste    float64 // area of kerf, trimmings and offcuts of all boards
}

// mostPanels bounds a saw plan.
const mostPanels = 10000

// Saw plans the boards for so many panels of x along the grain and y across. Panels are never turned, since their grain has
// to run with the board's. A board gives strips right across it and each strip gives panels; on a board that is not used
// up the strips run the way that leaves the larger offcut.
func Saw(panels int, x, y float64, s Sheet) (SawPlan, error) {
	if err := checkSaw(panels, x, y, s); err != nil {
		return SawPlan{}, err
	}
	nx, ny := across(s.X-2*s.Trim, x, s.Kerf), across(s.Y-2*s.Trim, y, s.Kerf)
	plan := SawPlan{PerBoard: nx * ny}
	if plan.PerBoard == 0 {
		return plan, unit.Errorf("a board of %s gives no panel of %s", unit.Sides{X: s.X, Y: s.Y}, unit.Sides{X: x, Y: y})
	}
	for left := panels; left > 0; left -= plan.PerBoard {
		b := sawBoard(min(left, plan.PerBoard), x, y, s, nx, ny)
		b.Number = len(plan.Boards) + 1
		plan.Boards = append(plan.Boards, b)
	}
	plan.Cost = s.Price * float64(len(plan.Boards))
	plan.Waste = (float64(len(plan.Boards))*s.X*s.Y - float64(panels)*x*y)
	return plan, nil
}

func checkSaw(panels int, x, y float64, s Sheet) error {
	for _, f := range []struct {
		what               string
		value, least, most float64
	}{
		{"number of panels", float64(panels), 0, mostPanels}, {"panel's length", x, 10, largestPanel}, {"panel's width", y, 10, largestPanel},
		{"board's length", s.X, 1, largestPanel}, {"board's width", s.Y, 1, largestPanel}, {"trim", s.Trim, 0, 1000},
		{"saw cut", s.Kerf, 0, 100}, {"price", s.Price, 0, math.MaxFloat64},
	} {
		if !(f.value >= f.least && f.value <= f.most) {
			return fmt.Errorf("panel: the %s is %g: give %g to %g", f.what, f.value, f.least, f.most)
		}
	}
	return nil
}

// across is how many lengths come out of a whole with a cut between each two.
func across(whole, length, kerf float64) int {
	return max(0, int(math.Floor((whole+kerf+exact)/(length+kerf))))
}

// sawBoard takes n panels from one board, strips along or across, whichever leaves the larger offcut.
func sawBoard(n int, x, y float64, s Sheet, nx, ny int) SawnBoard {
	along := strips(n, x, y, s, nx)
	turned := strips(n, y, x, Sheet{X: s.Y, Y: s.X, Trim: s.Trim, Kerf: s.Kerf}, ny)
	for i, b := range turned.Panels {
		turned.Panels[i] = flip(b)
	}
	for i, b := range turned.Offcuts {
		turned.Offcuts[i] = flip(b)
	}
	for i, c := range turned.Cuts {
		turned.Cuts[i] = Cut{swapXY(c.From), swapXY(c.To)}
	}
	if largest(turned) > largest(along)+exact {
		return turned
	}
	return along
}

func swapXY(v geom.Vec2) geom.Vec2 { return geom.Vec2{X: v.Y, Y: v.X} }
func flip(b geom.Box2) geom.Box2   { return geom.Box2{Min: swapXY(b.Min), Max: swapXY(b.Max)} }
func areaOf(b geom.Box2) float64   { s := b.Size(); return s.X * s.Y }
func largest(b SawnBoard) (a float64) {
	for _, o := range b.Offcuts {
		a = math.Max(a, areaOf(o))
	}
	return a
}

// strips saws strips of the panel's width along X and takes nx panels from each.
func strips(n int, x, y float64, s Sheet, nx int) SawnBoard {
	var b SawnBoard
	whole := geom.Box2{Min: geom.Vec2{X: s.Trim, Y: s.Trim}, Max: geom.Vec2{X: s.X - s.Trim, Y: s.Y - s.Trim}}
	b.trim(s)
	rest := whole
	for n > 0 {
		strip := rest
		strip.Max.Y = rest.Min.Y + y
		if strip.Max.Y < rest.Max.Y-exact {
			b.cut(geom.Vec2{X: rest.Min.X, Y: strip.Max.Y + s.Kerf/2}, geom.Vec2{X: rest.Max.X, Y: strip.Max.Y + s.Kerf/2})
		}
		rest.Min.Y = strip.Max.Y + s.Kerf
		for range min(n, nx) {
			p := strip
			p.Max.X = p.Min.X + x
			b.Panels = append(b.Panels, p)
			if p.Max.X < strip.Max.X-exact {
				b.cut(geom.Vec2{X: p.Max.X + s.Kerf/2, Y: p.Min.Y}, geom.Vec2{X: p.Max.X + s.Kerf/2, Y: p.Max.Y})
			}
			strip.Min.X = p.Max.X + s.Kerf
		}
		n -= min(n, nx)
		b.leave(strip)
	}
	b.leave(rest)
	slices.SortStableFunc(b.Offcuts, func(p, q geom.Box2) int { return cmp.Compare(areaOf(q), areaOf(p)) })
	return b
}

// trim cuts the four edges off: the long ones first, right along the board.
func (b *SawnBoard) trim(s Sheet) {
	if s.Trim <= 0 {
		return
	}
	t := s.Trim - s.Kerf/2 // middle of the cut
	for _, y := range []float64{t, s.Y - t} {
		b.cut(geom.Vec2{X: 0, Y: y}, geom.Vec2{X: s.X, Y: y})
	}
	for _, x := range []float64{t, s.X - t} {
		b.cut(geom.Vec2{X: x, Y: s.Trim}, geom.Vec2{X: x, Y: s.Y - s.Trim})
	}
}

func (b *SawnBoard) cut(from, to geom.Vec2) { b.Cuts = append(b.Cuts, Cut{from, to}) }

// leave notes an offcut, unless nothing is left.
func (b *SawnBoard) leave(o geom.Box2) {
	if s := o.Size(); s.X > exact && s.Y > exact {
		b.Offcuts = append(b.Offcuts, o)
	}
}
