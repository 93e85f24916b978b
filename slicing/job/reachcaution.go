package job

import (
	"cmp"
	"math"
	"slices"

	"grainstack/slicing/carve"
	"grainstack/slicing/finding"
	"grainstack/slicing/geom"
	"grainstack/slicing/unit"
)

// mostNamed is how many undercuts ways out are looked for one by one.
const mostNamed = 5

// reachCautions puts findings together, the worst first. What is trapped on both sides of a joint is one place. size is that of
// the piece.
func reachCautions(found []carve.Finding, size geom.Vec) []finding.Finding {
	var out []finding.Finding
	trapped := map[finding.Kind][]carve.Finding{}
	for _, f := range found {
		if f.Kind == finding.Undercut || f.Kind == finding.InnerUndercut {
			trapped[f.Kind] = append(trapped[f.Kind], f)
		} else {
			out = append(out, f.Tell(size))
		}
	}
	for kind, list := range trapped {
		var places []finding.Place
		for _, g := range together(list) {
			places = append(places, trappedPlace(g, size))
		}
		out = append(out, finding.Of(kind, places...))
	}
	return finding.Gather(out)
}

// trappedPlace is what hangs together as one place, at the largest of it.
func trappedPlace(g []carve.Finding, size geom.Vec) finding.Place {
	worst, all := gathered(g)
	p := worst.Tell(size).Worst()
	p.Size = all
	for _, f := range g {
		p.Layer, p.To = min(p.Layer, f.Layer), max(p.To, p.Layer, f.Layer)
	}
	return p
}

// coarseCautions tell that so many columns would be needed that they had to stand farther apart than usual.
func coarseCautions(step float64) []finding.Finding {
	if step <= carve.DefaultStep {
		return nil
	}
	return []finding.Finding{finding.Of(finding.CoarseColumns).With(step, carve.DefaultStep)}
}

// gathered are the largest of some findings and the sum of all sizes.
func gathered(list []carve.Finding) (largest carve.Finding, all float64) {
	for _, f := range list {
		all += f.Size
		if f.Size > largest.Size {
			largest = f
		}
	}
	return largest, all
}

// beyond is how much farther apart than they reach places on both sides of a joint may lie and still count as one, mm.
const beyond = 5

// together joins places of neighbouring layers that lie over one another, the largest group first.
func together(list []carve.Finding) [][]carve.Finding {
	group := make([]int, len(list)) // by the first of its findings
	for i := range list {
		group[i] = i
		for j := range i {
			a, b := list[i], list[j]
			near := math.Hypot(a.At.X-b.At.X, a.At.Y-b.At.Y) <= a.Reach+b.Reach+beyond
			if step := a.Layer - b.Layer; near && (step == -1 || step == 1) {
				from, to := max(group[i], group[j]), min(group[i], group[j])
				for k := range i + 1 {
					if group[k] == from {
						group[k] = to
					}
				}
			}
		}
	}
	var out [][]carve.Finding
	at := map[int]int{}
	for i, f := range list {
		k, known := at[group[i]]
		if !known {
			k = len(out)
			at[group[i]] = k
			out = append(out, nil)
		}
		out[k] = append(out[k], f)
	}
	slices.SortStableFunc(out, func(a, b []carve.Finding) int {
		_, va := gathered(a)
		_, vb := gathered(b)
		return cmp.Compare(vb, va)
	})
	return out
}

// placeWords say where on the piece a place lies.
func placeWords(at, size geom.Vec) string {
	return finding.Words{}.Whereabouts(finding.Place{At: at, Where: finding.Whereabouts(at, size)})
}

// volumeWords is a volume for a sentence, mm³.
func volumeWords(v float64) string { return unit.Volume(v, unit.Metric) }
