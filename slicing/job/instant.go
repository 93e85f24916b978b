package job

import (
	"context"
	"math"

	"grainstack/slicing/field"
	"grainstack/slicing/finding"
	"grainstack/slicing/geom"
	"grainstack/slicing/phrase"
	"grainstack/slicing/stack"
	"grainstack/slicing/stock"
	"grainstack/slicing/unit"
)

// Instant is what settings come to, by look-ups: everything but the parts of the layers, the hollows that close off and the
// rims, which Settle adds. Upright cores take a walk over the field as well. The settings' stand has to be the standing's;
// anything wrong is said in Withheld. The error is that of ctx.
func Instant(ctx context.Context, st *Standing, s Settings, c *stock.Catalogue) (*Figures, error) {
	f, err := figure(ctx, st, s, c)
	if err == nil && f.Withheld.None() {
		f.conclude()
	}
	return f, err
}

// figure is Instant before anything is added up.
func figure(ctx context.Context, st *Standing, s Settings, c *stock.Catalogue) (*Figures, error) {
	f := &Figures{For: s, Size: st.Placed.Box.Size(), Thickness: s.LayerThickness(c), CoreKnown: s.Wall == 0 || st.Table != nil, chosen: s.chosen(c)}
	f.moved = st.moved()
	if err := s.Check(c); err != nil {
		return f.withhold(unit.Told(err)), nil
	}
	if n := f.Size.Z / f.Thickness; n > mostLayers {
		return f.withhold(unit.Say("At this scale the piece is %s high, some %.0f layers: set its scale or its height first.", unit.Mm(f.Size.Z), n)), nil
	}
	joint := s.FirstJointIn(f.Thickness)
	slabs, err := stack.Layers(f.Size.Z, f.Thickness, joint)
	if err != nil {
		return f.withhold(unit.Told(err)), nil
	}
	f.Remainder, _ = stack.Remainder(f.Size.Z, f.Thickness, joint)
	blanks := s.Blanks(c)
	for i, slab := range slabs {
		l := Layer{Slab: slab, Blank: blanks.Of(slab.Number), Capped: i < s.CapBottom || i >= len(slabs)-s.CapTop}
		if r, ok := reach(st.flanks, f.Size.Z, slab.Bottom, slab.Top); ok {
			l.Size = geom.Vec2{X: float64(r.maxX - r.minX), Y: float64(r.maxY - r.minY)}
		}
		if i > 0 {
			below := &f.Layers[i-1]
			l.Grain = stack.JointGrain(below.Veneers, l.Veneers, below.Turned, l.Turned)
		}
		f.Layers = append(f.Layers, l)
	}
	if why := f.checkBlanks(); !why.None() {
		return f.withhold(why), nil
	}
	if !st.Piece.Solid() {
		return f.withhold(unit.Say("%s: weight, volume, joints and hours need a solid. Have the scan mended.", phrase.Capital(st.Piece.NoInside()))), nil
	}
	if why := f.unfit(st); !why.None() {
		return f.withhold(why), nil
	}
	if err := f.fillStraight(ctx, st); err != nil {
		return nil, err
	}
	f.skin = st.Skin()
	f.fillWood(st)
	f.fillJoints(st)
	f.fillMinutes(st)
	return f, nil
}

// unfit says why a closed surface has no figures, nothing where it has: a layer without an inside, as where the surface runs
// through itself, or a wall that the field of depths can't tell.
func (f *Figures) unfit(st *Standing) unit.Said {
	for _, l := range f.Layers {
		if st.Profile.Volume(l.Bottom, l.Top) < -max(noWood*f.Size.X*f.Size.Y*f.Size.Z, stack.SliverVolume) {
			return unit.Say("No inside is known: layer %d would hold less than no wood, since the surface runs through itself or is inside out there. Have the scan mended.", l.Number)
		}
	}
	if st.Grid == nil || f.For.Wall == 0 {
		return unit.Said{}
	}
	if step := st.Grid.Step() * st.Placed.Placement.Scale; f.For.Wall < step {
		return unit.Say("A wall of %s is too thin to be told apart on a piece of this size: make it %s or more, or leave the piece solid.", unit.Mm(f.For.Wall), unit.Mm(math.Ceil(step*10)/10))
	}
	return unit.Said{}
}

// noWood is the share of the piece's box within which a layer's volume may be negative: rounding. A tip that thinning has drawn
// through itself by less than a sliver is none that counts either.
const noWood = 1e-9

// conclude adds the layers up and looks for what needs a look.
func (f *Figures) conclude() {
	f.sum()
	f.Cautions = f.cautions()
}

// withhold keeps the layers but says why the rest is missing.
func (f *Figures) withhold(why unit.Said) *Figures {
	f.Withheld = why
	f.Cautions = finding.Gather(f.Cautions, []finding.Finding{finding.Of(finding.Withheld).Because(why)})
	return f
}

// Hollowed reports whether a layer has a hollow that is known.
func (f *Figures) Hollowed(st *Standing, l *Layer) bool {
	return f.For.Wall > 0 && st.Table != nil && !l.Capped
}

func (f *Figures) fillWood(st *Standing) {
	for i := range f.Layers {
		f.hollowOut(st, &f.Layers[i])
	}
}

// hollowOut parts a layer into hollow and wood.
func (f *Figures) hollowOut(st *Standing, l *Layer) {
	whole := st.Profile.Volume(l.Bottom, l.Top)
	l.Core, l.coreMoment = 0, geom.Vec{}
	if f.Hollowed(st, l) {
		core, moment := f.core(st, l)
		l.setCore(core, moment, whole)
	}
	l.Wood = whole - l.Core
}

// core is the volume of a layer's hollow and its moment, by look-ups.
func (f *Figures) core(st *Standing, l *Layer) (volume float64, moment geom.Vec) {
	if f.For.Core == Straight {
		volume = l.Pocket.Area() * (l.PocketTop - l.PocketBottom)
		at, _ := l.Pocket.Centroid()
		return volume, geom.Vec{X: at.X, Y: at.Y, Z: (l.PocketBottom + l.PocketTop) / 2}.Scale(volume)
	}
	return st.Table.CoreVolume(l.Bottom, l.Top, f.For.Wall), st.Table.CoreMoment(l.Bottom, l.Top, f.For.Wall)
}

// setCore sets the hollow, which is the layer's whole volume at the most.
func (l *Layer) setCore(volume float64, moment geom.Vec, whole float64) {
	l.Core, l.coreMoment = volume, moment
	if whole = max(whole, 0); volume > whole {
		l.Core, l.coreMoment = whole, moment.Scale(whole/volume)
	}
}

// pocketRaster is the spacing at which an upright pocket is found, mm: finer than the cutter that clears it can show.
const pocketRaster = 1.5

// leastPocket is the smallest pocket worth cutting, mm²: a cutter of 6.35 mm has to turn in it (common practice, no source).
const leastPocket = 100

// fillStraight finds the upright pocket of each hollowed layer, where that is what the maker wants.
func (f *Figures) fillStraight(ctx context.Context, st *Standing) error {
	if f.For.Core != Straight {
		return nil
	}
	var hollowed []*Layer
	var slabs []field.Slab
	for i := range f.Layers {
		l := &f.Layers[i]
		if !f.Hollowed(st, l) {
			continue
		}
		if l.PocketBottom, l.PocketTop = f.pocketHeights(l); l.PocketBottom < l.PocketTop {
			hollowed, slabs = append(hollowed, l), append(slabs, field.Slab{Bottom: l.PocketBottom, Top: l.PocketTop})
		}
	}
	if len(slabs) == 0 {
		return nil
	}
	pockets, err := st.Grid.StraightCores(ctx, st.Placed.Placement, slabs, f.For.Wall, pocketRaster, leastPocket)
	for i := range pockets {
		hollowed[i].Pocket = pockets[i]
	}
	return err
}

// pocketHeights are where a layer's upright pocket begins and ends: right through, but blind by the wall at either end of
// the stack.
func (f *Figures) pocketHeights(l *Layer) (bottom, top float64) {
	bottom, top = l.Bottom, l.Top
	if l.Number == 1 {
		bottom += f.For.Wall
	}
	if l.Number == len(f.Layers) {
		top -= f.For.Wall
	}
	return bottom, top
}

// fillJoints sets what each layer is glued on: the area that both sections have in common, less the hollow that comes up to
// the joint from either side.
func (f *Figures) fillJoints(st *Standing) {
	for i := 1; i < len(f.Layers); i++ {
		l, below := &f.Layers[i], &f.Layers[i-1]
		l.Joint = st.Profile.JointArea(l.Bottom)
		if f.Hollowed(st, l) || f.Hollowed(st, below) {
			l.Joint = math.Max(0, l.Joint-f.coreAtJoint(st, below, l))
		}
	}
}

// coreAtJoint is the hollow at a joint. Upright pockets of neighbours lie one within the other but for slivers, so that the
// larger is what is missing from the joint.
func (f *Figures) coreAtJoint(st *Standing, below, above *Layer) float64 {
	if f.For.Core == Straight {
		return math.Max(below.Pocket.Area(), above.Pocket.Area())
	}
	return st.Table.CoreArea(above.Bottom, f.For.Wall)
}

// sum makes the totals of the layers.
func (f *Figures) sum() {
	f.Totals = Totals{FitsPanel: true}
	t := &f.Totals
	var kinds boardSums
	for i := range f.Layers {
		l := &f.Layers[i]
		t.Wood += l.Wood
		t.Core += l.Core
		t.Joint += l.Joint
		t.RoughMin += l.Minutes.Rough()
		t.FineMin += l.Minutes.Fine()
		k := kinds.of(l.Board)
		k.wood += l.Wood
		k.whole += l.Wood + l.Core
		if i > 0 && l.Grain == stack.Doubles {
			t.DoubledJoints++
		}
	}
	t.GlueG, t.GlueDryG = f.chosen.glue.Wet(t.Joint), f.chosen.glue.Dry(t.Joint)
	for _, k := range kinds {
		t.WoodKg += k.wood * k.board.Density * kgPerMm3
		t.SavedKg += (k.whole - k.wood) * k.board.Density * kgPerMm3
	}
	t.FinishDryG = f.chosen.finish.Dry(f.skin)
	t.WeightKg = t.WoodKg + (t.GlueDryG+t.FinishDryG)/1000
	f.largest()
	f.panels()
}

// largest finds the largest part and whether it fits the panel with its grain the way its layer needs it. Until the parts
// are known a layer counts as one.
func (f *Figures) largest() {
	t := &f.Totals
	for i := range f.Layers {
		l := &f.Layers[i]
		for _, size := range l.partSizes(f.For.Shop.Allowance) {
			if size.X*size.Y > t.Largest.X*t.Largest.Y {
				t.Largest, t.LargestLayer = size, l.Number
			}
			t.Parts++
			if f.fits(size, l.Turned) {
				continue
			}
			if t.PartsTooLarge++; t.FitsPanel {
				t.FitsPanel, t.TooLarge, t.TooLargeLayer = false, size, l.Number
			}
		}
	}
}

// partSizes are the sizes of a layer's parts as they are carved.
func (l *Layer) partSizes(allowance float64) []geom.Vec2 {
	if len(l.Parts) == 0 {
		return []geom.Vec2{l.Size.Add(geom.Vec2{X: 2 * allowance, Y: 2 * allowance})}
	}
	sizes := make([]geom.Vec2, len(l.Parts))
	for i, p := range l.Parts {
		s := p.Box.Size()
		sizes[i] = geom.Vec2{X: s.X, Y: s.Y}
	}
	return sizes
}

// fits reports whether a part, as it is carved, has room on the panel as the layout has it: a turned
// layer's part lies turned, so that its grain runs with the panel's.
func (f *Figures) fits(size geom.Vec2, turned bool) bool {
	if turned {
		size.X, size.Y = size.Y, size.X
	}
	more := 2 * f.For.Edge(f.chosen.setup.Margin())
	return size.X+more <= f.For.PanelX && size.Y+more <= f.For.PanelY
}
