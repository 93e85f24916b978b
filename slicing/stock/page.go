package stock

import (
	"bytes"
	"encoding/json"
	"fmt"

	"grainstack/slicing/phrase"
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
	if err := json.Unmarshal(text, &f.Value); err != nil {
		return fmt.Errorf("%s is no number", text)
	}
	return nil
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
	if err := json.Unmarshal(text, &t.Value); err != nil {
		return fmt.Errorf("%s is no list of three numbers", text)
	}
	return nil
}

// strict reads text into v and refuses names that v does not have: a slip in a name would lose a figure.
func strict(text []byte, v any) error {
	dec := json.NewDecoder(bytes.NewReader(text))
	dec.DisallowUnknownFields()
	return dec.Decode(v)
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
	Programs                                                  controllerRow
}

type glueRow struct {
	Key, Name                                                           string
	SpreadGM2, Faces, Solids, OpenMin, ClampMin, SoftMPa, HardMPa, Line figure
	Tone                                                                tone
}

type finishRow struct {
	Key, Name                                                                    string
	Coats, CoverM2L, Shift, EndShift, Chroma, Gloss, RecoatH, DensityKgL, Solids figure
}

type panelRow struct {
	Key, Name string
	X, Y      figure
}

// catalogue makes entries of what is written.
func (w *written) catalogue(check *checker) *Catalogue {
	return &Catalogue{
		First:    w.first,
		Species:  entries(check, w.rows["species"], speciesRow.species),
		Boards:   entries(check, w.rows["boards"], boardRow.board),
		Cutters:  entries(check, w.rows["cutters"], cutterRow.cutter),
		Machines: entries(check, w.rows["machines"], machineRow.machine),
		Glues:    entries(check, w.rows["glues"], glueRow.glue),
		Finishes: entries(check, w.rows["finishes"], finishRow.finish),
		Panels:   entries(check, w.rows["panels"], panelRow.panel),
	}
}

// entries makes one kind's.
func entries[R, E any](check *checker, rows []writtenRow, entry func(R, *checker) E) []E {
	var out []E
	for _, w := range rows {
		check.line = w.line
		var r R
		if err := strict(w.text, &r); err != nil {
			check.fault("%s", phrase.JSON(w.text, err))
			continue
		}
		out = append(out, entry(r, check))
	}
	check.line = 0
	return out
}

func (r boardRow) board(check *checker) Board {
	e := check.entry("board", r.Key, r.Name)
	b := Board{Key: r.Key, Name: r.Name, Sources: e.sources,
		Nominal: e.within("nominal", r.Nominal, 0.5, 300), Thickness: e.within("thickness", r.Thickness, 0.5, 300),
		SheetX: e.within("sheetX", r.SheetX, 1, 20000), SheetY: e.within("sheetY", r.SheetY, 1, 20000),
		Density: e.within("density", r.Density, 50, 3000), GlueLine: e.within("glueLine", r.GlueLine, 0, 2),
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

// leastStep is the least stepdown and stepover, mm: finer than any machine is true, and coarse enough to be reckoned with.
const leastStep = 0.01

func (r cutterRow) cutter(check *checker) Cutter {
	e := check.entry("cutter", r.Key, r.Name)
	shape := e.shape(r.Shape)
	corner, taper := e.ends(shape, r.Diameter.Value, r.CornerRadius, r.TaperDeg)
	return Cutter{Key: r.Key, Name: r.Name, Sources: e.sources, Shape: shape, CornerRadius: corner, TaperDeg: taper,
		Diameter: e.within("diameter", r.Diameter, 0.1, 150), Flutes: e.whole("flutes", r.Flutes, 1, 12),
		CutLength: e.within("cutLength", r.CutLength, 0.5, 500), Reach: e.within("reach", r.Reach, 0.5, 500), Shank: e.within("shank", r.Shank, 0.5, 100),
		FeedMmMin: e.within("feedMmMin", r.FeedMmMin, 1, 100_000), PlungeMmMin: e.within("plungeMmMin", r.PlungeMmMin, 1, 100_000),
		RPM: e.within("rpm", r.RPM, 100, 200_000), Stepdown: e.within("stepdown", r.Stepdown, leastStep, 150), Stepover: e.within("stepover", r.Stepover, leastStep, 150)}
}

func (r machineRow) machine(check *checker) Machine {
	e := check.entry("machine", r.Key, r.Name)
	return Machine{Key: r.Key, Name: r.Name, Sources: e.sources, Controller: r.Programs.controller(e),
		TravelX: e.within("travelX", r.TravelX, 10, 20000), TravelY: e.within("travelY", r.TravelY, 10, 20000), TravelZ: e.within("travelZ", r.TravelZ, 10, 20000),
		RapidMmMin: e.within("rapidMmMin", r.RapidMmMin, 1, 1_000_000), FeedMmMin: e.within("feedMmMin", r.FeedMmMin, 1, 1_000_000),
		RapidZMmMin: e.within("rapidZMmMin", r.RapidZMmMin, 1, 1_000_000), FeedZMmMin: e.within("feedZMmMin", r.FeedZMmMin, 1, 1_000_000),
		AccelMmS2: e.within("accelMmS2", r.AccelMmS2, 1, 1_000_000), AccelZMmS2: e.within("accelZMmS2", r.AccelZMmS2, 1, 1_000_000),
		Junction: e.within("junction", r.Junction, 0.0001, 1), MinRPM: e.within("minRPM", r.MinRPM, 100, 200_000), MaxRPM: e.within("maxRPM", r.MaxRPM, 100, 200_000)}
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
		if r.DensityKgL.given || r.Solids.given { // stock files from before these were asked for have neither
			f.Density, f.Solids = e.within("densityKgL", r.DensityKgL, 0.5, 2), e.within("solids", r.Solids, 0, 1)
		}
	}
	return f
}

func (r panelRow) panel(check *checker) Panel {
	e := check.entry("panel", r.Key, r.Name)
	return Panel{Key: r.Key, Name: r.Name, Sources: e.sources, X: e.within("x", r.X, 10, 20000), Y: e.within("y", r.Y, 10, 20000)}
}
