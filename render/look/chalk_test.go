package look

import (
	"context"
	"image/color"
	"testing"

	"grainstack/slicing/chalk"
	"grainstack/slicing/geom"
	"grainstack/slicing/solidtest"
)

// TestChalk: marked facets change colour towards their kind's, the stripes still show through, and nothing else changes.
func TestChalk(t *testing.T) {
	ctx, m := context.Background(), solidtest.Sphere(60, 600)
	m = solidtest.Moved(m, geom.Vec{Z: 60})
	r := rastered(t, m, upright(m, -60, 20, 160, 140))
	plain := Dress{Wood: birch(0.5), Paper: lightPaper}
	bare, err := r.Shade(ctx, plain)
	if err != nil {
		t.Fatal(err)
	}
	marked := plain
	kinds := make([]chalk.Kind, len(m.Triangles))
	for i := range kinds {
		kinds[i] = chalk.Kind(i % 2) // every second facet
	}
	marked.Chalk = Chalk{Kinds: kinds, Colours: [4]color.RGBA{1: {0, 0, 255, 255}}}
	got, err := r.Shade(ctx, marked)
	if err != nil {
		t.Fatal(err)
	}
	blue, same, striped := 0, 0, map[color.RGBA]bool{}
	for y := range 140 {
		for x := range 160 {
			hit, ok := r.Pick(x, y)
			was, is := bare.Image.RGBAAt(x, y), got.Image.RGBAAt(x, y)
			if ok && hit.Facet%2 == 1 {
				if !(is.B > is.R && is.R < was.R) {
					t.Fatalf("facet %d at %d, %d is marked and went from %v to %v", hit.Facet, x, y, was, is)
				}
				blue++
				striped[is] = true
			} else if is != was {
				t.Fatalf("at %d, %d nothing is marked and %v became %v", x, y, was, is)
			} else {
				same++
			}
		}
	}
	if blue < 500 || same < 500 || len(striped) < 50 {
		t.Errorf("%d marked pixels of %d colours, %d others", blue, len(striped), same)
	}
	short := marked
	short.Chalk.Kinds = kinds[:1]
	if _, err := r.Shade(ctx, short); err != nil {
		t.Error(err)
	}
}
