package join

import (
	"context"
	"testing"

	"grainstack/slicing/cloud"
	"grainstack/slicing/solidtest"
)

// BenchmarkJoin: three scans of 300,000 facets, in one frame, joined.
func BenchmarkJoin(b *testing.B) {
	var clouds []*cloud.Cloud
	for _, s := range solidtest.Sittings(solidtest.Bumpy(100, 480_000), 3, 0.001, 0.1, 1) {
		c, err := cloud.OfMesh(context.Background(), s.Mesh)
		if err != nil {
			b.Fatal(err)
		}
		clouds = append(clouds, c.Placed(s.At))
	}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Join(context.Background(), clouds, Settings{}, nil); err != nil {
			b.Fatal(err)
		}
	}
}
