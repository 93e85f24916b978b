package register

import (
	"context"
	"testing"

	"grainstack/slicing/solidtest"
)

// BenchmarkRegister: three scans of 300,000 facets brought together without points, read and ready.
func BenchmarkRegister(b *testing.B) {
	var clouds []*solidtest.Sitting
	for _, s := range solidtest.Sittings(solidtest.Bumpy(100, 500_000), 3, 0.001, 0.1, 1) {
		clouds = append(clouds, &s)
	}
	for b.Loop() {
		var scans []*Scan
		for _, s := range clouds {
			scans = append(scans, scanOf(b, s.Mesh))
		}
		if _, err := Together(context.Background(), scans, nil, nil); err != nil {
			b.Fatal(err)
		}
	}
}
