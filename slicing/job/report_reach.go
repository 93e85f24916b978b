package job

// A CarveReport is what the router can and can't do, and how long it takes along the cutters' paths.
type CarveReport struct {
	TrappedCm3     float64      `json:"trapped_cm3"`
	TrappedCoreCm3 float64      `json:"trapped_core_cm3"`
	ResidueMmMax   float64      `json:"residue_mm_max"`
	ResidueMmMean  float64      `json:"residue_mm_mean"`
	Sides          []SideReport `json:"sides"`
	HandsOnMin     float64      `json:"hands_on_min"`
	TotalMin       float64      `json:"total_min"` // router and hands
	RouterMin      float64      `json:"router_min"`
	EstimateMin    float64      `json:"estimate_min"` // what the router had been estimated at
}

// A SideReport is one side of one layer.
type SideReport struct {
	Layer     int             `json:"layer"`
	Side      string          `json:"side"`
	RoughMin  float64         `json:"rough_min"`
	FinishMin float64         `json:"finish_min"`
	RoughM    float64         `json:"rough_m"`
	FinishM   float64         `json:"finish_m"`
	DepthMm   float64         `json:"depth_mm"`
	Findings  []FindingReport `json:"findings"`
}

// A FindingReport is one thing to know before the first cut; its size is mm, mm² or mm³ by its kind.
type FindingReport struct {
	Kind string     `json:"kind"`
	AtMm [3]float64 `json:"at_mm"`
	Size float64    `json:"size"`
	Text string     `json:"text"`
}

// AddReach adds what Reach gave to a report.
func (r *Report) AddReach(x *Reached) {
	c := &CarveReport{
		TrappedCm3: x.Trapped / perCm3, TrappedCoreCm3: x.TrappedCore / perCm3,
		ResidueMmMax: x.ResidueMax, ResidueMmMean: x.ResidueMean,
		HandsOnMin: x.HandsOnMin, TotalMin: x.RouterMin() + x.HandsOnMin, RouterMin: x.RouterMin(),
		EstimateMin: x.EstimatedRoughMin + x.EstimatedFineMin,
	}
	for _, s := range x.Sides {
		one := SideReport{
			Layer: s.Layer, Side: s.Side.String(), RoughMin: s.Time.RoughMin, FinishMin: s.Time.FinishMin,
			RoughM: s.Time.RoughMetres, FinishM: s.Time.FinishMetres, DepthMm: s.Depth, Findings: []FindingReport{},
		}
		for _, f := range s.Findings {
			one.Findings = append(one.Findings, FindingReport{f.Kind.String(), [3]float64{f.At.X, f.At.Y, f.At.Z}, f.Size, f.Text})
		}
		c.Sides = append(c.Sides, one)
	}
	r.Carve = c
	for _, one := range x.Cautions {
		r.Cautions = append(r.Cautions, one.Text)
	}
}
