// Package report puts what a piece and its settings come to into an object for programs and for keeping: names carry their
// units, and what was not worked out is left out.
package report

import (
	"context"
	"encoding/json"

	"grainstack/slicing/finding"
	"grainstack/slicing/geom"
	"grainstack/slicing/job"
	"grainstack/slicing/mesh"
	"grainstack/slicing/unit"
)

// A Report is what a piece and its settings come to, with names that carry their units, for programs and for keeping.
type Report struct {
	Piece    Piece           `json:"piece"`            // as it was mended
	Scan     Piece           `json:"scan"`             // as it was read
	Survey   *Survey         `json:"survey,omitempty"` // of the scan
	Mending  Mending         `json:"mending"`
	Settings json.RawMessage `json:"settings"`           // what was chosen, resolved to figures
	Withheld string          `json:"withheld,omitempty"` // why figures are missing
	Layers   []Layer         `json:"layers,omitempty"`
	Sections []Section       `json:"sections,omitempty"`
	Totals   *Totals         `json:"totals,omitempty"`
	Carve    *Carve          `json:"carve,omitempty"`
	Kept     []Kept          `json:"kept_whole,omitempty"` // places that shall stay whole
	Better   *FirstJoint     `json:"better_first_joint,omitempty"`
	Cautions []string        `json:"cautions"`
	Look     []Look          `json:"needs_a_look"`        // the same, the worst first, as figures
	Aside    []Laid          `json:"set_aside,omitempty"` // what the maker sees to by hand, which is not among them
	Shop
	Programs []Program `json:"programs,omitempty"`      // where they were asked for
	Proven   []Proven  `json:"proven_panels,omitempty"` // the same

	found  []finding.Finding
	asides []finding.Aside
	on     geom.Placement // of the stand that places are told on
}

// A Piece is the piece as it was read, at its scale.
type Piece struct {
	File             string     `json:"file"`
	Format           string     `json:"format"`
	Facets           int        `json:"facets"` // in the file
	Triangles        int        `json:"triangles"`
	Shells           int        `json:"shells"`
	OpenEdges        int        `json:"open_edges"`
	NonManifoldEdges int        `json:"nonmanifold_edges"`
	FlippedEdges     int        `json:"flipped_edges"`
	ZeroArea         int        `json:"zero_area_facets"`
	Solid            bool       `json:"solid"`
	VolumeCm3        *float64   `json:"volume_cm3"` // null where the piece is no solid
	AreaCm2          float64    `json:"area_cm2"`
	SizeMm           [3]float64 `json:"size_mm"` // as it stands; a scan's without debris
	Findings         []string   `json:"findings"`
}

// A Mending is what was done to make the scan a piece.
type Mending struct {
	Actions        []string `json:"actions"`
	DistanceMaxMm  float64  `json:"distance_max_mm"`
	DistanceMeanMm float64  `json:"distance_mean_mm"`
	ResolutionMm   float64  `json:"resolution_mm"`
}

// A Layer is one layer.
type Layer struct {
	Number        int        `json:"number"`
	BottomMm      float64    `json:"bottom_mm"`
	TopMm         float64    `json:"top_mm"`
	WoodCm3       float64    `json:"wood_cm3"`
	CoreCm3       float64    `json:"core_cm3"`
	ShutCm3       float64    `json:"shut_core_cm3"`
	JointBelowCm2 float64    `json:"joint_below_cm2"`
	JointGrain    string     `json:"joint_grain,omitempty"`
	Parts         int        `json:"parts"`
	Slivers       int        `json:"slivers,omitempty"` // too small to be made, and left out
	SliversMm3    float64    `json:"slivers_mm3,omitempty"`
	Board         string     `json:"board"`
	SkimMm        float64    `json:"skim_mm"`   // off each face of its board
	GrainDeg      int        `json:"grain_deg"` // how it lies: 0, or 90 where it is turned
	WeightKg      float64    `json:"weight_kg"` // of its wood
	SizeMm        [2]float64 `json:"size_mm"`
	RimMm         float64    `json:"rim_mm,omitempty"`
	RoughMin      float64    `json:"rough_min"`
	FinishMin     float64    `json:"finish_min"`
}

// A Section is one section.
type Section struct {
	ZMm         float64 `json:"z_mm"`
	AreaCm2     float64 `json:"area_cm2"`
	PerimeterMm float64 `json:"perimeter_mm"`
	Contours    int     `json:"contours"`
	Open        int     `json:"open_contours"`
}

// A Totals is the bench ticket. Minutes are estimates until AddReach.
type Totals struct {
	Layers        int        `json:"layers"`
	LayerMm       float64    `json:"layer_mm"`
	WoodCm3       float64    `json:"wood_cm3"`
	CoreCm3       float64    `json:"core_cm3"`
	WeightKg      float64    `json:"weight_kg"` // wood, dry glue and dry finish
	WoodKg        float64    `json:"wood_kg"`
	JointCm2      float64    `json:"joint_cm2"`
	GlueG         float64    `json:"glue_g"`
	GlueDryG      float64    `json:"glue_dry_g"`
	FinishDryG    float64    `json:"finish_dry_g"`
	RoughMin      float64    `json:"rough_min"`
	FinishMin     float64    `json:"finish_min"`
	RouterMin     float64    `json:"router_min"`
	HandsOnMin    float64    `json:"hands_on_min"`
	LargestPartMm [2]float64 `json:"largest_part_mm"`
	FitsPanel     bool       `json:"fits_panel"`
	PartsNowhere  int        `json:"parts_on_no_panel"`
	LastLayerMm   float64    `json:"last_layer_mm"`

	Coarser *Coarser `json:"coarser_rows,omitempty"` // for a finish pass with a ball in finer rows
}

// A Coarser is what finish rows further apart would come to: minutes saved, estimated from those of the finish pass, and
// the ridges that they leave on level wood.
type Coarser struct {
	StepoverMm float64 `json:"stepover_mm"`
	SavesMin   float64 `json:"saves_min"`
	RidgeMm    float64 `json:"ridge_mm"`
}

// New puts figures into a report, with n equally spaced sections at heights (i+1/2)·height/n.
func New(ctx context.Context, st *job.Standing, f *job.Figures, n int) (*Report, error) {
	p, done := st.Piece, st.Piece.Mended
	chosen, err := f.For.Written(f.Thickness)
	if err != nil {
		return nil, err
	}
	r := &Report{
		Piece:    surface(p, p.Findings, st.Placed.Box.Size(), st.Stand.Scale),
		Scan:     surface(p, p.Scan.Findings, st.ScanSize, st.Stand.Scale),
		Mending:  Mending{append([]string{}, done.Actions...), done.DistanceMaxMm, done.DistanceMeanMm, done.ResolutionMm},
		Settings: chosen, Withheld: f.Withheld.String(), Cautions: []string{},
	}
	r.look(f.Cautions)
	planes := make([]float64, n)
	for i := range planes {
		planes[i] = (float64(i) + 0.5) * st.Height() / float64(n)
	}
	sections, err := st.Slicer.Sections(ctx, planes)
	if err != nil {
		return nil, err
	}
	for _, s := range sections {
		r.Sections = append(r.Sections, Section{s.Z, s.Region.Area() / unit.Cm2, s.Region.Perimeter(), len(s.Region), s.Open})
	}
	if !f.Withheld.None() {
		return r, nil
	}
	for _, l := range f.Layers {
		r.Layers = append(r.Layers, layer(l))
	}
	r.Totals = totals(f)
	r.addKept(f)
	return r, nil
}

// surface is a surface as it stands at a scale.
func surface(p *job.Piece, f mesh.Findings, size geom.Vec, scale float64) Piece {
	r := Piece{
		File: p.File, Format: p.Raw.Format, Facets: p.Raw.Facets,
		Triangles: f.Triangles, Shells: f.Shells,
		OpenEdges: f.OpenEdges, NonManifoldEdges: f.NonManifoldEdges,
		FlippedEdges: f.FlippedEdges, ZeroArea: f.ZeroArea,
		AreaCm2: f.Area * scale * scale / unit.Cm2,
		SizeMm:  [3]float64{size.X, size.Y, size.Z},
	}
	r.judged(f, scale)
	return r
}

// judged says whether the surface is a solid, and what keeps it from being one.
func (r *Piece) judged(f mesh.Findings, scale float64) {
	r.Solid, r.VolumeCm3, r.Findings = f.Solid(), nil, append([]string{}, f.Sentences(scale)...)
	if r.Solid {
		v := f.Volume * scale * scale * scale / unit.Cm3
		r.VolumeCm3 = &v
	}
}

func layer(l job.Layer) Layer {
	r := Layer{
		Number: l.Number, BottomMm: l.Bottom, TopMm: l.Top,
		WoodCm3: l.Wood / unit.Cm3, CoreCm3: l.Core / unit.Cm3, ShutCm3: l.Shut / unit.Cm3,
		JointBelowCm2: l.Joint / unit.Cm2, Parts: len(l.Parts), Slivers: len(l.Slivers), SizeMm: [2]float64{l.Size.X, l.Size.Y}, RimMm: l.Rim,
		RoughMin: l.Minutes.Rough(), FinishMin: l.Minutes.Fine(),
		Board: l.Board.Key, SkimMm: l.Skim, WeightKg: l.WoodKg(),
	}
	for _, p := range l.Slivers {
		r.SliversMm3 += p.Volume
	}
	if l.Turned {
		r.GrainDeg = 90
	}
	if l.Number > 1 {
		r.JointGrain = l.Grain.String()
	}
	return r
}

func totals(f *job.Figures) *Totals {
	t := f.Totals
	r := &Totals{
		Layers: len(f.Layers), LayerMm: f.Thickness, WoodCm3: t.Wood / unit.Cm3, CoreCm3: t.Core / unit.Cm3,
		WeightKg: t.WeightKg, WoodKg: t.WoodKg, JointCm2: t.Joint / unit.Cm2, GlueG: t.GlueG, GlueDryG: t.GlueDryG, FinishDryG: t.FinishDryG,
		RoughMin: t.RoughMin, FinishMin: t.FineMin, RouterMin: t.RouterMin(), HandsOnMin: t.HandsOnMin,
		LargestPartMm: [2]float64{t.Largest.X, t.Largest.Y}, FitsPanel: t.FitsPanel, PartsNowhere: t.PartsTooLarge, LastLayerMm: f.Remainder.Last,
	}
	if k, ok := f.Coarser(); ok {
		r.Coarser = &Coarser{k.Stepover, k.SavesMin, k.Cusp}
	}
	return r
}
