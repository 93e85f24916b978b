package report

import (
	"grainstack/slicing/finding"
	"grainstack/slicing/job"
)

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

// A Laid is a place that the maker sees to by hand, with the note that was made of it.
type Laid struct {
	Look
	Note string `json:"note,omitempty"`
}

// SetAside takes the places that the maker sees to by hand out of what needs a look, and lists them by themselves.
func (r *Report) SetAside(asides []finding.Aside, st *job.Standing) {
	r.asides, r.on = asides, st.Placed.Placement
	r.look(nil)
}

// look adds findings: the worst are told first.
func (r *Report) look(all []finding.Finding) {
	r.found = finding.Gather(r.found, all)
	open, aside := finding.Open(r.found, r.asides, r.on)
	r.Cautions = append([]string{}, words.Texts(open)...)
	r.Look, r.Aside = []Look{}, nil
	for _, f := range open {
		r.Look = append(r.Look, lookOf(f))
	}
	for _, a := range aside {
		r.Aside = append(r.Aside, Laid{lookOf(a.Finding), a.Note})
	}
}

// words are how findings are told.
var words = finding.Words{Paper: true}

func lookOf(f finding.Finding) Look {
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
	return one
}
