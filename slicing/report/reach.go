package report

import (
	"grainstack/slicing/finding"
	"grainstack/slicing/hours"
	"grainstack/slicing/job"
	"grainstack/slicing/unit"
)

// A Carve is what the router can and can't do, and how long it takes along the cutters' paths.
type Carve struct {
	TrappedCm3     float64 `json:"trapped_cm3"`
	TrappedCoreCm3 float64 `json:"trapped_core_cm3"`
	ResidueMmMax   float64 `json:"residue_mm_max"`
	ResidueMmMean  float64 `json:"residue_mm_mean"`
	Sides          []Side  `json:"sides"`
	HandsOnMin     float64 `json:"hands_on_min"`
	TotalMin       float64 `json:"total_min"` // router and hands
	RouterMin      float64 `json:"router_min"`
	EstimateMin    float64 `json:"estimate_min"` // what the router had been estimated at
	Evenings       int     `json:"evenings"`     // at the machine, each of so many minutes
	EveningMin     float64 `json:"evening_min"`

	Learned *Learned `json:"learned,omitempty"`
}

// A Learned is what the machine has been seen to take: times as long as the minutes that stand beside it.
type Learned struct {
	Machine   string  `json:"machine"`
	Sides     int     `json:"sides"`
	Times     float64 `json:"times"`
	Low       float64 `json:"low"` // half of the sides lie between these
	High      float64 `json:"high"`
	RouterMin float64 `json:"router_min"`
	TotalMin  float64 `json:"total_min"`      // router and hands
	LowMin    float64 `json:"router_min_low"` // the router, were every side as quick as the low one, or as slow as the high one
	HighMin   float64 `json:"router_min_high"`
	Text      string  `json:"text"`
}

// A Side is one side of one layer.
type Side struct {
	Layer     int       `json:"layer"`
	Side      string    `json:"side"`
	RoughMin  float64   `json:"rough_min"`
	FinishMin float64   `json:"finish_min"`
	RoughM    float64   `json:"rough_m"`
	FinishM   float64   `json:"finish_m"`
	DepthMm   float64   `json:"depth_mm"`
	Findings  []Finding `json:"findings"`
}

// A Finding is one thing to know before the first cut; its size is mm, mm² or mm³ by its kind.
type Finding struct {
	Kind string     `json:"kind"`
	AtMm [3]float64 `json:"at_mm"`
	Size float64    `json:"size"`
	Text string     `json:"text"`
}

// AddReach adds what Reach gave to a report, and puts its simulated minutes in place of those of layers and totals.
func (r *Report) AddReach(x *job.Reached) {
	c := &Carve{
		TrappedCm3: x.Trapped / unit.Cm3, TrappedCoreCm3: x.TrappedCore / unit.Cm3,
		ResidueMmMax: x.ResidueMax, ResidueMmMean: x.ResidueMean,
		HandsOnMin: x.HandsOnMin, TotalMin: x.RouterMin() + x.HandsOnMin, RouterMin: x.RouterMin(),
		EstimateMin: x.EstimatedRoughMin + x.EstimatedFineMin,
	}
	c.EveningMin = x.For.Shop.Evening()
	work := make([]float64, 0, 2*len(x.Sides))
	for _, s := range x.Sides {
		work = append(work, s.Time.RoughMin, s.Time.FinishMin)
		one := Side{
			Layer: s.Layer, Side: s.Side.String(), RoughMin: s.Time.RoughMin, FinishMin: s.Time.FinishMin,
			RoughM: s.Time.RoughMetres, FinishM: s.Time.FinishMetres, DepthMm: s.Depth, Findings: []Finding{},
		}
		for _, f := range s.Findings {
			one.Findings = append(one.Findings, Finding{f.Kind.String(), [3]float64{f.At.X, f.At.Y, f.At.Z}, f.Size, finding.Words{}.What(x.Tell(f))})
		}
		c.Sides = append(c.Sides, one)
	}
	c.Evenings = hours.Evenings(work, c.EveningMin)
	r.Carve = c
	r.simulated(x)
	r.look(x.Cautions)
}

// simulated puts simulated minutes in place of estimated ones.
func (r *Report) simulated(x *job.Reached) {
	if t := r.Totals; t != nil {
		if k := t.Coarser; k != nil && t.FinishMin > 0 {
			k.SavesMin *= x.FineMin / t.FinishMin
		}
		t.RoughMin, t.FinishMin, t.RouterMin = x.RoughMin, x.FineMin, x.RouterMin()
	}
	for i := range r.Layers {
		l := &r.Layers[i]
		l.RoughMin, l.FinishMin = 0, 0
		for _, s := range x.Sides {
			if s.Layer == l.Number {
				l.RoughMin += s.Time.RoughMin
				l.FinishMin += s.Time.FinishMin
			}
		}
	}
}

// AddLearned adds what was learned of the machine to a report that has its reach: the minutes as reckoned stay, those to be
// expected stand beside them. A factor that has learned nothing says so.
func (r *Report) AddLearned(k hours.Factor, machine string) {
	if r.Carve == nil {
		return
	}
	l := &Learned{Machine: machine, Sides: k.Sides, Times: k.Times, Low: k.Low, High: k.High, Text: k.Text(),
		RouterMin: r.Carve.RouterMin, TotalMin: r.Carve.TotalMin, LowMin: r.Carve.RouterMin, HighMin: r.Carve.RouterMin}
	if k.Known() {
		l.RouterMin = k.Of(hours.SideTime{RoughMin: r.Carve.RouterMin}).RoughMin
		l.TotalMin = l.RouterMin + r.Carve.HandsOnMin
		l.LowMin, l.HighMin = r.Carve.RouterMin*k.Low, r.Carve.RouterMin*k.High
	}
	r.Carve.Learned = l
}
