package files

import (
	"context"
	"math"
	"testing"

	"grainstack/slicing/export"
	"grainstack/slicing/geom"
	"grainstack/slicing/job"
	"grainstack/slicing/mesh"
	"grainstack/slicing/panel"
	"grainstack/slicing/solidtest"
)

// TestPinsAreDrilled: on the panels, every pin has its hole as deep as the joint says: the pins of the joint above a layer on
// side A, those of the joint below on side B, and the dowels go through. Two diameters off the wood is whole.
func TestPinsAreDrilled(t *testing.T) {
	w := work(t, solidtest.Box(120, 70, 48), job.Places{}, solid)
	b := newBench(context.Background(), w)
	shop, drilled := w.Workshop, 0
	for i, p := range shop.Layout.Panels {
		m, err := b.panels[i]()
		if err != nil {
			t.Fatal(err)
		}
		maps := map[panel.Face]export.PanelMap{panel.SideA: m.Map(panel.SideA), panel.SideB: m.Map(panel.SideB)}
		height := func(side panel.Face, at geom.Vec2) float64 {
			if side == panel.SideB {
				at = shop.Register.TurnOver(at)
			}
			q := maps[side]
			return float64(q.Z[int(math.Round(at.Y/q.StepY))*q.W+int(math.Round(at.X/q.StepX))]) * q.PerCount
		}
		for _, d := range shop.Register.Dowels {
			if height(panel.SideA, d.At) != 0 || height(panel.SideB, d.At) != 0 {
				t.Errorf("panel %d: a register dowel's hole doesn't go through", p.Number)
			}
		}
		for _, at := range p.Placed {
			for _, j := range shop.Joints {
				side := panel.SideA
				if j.Above == at.Part.Layer {
					side = panel.SideB
				} else if j.Contact.Below != at.Part.Layer {
					continue
				}
				for _, pin := range j.Pins {
					drilled++
					want := w.Figures.Thickness - j.Hole
					if got := height(side, at.Apply(pin.At)); math.Abs(got-want) > 0.001 {
						t.Errorf("layer %d, side %v: the wood under a pin is %.3f mm high, not %.3f", at.Part.Layer, side, got, want)
					}
					beside := pin.At.Add(geom.Vec2{Y: 2 * shop.For.Shop.PinDiameter})
					if pin.At.Y > w.Figures.Size.Y/2 {
						beside = pin.At.Sub(geom.Vec2{Y: 2 * shop.For.Shop.PinDiameter})
					}
					if got := height(side, at.Apply(beside)); math.Abs(got-w.Figures.Thickness) > 0.001 {
						t.Errorf("layer %d, side %v: beside a pin the wood is %.3f mm high", at.Part.Layer, side, got)
					}
				}
			}
		}
	}
	if drilled < 8 { // two joints, two pins a joint, two layers a pin
		t.Errorf("only %d holes were looked at", drilled)
	}
}

// frameAndBlock is a square frame, 40 mm broad, round an opening of 180 mm, and beside it a block of 50 mm.
func frameAndBlock() *mesh.Mesh {
	m := &mesh.Mesh{}
	for _, z := range []float32{0, 16} {
		for _, r := range []float32{130, 90} {
			m.Points = append(m.Points, mesh.Point{-r, -r, z}, mesh.Point{r, -r, z}, mesh.Point{r, r, z}, mesh.Point{-r, r, z})
		}
	}
	quad := func(a, b, c, d int32) {
		m.Triangles = append(m.Triangles, mesh.Triangle{a, b, c}, mesh.Triangle{a, c, d})
	}
	for i := range int32(4) {
		j := (i + 1) % 4
		quad(i, j, 8+j, 8+i)       // outside
		quad(4+j, 4+i, 12+i, 12+j) // inside
		quad(j, i, 4+i, 4+j)       // below
		quad(8+i, 8+j, 12+j, 12+i) // above
	}
	b := solidtest.Box(50, 50, 16)
	n := int32(len(m.Points))
	for _, p := range b.Points {
		m.Points = append(m.Points, mesh.Point{p[0] + 200, p[1], p[2]})
	}
	for _, t := range b.Triangles {
		m.Triangles = append(m.Triangles, mesh.Triangle{t[0] + n, t[1] + n, t[2] + n})
	}
	return m
}

// TestPartWithinAnother: on a panel that holds both only so, the block lies in the frame's opening, and the panel is one
// body: the wood round the block is tied to the frame, and the frame to the panel.
func TestPartWithinAnother(t *testing.T) {
	w := work(t, frameAndBlock(), job.Places{}, func(s *job.Settings) { s.Wall, s.PanelX, s.PanelY = 0, 330, 330 })
	if n := w.Workshop.Panels(); n != 1 || len(w.Workshop.Parts) != 2 {
		t.Fatalf("%d parts on %d panels, want 2 on 1", len(w.Workshop.Parts), n)
	}
	for _, p := range w.Workshop.Parts {
		if !p.Held {
			t.Errorf("%v is not held by its %d tabs", p.ID, len(p.Tabs))
		}
	}
	m, err := newBench(context.Background(), w).panels[0]()
	if err != nil {
		t.Fatal(err)
	}
	s := m.Solid(panel.SideA)
	if f := mesh.Inspect(s, s.Adjacency()); f.Shells != 1 || !f.Solid() {
		t.Errorf("the panel is %d bodies, closed: %v", f.Shells, f.Solid())
	}
}
