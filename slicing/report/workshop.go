package report

import (
	"slices"

	"grainstack/slicing/finding"
	"grainstack/slicing/stock"
	"grainstack/slicing/unit"
	"grainstack/slicing/workshop"
)

// A Panel is one panel with the parts on it: a point of a part lies at its place on the stand, turned by turn_deg about
// the stand's origin and moved by x and y, with the panel's lower left corner on side A as origin.
type Panel struct {
	Number      int       `json:"number"`
	Board       string    `json:"board"`
	Parts       []OnPanel `json:"parts"`
	UsedPercent float64   `json:"used_percent"`
}

// An OnPanel is one part on a panel.
type OnPanel struct {
	Layer   int     `json:"layer"`
	Part    int     `json:"part"` // from 1
	XMm     float64 `json:"x_mm"` // of the part's middle, from the panel's lower left corner
	YMm     float64 `json:"y_mm"`
	TurnDeg int     `json:"turn_deg"`
	Tabs    int     `json:"tabs"`
	// Held says that the tabs hold the part. TabMm2 is the least section of its tabs, where one without any lack has TabFullMm2.
	Held       bool    `json:"held"`
	TabMm2     float64 `json:"tab_mm2"`
	TabFullMm2 float64 `json:"tab_full_mm2"`

	Splinters []Splinter `json:"splinters,omitempty"`
}

// A Splinter is wood that comes off a part while it is carved, from the panel's lower left corner on side A.
type Splinter struct {
	FromMm    [2]float64 `json:"from_mm"` // its lower left corner, and the other
	ToMm      [2]float64 `json:"to_mm"`
	VolumeMm3 float64    `json:"volume_mm3"`
}

// A Boards is what to buy and how it is sawn: all boards together, under the name of the board of most layers, and each
// kind by itself.
type Boards struct {
	Board
	Kinds []Board `json:"kinds"`
}

// A Board is one kind of board; a cost of 0 is not known.
type Board struct {
	Board    string  `json:"board"`
	Count    int     `json:"count"`
	Panels   int     `json:"panels"`
	PerBoard int     `json:"panels_per_board"`
	WasteCm2 float64 `json:"waste_cm2"`
	Cost     float64 `json:"cost"`
}

// A Joint is one joint.
type Joint struct {
	Below       int     `json:"below"`
	Above       int     `json:"above"`
	AreaCm2     float64 `json:"area_cm2"`
	GlueG       float64 `json:"glue_g"`
	PressureMPa float64 `json:"pressure_mpa"`
	ForceN      float64 `json:"force_n"`
	Clamps      int     `json:"clamps"`
	Pins        int     `json:"pins"`
	RimMm       float64 `json:"rim_mm,omitempty"`
}

// A Seam is the upright joint between two pieces of a split part, both counted from 1; it is glued before the stages.
type Seam struct {
	Layer   int     `json:"layer"`
	Parts   [2]int  `json:"parts"`
	AreaCm2 float64 `json:"area_cm2"`
	GlueG   float64 `json:"glue_g"`
	ForceN  float64 `json:"force_n"`
	Clamps  int     `json:"clamps"`
}

// A Pressing is one step of the glue-up.
type Pressing struct {
	Stage   int     `json:"stage"`
	Number  int     `json:"number"`
	Lower   [2]int  `json:"lower"` // first and last layer
	Upper   [2]int  `json:"upper"`
	GlueG   float64 `json:"glue_g"`
	Clamps  int     `json:"clamps"`
	LiftKg  float64 `json:"lift_kg"`
	MakesKg float64 `json:"makes_kg"`
	People  int     `json:"people"`
}

// A Balance is how the piece stands; tip_deg is null where it stands on a point or an edge.
type Balance struct {
	ComMm    [3]float64 `json:"com_mm"`
	TipDeg   *float64   `json:"tip_deg"`
	MarginMm float64    `json:"margin_mm"`
	MassKg   float64    `json:"mass_kg"`
}

// A Finish is what comes after the glue.
type Finish struct {
	AreaCm2     float64 `json:"area_cm2"`
	Coats       int     `json:"coats"`
	Litres      float64 `json:"litres"`
	DryG        float64 `json:"dry_g"`
	SandingMm   float64 `json:"sanding_mm"`
	AllowanceMm float64 `json:"allowance_mm"`
}

// A Shop is the workshop's share of a report.
type Shop struct {
	Panels  []Panel    `json:"panels,omitempty"`
	Boards  *Boards    `json:"boards,omitempty"`
	Joints  []Joint    `json:"joints,omitempty"`
	Seams   []Seam     `json:"seams,omitempty"`
	GlueUp  []Pressing `json:"glue_up,omitempty"`
	Balance *Balance   `json:"balance,omitempty"`
	Coating *Finish    `json:"finish,omitempty"`
}

// AddWorkshop adds a workshop to a report, whose minutes by hand are from then on those of its panels; one that is withheld adds
// its cautions only.
func (r *Report) AddWorkshop(w *workshop.Workshop, c *stock.Catalogue) {
	r.look(w.Cautions)
	if !w.Withheld.None() {
		return
	}
	if r.Totals != nil { // the layout knows better than the parts' extents
		r.Totals.PartsNowhere = len(w.Layout.TooLarge)
		r.Totals.FitsPanel = r.Totals.PartsNowhere == 0
		r.found = slices.DeleteFunc(r.found, func(one finding.Finding) bool { return one.Kind == finding.TooLargeGuess })
		r.look(nil)
	}
	for i := range r.Layers {
		r.Layers[i].Parts = len(w.Layers[i].Parts)
	}
	r.setHandsOn(w.HandsOnMin(c))
	r.Panels = panelsOf(w)
	r.Boards = boardsOf(w)
	for _, j := range w.Joints {
		r.Joints = append(r.Joints, Joint{
			Below: j.Below, Above: j.Above, AreaCm2: j.Area / unit.Cm2, GlueG: j.WetG, PressureMPa: j.PressureMPa,
			ForceN: j.ForceN, Clamps: j.Clamps, Pins: len(j.Pins), RimMm: j.Rim,
		})
	}
	for _, s := range w.Seams {
		r.Seams = append(r.Seams, Seam{
			Layer: s.Left.Layer, Parts: [2]int{s.Left.Part + 1, s.Right.Part + 1}, AreaCm2: s.Area / unit.Cm2, GlueG: s.WetG, ForceN: s.ForceN, Clamps: s.Clamps,
		})
	}
	for _, s := range w.GlueUp.Stages {
		for _, p := range s.Pressings {
			r.GlueUp = append(r.GlueUp, Pressing{
				Stage: s.Number, Number: p.Number, Lower: [2]int{p.Lower.First, p.Lower.Last}, Upper: [2]int{p.Upper.First, p.Upper.Last},
				GlueG: p.Joint.WetG, Clamps: p.Joint.Clamps, LiftKg: p.Upper.MassG / 1000, MakesKg: p.Result.MassG / 1000, People: p.People,
			})
		}
	}
	b := w.Balance
	r.Balance = &Balance{ComMm: [3]float64{b.Centre.X, b.Centre.Y, b.Centre.Z}, MassKg: b.MassG / 1000}
	if b.Stands {
		r.Balance.TipDeg, r.Balance.MarginMm = &b.TipDeg, b.Margin
	}
	r.Coating = &Finish{
		AreaCm2: w.Finish.Area / unit.Cm2, Coats: w.Finish.Coats, Litres: w.Finish.Litres, DryG: w.Finish.DryG, SandingMm: w.Finish.Sanding, AllowanceMm: w.Finish.Allowance,
	}
}

// setHandsOn puts the minutes by hand wherever they are counted in.
func (r *Report) setHandsOn(minutes float64) {
	if r.Totals != nil {
		r.Totals.HandsOnMin = minutes
	}
	if k := r.Carve; k != nil {
		k.HandsOnMin, k.TotalMin = minutes, k.RouterMin+minutes
		if k.Learned != nil {
			k.Learned.TotalMin = k.Learned.RouterMin + minutes
		}
	}
}

func boardsOf(w *workshop.Workshop) *Boards {
	out := &Boards{}
	for i, s := range w.Boards {
		one := Board{
			Board: s.Board.Key, Count: len(s.Saw.Boards), Panels: len(s.Panels), PerBoard: s.Saw.PerBoard,
			WasteCm2: s.Saw.Waste / unit.Cm2, Cost: s.Saw.Cost,
		}
		out.Kinds = append(out.Kinds, one)
		if i == 0 {
			out.Board = one
			continue
		}
		out.Count += one.Count
		out.Panels += one.Panels
		out.WasteCm2 += one.WasteCm2
		out.Cost += one.Cost
	}
	return out
}

func panelsOf(w *workshop.Workshop) []Panel {
	out := []Panel{}
	for _, p := range w.Layout.Panels {
		q := Panel{Number: p.Number, Board: w.BoardOf(p), UsedPercent: p.UsedPercent, Parts: []OnPanel{}}
		for _, at := range p.Placed {
			middle := w.MiddleOf(at)
			on := OnPanel{Layer: at.Part.Layer, Part: at.Part.Part + 1, XMm: middle.X, YMm: middle.Y, TurnDeg: at.TurnDeg}
			if part, ok := w.Part(at.Part); ok {
				on.Tabs, on.Held = len(part.Tabs), part.Held
				on.TabMm2, on.TabFullMm2 = part.LeastTab()
				for _, s := range part.Splinters {
					b := at.ApplyBox(s.Box)
					on.Splinters = append(on.Splinters, Splinter{[2]float64{b.Min.X, b.Min.Y}, [2]float64{b.Max.X, b.Max.Y}, s.Volume})
				}
			}
			q.Parts = append(q.Parts, on)
		}
		out = append(out, q)
	}
	return out
}
