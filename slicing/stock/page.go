package stock

import (
	"bytes"
	"encoding/json"
)

// figure is a number of the file with its source: {"value": 17.7, "source": "..."}, or the bare number in a maker's own
// catalogue.
type figure struct {
	given  bool
	Value  float64 `json:"value"`
	Source string  `json:"source"`
}

func (f *figure) UnmarshalJSON(text []byte) error {
	type plain figure // without this method, which would call itself
	f.given = string(text) != "null"
	if text[0] == '{' {
		return strict(text, (*plain)(f))
	}
	return json.Unmarshal(text, &f.Value)
}

// tone is a Lab of the file with its source: {"value": [81.1, 7.2, 20], "source": "..."}, or the bare list.
type tone struct {
	given  bool
	Value  []float64 `json:"value"`
	Source string    `json:"source"`
}

func (t *tone) UnmarshalJSON(text []byte) error {
	type plain tone
	t.given = string(text) != "null"
	if text[0] == '{' {
		return strict(text, (*plain)(t))
	}
	return json.Unmarshal(text, &t.Value)
}

// strict reads text into v and refuses names that v does not have: a slip in a name would lose a figure.
func strict(text []byte, v any) error {
	dec := json.NewDecoder(bytes.NewReader(text))
	dec.DisallowUnknownFields()
	return dec.Decode(v)
}

// page is the catalogue file as written.
type page struct {
	Note     string       `json:"note"`
	First    Choice       `json:"first"`
	Boards   []boardRow   `json:"boards"`
	Species  []speciesRow `json:"species"`
	Cutters  []cutterRow  `json:"cutters"`
	Machines []machineRow `json:"machines"`
	Glues    []glueRow    `json:"glues"`
	Finishes []finishRow  `json:"finishes"`
	Panels   []panelRow   `json:"panels"`
}

type boardRow struct {
	Key, Name                                             string
	Nominal, Thickness, SheetX, SheetY, Density, GlueLine figure
	GlueTone                                              tone
	Recipe                                                recipeRow
}

type recipeRow struct {
	Source  string
	Veneers []veneerRow
}

type veneerRow struct {
	Thickness float64
	Grain     string
	Species   string
}

type speciesRow struct {
	Key, Name       string
	Long, Dark, End tone
	Vary            figure
}

type cutterRow struct {
	Key, Name, Shape                                string
	Diameter, Flutes, CutLength, Reach, Shank       figure
	FeedMmMin, PlungeMmMin, RPM, Stepdown, Stepover figure
	CornerRadius, TaperDeg                          figure
}

type machineRow struct {
	Key, Name                                                 string
	TravelX, TravelY, TravelZ                                 figure
	RapidMmMin, FeedMmMin, RapidZMmMin, FeedZMmMin, AccelMmS2 figure
	AccelZMmS2, Junction, MinRPM, MaxRPM                      figure
}

type glueRow struct {
	Key, Name                                                           string
	SpreadGM2, Faces, Solids, OpenMin, ClampMin, SoftMPa, HardMPa, Line figure
	Tone                                                                tone
}

type finishRow struct {
	Key, Name                                                string
	Coats, CoverM2L, Shift, EndShift, Chroma, Gloss, RecoatH figure
}

type panelRow struct {
	Key, Name string
	X, Y      figure
}

func (p page) catalogue(check *checker) *Catalogue {
	c := &Catalogue{First: p.First}
	for _, r := range p.Species {
		c.Species = append(c.Species, r.species(check))
	}
	for _, r := range p.Boards {
		c.Boards = append(c.Boards, r.board(check))
	}
	for _, r := range p.Cutters {
		c.Cutters = append(c.Cutters, r.cutter(check))
	}
	for _, r := range p.Machines {
		c.Machines = append(c.Machines, r.machine(check))
	}
	for _, r := range p.Glues {
		c.Glues = append(c.Glues, r.glue(check))
	}
	for _, r := range p.Finishes {
		c.Finishes = append(c.Finishes, r.finish(check))
	}
	for _, r := range p.Panels {
		c.Panels = append(c.Panels, r.panel(check))
	}
	return c
}

func (r boardRow) board(check *checker) Board {
	e := check.entry("board", r.Key, r.Name)
	b := Board{Key: r.Key, Name: r.Name, Sources: e.sources,
		Nominal: e.positive("nominal", r.Nominal), Thickness: e.within("thickness", r.Thickness, 0.5, 300),
		SheetX: e.positive("sheetX", r.SheetX), SheetY: e.positive("sheetY", r.SheetY),
		Density: e.positive("density", r.Density), GlueLine: e.within("glueLine", r.GlueLine, 0, 2),
		GlueTone: e.tone("glueTone", r.GlueTone)}
	for i, v := range r.Recipe.Veneers {
		b.Recipe = append(b.Recipe, Veneer{v.Thickness, e.grain(i, v.Grain), v.Species})
	}
	e.sources["recipe"] = r.Recipe.Source
	e.recipe(b)
	return b
}

func (r speciesRow) species(check *checker) Species {
	e := check.entry("species", r.Key, r.Name)
	return Species{Key: r.Key, Name: r.Name, Sources: e.sources,
		Long: e.tone("long", r.Long), Dark: e.tone("dark", r.Dark), End: e.tone("end", r.End),
		Vary: e.within("vary", r.Vary, 0, 50)}
}

func (r cutterRow) cutter(check *checker) Cutter {
	e := check.entry("cutter", r.Key, r.Name)
	shape := e.shape(r.Shape)
	corner, taper := e.ends(shape, r.Diameter.Value, r.CornerRadius, r.TaperDeg)
	return Cutter{Key: r.Key, Name: r.Name, Sources: e.sources, Shape: shape, CornerRadius: corner, TaperDeg: taper,
		Diameter: e.positive("diameter", r.Diameter), Flutes: e.whole("flutes", r.Flutes, 1, 12),
		CutLength: e.positive("cutLength", r.CutLength), Reach: e.positive("reach", r.Reach), Shank: e.positive("shank", r.Shank),
		FeedMmMin: e.positive("feedMmMin", r.FeedMmMin), PlungeMmMin: e.positive("plungeMmMin", r.PlungeMmMin),
		RPM: e.positive("rpm", r.RPM), Stepdown: e.positive("stepdown", r.Stepdown), Stepover: e.positive("stepover", r.Stepover)}
}

func (r machineRow) machine(check *checker) Machine {
	e := check.entry("machine", r.Key, r.Name)
	return Machine{Key: r.Key, Name: r.Name, Sources: e.sources,
		TravelX: e.positive("travelX", r.TravelX), TravelY: e.positive("travelY", r.TravelY), TravelZ: e.positive("travelZ", r.TravelZ),
		RapidMmMin: e.positive("rapidMmMin", r.RapidMmMin), FeedMmMin: e.positive("feedMmMin", r.FeedMmMin),
		RapidZMmMin: e.positive("rapidZMmMin", r.RapidZMmMin), FeedZMmMin: e.positive("feedZMmMin", r.FeedZMmMin),
		AccelMmS2: e.positive("accelMmS2", r.AccelMmS2), AccelZMmS2: e.positive("accelZMmS2", r.AccelZMmS2),
		Junction: e.within("junction", r.Junction, 0.0001, 1), MinRPM: e.positive("minRPM", r.MinRPM), MaxRPM: e.positive("maxRPM", r.MaxRPM)}
}

func (r glueRow) glue(check *checker) Glue {
	e := check.entry("glue", r.Key, r.Name)
	return Glue{Key: r.Key, Name: r.Name, Sources: e.sources,
		SpreadGM2: e.positive("spreadGM2", r.SpreadGM2), Faces: e.whole("faces", r.Faces, 1, 2),
		Solids: e.within("solids", r.Solids, 0, 1), OpenMin: e.positive("openMin", r.OpenMin), ClampMin: e.positive("clampMin", r.ClampMin),
		SoftMPa: e.positive("softMPa", r.SoftMPa), HardMPa: e.positive("hardMPa", r.HardMPa),
		Line: e.within("line", r.Line, 0, 2), Tone: e.tone("tone", r.Tone)}
}

func (r finishRow) finish(check *checker) Finish {
	e := check.entry("finish", r.Key, r.Name)
	f := Finish{Key: r.Key, Name: r.Name, Sources: e.sources, Coats: e.whole("coats", r.Coats, 0, 20),
		Shift: e.within("shift", r.Shift, -50, 50), EndShift: e.within("endShift", r.EndShift, -50, 50),
		Chroma: e.positive("chroma", r.Chroma), Gloss: e.within("gloss", r.Gloss, 0, 1)}
	if f.Coats > 0 {
		f.CoverM2L, f.RecoatH = e.positive("coverM2L", r.CoverM2L), e.positive("recoatH", r.RecoatH)
	}
	return f
}

func (r panelRow) panel(check *checker) Panel {
	e := check.entry("panel", r.Key, r.Name)
	return Panel{Key: r.Key, Name: r.Name, Sources: e.sources, X: e.positive("x", r.X), Y: e.positive("y", r.Y)}
}
