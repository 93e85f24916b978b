package job

import (
	"grainstack/slicing/carve"
	"grainstack/slicing/finding"
	"grainstack/slicing/geom"
)

// reachCautions puts findings together, the worst first. What is trapped on both sides of a joint is one place. size is that of
// the piece.
func reachCautions(found []carve.Finding, size geom.Vec) []finding.Finding {
	var out []finding.Finding
	trapped := map[finding.Kind][]carve.Finding{}
	for _, f := range found {
		if f.Kind == finding.Undercut || f.Kind == finding.InnerUndercut {
			trapped[f.Kind] = append(trapped[f.Kind], f)
		} else {
			out = append(out, f.Tell(size))
		}
	}
	for kind, list := range trapped {
		var places []finding.Place
		for _, g := range carve.Together(list) {
			places = append(places, trappedPlace(g, size))
		}
		out = append(out, finding.Of(kind, places...))
	}
	return finding.Gather(out)
}

// trappedPlace is what hangs together as one place, at the largest of it.
func trappedPlace(g []carve.Finding, size geom.Vec) finding.Place {
	worst, all := carve.Gathered(g)
	p := worst.Tell(size).Worst()
	p.Size = all
	for _, f := range g {
		p.Layer, p.To = min(p.Layer, f.Layer), max(p.To, p.Layer, f.Layer)
	}
	return p
}

// coarseCautions tell that so many columns would be needed that they had to stand farther apart than usual.
func coarseCautions(step float64) []finding.Finding {
	if step <= carve.DefaultStep {
		return nil
	}
	return []finding.Finding{finding.Of(finding.CoarseColumns).With(step, carve.DefaultStep)}
}
