package arrange

import (
	"context"
	"errors"

	"grainstack/slicing/boxtree"
	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
)

// ErrOpen says that a surface does not close, so that it is not told what is inside.
var ErrOpen = errors.New("arrange: the surface does not close")

// ErrMany says that too many facets meet others: surfaces that lie on one another everywhere but don't agree.
var ErrMany = errors.New("arrange: too many facets meet others")

// mostPairs is how many pairs of facets that may meet are looked at exactly: some ten seconds' worth.
const mostPairs = 400_000

// A Result is a surface that runs nowhere through itself, and what was done to make it.
type Result struct {
	Mesh    *mesh.Mesh
	Lines   int      // along which facets met, each hanging together
	Touched int      // facets that were divided, or left out, where others met them
	Against float64  // units³ that the surface wound round the wrong way, which are left out
	At      geom.Vec // in the largest such place
}

// Resolve makes of a surface that may run through itself, lie on itself or touch itself the one that bounds what it winds round
// at least once. Facets that others meet are cut along the lines where they do, all others stay as they are. What is wound round
// the wrong way is outside. m is not changed; the result's points are m's with new ones after them. ErrOpen and ErrMany say why
// there is no result.
func Resolve(ctx context.Context, m *mesh.Mesh) (*Result, error) {
	m, err := welded(ctx, m)
	if err != nil {
		return nil, err
	}
	tree, err := boxtree.New(ctx, m)
	if err != nil {
		return nil, err
	}
	near, err := tree.Pairs(ctx, false, func(f, g int32) bool { return !apart(m, m.Triangles[f], m.Triangles[g]) })
	if err != nil {
		return nil, err
	}
	if len(near) > mostPairs {
		return nil, ErrMany
	}
	a := &arrangement{points: newPoints(m), tree: tree}
	sheets, err := a.sheets(ctx, near)
	if err != nil {
		return nil, err
	}
	if err := a.cutAll(ctx, sheets); err != nil {
		return nil, err
	}
	patches, err := a.patches()
	if err != nil {
		return nil, err
	}
	return a.choose(ctx, patches)
}

// An arrangement is a surface on its way to being cut: facets that no other meets come first, parts of others after them.
type arrangement struct {
	*points
	tree    *boxtree.Tree
	lines   int
	touched int
	whole   []int32 // numbers of the facets that no other meets
	parts   []part
}

// sheets are the facets that meet others, those of one plane that lie on one another together.
func (a *arrangement) sheets(ctx context.Context, near []boxtree.Pair) ([]*sheet, error) {
	m := meetings{at: map[int32]int32{}}
	for i, p := range near {
		if i&255 == 0 && ctx.Err() != nil {
			return nil, ctx.Err()
		}
		m.add(p, a.meet(p[0], p[1]))
	}
	a.touched = len(m.facets)
	sheets, out := m.sheets()
	a.lines = together(sheets)
	for f := range int32(len(a.m.Triangles)) {
		if _, met := m.at[f]; !met {
			a.whole = append(a.whole, f)
		}
	}
	return out, nil
}

// cutAll divides all sheets.
func (a *arrangement) cutAll(ctx context.Context, sheets []*sheet) error {
	for _, s := range sheets {
		if err := ctx.Err(); err != nil {
			return err
		}
		parts, err := a.cut(s)
		if err != nil {
			return err
		}
		a.parts = append(a.parts, parts...)
	}
	return nil
}
