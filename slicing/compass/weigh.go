package compass

import (
	"context"
	"errors"
	"math"

	"grainstack/slicing/carve"
	"grainstack/slicing/chalk"
	"grainstack/slicing/geom"
	"grainstack/slicing/job"
	"grainstack/slicing/panel"
	"grainstack/slicing/par"
	"grainstack/slicing/stack"
	"grainstack/slicing/stock"
	"grainstack/slicing/unit"
	"grainstack/slicing/workshop"
)

const (
	// columns is how many columns a square of the surface's area is laid out in, along each side, and leastColumn their finest
	// spacing, mm. The work goes with the area over that of a column; the area is the same however the piece lies in its file.
	columns     = 300
	leastColumn = 1.0
	// Air round the piece that is trapped is taken on finer columns; the hollow, and what is one part, on wider ones.
	trappedFiner, coreWider, partsWider = 0.5, 2.0, 2.0
	// surer is how much more tilt, in degrees, the other end down has to stand for the piece to be turned upside down.
	surer = 2.0
)

// A scale weighs bearings of one piece with one set of settings.
type scale struct {
	piece    *job.Piece
	settings job.Settings
	stock    *stock.Catalogue
	weight   func(facet int) float64
	whole    whole
	look     *look
	soles    *soles
	veneers  []float64
	middle   geom.Vec // of the solid, in the piece's own frame
	bay      bay
	step     float64 // mm
	now      geom.Vec
}

func newScale(p *job.Piece, s job.Settings, c *stock.Catalogue) (*scale, error) {
	if err := s.Check(c); err != nil {
		return nil, err
	}
	if !p.Solid() {
		return nil, errors.New(p.NoInside() + ": mend the scan before directions are compared")
	}
	var marks []chalk.Kind
	if !s.Chalk.Empty() {
		marks = s.Chalk.On(p.Mesh)
	}
	rules, err := workshop.PanelRules(s, c)
	if err != nil {
		return nil, err
	}
	rules.Frame = holdFrame
	size := p.Findings.Size
	long := max(size.X, size.Y, size.Z) * s.Scale
	k := &scale{
		piece: p, settings: s, stock: c, weight: weightOf(marks), whole: newWhole(p.Mesh, marks),
		veneers: stripes(s.Blanks(c).Usual().Veneers, s.Alternate), bay: bay{rules},
		step: max(math.Sqrt(p.Findings.Area)*s.Scale/columns, leastColumn), now: s.Turn.Inverse().Apply(geom.Vec{Z: 1}),
	}
	if n := long / s.LayerThickness(c); n > mostLayers {
		return nil, errors.New("at this scale the piece has hundreds of layers: set its scale or its height first")
	}
	k.middle, _ = p.Mesh.Centroid()
	k.soles = newSoles(p.Mesh)
	return k, nil
}

// mostLayers is more than anybody glues; a piece in the wrong unit would ask for millions.
const mostLayers = 1000

// weigh works out one bearing on a stand-in; present asks for the settings' own stand.
func (k *scale) weigh(ctx context.Context, in *standIn, up geom.Vec, present bool) (Bearing, error) {
	ctx = par.Only(ctx, 1)
	down, over := k.soles.feet(up, job.Evenness/k.settings.Scale, k.weight)
	if !present {
		up, down = k.better(up, down, over)
	}
	s := k.settings
	out := Bearing{Up: up, Now: present, Rough: in.rough}
	if !present {
		s.Turn = s.Turn.Then(geom.TurnTo(s.Turn.Apply(up), geom.Vec{Z: 1}))
	}
	angle, panels, err := k.lay(ctx, in, s, present)
	if err != nil {
		return out, err
	}
	if angle != 0 {
		s.Turn = s.Turn.Then(geom.TurnAbout(geom.Vec{Z: 1}, angle))
	}
	out.Turn, out.Panels = s.Turn, panels
	st, err := k.stand(ctx, in, s)
	if err != nil {
		return out, err
	}
	f, err := job.Instant(ctx, st, s, k.stock)
	if err != nil {
		return out, err
	}
	if !f.Withheld.None() {
		return out, unit.Error{Said: f.Withheld}
	}
	out.figures(f)
	out.StripeShare = k.look.stripeShare(up, k.veneers, down.under)
	out.RingShare = k.look.ringShare(up)
	out.WholeCut = k.whole.crossings(st.Placed.Placement, slabs(f))
	if centre, ok := f.MassCentre(st); ok {
		out.TipDeg = down.tip(centre, st.Placed.Placement.Apply)
	}
	return out, k.reach(ctx, st, f, &out)
}

// better is the end of an axis that goes down: that on which the solid piece stands clearly better, else the one nearer to
// where it is now.
func (k *scale) better(up geom.Vec, down, over foot) (geom.Vec, foot) {
	if up.Dot(k.now) < 0 {
		up, down, over = up.Scale(-1), over, down
	}
	if k.solidTip(up.Scale(-1), over) > k.solidTip(up, down)+surer {
		return up.Scale(-1), over
	}
	return up, down
}

// solidTip is the tip of the piece without a hollow; on the whole that is enough to tell one end from the other.
func (k *scale) solidTip(up geom.Vec, f foot) float64 {
	if len(f.points) == 0 {
		return 0
	}
	u, v := square(up)
	floor := math.Inf(1)
	for _, p := range f.points {
		floor = min(floor, p.Dot(up))
	}
	on := func(p geom.Vec) geom.Vec { return geom.Vec{X: p.Dot(u), Y: p.Dot(v), Z: p.Dot(up) - floor} }
	return f.tip(on(k.middle), on)
}

// lay finds the turn about the stack axis for the fewest panels; the present stand stays as it is.
func (k *scale) lay(ctx context.Context, in *standIn, s job.Settings, present bool) (angle float64, panels int, err error) {
	placed, err := stack.Place(ctx, in.piece.Mesh, s.Stand())
	if err != nil {
		return 0, 0, err
	}
	thick := s.LayerThickness(k.stock)
	slabs, err := stack.Layers(placed.Box.Size().Z, thick, k.firstJoint(thick))
	if err != nil {
		return 0, 0, err
	}
	layers, err := carve.Reach(ctx, placed.Mesh, slabs, carve.Options{Step: k.step * partsWider, Thickness: thick})
	if err != nil {
		return 0, 0, err
	}
	var parts []panel.Part
	blanks := s.Blanks(k.stock)
	for i := range layers {
		blank := blanks.Of(slabs[i].Number)
		for n, g := range layers[i].Outlines() {
			parts = append(parts, panel.Part{ID: panel.ID{Layer: slabs[i].Number, Part: n}, Shadow: g, Turned: blank.Turned, Board: blank.Board.Key})
		}
	}
	turns := turnSteps
	if present {
		turns = 1
	}
	return k.bay.lay(ctx, parts, turns)
}

// firstJoint is where the first joint lies, mm above the floor, as job.Instant takes it.
func (k *scale) firstJoint(thick float64) float64 {
	if j := k.settings.FirstJoint; j > 0 && j < thick {
		return j
	}
	return thick
}

func (k *scale) stand(ctx context.Context, in *standIn, s job.Settings) (*job.Standing, error) {
	st, err := job.Stand(ctx, in.piece, s.Stand())
	if err != nil || in.grid == nil {
		return st, err
	}
	return st.WithField(ctx, in.grid)
}

// figures takes what the instant figures say.
func (b *Bearing) figures(f *job.Figures) {
	b.Layers, b.Joints = len(f.Layers), max(len(f.Layers)-1, 0)
	b.RouterMin, b.WeightKg = f.Totals.RouterMin(), f.Totals.WeightKg
	for i := range f.Layers {
		l := &f.Layers[i]
		b.widest = max(b.widest, (l.Wood+l.Core)/l.Thickness())
		if i > 0 && (i == 1 || l.Joint < b.JointMin) {
			b.JointMin = l.Joint
		}
	}
}

func slabs(f *job.Figures) []stack.Slab {
	out := make([]stack.Slab, len(f.Layers))
	for i := range f.Layers {
		out[i] = f.Layers[i].Slab
	}
	return out
}

// reach takes columns and the ball. What the ball leaves is that of the outside: nobody sees the hollow.
func (k *scale) reach(ctx context.Context, st *job.Standing, f *job.Figures, out *Bearing) error {
	layers, err := carve.Reach(ctx, st.Placed.Mesh, slabs(f), carve.Options{Step: k.step, Thickness: f.Thickness})
	if err != nil {
		return err
	}
	cuts, err := carve.Cuts(ctx, layers, carve.Work{Cutter: k.settings.Fine.In(k.stock), Sums: true}, nil)
	if err != nil {
		return err
	}
	for i := range cuts {
		out.Residue += cuts[i].Sides[carve.Up].Residue.Volume + cuts[i].Sides[carve.Down].Residue.Volume + cuts[i].Through.Volume
	}
	gaps, err := carve.FindGaps(ctx, st.Piece.Mesh, st.Stand, k.step*trappedFiner)
	if err != nil {
		return err
	}
	out.Trapped = gaps.Trapped(f.Thickness, k.firstJoint(f.Thickness))
	hollow := f.Hollow(st)
	if hollow == nil {
		return nil
	}
	layers, err = carve.Reach(ctx, st.Placed.Mesh, slabs(f), carve.Options{Step: k.step * coreWider, Thickness: f.Thickness, Hollow: hollow})
	for i := range layers {
		out.TrappedCore += layers[i].Core.Volume
	}
	return err
}
