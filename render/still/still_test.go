package still

import (
	"context"
	"image"
	"image/color"
	"testing"

	"grainstack/render/look"
	"grainstack/render/tone"
	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
	"grainstack/slicing/solidtest"
)

func paper() look.Paper {
	return look.Paper{Top: color.RGBA{0xf6, 0xf1, 0xe6, 255}, Bottom: color.RGBA{0xe4, 0xdf, 0xd4, 255}, Shadow: 1}
}

// birch is a board of 13 veneers skimmed to 16 mm, varnished.
func birch() look.Wood {
	w := look.Wood{Alternate: true, GlueLine: 0.08, Joint: 0.15, Finish: look.Finish{Shift: 5, EndShift: 9, Chroma: 1.18, Gloss: 0.35}, Seed: 7}
	for i := range 13 {
		w.Veneers = append(w.Veneers, look.Veneer{Thickness: 16.0 / 13, Along: i%2 == 0, Long: tone.Lab{81.1, 7.2, 20}, End: tone.Lab{69, 9, 18.5}})
	}
	return w
}

// scene is a mesh on the floor, longest mm at its longest.
func scene(m *mesh.Mesh, longest float64, w, h int) Scene {
	b := m.Box()
	s := b.Size()
	k := longest / max(s.X, s.Y, s.Z)
	c := b.Center().Scale(k)
	return Scene{
		Body: look.NewBody(m),
		View: look.View{
			Camera:    look.Camera{Azimuth: -1, Elevation: 0.3, Zoom: 1},
			Placement: geom.Placement{Turn: geom.NoTurn(), Scale: k, Shift: geom.Vec{X: -c.X, Y: -c.Y, Z: -b.Min.Z * k}},
			Height:    s.Z * k, Size: image.Pt(w, h),
		},
		Dress: look.Dress{Wood: birch(), Paper: paper()},
	}
}

// BenchmarkStill is a still of 3840 by 2160 of a piece of a million triangles. The aim is 20 s on two cores.
func BenchmarkStill(b *testing.B) {
	s := scene(solidtest.Bumpy(100, 1_000_000), 400, 3840, 2160)
	s.View.Ground = look.OnFloor
	for b.Loop() {
		if _, err := Draw(context.Background(), s, Usual(), nil); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(s.Body.Triangles()), "triangles")
}
