package workshop

import (
	"context"
	"errors"
	"math"
	"slices"

	"grainstack/slicing/finding"
	"grainstack/slicing/geom"
	"grainstack/slicing/job"
	"grainstack/slicing/panel"
	"grainstack/slicing/par"
	"grainstack/slicing/plane"
)

// pin places the alignment pins: in every second joint first, then in those between, which keep off the pins above and below.
func (w *making) pin(ctx context.Context) error {
	h := w.For.Shop
	if !(h.PinDiameter > 0) {
		return nil
	}
	if err := w.pinLevels(ctx); err != nil {
		return err
	}
	bare := make([]bool, len(w.Joints))
	said := make([][]finding.Finding, len(w.Joints))
	faults := make([]error, len(w.Joints))
	for first := range 2 {
		err := par.Spans(ctx, (len(w.Joints)+1-first)/2, 1, func(k, _ int) {
			i := 2*k + first
			bare[i], said[i], faults[i] = w.pinJoint(ctx, i)
		})
		if err := errors.Join(append(faults, err)...); err != nil {
			return err
		}
	}
	w.tell(slices.Concat(said...)...)
	var without []int
	for i, b := range bare {
		if b {
			without = append(without, w.Joints[i].Above)
		}
	}
	if len(without) > 0 {
		w.tell(finding.InLayers(finding.NoPins, without...).With(h.PinDiameter))
	}
	return nil
}

// pinJoint places the pins of one joint; bare says that a piece of it has fewer than two.
func (w *making) pinJoint(ctx context.Context, i int) (bare bool, said []finding.Finding, err error) {
	j := &w.Joints[i]
	if j.Depth <= 0 {
		return true, nil, nil
	}
	j.depths = w.depths(i)
	rules := panel.PinRules{Diameter: w.For.Shop.PinDiameter, Cover: pinCover(w.For.Shop), Clear: j.clear()}
	for _, k := range []int{i - 1, i + 1} {
		if i%2 == 0 || k >= len(w.Joints) {
			continue // the neighbours come later
		}
		pins := w.Joints[k].Pins
		for _, p := range pins {
			rules.Avoid = append(rules.Avoid, p.At)
		}
		if len(pins) > 1 {
			rules.Differ = append(rules.Differ, pins[0].At.Sub(pins[1].At).Len())
		}
	}
	if own := w.Places.PinsOf(j.Above); len(own) > 0 {
		j.Pins, said = w.ownPins(j, own, rules)
		return false, said, nil
	}
	for _, l := range j.levels {
		rules.Within = append(rules.Within, l.wood)
	}
	faces := []geom.Region{j.Lower, j.Upper}
	for _, g := range []geom.Region{j.lowerPieces, j.upperPieces} {
		if g != nil {
			faces = append(faces, g)
		}
	}
	pins, commons, err := panel.Pins(ctx, faces, []geom.Region{j.LowerCore, j.UpperCore}, rules)
	if err != nil {
		return false, nil, err
	}
	j.Pins = pins
	return len(pins) == 0 || slices.ContainsFunc(commons, func(c panel.Common) bool { return c.Pins < 2 && c.Area >= leastPinned }), nil, nil
}

// leastPinned is the smallest common area that is expected to have pins, mm².
const leastPinned = 400.0

// ownPins takes the maker's pins and names those that would show or stand in the hollow.
func (w *making) ownPins(j *Joint, own []geom.Vec2, r panel.PinRules) (pins []panel.Pin, said []finding.Finding) {
	for _, at := range own {
		room, near := j.PinRoom(at)
		if room < r.Diameter/2+r.Cover-1e-6 {
			said = append(said, finding.Of(finding.PinAtEdge, finding.Place{Layer: j.Above, Size: room}).With(r.Diameter/2+r.Cover).Named(near.String()))
		}
		pins = append(pins, panel.Pin{At: at, Room: room})
	}
	return pins, said
}

// A PinNear is what a pin comes out at first.
type PinNear int

// What a pin may come too near to.
const (
	JointEdge PinNear = iota // of the two faces that meet
	Outside                  // the piece's surface, above or below the joint
	InHollow                 // the hollow, at the joint or above or below it
	JointLine                // along which the maker has split a part
)

func (n PinNear) String() string {
	return [...]string{"the joint's edge", "the surface", "the hollow", "the joint line"}[n]
}

// PinRoom is how far the axis of a pin at a point of the joint is from what it would come out at first, over its whole depth,
// mm; 0 where it does.
func (j *Joint) PinRoom(at geom.Vec2) (room float64, near PinNear) {
	if !j.Lower.Contains(at) || !j.Upper.Contains(at) {
		return 0, JointEdge
	}
	if j.LowerCore.Contains(at) || j.UpperCore.Contains(at) {
		return 0, InHollow
	}
	room = math.Inf(1)
	closer := func(d float64, n PinNear) {
		if d < room-1e-9 { // an edge that is there twice is what it was first
			room, near = d, n
		}
	}
	faces := []struct {
		geom.Region
		near PinNear
	}{{j.Lower, JointEdge}, {j.Upper, JointEdge}, {j.LowerCore, InHollow}, {j.UpperCore, InHollow}, {j.lowerPieces, JointLine}, {j.upperPieces, JointLine}}
	for _, l := range j.levels {
		if !l.wood.Contains(at) {
			return 0, Outside
		}
		faces = append(faces, struct {
			geom.Region
			near PinNear
		}{l.wood, Outside})
	}
	for _, g := range faces {
		for _, r := range g.Region {
			for i, a := range r {
				closer(plane.Apart(at, a, r[(i+1)%len(r)]), g.near)
			}
		}
	}
	if d := j.depths; d != nil {
		outside, hollow := d.room(at)
		closer(outside, Outside)
		closer(hollow, InHollow)
	}
	return math.Max(0, room), near
}

// leastCover is the least wood round a pin and beyond its ends, mm (common practice, no source).
const leastCover = 2.0

// cover is the wood wanted round a pin, mm.
func pinCover(h job.Shop) float64 { return math.Max(leastCover, h.PinCover) }

// PinWants is the wood wanted from the middle of a pin to the nearest surface, mm.
func PinWants(h job.Shop) float64 { return h.PinDiameter/2 + pinCover(h) }

// pinSections is how many sections are taken on either side of a joint, over the depth of a pin's hole and the wood beyond it.
const pinSections = 8

// pinLevels cuts the piece over the depth of every joint's pins: there the surface itself says where they come out.
func (w *making) pinLevels(ctx context.Context) error {
	var planes []float64
	for i := range w.Joints {
		j := &w.Joints[i]
		for k := range pinSections {
			if off := (j.Hole + leastCover) * float64(k+1) / pinSections; j.Hole > 0 {
				j.levels = append(j.levels, pinLevel{z: j.Z - off}, pinLevel{z: j.Z + off})
				planes = append(planes, j.Z-off, j.Z+off)
			}
		}
	}
	if len(planes) == 0 {
		return nil
	}
	cuts, err := w.st.Slicer.SectionsAbove(ctx, planes)
	if err != nil {
		return err
	}
	for i := range w.Joints {
		for k := range w.Joints[i].levels {
			w.Joints[i].levels[k].wood, cuts = cuts[0].Region, cuts[1:]
		}
	}
	return nil
}

// depths are those of joint i; nil where there is no field.
func (w *making) depths(i int) *pinDepths {
	if w.st.Grid == nil {
		return nil
	}
	f, j := w.Figures, &w.Joints[i]
	const levels = 6
	d := &pinDepths{st: w.st, wall: f.For.Wall}
	for k := range levels + 1 {
		deep := j.Hole * float64(k) / levels
		d.at = append(d.at, depthLevel{j.Z - deep, carvedHollow(f, w.st, i)}, depthLevel{j.Z + deep, carvedHollow(f, w.st, i+1)})
	}
	return d
}

// carvedHollow reports whether a layer, counted from 0, has a hollow that follows the outside.
func carvedHollow(f *job.Figures, st *job.Standing, i int) bool {
	return f.Hollowed(st, &f.Layers[i]) && f.For.Core == job.Carved
}
