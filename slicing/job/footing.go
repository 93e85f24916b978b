package job

import (
	"context"
	"math"
	"slices"

	"grainstack/slicing/geom"
	"grainstack/slicing/glue"
	"grainstack/slicing/stack"
)

const (
	// Easily is a tilt at which a piece that is touched falls over, degrees (common practice, no source).
	Easily = 10.0
	// Evenness is how high above the floor what touches it may lie, mm: sanding a foot flat takes as much.
	Evenness = 0.3
	// gramPerMm3 times a density in kg/m³ is the density in g/mm³.
	gramPerMm3 = 1e-6
)

// Footprint is what touches the floor once the foot is sanded even: all that lies within what that takes off. Its hull counts, not
// its area: paws on either side of a flat place are in it as well as that.
func Footprint(ctx context.Context, st *Standing) (geom.Region, error) {
	cuts, err := footprints(ctx, st, []float64{0})
	if err != nil {
		return nil, err
	}
	return cuts[0].Region, nil
}

// footprints are what would touch the floor if the piece were sawn off at heights, level, and the foot sanded even.
func footprints(ctx context.Context, st *Standing, at []float64) ([]stack.Section, error) {
	even := math.Min(Evenness, st.Height()/100)
	var planes []float64
	for _, z := range at {
		planes = append(planes, z, z+even)
	}
	cuts, err := st.Slicer.SectionsAbove(ctx, planes)
	if err != nil {
		return nil, err
	}
	out := make([]stack.Section, len(at))
	for i := range at {
		out[i] = stack.Section{Z: at[i], Region: slices.Concat(cuts[2*i].Region, cuts[2*i+1].Region)}
	}
	return out, nil
}

// Body is the wood of the figures as it stands on the floor, without glue and finish.
func (f *Figures) Body(ctx context.Context, st *Standing) (glue.Body, error) {
	base, err := Footprint(ctx, st)
	if err != nil {
		return glue.Body{}, err
	}
	b := glue.Body{Base: base}
	var moment geom.Vec
	for i := range f.Layers {
		l := &f.Layers[i]
		k := l.Board.Density * gramPerMm3
		b.MassG += l.Wood * k
		moment = moment.Add(f.Moment(st, l).Scale(k))
	}
	if b.MassG > 0 {
		b.Centre = moment.Scale(1 / b.MassG)
	}
	return b, nil
}

// A SawnFoot is how much is sawn off a piece, level, so that it stands, and the tilt at which it falls over then.
type SawnFoot struct{ Mm, TipDeg float64 }

const (
	sawStep  = 0.5  // mm that cuts are tried apart, at first
	sawGrows = 1.05 // and how much farther apart each is than the one before
	mostSawn = 0.15 // of the height that is sawn off at the most
)

// SawToStand is the least that has to be sawn off for a body to stand until it is tilted by more than Easily, or where no cut does
// that, the cut with which it stands best; ok is false where none makes it stand any better. What goes is counted as solid wood of
// the lowest layer's board.
func (f *Figures) SawToStand(ctx context.Context, st *Standing, b glue.Body) (best SawnFoot, ok bool, err error) {
	if len(f.Layers) == 0 || !(b.MassG > 0) {
		return best, false, nil
	}
	var cuts []float64
	for step, z := sawStep, sawStep; z <= mostSawn*st.Height(); z += math.Round(step/sawStep) * sawStep {
		cuts = append(cuts, z)
		step *= sawGrows
	}
	sections, err := footprints(ctx, st, cuts)
	if err != nil {
		return best, false, err
	}
	now, stands := b.Stand()
	if stands {
		best.TipDeg = math.Max(0, now.TipDeg)
	}
	for _, s := range sections {
		tip, stands := f.standsOn(st, b, s)
		if !stands || tip <= best.TipDeg+better {
			continue
		}
		best, ok = SawnFoot{s.Z, tip}, true
		if tip >= Easily {
			break
		}
	}
	return best, ok, ctx.Err()
}

// better is by how many degrees a cut has to let a piece lean further to be named.
const better = 1.0

// standsOn is the tilt at which a body falls over that is sawn off at a section, degrees; ok is false where it doesn't stand.
func (f *Figures) standsOn(st *Standing, b glue.Body, s stack.Section) (tip float64, ok bool) {
	k := f.Layers[0].Board.Density * gramPerMm3
	off := st.Profile.Volume(0, s.Z) * k
	if off >= b.MassG {
		return 0, false
	}
	left := b.Centre.Scale(b.MassG).Sub(st.Profile.Moment(0, s.Z).Scale(k)).Scale(1 / (b.MassG - off))
	left.Z -= s.Z
	balance, ok := glue.Body{MassG: b.MassG - off, Centre: left, Base: s.Region}.Stand()
	return balance.TipDeg, ok && balance.Margin > 0
}

// SawnOff are the settings with so much sawn off the piece as it stands, level; ok is false where a saw at a slant is set already:
// there is one cut only.
func (f *Figures) SawnOff(st *Standing, mm float64) (s Settings, ok bool) {
	s = f.For
	saw := st.Piece.SawBase(s, 0)
	if was := s.Mend.Saw; was.On && was.Normal.Unit().Dot(saw.Normal.Unit()) < 1-1e-9 {
		return s, false
	}
	saw.D = saw.Normal.Dot(st.Placed.Placement.Back(geom.Vec{Z: mm}))
	s.Mend.Saw = saw
	return s, true
}
