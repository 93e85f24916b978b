package glue

import (
	"fmt"

	"grainstack/slicing/stock"
)

// A Coating is what varnishing takes.
type Coating struct {
	Coats      int
	CoatLitres float64 // for one
	Litres     float64 // for all
	DryG       float64 // g of it that stay on the piece
	DryHours   float64 // from the first coat until after the last: one wait a coat
}

// Coat works out the varnish for a skin of so much area.
func Coat(area float64, f stock.Finish) Coating {
	c := Coating{Coats: f.Coats, DryHours: f.RecoatH * float64(f.Coats)}
	if f.Coats > 0 {
		c.Litres, c.DryG = f.Litres(area), f.Dry(area)
		c.CoatLitres = c.Litres / float64(f.Coats)
	}
	return c
}

// A Grit is a sandpaper.
type Grit struct {
	Number  int
	Scratch float64 // depth of the scratches that it leaves for the next
}

// grits are the papers whose figures are known, coarsest first (wide-belt sanding table, trade article 2014, converted from
// inches).
func grits() []Grit {
	return []Grit{{80, 0.20}, {100, 0.15}, {120, 0.10}, {150, 0.05}, {180, 0.025}, {220, 0.013}}
}

// Allowance is what is added to the surface for sanding: what the cutter leaves standing (its scallops), the step between
// layers that the glue-up leaves, and the scratches of each grit. The grits run from coarse to fine.
func Allowance(scallop, step float64, grits ...int) (float64, error) {
	if !(scallop >= 0 && scallop < 100) || !(step >= 0 && step < 100) {
		return 0, fmt.Errorf("glue: scallops of %g mm and steps of %g mm: neither may be below 0", scallop, step)
	}
	sum, before := scallop+step, 0
	for _, n := range grits {
		g, ok := grit(n)
		if !ok {
			return 0, fmt.Errorf("glue: grit %d is not in the table: take 80, 100, 120, 150, 180 or 220", n)
		}
		if n <= before {
			return 0, fmt.Errorf("glue: grit %d after %d: grits run from coarse to fine", n, before)
		}
		sum, before = sum+g.Scratch, n
	}
	return sum, nil
}

func grit(n int) (Grit, bool) {
	for _, g := range grits() {
		if g.Number == n {
			return g, true
		}
	}
	return Grit{}, false
}
