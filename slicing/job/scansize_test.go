package job_test

import (
	"context"
	"math"
	"testing"

	"grainstack/assets/stocktest"
	"grainstack/slicing/geom"
	"grainstack/slicing/job"
	"grainstack/slicing/mend"
	"grainstack/slicing/mesh"
	"grainstack/slicing/solidtest"
)

// speckled are two balls of radius 50 that run through one another, 60 apart in X, so that they become one, and a far
// speck of 4/50 of their size, so of less than a thousandth of their volume; with the heights of a ball and of the whole.
func speckled() (m *mesh.Mesh, ball, whole float64) {
	b := solidtest.Sphere(50, 2000)
	m = solidtest.Join(b, solidtest.Moved(b, geom.Vec{X: 60}), solidtest.Moved(solidtest.Sphere(4, 500), geom.Vec{Y: 20, Z: 400}))
	return m, b.Box().Size().Z, m.Box().Size().Z
}

// TestHeightIsTheScans: the scale is that of the scan without its debris, before and after mending and whatever is sawn off,
// and with the debris where that is kept.
func TestHeightIsTheScans(t *testing.T) {
	m, ball, whole := speckled()
	ctx, raw := context.Background(), job.NewPiece("speckled", m, mesh.Raw{})
	off, keep, sawn := job.Default(stocktest.Catalogue(t)), job.Default(stocktest.Catalogue(t)), job.Default(stocktest.Catalogue(t))
	off.Mend.Off, keep.Mend.DebrisShare = true, -1
	sawn.Mend.Saw = mend.Plane{Normal: geom.Vec{Z: 1}, D: -20, On: true}
	for _, tt := range []struct {
		name         string
		s            job.Settings
		units, piece float64 // the scan's height and the piece's, by construction
	}{
		{"mended", job.Default(stocktest.Catalogue(t)), ball, ball}, {"sawn", sawn, ball, ball/2 + 20}, {"left", off, whole, whole},
		{"all kept", keep, whole, whole},
	} {
		sized, err := raw.Sized(ctx, tt.s)
		if err != nil {
			t.Fatal(err)
		}
		tt.s.Scale = sized.ScaleForHeight(tt.s.Turn, 300)
		near(t, tt.name+": scale", tt.s.Scale, 300/tt.units, 1e-6)
		p, err := sized.Mend(ctx, tt.s, nil)
		if err != nil {
			t.Fatal(err)
		}
		st, err := job.Stand(ctx, p, tt.s.Stand())
		if err != nil {
			t.Fatal(err)
		}
		near(t, tt.name+": height of the scan", st.ScanSize.Z, 300, 1e-9)
		near(t, tt.name+": scale once it stands", st.ScaleForHeight(tt.s.Turn, 150), tt.s.Scale/2, 1e-9)
		near(t, tt.name+": height of the piece", st.Height(), 300*tt.piece/tt.units, 0.01)
	}
	sized, err := raw.Sized(ctx, sawn)
	if err != nil {
		t.Fatal(err)
	}
	if back, err := sized.Sized(ctx, off); err != nil || math.Abs(back.ScanSize(geom.NoTurn()).Z-whole) > 1e-4 {
		t.Errorf("with mending off the scan of a sized piece is %v high, %v", back.ScanSize(geom.NoTurn()).Z, err)
	}
	if same, err := raw.Sized(ctx, off); err != nil || same != raw {
		t.Errorf("a piece with nothing to leave out is another: %v", err)
	}
}
