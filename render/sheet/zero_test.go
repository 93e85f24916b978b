package sheet_test

import (
	"strings"
	"testing"

	"grainstack/render/draw"
	"grainstack/render/sheet"
	"grainstack/slicing/geom"
	"grainstack/slicing/stock"
)

// The zeros are where the view says: X0 Y0 beside its mark on the panel, Z0 at the face or lower, at the bed; no words leave the
// sheet and none lie over others.
func TestZero(t *testing.T) {
	v := sheet.ZeroView{PanelX: 600, PanelY: 400, Board: 17.7, Dowels: [2]geom.Vec2{{X: 12, Y: 200}, {X: 585, Y: 200}}, Safe: 5}
	heights := map[stock.Height]float64{}
	for _, height := range []stock.Height{stock.OnFace, stock.OnBed} {
		last := geom.Vec2{X: -1}
		for _, at := range []geom.Vec2{{}, {X: 12, Y: 200}, {X: 300, Y: 200}} {
			v.Height, v.Origin = height, at
			r := recorded(sheet.Zero(v, style(t, draw.LightInk()), 660, 250))
			var boxes []geom.Box2
			for _, w := range r.texts {
				b := letters(t).Box(w)
				if b.Min.X < 0 || b.Min.Y < 0 || b.Max.X > 660 || b.Max.Y > 250 {
					t.Errorf("%q leaves the sheet", w.Words)
				}
				for i, o := range boxes {
					if b.Min.X < o.Max.X && o.Min.X < b.Max.X && b.Min.Y < o.Max.Y && o.Min.Y < b.Max.Y {
						t.Errorf("%q lies over %q", w.Words, r.texts[i].Words)
					}
				}
				boxes = append(boxes, b)
				if w.Words == "X0 Y0" {
					if w.At.X <= last.X {
						t.Errorf("X0 Y0 of %v is at %v, no further right than %v", at, w.At, last)
					}
					last = w.At
				}
				if strings.HasPrefix(w.Words, "Z0") {
					heights[height] = w.At.Y
				}
			}
		}
	}
	if !(heights[stock.OnBed] > heights[stock.OnFace]+20) {
		t.Errorf("Z0 on the bed is at %g, on the face at %g", heights[stock.OnBed], heights[stock.OnFace])
	}
}
