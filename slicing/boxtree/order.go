package boxtree

import (
	"context"
	"math/bits"
	"slices"

	"grainstack/slicing/mesh"
	"grainstack/slicing/par"
)

const (
	// span is how many triangles one piece of parallel work takes.
	span = 1 << 14
	// keyBits is how finely each axis is cut for the Z-order curve.
	keyBits = 21
)

// zOrder lists the facets along the Z-order curve of their middles, with the keys; equal keys stay in the mesh's order.
func zOrder(ctx context.Context, m *mesh.Mesh) (order []int32, keys []uint64, err error) {
	n := len(m.Triangles)
	keys, order = make([]uint64, n), make([]int32, n)
	low, scale := keyFrame(m)
	err = par.Spans(ctx, n, span, func(from, to int) {
		for i := from; i < to; i++ {
			t := m.Triangles[i]
			a, b, c := &m.Points[t[0]], &m.Points[t[1]], &m.Points[t[2]]
			key := uint64(0)
			for k := range low {
				key |= spread(cellOf((float64(a[k])+float64(b[k])+float64(c[k])-low[k])*scale)) << k
			}
			keys[i], order[i] = key, int32(i)
		}
	})
	if err != nil || slices.IsSorted(keys) {
		return order, keys, err
	}
	return sortPairs(ctx, order, keys)
}

// keyFrame is three times the low corner of the mesh's box and the factor that makes sums of three coordinates cells.
func keyFrame(m *mesh.Mesh) (low [3]float64, scale float64) {
	box := m.Box()
	size := box.Size()
	low = [3]float64{3 * box.Min.X, 3 * box.Min.Y, 3 * box.Min.Z}
	if longest := max(size.X, size.Y, size.Z); longest > 0 {
		scale = (1 << keyBits) / (3 * longest)
	}
	return low, scale
}

func cellOf(at float64) uint64 {
	if !(at > 0) {
		return 0
	}
	return min(uint64(at), 1<<keyBits-1)
}

// spread puts two empty bits between the 21 bits of v.
func spread(v uint64) uint64 {
	v = (v | v<<32) & 0x001f00000000ffff
	v = (v | v<<16) & 0x001f0000ff0000ff
	v = (v | v<<8) & 0x100f00f00f00f00f
	v = (v | v<<4) & 0x10c30c30c30c30c3
	return (v | v<<2) & 0x1249249249249249
}

// digit is the width of one pass of the radix sort.
const digit = 11

// sortPairs sorts order by keys, keeping the order of equal keys. The arguments are used up.
func sortPairs(ctx context.Context, order []int32, keys []uint64) ([]int32, []uint64, error) {
	order2, keys2 := make([]int32, len(order)), make([]uint64, len(keys))
	for shift := 0; shift < 3*keyBits; shift += digit {
		if err := ctx.Err(); err != nil {
			return nil, nil, err
		}
		var at [1<<digit + 1]int32
		for _, k := range keys {
			at[k>>shift&(1<<digit-1)+1]++
		}
		for d := 1; d < len(at); d++ {
			at[d] += at[d-1]
		}
		for i, k := range keys {
			d := k >> shift & (1<<digit - 1)
			order2[at[d]], keys2[at[d]] = order[i], k
			at[d]++
		}
		order, order2, keys, keys2 = order2, order, keys2, keys
	}
	return order, keys, nil
}

// splitOf is where a sorted run of keys divides at its highest differing bit; in the middle when all are equal.
func splitOf(keys []uint64) int {
	first, last := keys[0], keys[len(keys)-1]
	if first == last {
		return len(keys) / 2
	}
	mask := uint64(1) << (63 - bits.LeadingZeros64(first^last))
	at := (last &^ (mask - 1))
	i, _ := slices.BinarySearch(keys, at)
	return i
}
