package field

import (
	"context"
	"math"

	"grainstack/slicing/geom"
	"grainstack/slicing/par"
	"grainstack/slicing/plane"
)

// A Slab is what lies between two heights of the stand, mm.
type Slab struct{ Bottom, Top float64 }

const (
	// maxSamples bounds a raster, against a spacing that is out of all proportion to the piece.
	maxSamples = 1 << 22
	// trust is the share of a measured depth that is relied on when samples or heights are passed over: interpolated depths
	// may change a little faster than the way gone.
	trust = 0.9
	// keep is how many spacings either side of the contour are always measured.
	keep = 1.6
)

// CoreSection is the outline of what lies deeper than wall in the stand's plane at height z, sampled every spacing; all mm.
// Outlines run counter-clockwise, islands of wood clockwise. A wall below 0 counts as 0.
func (g *Grid) CoreSection(pl geom.Placement, z, wall, spacing float64) geom.Region {
	return g.straightCore(pl, z, z, wall, spacing)
}

// straightCore is the outline of a pocket with upright walls from z0 to z1 that leaves wall everywhere: the places that lie
// deeper than wall at every height between, looked at every step of the grid. All mm.
func (g *Grid) straightCore(pl geom.Placement, z0, z1, wall, spacing float64) geom.Region {
	if z1 < z0 {
		z0, z1 = z1, z0
	}
	s, ok := g.newSampler(pl, z0, z1, wall, spacing)
	if !ok {
		return nil
	}
	for j := range s.NY {
		s.sampleRow(j)
	}
	return s.Contours()
}

// StraightCores is straightCore for each slab of a stack, without bodies of less than least mm² (see dropSpecks).
func (g *Grid) StraightCores(ctx context.Context, pl geom.Placement, slabs []Slab, wall, spacing, least float64) ([]geom.Region, error) {
	out := make([]geom.Region, len(slabs))
	err := par.Spans(ctx, len(slabs), 1, func(i, _ int) {
		out[i] = dropSpecks(g.straightCore(pl, slabs[i].Bottom, slabs[i].Top, wall, spacing), least)
	})
	return out, err
}

// dropSpecks leaves out the outlines that enclose less than least mm², and the holes in them: pockets too small for a cutter.
func dropSpecks(r geom.Region, least float64) geom.Region {
	var out, dropped geom.Region
	for _, ring := range r {
		if a := ring.Area(); a > 0 && a < least {
			dropped = append(dropped, ring)
		} else {
			out = append(out, ring)
		}
	}
	if dropped == nil {
		return r
	}
	kept := out[:0]
	for _, ring := range out {
		if ring.Area() > 0 || !dropped.Contains(ring[0]) {
			kept = append(kept, ring)
		}
	}
	return kept
}

// A sampler fills a raster with the least depth over a range of heights, less the wall, in mm.
type sampler struct {
	plane.Grid
	g      *Grid
	f      frame
	z0, z1 float64
	wall   float64 // mm
	scale  float64 // mm per piece unit
	dz     float64 // between heights, mm
}

func (g *Grid) newSampler(pl geom.Placement, z0, z1, wall, spacing float64) (*sampler, bool) {
	b := g.standBox(pl)
	if !(spacing > 0) || !(z0 <= b.Max.Z) || !(z1 >= b.Min.Z) || math.IsInf(spacing, 0) {
		return nil, false
	}
	size := b.Size()
	spacing = max(spacing, math.Sqrt(size.X*size.Y/maxSamples), max(size.X, size.Y)/maxSamples)
	i0, i1 := math.Floor(b.Min.X/spacing)-1, math.Ceil(b.Max.X/spacing)+1
	j0, j1 := math.Floor(b.Min.Y/spacing)-1, math.Ceil(b.Max.Y/spacing)+1
	s := &sampler{g: g, f: g.frameOf(pl), wall: max(wall, 0), scale: pl.Scale, dz: g.step * pl.Scale}
	s.z0, s.z1 = max(z0, b.Min.Z-s.dz), min(z1, b.Max.Z+s.dz)
	s.Grid = plane.Grid{Origin: geom.Vec2{X: i0 * spacing, Y: j0 * spacing}, Step: spacing, NX: int(i1-i0) + 1, NY: int(j1-j0) + 1}
	s.V = make([]float32, s.NX*s.NY)
	return s, true
}

// sampleRow samples one row. Depth changes no faster than the way gone, so samples that cannot lie near the contour are passed
// over: they get the sign of the last one.
func (s *sampler) sampleRow(j int) {
	y := s.Origin.Y + float64(j)*s.Step
	row := s.V[j*s.NX:][:s.NX]
	for i := 0; i < len(row); {
		v := s.least(s.Origin.X+float64(i)*s.Step, y)
		row[i] = float32(v)
		i++
		sure := (math.Abs(v)*trust-s.dz/2)/s.Step - keep
		for ; sure >= 1 && i < len(row); i++ {
			row[i] = float32(v)
			sure--
		}
	}
}

// least is the least depth less the wall over the heights at one place. It stops where the contour is out of reach below,
// and takes longer strides where it is out of reach above.
func (s *sampler) least(x, y float64) float64 {
	f := &s.f
	q := geom.Vec{
		X: f.at.X + x*f.ux.X + y*f.uy.X,
		Y: f.at.Y + x*f.ux.Y + y*f.uy.Y,
		Z: f.at.Z + x*f.ux.Z + y*f.uy.Z,
	}
	least := math.Inf(1)
	out := -keep*s.Step - s.dz/2
	for z := s.z0; ; {
		v := s.g.at(q.X+z*f.uz.X, q.Y+z*f.uz.Y, q.Z+z*f.uz.Z)*s.scale - s.wall
		least = min(least, v)
		if z >= s.z1 || v < out {
			return least
		}
		stride := s.dz
		if long := v*trust/2 - keep*s.Step; long > stride {
			stride = long
			least = min(least, v-long)
		}
		z = min(z+stride, s.z1)
	}
}
