package workshop_test

import (
	"math"
	"strings"
	"testing"

	"grainstack/assets/stocktest"
	"grainstack/slicing/geom"
	"grainstack/slicing/job"
	"grainstack/slicing/mesh"
	"grainstack/slicing/panel"
	"grainstack/slicing/solidtest"
	"grainstack/slicing/workshop"
)

// TestPinRoomIsOverTheWholeDepth: in a solid cone that narrows by a third of a millimetre in each upwards, the end of a pin is
// nearer to the surface than its middle at the joint is: by the cone's slope, to some hundredths for the field's voxels and the flats of its facets.
func TestPinRoomIsOverTheWholeDepth(t *testing.T) {
	s := job.Default(stocktest.Catalogue(t))
	s.Wall = 60 // more than there is: no hollow
	w, _ := laidOut(t, solidtest.Frustum(60, 30, 90, 256), s, job.Places{})
	if len(w.Joints) < 4 {
		t.Fatalf("%d joints", len(w.Joints))
	}
	for i := range 4 {
		j := &w.Joints[i]
		radius := 60 - (j.Z+j.Hole)/3
		for _, off := range []float64{10, 20} {
			at := geom.Vec2{X: radius - off}
			want := min(off*math.Cos(math.Atan(1.0/3)), j.Z-j.Hole, 90-j.Z-j.Hole) // the flat ends are surface, too
			if got, near := j.PinRoom(at); math.Abs(got-want) > 0.05*want || near != workshop.Outside {
				t.Errorf("joint %d, %g mm inside the narrow end: %.2f mm to %v, want %.2f mm to the surface", i+1, off, got, near, want)
			}
		}
		if got, near := j.PinRoom(geom.Vec2{X: 61}); got != 0 || near != workshop.JointEdge {
			t.Errorf("joint %d, outside: %.2f mm to %v", i+1, got, near)
		}
	}
}

// TestPinsStayInTheWood: no point of a pin's cylinder, over the depth of its holes and 2 mm all round, is outside a body that
// swells, narrows and leans, solid or hollow: the points are asked one by one how often the surface winds round them.
func TestPinsStayInTheWood(t *testing.T) {
	for _, wall := range []float64{0, 18} {
		s := job.Default(stocktest.Catalogue(t))
		s.Wall = wall
		w, st := laidOut(t, job.Demo().Mesh, s, job.Places{})
		m, r := st.Placed.Mesh, w.For.Shop.PinDiameter/2+1.99
		pins, out := 0, 0
		for i := range w.Joints {
			j := &w.Joints[i]
			for _, p := range j.Pins {
				pins++
				bad := 0
				for _, z := range []float64{-1, -0.6, -0.2, 0.2, 0.6, 1} {
					for k := range 16 {
						sin, cos := math.Sincos(float64(k) * math.Pi / 8)
						at := geom.Vec{X: p.At.X + r*cos, Y: p.At.Y + r*sin, Z: j.Z + z*j.Hole}
						if !insideMesh(m, at) {
							bad++
						}
					}
				}
				if bad > 0 {
					out++
					t.Errorf("wall %g, layer %d: %d of 96 points round the pin at %.1f are in the air", wall, j.Above, bad, p.At)
				}
			}
		}
		if pins < 10 {
			t.Errorf("wall %g: only %d pins", wall, pins)
		}
		t.Logf("wall %g: %d of %d pins come out", wall, out, pins)
	}
}

// insideMesh counts how often an upright line above a point passes the surface.
func insideMesh(m *mesh.Mesh, p geom.Vec) bool {
	n := 0
	for _, t := range m.Triangles {
		a, b, c := m.Points[t[0]].Vec(), m.Points[t[1]].Vec(), m.Points[t[2]].Vec()
		u := (b.X-p.X)*(c.Y-p.Y) - (b.Y-p.Y)*(c.X-p.X)
		v := (c.X-p.X)*(a.Y-p.Y) - (c.Y-p.Y)*(a.X-p.X)
		w := (a.X-p.X)*(b.Y-p.Y) - (a.Y-p.Y)*(b.X-p.X)
		if (u > 0) != (v > 0) || (v > 0) != (w > 0) {
			continue
		}
		if z := (u*a.Z + v*b.Z + w*c.Z) / (u + v + w); z > p.Z {
			if u > 0 {
				n++
			} else {
				n--
			}
		}
	}
	return n > 0
}

// TestPinsKeepOffJointLines: a line drawn through a pin's axis splits a part; the pins of the joints above and below it then keep
// their wood from that line, and a pin that the maker puts beside it is told of.
func TestPinsKeepOffJointLines(t *testing.T) {
	s := job.Default(stocktest.Catalogue(t))
	cone := solidtest.Frustum(90, 70, 100, 96)
	w, _ := laidOut(t, cone, s, job.Places{})
	j := &w.Joints[2]
	if len(j.Pins) < 2 {
		t.Fatalf("%d pins at the joint", len(j.Pins))
	}
	at, way := j.Pins[0].At, geom.Vec2{X: 0.6, Y: 0.8}
	line := job.Split{Part: panel.ID{Layer: j.Above}, A: at.Sub(way.Scale(300)), B: at.Add(way.Scale(300))}
	if room, near := j.PinRoom(at); near == workshop.JointLine || room <= 1 {
		t.Fatalf("no line yet: %.2f mm to %v", room, near)
	}
	places := job.Places{}.WithSplit(line)
	wants := s.Shop.PinDiameter/2 + s.Shop.PinCover

	split, _ := laidOut(t, cone, s, places)
	pins := 0
	for _, k := range []int{2, 3} {
		for _, p := range split.Joints[k].Pins {
			pins++
			if off := math.Abs(way.Cross(p.At.Sub(at))); off < wants-1e-6 {
				t.Errorf("joint %d: a pin %.2f mm off the joint line, wants %.2f mm", k+1, off, wants)
			}
		}
	}
	if pins < 4 {
		t.Errorf("%d pins at the two joints of a split part", pins)
	}
	beside := at.Add(geom.Vec2{X: -way.Y, Y: way.X})
	own, _ := laidOut(t, cone, s, places.WithPins(j.Above, []geom.Vec2{beside}))
	if room, near := own.Joints[2].PinRoom(beside); math.Abs(room-1) > 1e-6 || near != workshop.JointLine {
		t.Errorf("1 mm beside the line: %.3f mm to %v", room, near)
	}
	told := false
	for _, c := range own.Cautions {
		told = told || c.Layer() == j.Above && strings.Contains(c.Name, "joint line")
	}
	if !told {
		t.Error("a pin beside the joint line is not told of")
	}
}
