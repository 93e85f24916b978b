package workshop

import (
	"context"
	"math"

	"grainstack/slicing/finding"
	"grainstack/slicing/geom"
	"grainstack/slicing/glue"
	"grainstack/slicing/job"
	"grainstack/slicing/plane"
	"grainstack/slicing/stock"
)

// order plans the glue-up of the layers.
func (w *making) order(g stock.Glue, clamp glue.Clamp) {
	layers := make([]glue.Layer, len(w.Figures.Layers))
	joints := make([]glue.Joint, len(w.Joints))
	for i := range w.Figures.Layers {
		l := &w.Figures.Layers[i]
		layers[i] = glue.Layer{
			Number: l.Number, Bottom: l.Bottom, Top: l.Top, MassG: l.Wood * l.Board.Density * gramPerMm3, Centre: w.Figures.Centre(w.st, l),
			Size: l.Size, Parts: len(w.Layers[i].Parts),
		}
	}
	for i, j := range w.Joints {
		joints[i] = j.Joint
	}
	w.GlueUp = glue.Order(layers, joints, glue.Rules{Glue: g, Clamp: clamp})
	w.tell(w.GlueUp.Findings...)
}

// gramPerMm3 times a density in kg/m³ is the density in g/mm³.
const gramPerMm3 = 1e-6

// stand works out the balance of the finished piece: wood less hollow, dry glue at the joints, and dry finish on the outside.
func (w *making) stand(ctx context.Context) error {
	var moment geom.Vec
	mass := 0.0
	for i := range w.Figures.Layers {
		l := &w.Figures.Layers[i]
		mass += l.Wood * l.Board.Density * gramPerMm3
		moment = moment.Add(w.Figures.Moment(w.st, l).Scale(l.Board.Density * gramPerMm3))
	}
	for i := range w.Joints {
		j := &w.Joints[i]
		mass += j.DryG
		moment = moment.Add(j.centre().Scale(j.DryG))
	}
	mass += w.Finish.DryG
	moment = moment.Add(w.st.Placed.Mesh.SurfaceCentre().Scale(w.Finish.DryG))
	base, err := job.Footprint(ctx, w.st)
	if err != nil {
		return err
	}
	body := glue.Body{MassG: mass, Base: base}
	if mass > 0 {
		body.Centre = moment.Scale(1 / mass)
	}
	standing, ok := body.Stand()
	w.Balance = Balance{body, standing, ok}
	if ok && standing.Margin > 0 && standing.TipDeg >= job.Easily {
		return nil
	}
	saw, _, err := w.Figures.SawToStand(ctx, w.st, body)
	if err != nil {
		return err
	}
	foot := tipsOver(body, standing)
	at := finding.Place{Layer: 1, At: foot, Placed: true, Where: finding.Whereabouts(foot, w.Figures.Size)}
	switch {
	case !ok:
		w.tell(finding.Of(finding.NoFoot, at).With(saw.Mm, saw.TipDeg))
	case standing.Margin < 0:
		w.tell(finding.Of(finding.FallsOver, at).With(-standing.Margin, saw.Mm, saw.TipDeg))
	default:
		w.tell(finding.Of(finding.TipsEasily, at).With(standing.TipDeg, saw.Mm, saw.TipDeg))
	}
	return nil
}

// tipsOver is where what touches the floor is nearest to the edge that the body tips over: there is wood there, where between two
// feet there is none. It is the plumb line's foot for what touches the floor nowhere.
func tipsOver(b glue.Body, s glue.Balance) geom.Vec {
	foot := geom.Vec2{X: b.Centre.X, Y: b.Centre.Y}
	edge := foot.Add(s.Towards.Scale(s.Margin))
	best, least := foot, math.Inf(1)
	for _, ring := range b.Base {
		for i, p := range ring {
			q := plane.Nearest(edge, p, ring[(i+1)%len(ring)])
			if d := q.Sub(edge).Len(); d < least {
				best, least = q, d
			}
		}
	}
	return geom.Vec{X: best.X, Y: best.Y}
}

// centre is the middle of a joint's area.
func (j *Joint) centre() geom.Vec {
	at, _ := j.Lower.Centroid()
	area := j.Lower.Area()
	if core := j.LowerCore; len(core) > 0 {
		if hollow, ok := core.Centroid(); ok && area > core.Area() {
			at = at.Scale(area).Sub(hollow.Scale(core.Area())).Scale(1 / (area - core.Area()))
		}
	}
	return geom.Vec{X: at.X, Y: at.Y, Z: j.Z}
}
