package hours_test

import (
	"math"
	"testing"

	"grainstack/assets/stocktest"
	"grainstack/slicing/hours"
	"grainstack/slicing/stock"
)

// ellipsoid gives the figures of one layer of a body with half axes a, b, c whose layer lies between z0 and z1, by summing
// over thin rings; core is the same body with its half axes less the wall (0 for solid).
func ellipsoid(a, b, c, z0, z1, skim, wall float64) hours.Layer {
	l := hours.Layer{Thickness: z1 - z0, Skim: skim, Parts: 1}
	outer := slab(a, b, c, z0, z1)
	l.Outline, l.Perimeter, l.Wood = outer.shadow, outer.around, outer.volume
	l.Up = hours.Side{Rows: outer.rowsUp, Section: outer.top}
	l.Down = hours.Side{Rows: outer.rowsDown, Section: outer.bottom}
	if wall > 0 {
		inner := slab(a-wall, b-wall, c-wall, z0, z1)
		l.Core = hours.Core{Volume: inner.volume, Skin: inner.skin, Perimeter: inner.around}
		l.Up.Core, l.Down.Core = inner.top, inner.bottom
	}
	return l
}

type rings struct{ volume, skin, shadow, around, rowsUp, rowsDown, top, bottom float64 }

// slab sums an ellipsoid between two heights from the parametric surface; rows run along x.
func slab(a, b, c, z0, z1 float64) rings {
	var r rings
	z0, z1 = max(z0, -c), min(z1, c)
	if z0 >= z1 {
		return r
	}
	scale2 := func(z float64) float64 { return max(1-z*z/(c*c), 0) }
	r.top, r.bottom = math.Pi*a*b*scale2(z1), math.Pi*a*b*scale2(z0)
	widest := scale2(min(max(0, z0), z1))
	r.shadow = math.Pi * a * b * widest
	r.around = math.Pi * (3*(a+b) - math.Sqrt((3*a+b)*(a+3*b))) * math.Sqrt(widest) // Ramanujan 1914, from memory
	const n, m = 200, 400
	for i := range n {
		z := z0 + (z1-z0)*(float64(i)+0.5)/n
		r.volume += math.Pi * a * b * scale2(z) * (z1 - z0) / n
		s, u := math.Sqrt(scale2(z)), z/c // point (a s cos t, b s sin t, c u); dA vector below, du/dz = 1/c
		for k := range m {
			t := 2 * math.Pi * (float64(k) + 0.5) / m
			nx, ny, nz := b*c*s*math.Cos(t), a*c*s*math.Sin(t), a*b*u
			d := 2 * math.Pi / m * (z1 - z0) / n / c
			r.skin += math.Sqrt(nx*nx+ny*ny+nz*nz) * d
			if rows := math.Hypot(nx, nz) * d; nz > 0 {
				r.rowsUp += rows
			} else {
				r.rowsDown += rows
			}
		}
	}
	return r
}

func first(t testing.TB) (stock.Board, hours.Setup) {
	c := stocktest.Catalogue(t)
	board, _ := c.Board(c.First.Board)
	rough, _ := c.Cutter(c.First.Rough)
	finish, _ := c.Cutter(c.First.Finish)
	machine, _ := c.Machine(c.First.Machine)
	return board, hours.Defaults(rough, finish, machine)
}

// A body of 400 x 300 x 240 mm in 15 layers of 16 mm on 10 panels of 600 x 600 mm takes about 40 to 90 minutes a side to
// rough, 2 to 3 hours a side to finish, 7 hours a panel (common practice, no published source). Hollow bodies are finished at
// the lower end and take less for a panel: hollowing saves carving time (same).
func TestCommonPractice(t *testing.T) {
	_, setup := first(t)
	for _, tt := range []struct {
		name string
		wall float64
	}{{"solid", 0}, {"wall 25", 25}, {"wall 40", 40}} {
		t.Run(tt.name, func(t *testing.T) {
			var all hours.SideTime
			for i := range 15 {
				z := -120 + 16*float64(i)
				all = plus(all, total(hours.Estimate(ellipsoid(200, 150, 120, z, z+16, 0.9, tt.wall), setup)))
			}
			const sides = 20
			rough, finish, panel := all.RoughMin/sides, all.FinishMin/sides/60, all.Minutes()/10/60
			t.Logf("a side: rough %.0f min, %.0f m; finish %.2f h, %.0f m; a panel %.1f h; in all %.1f h",
				rough, all.RoughMetres/sides, finish, all.FinishMetres/sides, panel, all.Minutes()/60)
			if rough < 40 || rough > 90 {
				t.Errorf("rough pass: %.0f min a side, want 40 to 90", rough)
			}
			if finish < 2 || finish > 3 {
				t.Errorf("finish pass: %.2f h a side, want 2 to 3", finish)
			}
			if tt.wall == 0 && (panel < 6 || panel > 8) {
				t.Errorf("a panel: %.1f h, want about 7", panel)
			}
			if tt.wall > 0 && panel > 8 {
				t.Errorf("a panel: %.1f h, more than 7 for a hollow body", panel)
			}
		})
	}
}

// total is both sides together.
func total(t hours.LayerTime) hours.SideTime { return plus(t.Up, t.Down) }

func plus(a, b hours.SideTime) hours.SideTime {
	return hours.SideTime{RoughMin: a.RoughMin + b.RoughMin, FinishMin: a.FinishMin + b.FinishMin,
		RoughMetres: a.RoughMetres + b.RoughMetres, FinishMetres: a.FinishMetres + b.FinishMetres, Retracts: a.Retracts + b.Retracts}
}
