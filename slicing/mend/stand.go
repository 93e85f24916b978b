package mend

import (
	"context"

	"grainstack/slicing/arrange"
	"grainstack/slicing/boxtree"
)

// A stander decides which shells are turned and which go. Winding numbers are those of the mesh as it was given.
type stander struct {
	*bench
	groups  groups
	shells  []Shell
	crossed []bool // shells that run through others
	tree    *windingTree
}

// stand turns shells that are inside out and drops those that lie wholly in the wood of others; pairs are the facets that
// run through one another.
func (b *bench) stand(ctx context.Context, pairs []boxtree.Pair) error {
	g, shells, err := b.shells(ctx)
	if err != nil || len(shells) == 1 && !shells[0].Inward {
		return err
	}
	s := stander{bench: b, groups: g, shells: shells, crossed: make([]bool, len(shells))}
	for _, p := range pairs {
		s.crossed[g.of[p[0]]], s.crossed[g.of[p[1]]] = true, true
	}
	if err := s.turn(ctx); err != nil {
		return err
	}
	return s.drop(ctx)
}

// around is how often the other shells wind round shell i.
func (s *stander) around(ctx context.Context, i int) (float64, error) {
	if len(s.shells) == 1 {
		return 0, nil
	}
	if s.tree == nil {
		t, err := newWindingTree(ctx, s.m)
		if err != nil {
			return 0, err
		}
		s.tree = t
	}
	return around(s.tree, &s.groups, s.shells, int32(i), arrange.Tolerance(s.m)), nil
}

// turn turns the shells that face inward, but not hollows: those have wood all round and run through nothing.
func (s *stander) turn(ctx context.Context) error {
	turns := 0
	inward := make([]bool, len(s.shells))
	for i, sh := range s.shells {
		if !sh.Inward {
			continue
		}
		w, err := s.around(ctx, i)
		if err != nil {
			return err
		}
		if inward[i] = w < 0.5 || s.crossed[i]; inward[i] {
			turns++
		}
	}
	if turns == 0 {
		return nil
	}
	var list []int32
	for i, g := range s.groups.of {
		if inward[g] {
			list = append(list, int32(i))
		}
	}
	for i := range s.shells {
		if inward[i] {
			s.shells[i].Inward, s.shells[i].Volume = false, -s.shells[i].Volume
		}
	}
	s.m = turnedOver(s.m, list) // points and facets keep their numbers
	s.adj = s.m.Adjacency()
	s.tree = nil
	s.did(Reversed, turns, 0)
	return nil
}

// drop leaves out closed shells that lie in the wood of others and run through none.
func (s *stander) drop(ctx context.Context) error {
	drops := 0
	swallowed := make([]bool, len(s.shells))
	for i, sh := range s.shells {
		if sh.Inward || s.crossed[i] || !sh.Closed || len(s.shells) == 1 {
			continue
		}
		w, err := s.around(ctx, i)
		if err != nil {
			return err
		}
		if swallowed[i] = w > 0.5; swallowed[i] {
			drops++
		}
	}
	if drops == 0 {
		return nil
	}
	s.take(keeping(s.m, func(i int) bool { return !swallowed[s.groups.of[i]] }))
	s.did(Swallowed, drops, 0)
	return nil
}
