package toolpath

import (
	"fmt"

	"grainstack/slicing/geom"
	"grainstack/slicing/hours"
	"grainstack/slicing/mesh"
	"grainstack/slicing/panel"
)

// A Part is a part as it lies on side A: a point p of its solid is at p turned by TurnDeg about the origin, plus At, and Bottom,
// a height of the solid's frame, is the planed panel's lower face.
type Part struct {
	Solid   *mesh.Mesh // closed
	Bottom  float64
	At      geom.Vec2
	TurnDeg int // 0, 90, 180 or 270
}

// A Hole is for an alignment pin: it goes into the planed panel from one of its faces.
type Hole struct {
	At        geom.Vec2
	Diameter  float64
	Depth     float64 // from the planed face
	FromBelow bool    // from the face that is up on side B
}

// A Panel is all that paths on it hang on.
type Panel struct {
	Number    int
	X, Y      float64
	Thickness float64 // planed
	Skim      float64 // off each face; the frame keeps it
	Parts     []Part
	Tabs      []hours.Tab
	Holes     []Hole
	Cores     geom.Region // hollows with upright sides that go right through: they are sawn out
	Register  panel.Register
	Clamps    []Clamp
	TabLeft   float64 // how thick tabs are in the end, 0 where they stay as they are
	Nut       float64 // diameter of the collet nut, 0 where it isn't known
}

// check refuses what is no panel.
func (p *Panel) check() error {
	for _, v := range []struct {
		what  string
		value float64
	}{{"length", p.X}, {"width", p.Y}, {"thickness", p.Thickness}} {
		if !(v.value > 0 && v.value < 1e4) {
			return fmt.Errorf("panel %d has a %s of %g mm: no program can be made for it", p.Number, v.what, v.value)
		}
	}
	if len(p.Parts) == 0 {
		return fmt.Errorf("panel %d has no parts: there is nothing to make a program for", p.Number)
	}
	return nil
}

// wood is the parts as one mesh, on side A above the planed lower face.
func (p *Panel) wood() *mesh.Mesh {
	out := &mesh.Mesh{}
	for i := range p.Parts {
		q := &p.Parts[i]
		base := int32(len(out.Points))
		for _, v := range q.Solid.Points {
			x, y := turned(float64(v[0]), float64(v[1]), q.TurnDeg)
			out.Points = append(out.Points, mesh.Point{float32(x + q.At.X), float32(y + q.At.Y), float32(float64(v[2]) - q.Bottom)})
		}
		for _, t := range q.Solid.Triangles {
			out.Triangles = append(out.Triangles, mesh.Triangle{t[0] + base, t[1] + base, t[2] + base})
		}
	}
	return out
}

func turned(x, y float64, deg int) (float64, float64) {
	switch ((deg/90)%4 + 4) % 4 {
	case 1:
		return -y, x
	case 2:
		return -x, -y
	case 3:
		return y, -x
	}
	return x, y
}

// bridges are the tabs as one mesh.
func (p *Panel) bridges() *mesh.Mesh {
	out := &mesh.Mesh{}
	for _, t := range p.Tabs {
		low, high := max(t.Bottom, 0), min(t.Top, p.Thickness)
		if !(low < high) {
			continue
		}
		side := geom.Vec2{X: -t.Way.Y, Y: t.Way.X}.Scale(t.Width / 2)
		base := int32(len(out.Points))
		for _, z := range [2]float64{low, high} {
			for _, q := range [4]geom.Vec2{
				t.At.Sub(t.Way.Scale(t.Root)).Sub(side), t.At.Add(t.Way.Scale(t.Length)).Sub(side),
				t.At.Add(t.Way.Scale(t.Length)).Add(side), t.At.Sub(t.Way.Scale(t.Root)).Add(side),
			} {
				out.Points = append(out.Points, mesh.PointOf(geom.Vec{X: q.X, Y: q.Y, Z: z}))
			}
		}
		for _, f := range [12]mesh.Triangle{{0, 2, 1}, {0, 3, 2}, {4, 5, 6}, {4, 6, 7}, {0, 1, 5}, {0, 5, 4}, {1, 2, 6}, {1, 6, 5}, {2, 3, 7}, {2, 7, 6}, {3, 0, 4}, {3, 4, 7}} {
			out.Triangles = append(out.Triangles, mesh.Triangle{f[0] + base, f[1] + base, f[2] + base})
		}
	}
	return out
}
