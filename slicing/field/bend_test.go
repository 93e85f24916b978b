package field

import (
	"context"
	"math"
	"testing"

	"grainstack/slicing/geom"
	"grainstack/slicing/sample"
	"grainstack/slicing/solidtest"
)

// counted is the core of the grid's depths as they are read between nodes, by counting places.
func counted(g *Grid, wall float64) float64 {
	const sub = 3
	sum := 0.0
	for k := range g.nz - 1 {
		for j := range g.ny - 1 {
			for i := range g.nx - 1 {
				lo, hi := g.corners(i, j, k)
				if lo >= wall {
					sum += sub * sub * sub
				} else if hi > wall {
					sum += g.countCell(i, j, k, sub, wall)
				}
			}
		}
	}
	return sum * g.step * g.step * g.step / (sub * sub * sub)
}

// corners are the least and the greatest depth at the corners of a cell.
func (g *Grid) corners(i, j, k int) (lo, hi float64) {
	lo, hi = 1e9, -1e9
	for c := range 8 {
		d := float64(g.depth[((k+c>>2)*g.ny+j+c>>1&1)*g.nx+i+c&1])
		lo, hi = min(lo, d), max(hi, d)
	}
	return lo, hi
}

func (g *Grid) countCell(i, j, k, sub int, wall float64) (in float64) {
	s := 1 / float64(sub)
	for n := range sub * sub * sub {
		x, y, z := float64(n%sub)+0.5, float64(n/sub%sub)+0.5, float64(n/sub/sub)+0.5
		d := g.within(float64(i)+x*s, float64(j)+y*s, float64(k)+z*s)
		in += min(max((d-wall)/(g.step*s)+0.5, 0), 1)
	}
	return in
}

// TestCoreAgainstFinerGrids: counts of the plain readings of two grids miss the true core by the square of their steps, so
// that both together tell it (Richardson's extrapolation). The table and the sharpened grid of the finer one agree with that
// within 0.01 % of the piece, and with each other, on a piece in two stands.
func TestCoreAgainstFinerGrids(t *testing.T) {
	m := sample.Hare(60_000)
	piece := m.Volume()
	const few, many = 140, 200
	coarse, fineGrid := build(t, m, few), build(t, m, many)
	sharp, err := fineGrid.Sharpened(context.Background(), 1./12)
	if err != nil {
		t.Fatal(err)
	}
	for _, wall := range []float64{14, 30} {
		a, b := counted(coarse, wall), counted(fineGrid, wall)
		truth := b + (b-a)*few*few/(many*many-few*few)
		if off := truth - b; off < 1e-4*piece {
			t.Errorf("the plain reading is off by %.0f mm³ only: this check says nothing", off)
		}
		near(t, "sharpened grid", counted(sharp, wall), truth, 1e-4*piece)
		for _, turn := range []geom.Turn{geom.NoTurn(), geom.TurnXYZ(70, 20, 0)} {
			pl, h := stood(fineGrid, turn, 1)
			v := table(t, fineGrid, pl, h).CoreVolume(0, h, wall)
			near(t, "table", v, truth, 1e-4*piece)
			t.Logf("wall %v: table off by %.5f %%, sharpened grid by %.5f %%, plain grid by %.5f %% of the piece",
				wall, 100*(v-truth)/piece, 100*(counted(sharp, wall)-truth)/piece, 100*(b-truth)/piece)
		}
	}
}

// TestBallTighter: cores of a ball against the closed formula at 200 cells, in whole and in slabs that end a step from the
// core's own ends, where height and depth run together.
func TestBallTighter(t *testing.T) {
	const r = 80.0
	m := solidtest.Sphere(r, 400_000)
	g := build(t, m, 200)
	pl, h := stood(g, geom.TurnXYZ(10, 20, 30), 1)
	tb := table(t, g, pl, h)
	for _, wall := range []float64{8, 20, 40} {
		core := r - wall
		near(t, "core", tb.CoreVolume(0, h, wall), 4*math.Pi/3*core*core*core, 5e-5*4*math.Pi/3*r*r*r)
		for _, high := range []float64{1, 4, 16} { // a cap: πh²(3r-h)/3 (handbook)
			near(t, "cap", tb.CoreVolume(h/2+core-high, h, wall), math.Pi*high*high*(3*core-high)/3, 1e-4*4*math.Pi/3*r*r*r)
		}
	}
}
