package field

import (
	"context"
	"errors"
	"math"

	"grainstack/slicing/geom"
	"grainstack/slicing/par"
)

const (
	// fine is how many bins of height or depth go to a step. A node is smeared over a whole step of each.
	fine = 3
	// unit is one bin in fixed point: places within a bin are kept to 1/32, a 100th of a step.
	unit = 32
	// blend is the fixed point of a look-up between two entries of the table.
	blend = 1 << 11
	// pad is how many empty bins lie before the first height.
	pad = 4 * fine
	// maxBins bounds what a table may take, against heights that do not fit the grid.
	maxBins = 1 << 22
)

// A Table holds, for one placement, the volume of the core below every height for every wall, so that a wall or a layer is
// a look-up of under a microsecond. Sums are whole numbers: a thicker wall never gives a larger core of any slab, slabs add
// up exactly, and the number of cores does not matter.
//
// Each node stands for a cell of wood, spread evenly over a step of height and a step of depth, the two together as far as
// depth grows with height; it is taken for deeper or shallower by what depth bends over its cell. For a flat skin that lies
// along the grid this is exact, for any other right to the second order of the step. At 200 cells cores of whole layers are
// within 0.01 % of the piece's volume at walls of two steps and more. At a wall of 0 sharp edges are lost (0.2 % of a
// block): take the piece's own volume.
type Table struct {
	bin     float64 // height of a bin, mm; of depth as well
	na, nb  int     // bins of height and of depth
	volume  []int64 // (na+1) × (nb+1): below height a, deeper than b
	perUnit float64 // mm³ of one unit of volume
	moments moments
}

// NewTable tabulates the core of a piece that stands as pl places it with its floor at 0 and its top at height, mm. It takes
// one pass over the nodes.
func NewTable(ctx context.Context, g *Grid, pl geom.Placement, height float64) (*Table, error) {
	step := g.step * pl.Scale
	if !(step > 0) || !(height > 0) || math.IsInf(height, 0) {
		return nil, errors.New("field: a stand needs a scale and a height above zero")
	}
	t := &Table{bin: step / fine}
	na := math.Ceil(height/t.bin) + 2*pad
	nb := math.Ceil(max(g.deepest, 0)/g.step*fine) + 2*fine
	if na*nb > maxBins {
		return nil, errors.New("field: the height does not fit the piece")
	}
	t.na, t.nb = int(na), int(nb)
	t.perUnit = step * step * step / (unit * unit * fine * fine * whole)
	t.moments.layOut(t, step)
	sums, err := t.fill(ctx, g, pl)
	if err != nil {
		return nil, err
	}
	t.volume = cumulate(sums.smear(t.na, t.nb), t.na, t.nb)
	t.moments.set(sums.moment)
	return t, nil
}

// fill adds every node to the histograms: each goroutine has its own, and whole numbers add up the same in any order.
func (t *Table) fill(ctx context.Context, g *Grid, pl geom.Placement) (sums, error) {
	all := make([]sums, par.Count())
	rx, ry, rz := g.rises(pl)
	err := par.Workers(ctx, g.nz, 2, func(w, k0, k1 int) {
		s := &all[w]
		if s.moment == nil {
			*s = t.newSums()
		}
		for k := k0; k < k1; k++ {
			for j := range g.ny {
				t.addRow(s, g, j, k, rx, ry, rz)
			}
		}
	})
	total := t.newSums()
	for _, s := range all {
		total.add(s)
	}
	return total, err
}

// split parts a place in fixed point into its bin and the share of the next one, both within n bins.
func split(at, n int) (bin int, share int64) {
	at = min(max(at, 0), (n-1)*unit-1)
	return at / unit, int64(at % unit)
}

// cumulate gives for entry a, b the sum of all bins below height a and from depth b on.
func cumulate(h []int64, na, nb int) []int64 {
	out := make([]int64, (na+1)*(nb+1))
	for a := range na {
		var sum int64
		for b := nb - 1; b >= 0; b-- {
			sum += h[a*nb+b]
			out[(a+1)*(nb+1)+b] = out[a*(nb+1)+b] + sum
		}
	}
	return out
}

// CoreVolume is the volume in mm³ between heights z0 and z1 of what lies deeper than wall, all in mm. A height at or below
// the floor or at or above the top takes all there is; z1 below z0 gives 0, and a wall below 0 counts as 0.
func (t *Table) CoreVolume(z0, z1, wall float64) float64 {
	if !(z1 > z0) {
		return 0
	}
	return float64(t.below(z1, wall)-t.below(z0, wall)) * t.perUnit / (blend * blend)
}

// below is the volume below height z in units, times blend twice.
func (t *Table) below(z, wall float64) int64 {
	if !(wall > 0) {
		wall = 0
	}
	a, f := place(t.heightAt(z), t.na)
	b, e := place(wall/t.bin+fine, t.nb)
	lo, hi := t.volume[a*(t.nb+1)+b:], t.volume[(a+1)*(t.nb+1)+b:]
	return (blend-f)*((blend-e)*lo[0]+e*lo[1]) + f*((blend-e)*hi[0]+e*hi[1])
}

// heightAt is a height in bins; the floor and the top stand for all that lies beyond them.
func (t *Table) heightAt(z float64) float64 {
	if z <= 0 {
		return 0
	}
	at := z/t.bin + pad
	if at >= float64(t.na-pad) {
		return float64(t.na)
	}
	return at
}

// place parts a place in bins into an entry and the share of the next, both within n.
func place(at float64, n int) (entry int, share int64) {
	at = clamp(at, 0, float64(n)) * blend
	i := min(int(at), n*blend)
	if i == n*blend {
		return n - 1, blend
	}
	return i / blend, int64(i % blend)
}

// CoreArea is the area in mm² of the core's section at height z, taken over a step of height: less than half a step from a
// flat end of the core it is blurred.
func (t *Table) CoreArea(z, wall float64) float64 {
	step := t.bin * fine
	return t.CoreVolume(z-step/2, z+step/2, wall) / step
}

// CoreSurface is the area in mm² of the core's skin between two heights, without the faces there: how fast the core's
// volume falls as the wall grows.
func (t *Table) CoreSurface(z0, z1, wall float64) float64 {
	half := t.bin * fine / 2
	lo, hi := max(wall-half, 0), wall+half
	return (t.CoreVolume(z0, z1, lo) - t.CoreVolume(z0, z1, hi)) / (hi - lo)
}

// CoreMoment is the sum of place times volume over the core between two heights, mm⁴: divided by the volume it is the
// core's centre in the stand.
func (t *Table) CoreMoment(z0, z1, wall float64) geom.Vec {
	v := t.CoreVolume(z0, z1, wall)
	c, ok := t.moments.centre(z0, z1, wall)
	if !ok {
		return geom.Vec{Z: v * (z0 + z1) / 2}
	}
	return c.Scale(v)
}
