package stock

import (
	"fmt"
	"math"
)

// Shape is the form of a cutter's end.
type Shape uint8

const (
	Flat  Shape = iota // end mill
	Ball               // ball nose
	Bull               // end mill with rounded corners
	Taper              // ball nose on a cone
)

// shapes are all there are.
var shapes = [...]Shape{Flat, Ball, Bull, Taper}

func (s Shape) String() string {
	switch s {
	case Flat:
		return "flat"
	case Ball:
		return "ball"
	case Bull:
		return "bull"
	case Taper:
		return "taper"
	}
	return fmt.Sprintf("Shape(%d)", uint8(s))
}

// A Cutter is a router bit with starting points for its use in plywood.
type Cutter struct {
	Key, Name   string
	Shape       Shape
	Diameter    float64 // the largest that cuts
	Flutes      int
	CutLength   float64 // length of the cutting edge
	Reach       float64 // from the tip to the collet nut
	Shank       float64 // diameter of the shank
	FeedMmMin   float64
	PlungeMmMin float64
	RPM         float64
	Stepdown    float64
	Stepover    float64

	CornerRadius float64 // Bull: of the rounded corner; Taper: of the ball at the tip; 0 for others
	TaperDeg     float64 // Taper: between the axis and the cone's side, degrees; 0 for others

	Sources map[string]string
}

// Profile is the height of the cutting edge above the tip at a distance from the axis, mm; ok is false beyond the largest
// diameter.
func (c Cutter) Profile(distance float64) (height float64, ok bool) {
	e := c.Edge()
	return e.At(distance)
}

// An Edge is a cutter's cutting edge readied to be asked for many heights.
type Edge struct {
	r, R, level float64 // of the rounding, of the cutter, of the level end inside the rounding
	leaves      float64 // distance from the axis from which on the cone's side goes on, beyond R where there is none
	base, rise  float64 // the side's height there, and how much it rises for each mm
}

// Edge is the cutter's.
func (c Cutter) Edge() Edge {
	e := Edge{r: c.TipRadius(), R: c.Diameter / 2, leaves: math.Inf(1)}
	if c.Shape != Taper {
		e.level = e.R - e.r
		return e
	}
	sin, cos := math.Sincos(c.TaperDeg * math.Pi / 180)
	e.leaves, e.base, e.rise = e.r*cos, e.r-e.r*sin, cos/sin
	return e
}

// At is the height above the tip at a distance from the axis, mm; ok is false beyond the largest diameter.
func (e *Edge) At(distance float64) (height float64, ok bool) {
	d := math.Abs(distance)
	switch {
	case !(d <= e.R):
		return 0, false
	case d > e.leaves:
		return e.base + (d-e.leaves)*e.rise, true
	}
	d = max(d-e.level, 0)
	return e.r - math.Sqrt(max(e.r*e.r-d*d, 0)), true
}

// ContactAt is how far from the axis the edge touches a slope that rises at an angle, radians from the level, mm.
func (c Cutter) ContactAt(slope float64) float64 {
	r, R := c.TipRadius(), c.Diameter/2
	if c.Shape != Taper {
		return R - r + r*math.Sin(slope)
	}
	if slope < (90-c.TaperDeg)*math.Pi/180 {
		return r * math.Sin(slope)
	}
	return R
}

// Grown is the cutter with its cutting edge moved outwards by mm everywhere: what it keeps clear when it leaves that much
// wood. Its tip lies mm below the cutter's own.
func (c Cutter) Grown(mm float64) Cutter {
	if !(mm > 0) {
		return c
	}
	switch c.Shape {
	case Flat:
		c.Shape, c.CornerRadius = Bull, mm
	case Bull, Taper:
		c.CornerRadius += mm
	}
	c.Diameter += 2 * mm
	return c
}

// TipRadius is the radius of the rounding between the end and the side, mm: 0 for a flat end.
func (c Cutter) TipRadius() float64 {
	switch c.Shape {
	case Ball:
		return c.Diameter / 2
	case Bull, Taper:
		return min(c.CornerRadius, c.Diameter/2)
	}
	return 0
}

// WidthAt is how wide the cutter is at a height above its tip, mm: its diameter above the rounding, or above the cone.
func (c Cutter) WidthAt(height float64) float64 {
	r, R := c.TipRadius(), c.Diameter/2
	h := max(height, 0)
	ball := math.Sqrt(max(r*r-max(r-h, 0)*max(r-h, 0), 0)) // of the rounding
	if c.Shape != Taper {
		return 2 * min(R-r+ball, R)
	}
	sin, cos := math.Sincos(c.TaperDeg * math.Pi / 180)
	if leaves := r - r*sin; h > leaves {
		ball = r*cos + (h-leaves)*sin/cos
	}
	return 2 * min(ball, R)
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
	AccelMmS2, AccelZMmS2   float64 // in X and Y, in Z
	Junction                float64 // how far a corner may be cut short at speed, mm: the controller's junction deviation
	MinRPM, MaxRPM          float64
	Controller              Controller // of its programs
	Sources                 map[string]string
}

// A Panel is a size that boards are sawn to for the router.
type Panel struct {
	Key, Name string
	X, Y      float64
	Sources   map[string]string
}
