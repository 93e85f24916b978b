package hours

import (
	"fmt"
	"math"

	"grainstack/slicing/stock"
)

// Setup is the machine and how it is run. The cutters' own feed, plunge, stepdown and stepover are used; a maker's
// overrides are put into the copies here.
type Setup struct {
	Rough, Finish stock.Cutter
	Machine       stock.Machine
	SafeHeight    float64 // above the panel, for moves between cuts
	Clearance     float64 // kept between cutter and part at the carve boundary, beyond the cutter's diameter
	Leave         float64 // wood that the rough pass leaves on every surface for the finish pass
	AcrossGrain   bool    // rows run across the grain of the panel's faces, not along it
	Hands         Hands
}

// Hands is the minutes by hand for one panel; the router stands still meanwhile.
type Hands struct {
	Clamp        float64 // laying the panel on and fixing it, each time
	Drill        float64 // register dowels
	Turn         float64 // turning the panel over
	CutterChange float64 // with setting the new cutter's height
}

// Defaults is a Setup for the three with starting points: safe height 5 mm (common practice), clearance, wood left for the
// finish pass and minutes by hand from memory.
func Defaults(rough, finish stock.Cutter, machine stock.Machine) Setup {
	return Setup{Rough: rough, Finish: finish, Machine: machine, SafeHeight: 5, Clearance: 2, Leave: 0.4,
		Hands: Hands{Clamp: 6, Drill: 4, Turn: 4, CutterChange: 5}}
}

// Check says which figure of the setup is not fit to work with.
func (s Setup) Check() error {
	for _, f := range []struct {
		name  string
		value float64
	}{
		{"rough pass: diameter", s.Rough.Diameter}, {"rough pass: feed", s.Rough.FeedMmMin}, {"rough pass: plunge", s.Rough.PlungeMmMin},
		{"rough pass: stepdown", s.Rough.Stepdown}, {"rough pass: stepover", s.Rough.Stepover},
		{"finish pass: diameter", s.Finish.Diameter}, {"finish pass: feed", s.Finish.FeedMmMin}, {"finish pass: plunge", s.Finish.PlungeMmMin},
		{"finish pass: stepover", s.Finish.Stepover},
		{"machine: feed", s.Machine.FeedMmMin}, {"machine: feed in Z", s.Machine.FeedZMmMin}, {"machine: rapid", s.Machine.RapidMmMin},
		{"machine: rapid in Z", s.Machine.RapidZMmMin}, {"machine: acceleration", s.Machine.AccelMmS2},
		{"safe height", s.SafeHeight},
	} {
		if !(f.value > 0) || math.IsInf(f.value, 0) {
			return fmt.Errorf("hours: %s is %g, wants more than 0", f.name, f.value)
		}
	}
	for _, f := range []struct {
		name  string
		value float64
	}{{"clearance", s.Clearance}, {"wood left", s.Leave}, {"machine: junction", s.Machine.Junction}, {"machine: acceleration in Z", s.Machine.AccelZMmS2}} {
		if !(f.value >= 0) || math.IsInf(f.value, 0) {
			return fmt.Errorf("hours: %s is %g, wants 0 or more", f.name, f.value)
		}
	}
	return nil
}

// Margin is the width of the band around a part that is carved away: the wider cutter plus clearance.
func (s Setup) Margin() float64 {
	return max(s.Rough.Diameter, s.Finish.Diameter) + s.Clearance
}

// HandsOn is the minutes by hand for so many panels: each is fixed and drilled once, turned over twice, and its cutter is
// changed once (order of work: common practice, no source).
func (s Setup) HandsOn(panels int) float64 {
	return float64(panels) * (s.Hands.Clamp + s.Hands.Drill + 2*s.Hands.Turn + s.Hands.CutterChange)
}

// Cusp is the height of the ridge that stays between two rows on a flat, mm: that of the cutter's edge half a row from its
// axis. For a ball nose it is the handbook's h = R - √(R² - s²/4) (calculator page on scallop heights), for a tapered ball the
// same with the radius of its tip until the cone takes over, for a bull nose with corners of radius r the same with what a row
// is wider than the flat between them (plane geometry), and 0 for a flat end. ok is false where rows lie further apart than
// the cutter is wide, or nowhere.
func Cusp(c stock.Cutter) (height float64, ok bool) {
	if !(c.Stepover > 0) {
		return 0, false
	}
	return c.Profile(c.Stepover / 2)
}
