package boxtree

import (
	"context"
	"slices"

	"grainstack/slicing/par"
)

// leavesAtOnce is how many nodes are compared with the rest between two looks at the context.
const leavesAtOnce = 1 << 10

// A Pair is two facets, the lower number first.
type Pair [2]int32

// Pairs lists the pairs of facets whose boxes meet and that counts approves of; it is called from several goroutines. The order
// depends on the mesh only. Where any will do, some are enough.
func (t *Tree) Pairs(ctx context.Context, anyWillDo bool, counts func(f, g int32) bool) ([]Pair, error) {
	boxes := make([]Box, len(t.Order))
	err := par.Spans(ctx, len(t.Order), span, func(from, to int) {
		for i := from; i < to; i++ {
			boxes[i] = EmptyBox()
			for _, v := range t.Mesh.Triangles[t.Order[i]] {
				boxes[i].Add(t.Mesh.Points[v])
			}
		}
	})
	if err != nil {
		return nil, err
	}
	lists := make([][]Pair, (len(t.Nodes)+leavesAtOnce-1)/leavesAtOnce)
	search, enough := context.WithCancel(ctx)
	defer enough()
	_ = par.Spans(search, len(t.Nodes), leavesAtOnce, func(from, to int) { // ctx says below whether it was called off
		c := comparison{Tree: t, boxes: boxes, counts: counts}
		for i := from; i < to && search.Err() == nil; i++ {
			if t.Nodes[i].Leaf {
				c.leaf(int32(i))
			}
			if anyWillDo && len(c.found) > 0 {
				enough()
			}
		}
		lists[from/leavesAtOnce] = c.found
	})
	return slices.Concat(lists...), ctx.Err()
}

// A comparison is the search of one worker.
type comparison struct {
	*Tree
	boxes  []Box // of the facets, in the tree's order
	counts func(f, g int32) bool
	found  []Pair
}

// leaf compares the facets of leaf i with each other and with those of all later leaves.
func (c *comparison) leaf(i int32) {
	n := &c.Nodes[i]
	around := c.Boxes[i]
	for a := n.First; a < n.Stop; a++ {
		c.with(a, a+1, n.Stop)
	}
	for j := n.Skip; int(j) < len(c.Nodes); {
		o := &c.Nodes[j]
		switch {
		case !around.meets(&c.Boxes[j]):
			j = o.Skip
			continue
		case o.Leaf:
			for a := n.First; a < n.Stop; a++ {
				if c.boxes[a].meets(&c.Boxes[j]) {
					c.with(a, o.First, o.Stop)
				}
			}
		}
		j++
	}
}

// with compares the facet at place a of the order with those from first up to stop.
func (c *comparison) with(a, first, stop int32) {
	for b := first; b < stop; b++ {
		if !c.boxes[a].meets(&c.boxes[b]) {
			continue
		}
		if f, g := c.Order[a], c.Order[b]; c.counts(f, g) {
			c.found = append(c.found, Pair{min(f, g), max(f, g)})
		}
	}
}
