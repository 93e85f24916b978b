package report

import "grainstack/slicing/finding"

// A Look is one thing that needs a look: its kind and how bad that is, the sentence that tells it, and its places.
type Look struct {
	Kind   string `json:"kind"`
	Class  string `json:"class"`
	Text   string `json:"text"`
	Places []Spot `json:"places"`
}

// A Spot is where something needs a look; its size is mm, mm², mm³ or a number by the kind.
type Spot struct {
	Layer   int         `json:"layer,omitempty"`
	ToLayer int         `json:"to_layer,omitempty"` // where it goes on through several
	Part    int         `json:"part,omitempty"`
	AtMm    *[3]float64 `json:"at_mm,omitempty"`
	Size    float64     `json:"size,omitempty"`
}

// look adds findings: the worst are told first.
func (r *Report) look(all []finding.Finding) {
	r.found = finding.Gather(r.found, all)
	words := finding.Words{Paper: true}
	r.Cautions = append([]string{}, words.Texts(r.found)...)
	r.Look = []Look{}
	for _, f := range r.found {
		one := Look{f.Kind.String(), f.Kind.Class().String(), words.Sentence(f), []Spot{}}
		for _, p := range f.Places {
			at := Spot{Layer: p.Layer, Part: p.Part, Size: p.Size}
			if p.To > p.Layer {
				at.ToLayer = p.To
			}
			if p.Placed {
				at.AtMm = &[3]float64{p.At.X, p.At.Y, p.At.Z}
			}
			one.Places = append(one.Places, at)
		}
		r.Look = append(r.Look, one)
	}
}
