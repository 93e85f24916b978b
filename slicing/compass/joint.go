package compass

import (
	"context"
	"errors"
	"math"

	"grainstack/slicing/job"
	"grainstack/slicing/stock"
)

// An Offset is a height for the first joint and what it comes to.
type Offset struct {
	FirstJoint float64 // mm above the floor, as in the settings: 0 for a whole layer
	WholeCut   int     // joints through what is to be kept whole
	WholeMM    float64 // and how long they run through it
	JointMin   float64 // mm², the smallest joint; the largest section where there is none
	Layers     int
}

const (
	// offsetStep is the step between heights that are tried, mm: what a maker can set.
	offsetStep = 0.5
	// shortfall is the share by which a smallest joint may be smaller than another and count as good as it.
	shortfall = 0.1
)

// BestOffset is the height for the first joint that suits a standing best, and that which the settings have. Fewest joints
// through what is to be kept whole come first; then, if there have to be some, the shortest way through it; then the largest
// smallest joint, a tenth less counting as much; then the fewest layers; then the nearest to a whole layer. The marks are
// those of the facets of the standing's piece, nil for none.
func BestOffset(ctx context.Context, st *job.Standing, s job.Settings, c *stock.Catalogue, marks Marks) (best, now Offset, err error) {
	if marks != nil && len(marks) != len(st.Piece.Mesh.Triangles) {
		return best, now, errors.New("the marks are those of another surface: mark the piece again")
	}
	w := newWhole(st.Piece.Mesh, marks)
	thick := s.LayerThickness(c)
	var all []Offset
	for joint := 0.0; joint < thick; joint += offsetStep {
		o, err := offset(ctx, st, s, c, &w, joint)
		if err != nil {
			return best, now, err
		}
		all = append(all, o)
	}
	if now, err = offset(ctx, st, s, c, &w, s.FirstJoint); err != nil {
		return best, now, err
	}
	return pick(all, thick), now, nil
}

func offset(ctx context.Context, st *job.Standing, s job.Settings, c *stock.Catalogue, w *whole, joint float64) (Offset, error) {
	s.FirstJoint = joint
	f, err := job.Instant(ctx, st, s, c)
	if err != nil {
		return Offset{}, err
	}
	if f.Withheld != "" {
		return Offset{}, errors.New(f.Withheld)
	}
	var b Bearing
	b.figures(f)
	o := Offset{FirstJoint: joint, JointMin: b.jointWorth(), Layers: b.Layers}
	o.WholeCut, o.WholeMM = crossed(w.crossings(st.Placed.Placement, slabs(f)))
	return o, nil
}

// pick narrows the offsets down, one wish after the other.
func pick(all []Offset, thick float64) Offset {
	narrow := func(cost func(*Offset) float64, slack func(least float64) float64) {
		least := math.Inf(1)
		for i := range all {
			least = math.Min(least, cost(&all[i]))
		}
		var kept []Offset
		for i := range all {
			if cost(&all[i]) <= slack(least) {
				kept = append(kept, all[i])
			}
		}
		all = kept
	}
	same := func(v float64) float64 { return v }
	narrow(func(o *Offset) float64 { return float64(o.WholeCut) }, same)
	narrow(func(o *Offset) float64 { return o.WholeMM }, func(v float64) float64 { return v * (1 + shortfall) })
	narrow(func(o *Offset) float64 { return -o.JointMin }, func(v float64) float64 { return v * (1 - shortfall) })
	narrow(func(o *Offset) float64 { return float64(o.Layers) }, same)
	narrow(func(o *Offset) float64 {
		if o.FirstJoint == 0 {
			return 0
		}
		return thick - o.FirstJoint
	}, same)
	return all[0]
}
