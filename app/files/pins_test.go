package files

import (
	"context"
	"math"
	"testing"

	"grainstack/slicing/export"
	"grainstack/slicing/geom"
	"grainstack/slicing/job"
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
		maps := map[export.Face]export.PanelMap{export.SideA: m.Map(export.SideA), export.SideB: m.Map(export.SideB)}
		height := func(side export.Face, at geom.Vec2) float64 {
			if side == export.SideB {
				at = shop.Register.TurnOver(at)
			}
			q := maps[side]
			return float64(q.Z[int(math.Round(at.Y/q.StepY))*q.W+int(math.Round(at.X/q.StepX))]) * q.PerCount
		}
		for _, d := range shop.Register.Dowels {
			if height(export.SideA, d.At) != 0 || height(export.SideB, d.At) != 0 {
				t.Errorf("panel %d: a register dowel's hole doesn't go through", p.Number)
			}
		}
		for _, at := range p.Placed {
			for _, j := range shop.Joints {
				side := export.SideA
				if j.Above == at.Part.Layer {
					side = export.SideB
				} else if j.Contact.Below != at.Part.Layer {
					continue
				}
				for _, pin := range j.Pins {
					drilled++
					want := w.Figures.Thickness - j.Depth
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
