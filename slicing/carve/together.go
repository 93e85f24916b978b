package carve

import (
	"cmp"
	"math"
	"slices"
)

// Gathered are the largest of some findings and the sum of all sizes.
func Gathered(list []Finding) (largest Finding, all float64) {
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

// Together joins places of neighbouring layers that lie over one another, the largest group first.
func Together(list []Finding) [][]Finding {
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
	var out [][]Finding
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
	slices.SortStableFunc(out, func(a, b []Finding) int {
		_, va := Gathered(a)
		_, vb := Gathered(b)
		return cmp.Compare(vb, va)
	})
	return out
}
