package job

import (
	"context"
	"testing"

	"grainstack/slicing/geom"
	"grainstack/slicing/solidtest"
	"grainstack/slicing/stack"
)

func millionPlaced(b *testing.B) *stack.Placed {
	p, err := stack.Place(context.Background(), solidtest.Bumpy(100, 1_000_000), stack.Stand{Turn: geom.TurnXYZ(20, 30, 0), Scale: 1})
	if err != nil {
		b.Fatal(err)
	}
	return p
}

func BenchmarkSilhouette(b *testing.B) {
	p := millionPlaced(b)
	for b.Loop() {
		if g := silhouette(p); len(g) == 0 {
			b.Fatal("nothing is seen")
		}
	}
}

func BenchmarkFlanks(b *testing.B) {
	p := millionPlaced(b)
	for b.Loop() {
		if _, err := flanks(context.Background(), p); err != nil {
			b.Fatal(err)
		}
	}
}
