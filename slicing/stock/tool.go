package stock

import "fmt"

// Shape is the form of a cutter's end.
type Shape uint8

const (
	Flat Shape = iota // end mill
	Ball              // ball nose
)

func (s Shape) String() string {
	switch s {
	case Flat:
		return "flat"
	case Ball:
		return "ball"
	}
	return fmt.Sprintf("Shape(%d)", uint8(s))
}

// A Cutter is a router bit with starting points for its use in plywood.
type Cutter struct {
	Key, Name   string
	Shape       Shape
	Diameter    float64
	Flutes      int
	CutLength   float64 // length of the cutting edge
	Reach       float64 // from the tip to the collet nut
	Shank       float64 // diameter of the shank
	FeedMmMin   float64
	PlungeMmMin float64
	RPM         float64
	Stepdown    float64
	Stepover    float64
	Sources     map[string]string
}

// ChipLoad is what each edge takes at the cutter's feed and speed, in mm.
func (c Cutter) ChipLoad() float64 { return c.FeedMmMin / (c.RPM * float64(c.Flutes)) }

// A Machine is a router with its limits.
type Machine struct {
	Key, Name               string
	TravelX, TravelY        float64
	TravelZ                 float64
	RapidMmMin, FeedMmMin   float64 // most in X and Y: moving, cutting
	RapidZMmMin, FeedZMmMin float64 // most in Z: moving, cutting
	AccelMmS2               float64
	MinRPM, MaxRPM          float64
	Sources                 map[string]string
}

// A Panel is a size that boards are sawn to for the router.
type Panel struct {
	Key, Name string
	X, Y      float64
	Sources   map[string]string
}
