package mesh

// keyBits is how finely each axis is cut for the Z-order curve: a surface passes a few million of the 1024³ cells, so that
// a scan's triangles get a cell of their own or share it with neighbours.
const keyBits = 10

// spatialOrder lists the facets' numbers along the Z-order curve of their middles; facets of one cell stay in file order.
// Each entry's low 32 bits are the facet's number.
func spatialOrder(facets []facet, box extent) []uint64 {
	keys := make([]uint64, len(facets))
	var low, scale Point
	for k := range low {
		low[k] = 3 * box.min[k]
		if size := box.max[k] - box.min[k]; size > 0 {
			scale[k] = (1 << keyBits) / (3 * size)
		}
	}
	run(len(facets), span, func(from, to int) {
		for i := from; i < to; i++ {
			f := &facets[i]
			var key uint32
			for k := range low {
				at := (f[0][k] + f[1][k] + f[2][k] - low[k]) * scale[k]
				key |= spread(cell(at)) << k
			}
			keys[i] = uint64(key)<<32 | uint64(i)
		}
	})
	return sortByKey(keys)
}

// cell is the whole part of at, kept within the grid. Sums of huge coordinates may be infinite or no number: those go to 0.
func cell(at float32) uint32 {
	if !(at > 0) {
		return 0
	}
	if at >= 1<<keyBits {
		return 1<<keyBits - 1
	}
	return uint32(at)
}

// spread puts two empty bits between the ten bits of v.
func spread(v uint32) uint32 {
	v = (v | v<<16) & 0x030000ff
	v = (v | v<<8) & 0x0300f00f
	v = (v | v<<4) & 0x030c30c3
	return (v | v<<2) & 0x09249249
}

// digit is the width of one pass of the radix sort; three passes cover a key.
const digit = keyBits

// sortByKey sorts by the high 32 bits, keeping the order of equal keys. It may return either keys or a new slice.
func sortByKey(keys []uint64) []uint64 {
	other := make([]uint64, len(keys))
	spans := (len(keys) + span - 1) / span
	counts := make([][1 << digit]int32, spans)
	for shift := 32; shift < 32+3*keyBits; shift += digit {
		run(len(keys), span, func(from, to int) {
			c := &counts[from/span]
			clear(c[:])
			for _, k := range keys[from:to] {
				c[k>>shift&(1<<digit-1)]++
			}
		})
		starts(counts)
		run(len(keys), span, func(from, to int) {
			at := &counts[from/span]
			for _, k := range keys[from:to] {
				d := k >> shift & (1<<digit - 1)
				other[at[d]] = k
				at[d]++
			}
		})
		keys, other = other, keys
	}
	return keys
}

// starts turns the counts of each span into the places where the span's entries begin.
func starts(counts [][1 << digit]int32) {
	sum := int32(0)
	for d := range 1 << digit {
		for s := range counts {
			n := counts[s][d]
			counts[s][d] = sum
			sum += n
		}
	}
}
