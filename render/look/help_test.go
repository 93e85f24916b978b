package look

import (
	"context"
	"image"
	"image/color"
	"math"
	"testing"

	"grainstack/render/tone"
	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
)

var lightPaper = Paper{
	Top: color.RGBA{0xf6, 0xf1, 0xe6, 255}, Bottom: color.RGBA{0xe4, 0xdf, 0xd4, 255},
	Ink: color.RGBA{0x2b, 0x26, 0x20, 255}, Accent: color.RGBA{0xb8, 0x3a, 0x2b, 255}, Shadow: 1,
}

// birch is a board of 13 veneers that measures 17.8 mm, skimmed by 0.9 mm on each face: 16 mm are left. Long grain is
// native silver birch (Dudiak & Dzurenda, Acta Facultatis Xylologiae Zvolen); end grain 12 darker is from memory.
func birch(coat float64) Wood {
	w := Wood{Alternate: true, GlueLine: 0.08, Joint: 0.15, Finish: varnish(coat), Seed: 7}
	ply := 17.8 / 13
	for i := range 13 {
		t := ply
		if i == 0 || i == 12 {
			t -= 0.9
		}
		w.Veneers = append(w.Veneers, Veneer{t, i%2 == 0, tone.Lab{81.1, 7.2, 20}, tone.Lab{69, 9, 18.5}})
	}
	return w
}

// varnish is so much of a satin varnish, after the catalogue's figures.
func varnish(coat float64) Finish {
	return Finish{Shift: 5 * coat, EndShift: 9 * coat, Chroma: 1 + 0.18*coat, Gloss: 0.05 + 0.3*coat}
}

// stand puts a mesh upright on the floor, its longest side as given in mm.
func stand(m *mesh.Mesh, longest float64) (geom.Placement, float64) {
	b := m.Box()
	s := b.Size()
	k := longest / max(s.X, s.Y, s.Z)
	c := b.Center().Scale(k)
	return geom.Placement{Turn: geom.NoTurn(), Scale: k, Shift: geom.Vec{X: -c.X, Y: -c.Y, Z: -b.Min.Z * k}}, s.Z * k
}

// joints are the heights between layers of a thickness.
func joints(height, thickness float64) (out []float64) {
	for z := thickness; z < height-1e-6; z += thickness {
		out = append(out, z)
	}
	return out
}

// zebra is wood of two veneers to the panel, white and black whatever way it is seen.
func zebra(thickness float64) Wood {
	white, black := tone.Lab{95, 0, 0}, tone.Lab{10, 0, 0}
	return Wood{Veneers: []Veneer{{thickness, true, white, white}, {thickness, true, black, black}}}
}

// plain is one wood without stripes.
func plain(t tone.Lab) Wood { return Wood{Veneers: []Veneer{{1, true, t, t}}} }

// upright is a view of a mesh whose frame is the stand's, from the front at the given elevation in degrees.
func upright(m *mesh.Mesh, azimuth, elevation float64, w, h int) View {
	const deg = math.Pi / 180
	return View{
		Camera:    Camera{Azimuth: azimuth * deg, Elevation: elevation * deg, Zoom: 1},
		Placement: geom.Placement{Turn: geom.NoTurn(), Scale: 1},
		Height:    m.Box().Max.Z, Size: image.Pt(w, h),
	}
}

// rastered is a renderer that has looked at a mesh.
func rastered(t *testing.T, m *mesh.Mesh, v View) *Renderer {
	t.Helper()
	r := NewRenderer()
	if err := r.Raster(context.Background(), NewBody(m), v); err != nil {
		t.Fatal(err)
	}
	return r
}

// picture is the look of a mesh as it is drawn while the hand moves.
func picture(t *testing.T, m *mesh.Mesh, v View, d Dress) *image.RGBA {
	t.Helper()
	f, err := rastered(t, m, v).Shade(context.Background(), d)
	if err != nil {
		t.Fatal(err)
	}
	return f.Image
}

// seen calls do for every pixel that is not paper.
func (r *Renderer) seen(do func(x, y int, s *sample)) {
	for y := r.window.y0; y < r.window.y1; y++ {
		for x := r.window.x0; x < r.window.x1; x++ {
			if s := &r.samples[y*r.lens.w+x]; s.kind != paper {
				do(x, y, s)
			}
		}
	}
}

// meanLight is the mean linear light of the pixels of r's body in its picture.
func meanLight(t *testing.T, r *Renderer, d Dress) float64 {
	t.Helper()
	f, err := r.Shade(context.Background(), d)
	if err != nil {
		t.Fatal(err)
	}
	sum, n := 0.0, 0
	r.seen(func(x, y int, _ *sample) {
		c := f.Image.RGBAAt(x, y)
		l := tone.FromBytes(c.R, c.G, c.B)
		sum += float64(l.Luminance())
		n++
	})
	return sum / float64(n)
}

// fineOf is the settled picture of a mesh.
func fineOf(t *testing.T, m *mesh.Mesh, v View, d Dress) *image.RGBA {
	t.Helper()
	f, err := NewRenderer().Fine(context.Background(), NewBody(m), v, d)
	if err != nil {
		t.Fatal(err)
	}
	return f.Image
}
