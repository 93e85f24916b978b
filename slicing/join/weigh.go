package join

import (
	"context"
	"math"

	"grainstack/slicing/cloud"
	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
	"grainstack/slicing/par"
)

// A witness is a point of a scan and what it is worth.
type witness struct {
	at, normal mesh.Point
	area       float32 // of the surface that it stands for, less where other scans saw it too
	reach      float32 // how far it tells where the surface is
	trust      float32 // 1 well within a scan, less at the rim of all that saw the place
}

const (
	// slanting is the worth of what a scan saw from the side, against 1 for what it saw straight on.
	slanting = 0.1
	// atRim is the worth of a point at the rim of its scan.
	atRim = 0.02
	// sureFrom is how many spacings from the rim a scan is trusted wholly where no other saw the place.
	sureFrom = 3
	// samePlace is within how many spacings the points of two scans are of one place.
	samePlace = 2.5
	// spread is how far a point tells where the surface is, by the spacing round it.
	spread = 2.0
	span   = 2048
)

// weigh gives all points of all scans with their worth; seams are blended over a width.
func weigh(ctx context.Context, scans []*cloud.Cloud, blend float64) ([]witness, error) {
	worth, trust := make([][]float32, len(scans)), make([][]float32, len(scans))
	trees := make([]*cloud.Tree, len(scans))
	total := 0
	for i, c := range scans {
		trees[i] = cloud.NewTree(c.Points)
		var err error
		if worth[i], trust[i], err = alone(ctx, c, blend); err != nil {
			return nil, err
		}
		total += len(c.Points)
	}
	out := make([]witness, total)
	base := 0
	for i, c := range scans {
		err := par.Spans(ctx, len(c.Points), span, func(from, to int) {
			for p := from; p < to; p++ {
				sum, sure := worth[i][p], trust[i][p]
				for j, o := range scans {
					if j == i {
						continue
					}
					q, _ := trees[j].Nearest(c.Points[p].Vec(), samePlace*math.Max(c.Spacing, o.Spacing))
					if q >= 0 && c.Normals[p].Vec().Dot(o.Normals[q].Vec()) > 0.3 {
						sum, sure = sum+worth[j][q], max(sure, trust[j][q])
					}
				}
				out[base+p] = witness{c.Points[p], c.Normals[p], c.Areas[p] * worth[i][p] / sum, float32(spread * math.Sqrt(float64(c.Areas[p]))), sure}
			}
		})
		if err != nil {
			return nil, err
		}
		base += len(c.Points)
	}
	return out, nil
}

// alone is what the points of a scan are worth for themselves: how straight on they were seen and how far they lie from the rim.
func alone(ctx context.Context, c *cloud.Cloud, blend float64) (worth, trust []float32, err error) {
	worth, trust = make([]float32, len(c.Points)), make([]float32, len(c.Points))
	towards := sight(c)
	var rim []mesh.Point
	for i, r := range c.Rim {
		if r {
			rim = append(rim, c.Points[i])
		}
	}
	tree := cloud.NewTree(rim)
	sure := sureFrom * c.Spacing
	err = par.Spans(ctx, len(c.Points), span, func(from, to int) {
		for i := from; i < to; i++ {
			far := math.Max(blend, sure)
			if q, d2 := tree.Nearest(c.Points[i].Vec(), far); q >= 0 {
				far = math.Sqrt(d2)
			}
			straight := math.Max(slanting, 1-towards.Len()+towards.Dot(c.Normals[i].Vec()))
			worth[i] = float32(straight * (atRim + (1-atRim)*gentle(far/blend)))
			trust[i] = float32(gentle(far / sure))
		}
	})
	return worth, trust, err
}

// sight is where a scan was seen from, as far as its normals tell: their mean. It is short for a scan from all sides, which then was
// seen straight on everywhere.
func sight(c *cloud.Cloud) geom.Vec {
	var sum geom.Vec
	for i, n := range c.Normals {
		sum = sum.Add(n.Vec().Scale(float64(c.Areas[i])))
	}
	return sum.Scale(1 / math.Max(c.Area(), 1e-300))
}

// gentle rises from 0 at 0 to 1 at 1 without a kink.
func gentle(x float64) float64 {
	x = math.Max(0, math.Min(1, x))
	return x * x * (3 - 2*x)
}
