package hours

import (
	"math"

	"grainstack/slicing/carve"
)

// An Op is a kind of work on a panel.
type Op uint8

// The work on a panel in the order in which it first comes up.
const (
	Clamp        Op = iota // lay the panel on and fix it
	Drill                  // the register dowels' holes, before anything is carved
	Skim                   // flatten the face with the rough cutter
	Rough                  // level by level, leaving wood for the finish pass
	Saw                    // a straight core, along its outline and through the panel
	Turn                   // turn the panel over on its register dowels
	ChangeCutter           // and set its height
	Finish                 // rows over the surface
)

func (o Op) String() string {
	names := [...]string{"clamp", "drill", "skim", "rough", "saw the core", "turn the panel", "change the cutter", "finish"}
	if int(o) < len(names) {
		return names[o]
	}
	return "unknown"
}

// byHand says that the router stands still meanwhile.
func (o Op) byHand() bool { return o == Clamp || o == Drill || o == Turn || o == ChangeCutter }

// A PartWork is one part on a panel and what its sides take.
type PartWork struct {
	Layer, Part int // from 1
	Turned      bool
	Thickness   float64 // of the layer
	Skim        float64
	Up, Down    SideWork
	Sawn        bool // a straight core is sawn out from the upper side
}

// SideWork is one side of a part: figures of its Ground, and its time.
type SideWork struct {
	Depth  float64 // of the finish pass below the face
	Levels int     // of the rough pass, the skim among them
	Time   SideTime
}

// A Step is one piece of work of a panel's plan. Figures that don't apply are 0.
type Step struct {
	Op          Op
	Side        carve.Side // of the panel that lies up
	Layer, Part int        // 0 where the whole panel is meant
	Cutter      string     // key in the catalogue; none for work by hand

	FeedMmMin, PlungeMmMin, RPM float64
	Depth                       float64 // below the face that is being carved, after the skim
	Levels                      int
	Stepdown, Stepover          float64
	Leave                       float64 // wood left on every surface
	AcrossGrain                 bool    // rows, to the grain of the panel's faces
	Cusp                        float64 // ridge between finish rows on a flat; 0 where there is none
	Boundary                    float64 // how far beyond the part's outline the cutter's edge may go
	Safe                        float64 // height above the panel for moves between cuts
	Minutes                     float64 // of the router, or by hand
}

// Plan is the work on one panel in order: the holes for the register dowels, the upper side roughed, the panel turned, the
// lower side roughed, the cutter changed, the lower side finished, the panel turned back, the upper side finished. So the
// cutter changes once and the panel turns twice (common practice, no source). The skim's minutes are counted with the rough
// pass.
func Plan(parts []PartWork, s Setup) []Step {
	if len(parts) == 0 {
		return nil
	}
	plan := []Step{{Op: Clamp, Minutes: s.Hands.Clamp}, {Op: Drill, Minutes: s.Hands.Drill}}
	plan = s.roughs(plan, parts, carve.Up)
	plan = append(plan, Step{Op: Turn, Side: carve.Down, Minutes: s.Hands.Turn})
	plan = s.roughs(plan, parts, carve.Down)
	plan = append(plan, Step{Op: ChangeCutter, Side: carve.Down, Cutter: s.Finish.Key, Minutes: s.Hands.CutterChange})
	plan = s.finishes(plan, parts, carve.Down)
	plan = append(plan, Step{Op: Turn, Side: carve.Up, Minutes: s.Hands.Turn})
	return s.finishes(plan, parts, carve.Up)
}

func (p PartWork) side(side carve.Side) SideWork {
	if side == carve.Down {
		return p.Down
	}
	return p.Up
}

// roughs appends what the rough cutter does on one side.
func (s Setup) roughs(plan []Step, parts []PartWork, side carve.Side) []Step {
	c := s.Rough
	for _, p := range parts {
		w := p.side(side)
		st := Step{Side: side, Layer: p.Layer, Part: p.Part, Cutter: c.Key, FeedMmMin: c.FeedMmMin, PlungeMmMin: c.PlungeMmMin, RPM: c.RPM,
			Stepdown: c.Stepdown, Stepover: c.Stepover, Leave: s.Leave, AcrossGrain: s.AcrossGrain, Boundary: s.Margin(), Safe: s.SafeHeight}
		skims := len(steps(nil, p.Skim, s.Leave, c.Stepdown))
		if skims > 0 {
			skim := st
			skim.Op, skim.Levels = Skim, skims
			plan = append(plan, skim)
		}
		rough := st
		rough.Op, rough.Levels, rough.Depth, rough.Minutes = Rough, max(w.Levels-skims, 0), max(w.Depth-s.Leave, 0), w.Time.RoughMin
		plan = append(plan, rough)
		if p.Sawn && side == carve.Up {
			saw := st
			saw.Op, saw.Depth, saw.Leave = Saw, p.Thickness+p.Skim, 0
			saw.Levels = int(math.Ceil((p.Thickness+2*p.Skim)/c.Stepdown - 1e-9))
			plan = append(plan, saw)
		}
	}
	return plan
}

// finishes appends what the finish cutter does on one side.
func (s Setup) finishes(plan []Step, parts []PartWork, side carve.Side) []Step {
	c := s.Finish
	cusp, _ := Cusp(c)
	for _, p := range parts {
		w := p.side(side)
		plan = append(plan, Step{Op: Finish, Side: side, Layer: p.Layer, Part: p.Part, Cutter: c.Key, FeedMmMin: c.FeedMmMin,
			PlungeMmMin: c.PlungeMmMin, RPM: c.RPM, Depth: w.Depth, Stepover: c.Stepover, AcrossGrain: s.AcrossGrain, Cusp: cusp,
			Boundary: s.Margin(), Safe: s.SafeHeight, Minutes: w.Time.FinishMin})
	}
	return plan
}

// Minutes are what a plan takes, by the router and by hand.
func Minutes(plan []Step) (router, hands float64) {
	for _, st := range plan {
		if st.Op.byHand() {
			hands += st.Minutes
		} else {
			router += st.Minutes
		}
	}
	return router, hands
}

// Evenings is how many evenings of so many minutes pieces of work take that follow one another. The router can be left
// between two pieces, so one is not begun that doesn't fit into the evening any more, unless it is longer than an evening: then
// it starts a fresh one and goes on the next. It is 0 for no work, and for evenings of no length.
func Evenings(work []float64, evening float64) int {
	if !(evening > 0) {
		return 0
	}
	n, left := 0, 0.0
	for _, w := range work {
		if !(w > 0) || math.IsInf(w, 0) {
			continue
		}
		if w > left {
			whole := math.Ceil(w/evening - 1e-9)
			n += int(min(whole, 1e6))
			left = whole * evening
		}
		left -= w
	}
	return n
}
