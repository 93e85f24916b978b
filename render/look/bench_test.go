package look

import (
	"context"
	"image"
	"testing"

	"grainstack/slicing/mesh"
	"grainstack/slicing/solidtest"
)

// million is the reference piece; thinned is what is drawn while the hand turns it.
func million() *mesh.Mesh { return solidtest.Bumpy(100, 1_000_000) }

func benchView(m *mesh.Mesh) View {
	pl, height := stand(m, 400)
	return View{
		Camera: Camera{Azimuth: -1, Elevation: 0.3, Zoom: 1}, Placement: pl, Height: height, Size: image.Pt(900, 700),
	}
}

func benchFrame(b *testing.B, m *mesh.Mesh) {
	body, v, r, ctx := NewBody(m), benchView(m), NewRenderer(), context.Background()
	d := Dress{Wood: birch(1), Paper: lightPaper}
	for b.Loop() {
		v.Azimuth += 0.02
		if err := r.Raster(ctx, body, v); err != nil {
			b.Fatal(err)
		}
		f, err := r.Shade(ctx, d)
		if err != nil {
			b.Fatal(err)
		}
		f.Release()
	}
	b.ReportMetric(float64(body.Triangles()), "triangles")
}

func BenchmarkFrame(b *testing.B) {
	m := million()
	size := m.Box().Size()
	b.Run("full", func(b *testing.B) { benchFrame(b, m) })
	b.Run("thinned", func(b *testing.B) { benchFrame(b, mesh.Thin(m, max(size.X, size.Y, size.Z)/140)) })
}

func BenchmarkReshade(b *testing.B) {
	m := million()
	body, v, r, ctx := NewBody(m), benchView(m), NewRenderer(), context.Background()
	d := Dress{Wood: birch(1), Paper: lightPaper}
	if err := r.Raster(ctx, body, v); err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		d.Wood.Bottom -= 0.01
		f, err := r.Shade(ctx, d)
		if err != nil {
			b.Fatal(err)
		}
		f.Release()
	}
}

func BenchmarkFine(b *testing.B) {
	m := million()
	body, v, r, ctx := NewBody(m), benchView(m), NewRenderer(), context.Background()
	for b.Loop() {
		f, err := r.Fine(ctx, body, v, Dress{Wood: birch(1), Paper: lightPaper})
		if err != nil {
			b.Fatal(err)
		}
		f.Release()
	}
}

func BenchmarkBody(b *testing.B) {
	m := million()
	for b.Loop() {
		NewBody(m)
	}
}

func BenchmarkLifted(b *testing.B) {
	m := million()
	body, v, r, ctx := NewBody(m), benchView(m), NewRenderer(), context.Background()
	v.Lift, v.Joints = 12, joints(v.Height, 16)
	for b.Loop() {
		if err := r.Raster(ctx, body, v); err != nil {
			b.Fatal(err)
		}
	}
}
