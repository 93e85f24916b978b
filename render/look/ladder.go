package look

// A ladder finds the slabs that a range of heights reaches into without trying them all.
type ladder struct {
	perMM       float32
	first, last [ladderSteps]uint16 // lowest and highest slab of each step, counted from below
	count       int
	fromTop     bool // slabs are kept from the highest to the lowest
}

const ladderSteps = 512

// build makes the ladder for slabs in the order of rays over heights 0..top.
func (l *ladder) build(slabs []slab, top float64) {
	l.count = len(slabs)
	l.fromTop = l.count > 1 && slabs[0].low > slabs[1].low
	l.perMM = float32(ladderSteps / max(top, 1e-6))
	if l.count == 1 {
		return
	}
	k := 0
	for i := range l.first {
		edge := func(j int) float64 { return top * float64(j) / ladderSteps }
		for k+1 < l.count && slabs[l.rank(k)].high < edge(i)-1e-3 {
			k++
		}
		l.first[i] = uint16(k)
		m := k
		for m+1 < l.count && slabs[l.rank(m)].high <= edge(i+1)+1e-3 {
			m++
		}
		l.last[i] = uint16(m)
	}
	l.first[0], l.last[ladderSteps-1] = 0, uint16(l.count-1)
}

func (l *ladder) rank(fromBelow int) int {
	if l.fromTop {
		return l.count - 1 - fromBelow
	}
	return fromBelow
}

// reach gives the least and the greatest number of the slabs that heights low..high can touch.
func (l *ladder) reach(low, high float32) (from, to int) {
	if l.count == 1 {
		return 0, 0
	}
	a, b := int(l.first[l.step(low)]), int(l.last[l.step(high)])
	if l.fromTop {
		return l.count - 1 - b, l.count - 1 - a
	}
	return a, b
}

func (l *ladder) step(h float32) int {
	return int(max(0, min(ladderSteps-1, h*l.perMM)))
}
