package toolpath

import (
	"context"
	"fmt"
	"math"
	"slices"

	"grainstack/slicing/carve"
	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
	"grainstack/slicing/plane"
	"grainstack/slicing/program"
	"grainstack/slicing/proof"
	"grainstack/slicing/stack"
)

// proofStep is how far apart the proof's columns lie, mm.
const proofStep = 0.2

// mostProofColumns bounds them; larger panels get columns further apart.
const mostProofColumns = 16 << 20

// Wanted is what the panel is to become, for the proof: columns of the parts as they stand, tabs in the gap that is cleared round
// them, the frame beyond.
func (b *Bench) Wanted(ctx context.Context) (*proof.Wanted, error) {
	p := b.panel
	step := max(proofStep, math.Sqrt(p.X*p.Y/mostProofColumns))
	w := &proof.Wanted{
		Blank: program.Blank{X: p.X, Y: p.Y, Board: p.Thickness + 2*p.Skim}, Skim: p.Skim, TurnAlongY: p.Register.Axis == 1,
		Dowels: p.Register.Dowels, DowelDepth: p.Register.Depth,
		W: int(math.Round(p.X/step)) + 1, H: int(math.Round(p.Y/step)) + 1,
	}
	w.StepX, w.StepY = p.X/float64(w.W-1), p.Y/float64(w.H-1)
	n := w.W * w.H
	w.Low, w.High, w.Kind, w.Whose = make([]int16, n), make([]int16, n), make([]proof.Kind, n), make([]int16, n)
	for i := range p.Parts {
		if err := b.part(ctx, w, i); err != nil {
			return nil, err
		}
	}
	away := plane.Distances(w.W, w.H, func(k int) bool { return w.Kind[k] == proof.Part }, false)
	gap := int32(math.Pow((b.setup.Margin()+b.step+w.StepX)/w.StepX, 2)) // the boundary is no truer than the columns that it was found on
	for k, d := range away {
		if w.Kind[k] == proof.Free && (d == plane.Endless || d > gap) {
			w.Kind[k], w.Low[k], w.High[k] = proof.Frame, proof.Counts(p.Skim), proof.Counts(w.Blank.Board-p.Skim)
		}
	}
	for i := range p.Tabs {
		b.tab(w, &p.Tabs[i])
	}
	for _, h := range p.Holes {
		b.bored(w, h)
	}
	return w, ctx.Err()
}

// part takes the columns of a part. The mesh is given two places off the panel, so that columns come to lie on the nodes.
func (b *Bench) part(ctx context.Context, w *proof.Wanted, i int) error {
	one := *b.panel
	one.Parts = one.Parts[i : i+1]
	m := one.wood()
	stretch := w.StepX / w.StepY
	for k := range m.Points {
		m.Points[k][1] *= float32(stretch)
	}
	const most = 0.4 // of a step: rounding must not make a column more of it
	m.Points = append(m.Points, mesh.PointOf(geom.Vec{X: -most * w.StepX, Y: -most * w.StepX}),
		mesh.PointOf(geom.Vec{X: (float64(w.W-1) + most) * w.StepX, Y: (float64(w.H-1) + most) * w.StepX}))
	layers, err := carve.Reach(ctx, m, []stack.Slab{{Number: 1, Top: one.Thickness}}, carve.Options{Step: w.StepX, Thickness: one.Thickness})
	if err != nil {
		return err
	}
	l := &layers[0]
	if l.Top.Z == nil {
		return nil
	}
	i0, j0 := int(math.Round(l.Top.Origin.X/w.StepX)), int(math.Round(l.Top.Origin.Y/w.StepX))
	for j := range l.Top.H {
		for k := range l.Top.W {
			x, y := i0+k, j0+j
			if top := l.Top.At(k, j); top != carve.NoWood && x >= 0 && y >= 0 && x < w.W && y < w.H {
				n := y*w.W + x
				w.Kind[n], w.Whose[n] = proof.Part, int16(min(i+1, math.MaxInt16))
				w.Low[n], w.High[n] = proof.Counts(float64(l.Bottom.At(k, j))+one.Skim), proof.Counts(float64(top)+one.Skim)
			}
		}
	}
	return nil
}

// tab puts a tab into the gap, and what is missing of it over thin wood.
func (b *Bench) tab(w *proof.Wanted, t *Tab) {
	low, high := proof.Counts(max(t.Bottom, 0)+b.panel.Skim), proof.Counts(min(t.Top, b.panel.Thickness)+b.panel.Skim)
	far := t.Length + t.Root + t.Width
	eachNode(w, t.At, far, func(k int, at geom.Vec2) {
		d := at.Sub(t.At)
		if l := d.Dot(t.Way); math.Abs(d.Cross(t.Way)) > t.Width/2 || l < -t.Root || l > t.Length {
			return
		}
		switch w.Kind[k] {
		case proof.Free:
			w.Kind[k], w.Low[k], w.High[k] = proof.Tab, low, high
		case proof.Part:
			w.Low[k], w.High[k] = min(w.Low[k], low), max(w.High[k], high)
		}
	})
}

// bored takes the hole of a pin out of its part, as wide as columns show it.
func (b *Bench) bored(w *proof.Wanted, h Hole) {
	eachNode(w, h.At, h.Diameter/2+w.StepX, func(k int, at geom.Vec2) {
		if w.Kind[k] != proof.Part || at.Sub(h.At).Len() > h.Diameter/2+w.StepX/2 {
			return
		}
		w.Kind[k], w.Low[k], w.High[k], w.Whose[k] = proof.Free, 0, 0, 0
	})
}

// eachNode visits the nodes in a square about a place.
func eachNode(w *proof.Wanted, at geom.Vec2, half float64, visit func(k int, at geom.Vec2)) {
	i0, i1 := columns(at.X-half, at.X+half, 0, w.StepX, w.W)
	j0, j1 := columns(at.Y-half, at.Y+half, 0, w.StepY, w.H)
	for j := j0; j <= j1; j++ {
		for i := i0; i <= i1; i++ {
			visit(j*w.W+i, geom.Vec2{X: float64(i) * w.StepX, Y: float64(j) * w.StepY})
		}
	}
}

// clampHigh is how high a clamp is taken to stand above the panel's face, mm (common practice, no source).
const clampHigh = 20.0

// Limits are how far programs of the panel may go. nut is the diameter of the collet nut, mm.
func (b *Bench) Limits(nut float64) proof.Limits {
	l := proof.UsualLimits()
	l.Leave, l.Lattice = b.setup.Leave, b.step
	if nut > 0 {
		l.Nut = nut
	}
	for _, c := range b.panel.Clamps {
		l.Clamps = append(l.Clamps, proof.Clamp{Box2: c, Side: 0, Height: clampHigh}, proof.Clamp{Box2: c, Side: 1, Height: clampHigh})
	}
	return l
}

// A Proven is a panel's programs as they are written, with what came of the proof.
type Proven struct {
	Made  []Made
	Files [][]program.File // of each program
	Proof *proof.Proof
}

// Prove writes a panel's programs for a machine and carries them out on a model of its board. The error says where they fail:
// such programs are not to be written.
func (b *Bench) Prove(ctx context.Context, m program.Machine, nut float64) (*Proven, error) {
	out := &Proven{}
	var err error
	out.Made, err = b.Programs(ctx, func(dowels [2]geom.Vec2) geom.Vec2 {
		o := m.Origin(program.Blank{X: b.panel.X, Y: b.panel.Y, Board: b.panel.Thickness + 2*b.panel.Skim}, dowels)
		return geom.Vec2{X: o.X, Y: o.Y}
	})
	if err != nil {
		return nil, err
	}
	written := make([]proof.Written, len(out.Made))
	for i := range out.Made {
		one := &out.Made[i]
		files, err := program.Write(one.Program, m)
		if err != nil {
			return nil, err
		}
		one.Moves = nil // from here on the text is all that counts
		out.Files = append(out.Files, files)
		written[i] = proof.Written{For: &one.Program, Files: files}
	}
	want, err := b.Wanted(ctx)
	if err != nil {
		return nil, err
	}
	if out.Proof, err = proof.Prove(ctx, want, b.Limits(nut), m, written); err != nil {
		return nil, err
	}
	if !out.Proof.Holds() {
		faults := slices.Clone(out.Proof.Faults)
		words := faults[0].String()
		if n := len(faults) - 1; n > 0 {
			words += fmt.Sprintf("; %d more", n)
		}
		return out, fmt.Errorf("the programs of panel %d would spoil it, and none are written: %s", b.panel.Number, words)
	}
	return out, nil
}
