package picture

import (
	"context"
	"math"

	"grainstack/render/look"
	"grainstack/slicing/finding"
	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
)

// A SightLine is from where a place is seen.
type SightLine struct {
	Azimuth, Elevation float64 // radians, of the camera
	Cut                float64 // mm: what stands higher has to be taken off; 0 for nothing
}

const (
	sightRound  = 15.0 // degrees between the directions that are tried, round the piece
	sightUp     = 20.0 // and in height
	lowestSight = -60.0
	ownSkin     = 12.0 // mm of wood that a place within wood may lie under and still be told from outside: the ring lies over it
	fromBelow   = 0.8  // how little one likes to look from under the floor
	airSkin     = 1.0  // the same for a place in the air, which itself is to be seen
)

// Line is from where a place of a kind on the stand is seen with nothing before it: of the clear directions the one that is nearest
// to how the piece is looked at, and where there is none from above, with the piece cut away at the place. It goes over the triangles
// once for each direction, of which there are some hundred, and looks at ctx on its way.
func Line(ctx context.Context, m *mesh.Mesh, to geom.Placement, k finding.Kind, p finding.Place, now look.Camera) (SightLine, error) {
	at := to.Back(p.At)
	skin := ownSkin / to.Scale
	if k == finding.Undercut || k == finding.InnerUndercut || k == finding.NoFit {
		skin = airSkin / to.Scale
	}
	facing, _ := Facing(m, at)
	facing = to.Turn.Apply(facing)
	best, most := SightLine{}, math.Inf(-1)
	for up := lowestSight; up <= 80; up += sightUp {
		if err := ctx.Err(); err != nil {
			return best, err
		}
		for round := 0.0; round < 360; round += sightRound {
			s := SightLine{Azimuth: round * math.Pi / 180, Elevation: up * math.Pi / 180}
			way := s.way()
			if !clear(m, at, to.Turn.Inverse().Apply(way), skin) {
				continue
			}
			angle := math.Acos(math.Max(-1, math.Min(1, way.Dot(SightLine{Azimuth: now.Azimuth, Elevation: now.Elevation}.way()))))
			if good := way.Dot(facing) - 0.5*angle - 0.3*math.Abs(s.Elevation-0.3) - fromBelow*math.Max(0, -s.Elevation); good > most {
				best, most = s, good
			}
		}
	}
	if math.IsInf(most, -1) {
		best = SightLine{Azimuth: now.Azimuth, Elevation: 55 * math.Pi / 180, Cut: math.Max(p.At.Z, 0.1)}
	}
	return best, ctx.Err()
}

// way is the direction from the piece to the viewer.
func (s SightLine) way() geom.Vec {
	c := math.Cos(s.Elevation)
	return geom.Vec{X: c * math.Cos(s.Azimuth), Y: c * math.Sin(s.Azimuth), Z: math.Sin(s.Elevation)}
}

// clear reports whether a ray from a point leaves the mesh without meeting it, but for what the point itself may lie under.
func clear(m *mesh.Mesh, from, way geom.Vec, skin float64) bool {
	way = way.Unit()
	for i := range m.Triangles {
		a, b, c := m.Corners(i)
		if d, hit := crossed3(from, way, a, b, c); hit && d > skin {
			return false
		}
	}
	return true
}

// sightEdge is how far beside a facet, in parts of it, a ray still meets it: none slips through between two.
const sightEdge = 1e-6

// crossed3 is how far along a ray it meets a facet (Möller and Trumbore, Journal of Graphics Tools 2(1), 1997).
func crossed3(from, way, a, b, c geom.Vec) (far float64, ok bool) {
	e, f := b.Sub(a), c.Sub(a)
	p := way.Cross(f)
	det := e.Dot(p)
	if det == 0 {
		return 0, false
	}
	t := from.Sub(a)
	u := t.Dot(p) / det
	if u < -sightEdge || u > 1+sightEdge {
		return 0, false
	}
	q := t.Cross(e)
	v := way.Dot(q) / det
	if v < -sightEdge || u+v > 1+sightEdge {
		return 0, false
	}
	far = f.Dot(q) / det
	return far, far > 0
}
