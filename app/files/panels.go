package files

import (
	"bytes"
	"context"
	"fmt"
	"image"
	"image/png"
	"strconv"

	"grainstack/slicing/export"
	"grainstack/slicing/geom"
	"grainstack/slicing/panel"
)

// faces are the two sides of a panel.
func faces() []panel.Face { return []panel.Face{panel.SideA, panel.SideB} }

// How often a panel is asked for by its files: its solid by those of both sides, its model by these, by the maps and for the solid.
const (
	solidAskings = 2
	modelAskings = 5
)

// panelFiles are both sides of each panel as solid and as height map, and the scales of the maps.
func panelFiles(w Work) []File {
	var out []File
	for i, p := range w.Workshop.Layout.Panels {
		for _, side := range faces() {
			name := fmt.Sprintf("panels/panel-%02d-%v", p.Number, side)
			out = append(out,
				File{Kind: Panels, Name: name + ".stl", Does: "panel as it lies, with tabs, dowels and pins", make: func(_ context.Context, b *bench) ([]byte, error) {
					m, err := b.panels[i]()
					if err != nil {
						return nil, err
					}
					s, err := b.sidesA[i]()
					if err != nil {
						return nil, err
					}
					if side == panel.SideB {
						s = m.TurnOver(s)
					}
					return stl(s)
				}},
				File{Kind: Panels, Name: name + ".png", Does: "its heights; scale in heights.csv", make: func(_ context.Context, b *bench) ([]byte, error) {
					m, err := b.panels[i]()
					if err != nil {
						return nil, err
					}
					return heightMap(m.Map(side))
				}})
		}
	}
	return append(out, File{Kind: Panels, Name: "panels/heights.csv", Does: "scale of the height maps", make: heightScales})
}

// heightMap is a map as a picture: brighter is higher, the panel's far edge on top.
func heightMap(m export.PanelMap) ([]byte, error) {
	img := image.NewGray16(image.Rect(0, 0, m.W, m.H))
	for y := range m.H {
		row := img.Pix[(m.H-1-y)*img.Stride:]
		for x, z := range m.Z[y*m.W : (y+1)*m.W] {
			row[2*x], row[2*x+1] = byte(z>>8), byte(z)
		}
	}
	var buf bytes.Buffer
	err := (&png.Encoder{CompressionLevel: png.BestSpeed}).Encode(&buf, img)
	return buf.Bytes(), err
}

// heightScales says what a pixel and a count of each map come to.
func heightScales(_ context.Context, b *bench) ([]byte, error) {
	t := export.Table{Head: []string{"file", "mm a pixel along x", "mm a pixel along y", "mm a count", "height at 65535, mm", "first pixel"}}
	s := b.barePlan().Scale()
	for _, p := range b.Workshop.Layout.Panels {
		for _, side := range faces() {
			t.Rows = append(t.Rows, []string{
				fmt.Sprintf("panel-%02d-%v.png", p.Number, side), figure(s.StepX), figure(s.StepY), figure(s.PerCount), figure(65535 * s.PerCount),
				"middle at the panel's far left corner as this side lies",
			})
		}
	}
	return csv(t)
}

func figure(v float64) string { return strconv.FormatFloat(v, 'g', 9, 64) }

func csv(t export.Table) ([]byte, error) {
	var buf bytes.Buffer
	err := export.WriteCSV(&buf, t)
	return buf.Bytes(), err
}

// barePlan is what all panels have in common, with nothing on them.
func (b *bench) barePlan() export.PanelPlan {
	w := b.Workshop
	return export.PanelPlan{X: w.For.PanelX, Y: w.For.PanelY, Thickness: b.Figures.Thickness, Gap: w.Margin, TurnAlongY: w.Register.Axis == panel.AlongY}
}

// panelModel is panel i of the layout with everything on it.
func (b *bench) panelModel(ctx context.Context, i int) (*export.PanelModel, error) {
	plan, err := b.panelPlan(i)
	if err != nil {
		return nil, err
	}
	return export.NewPanelModel(ctx, plan)
}

// panelPlan is panel i of the layout with everything on it, as plain figures.
func (b *bench) panelPlan(i int) (plan export.PanelPlan, err error) {
	solids, err := b.parts()
	if err != nil {
		return plan, err
	}
	w := b.Workshop
	plan = b.barePlan()
	plan.Stays = w.Stays(w.Layout.Panels[i])
	for _, d := range w.Register.Dowels {
		plan.Holes = append(plan.Holes, export.PanelHole{At: d.At, Diameter: d.Diameter})
	}
	for _, at := range w.Layout.Panels[i].Placed {
		plan.Holes = append(plan.Holes, b.pinHoles(at)...)
		p, ok := w.Part(at.Part)
		if !ok {
			continue
		}
		plan.Parts = append(plan.Parts, export.PanelPart{Solid: solids[at.Part], PanelBottom: p.PanelLow, At: at.At, TurnDeg: at.TurnDeg})
		for _, t := range p.Tabs {
			plan.Tabs = append(plan.Tabs, export.PanelTab{
				At: at.Apply(t.At), Way: turned(at, t.Out), Length: t.Length, Width: t.Width, Bottom: t.Bottom, Top: t.Top, Root: t.Root,
			})
		}
	}
	return plan, nil
}

// pinHoles are the holes for the alignment pins of a part.
func (b *bench) pinHoles(at panel.Placed) (out []export.PanelHole) {
	p, ok := b.Workshop.Part(at.Part)
	if !ok {
		return nil
	}
	for _, h := range b.Workshop.PinHoles(p) {
		hole := export.PanelHole{At: at.Apply(h.At), Diameter: h.Diameter}
		if h.Lower {
			hole.FromBelow = h.FromPanel
		} else {
			hole.FromAbove = h.FromPanel
		}
		out = append(out, hole)
	}
	return out
}

// turned is a direction of the stand as it lies on a panel.
func turned(p panel.Placed, way geom.Vec2) geom.Vec2 { return p.Apply(way).Sub(p.At) }
