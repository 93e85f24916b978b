package app

import (
	"math"

	"grainstack/app/picture"
	"grainstack/slicing/geom"
	"grainstack/slicing/job"
)

// picked is what a click came to.
func (w *window) picked(a pickAsk, out lookOut) {
	if !out.found {
		return
	}
	p := own(out.place, out.hit.Point)
	switch a.why {
	case "lay":
		if n, ok := picture.FacetNormal(out.mesh, out.hit.Facet); ok {
			w.picking.what = ""
			w.stand("lay on a facet", n)
		}
	case "measure":
		w.gather(p, 2)
	case "floor":
		if w.gather(p, 3) {
			w.standOnThree()
		}
	case "saw":
		w.picking.what = ""
		w.sawAt(p)
	default:
		w.pickAt(out.hit.Point.Z)
	}
}

// gather keeps a picked point, and reports whether there are as many as wanted.
func (w *window) gather(p geom.Vec, wanted int) bool {
	if len(w.picking.points) >= wanted {
		w.picking.points = nil
	}
	w.picking.points = append(w.picking.points, p)
	whole := len(w.picking.points) == wanted
	if whole {
		w.picking.what = ""
	}
	w.askLook()
	w.showAll()
	return whole
}

// stand sets the piece down on what faces along n, in its own frame.
func (w *window) stand(name string, n geom.Vec) {
	w.Do(name, func(s job.Settings) job.Settings {
		s.Turn = s.Stand().LayOnFacet(n).Turn
		return s
	})
	w.Rest()
	w.showAll()
}

// flattest is how narrow a triangle of three floor points may be, height by longest side: narrower ones say little of the floor.
const flattest = 0.02

// standOnThree turns the piece so that the three picked points are level, with the greater part of it above them.
func (w *window) standOnThree() {
	p := w.picking.points
	w.picking.points = nil
	ab, ac, bc := p[1].Sub(p[0]), p[2].Sub(p[0]), p[2].Sub(p[1])
	n := ab.Cross(ac)
	long := math.Max(ab.Len(), math.Max(ac.Len(), bc.Len()))
	if !(n.Len() > flattest*long*long) {
		w.margin.hint("These three points lie in a line, nearly: pick three that are farther from it.")
		w.askLook()
		w.showAll()
		return
	}
	if n.Dot(w.model.piece.Mesh.Box().Center().Sub(p[0])) > 0 {
		n = n.Scale(-1)
	}
	w.stand("stand on three points", n)
}

// sawAt saws the scan off level as it stands, through a point of its own frame.
func (w *window) sawAt(p geom.Vec) {
	w.Do("saw at a place", func(s job.Settings) job.Settings {
		saw := w.model.piece.SawBase(s, 0)
		saw.D = saw.Normal.Dot(p)
		s.Mend.Saw = saw
		return s
	})
	w.Rest()
	w.showAll()
}
