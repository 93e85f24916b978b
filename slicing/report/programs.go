package report

// A Program is what the machine is told for one cutter on one side of a panel, and what came of it on a model of the board.
type Program struct {
	File      string        `json:"file"`
	Panel     int           `json:"panel"`
	Side      string        `json:"side"`
	Step      string        `json:"step"`
	Cutter    string        `json:"cutter"` // key in the stock
	RPM       float64       `json:"rpm"`
	Lines     int           `json:"lines"`
	Bytes     int           `json:"bytes"`
	CutM      float64       `json:"cut_m"`
	RapidM    float64       `json:"rapid_m"`
	Minutes   float64       `json:"minutes"`
	LowestMm  float64       `json:"lowest_mm"` // of the tip, above the face that lies up
	HighestMm float64       `json:"highest_mm"`
	TravelMm  [3]float64    `json:"travel_mm"` // that it needs
	Files     []ProgramFile `json:"files"`     // more than one where the controller takes no larger ones
	Proof     Proof         `json:"proof"`
}

// A ProgramFile is a program as it is written, or a part of it.
type ProgramFile struct {
	Name    string  `json:"name"`
	Lines   int     `json:"lines"`
	Bytes   int     `json:"bytes"`
	Minutes float64 `json:"minutes"`
}

// A Proof is what a program does to the board.
type Proof struct {
	Holds      bool     `json:"holds"`
	DeepestMm  float64  `json:"deepest_cut_mm"` // taken at once
	IntoPartMm float64  `json:"into_part_mm"`   // 0 where no part is cut into deeper than allowed
	LeftMm     float64  `json:"left_mm"`        // the most that stays on a part where too much stays, else 0
	RemovedCm3 float64  `json:"removed_cm3"`
	Faults     []string `json:"faults,omitempty"` // where it fails
}

// A Proven is what came of all programs of a panel together, on a model of its board.
type Proven struct {
	Panel         int      `json:"panel"`
	Holds         bool     `json:"holds"`          // nothing was found in any of them
	Held          []string `json:"held"`           // parts that hang together with the panel's frame when all is carved
	Unheld        []string `json:"unheld"`         // parts that no tab holds: they have to be screwed down
	LooseWaste    int      `json:"loose_waste"`    // pieces of waste that come free
	SplinteredMm2 float64  `json:"splintered_mm2"` // of parts that are held, what comes off them, seen from above
}

// AddPrograms adds the programs of all panels, and what came of each panel.
func (r *Report) AddPrograms(all []Program, proven []Proven) { r.Programs, r.Proven = all, proven }
