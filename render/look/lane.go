package look

// A rung is where one triangle meets a slab's plane, on the picture, in 1/256 pixel before the slab is lifted. It runs so
// that the wood is always on the same side.
type rung struct{ x0, y0, x1, y1 float32 }

// A lane is what one goroutine gathers: its depth keys, and the rungs of each slab's plane.
type lane struct {
	keys  []uint64
	rungs [][]rung
	reach [][]int32 // triangles that reach into each slab, kept when the stack is looked through
}

// empty makes room for so many slabs.
func (l *lane) empty(slabs int) {
	for len(l.rungs) < slabs {
		l.rungs = append(l.rungs, nil)
		l.reach = append(l.reach, nil)
	}
	for i := range l.rungs {
		l.rungs[i] = l.rungs[i][:0]
		l.reach[i] = l.reach[i][:0]
	}
}

func sized[T any](s []T, n int) []T {
	if cap(s) < n {
		return make([]T, n)
	}
	return s[:n]
}
