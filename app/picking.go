package app

import (
	"grainstack/app/picture"
	"grainstack/app/state"
	"grainstack/app/view"
	"grainstack/slicing/geom"
	"grainstack/slicing/job"
)

// A picker takes clicks on the piece for something.
type picker struct {
	*core
	piece *view.Look
}

// pickFor takes the next clicks on the piece for something else than a layer.
func (h *picker) pickFor(what string) {
	h.bench.Selected.Picking = state.Picking{What: what}
	h.bench.View.Brush.On = false
	h.piece.Focus()
	h.changed()
}

// leavePicking forgets what is being picked, and reports whether there was anything.
func (h *picker) leavePicking() bool {
	p := &h.bench.Selected.Picking
	if p.What == "" && len(p.Points) == 0 {
		return false
	}
	*p = state.Picking{}
	h.changed()
	return true
}

// picked is what a click came to.
func (h *picker) picked(s view.Shown[view.LookAsk, view.LookOut]) {
	out, picking := s.Out, &h.bench.Selected.Picking
	if !out.Found {
		return
	}
	p := out.Own(out.Hit.Point)
	switch s.Ask.Why() {
	case "lay":
		if n, ok := picture.FacetNormal(out.Mesh, out.Hit.Facet); ok {
			picking.What = ""
			h.standOn("lay on a facet", n)
		}
	case "measure":
		h.gather(p, 2)
	case "floor":
		if h.gather(p, 3) {
			h.standOnThree()
		}
	case "saw":
		picking.What = ""
		h.sawAt(p)
	default:
		h.pickAt(out.Hit.Point.Z)
	}
}

// pickAt picks the layer at a height.
func (h *picker) pickAt(z float64) {
	if h.bench.Figures == nil {
		return
	}
	for _, l := range h.bench.Figures.Layers {
		if z >= l.Bottom && z < l.Top {
			h.pick(l.Number)
			return
		}
	}
}

// gather keeps a picked point, and reports whether there are as many as wanted.
func (h *picker) gather(p geom.Vec, wanted int) bool {
	whole := h.bench.Selected.Picking.Gather(p, wanted, h.bench.Settings().Turn)
	h.changed()
	return whole
}

// standOn sets the piece down on what faces along n, in its own frame.
func (h *picker) standOn(name string, n geom.Vec) {
	h.Do(name, func(s job.Settings) job.Settings {
		s.Turn = s.Stand().LayOnFacet(n).Turn
		return s
	})
	h.Rest()
}

// standOnThree turns the piece so that the three picked points are level, with the greater part of it above them.
func (h *picker) standOnThree() {
	p := h.bench.Selected.Picking.Points
	h.bench.Selected.Picking.Points = nil
	n, ok := geom.Below(h.bench.Model.Piece.Mesh.Box().Center(), p[0], p[1], p[2])
	if !ok {
		h.Hint("These three points lie in a line, nearly: pick three that are farther from it.")
		h.changed()
		return
	}
	h.standOn("stand on three points", n)
}

// sawAt saws the scan off level as it stands, through a point of its own frame.
func (h *picker) sawAt(p geom.Vec) {
	h.Do("saw at a place", func(s job.Settings) job.Settings {
		saw := h.bench.Model.Piece.SawBase(s, 0)
		saw.D = saw.Normal.Dot(p)
		s.Mend.Saw = saw
		return s
	})
	h.Rest()
}
