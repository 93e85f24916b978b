package glue

import (
	"math"

	"grainstack/slicing/finding"
	"grainstack/slicing/geom"
	"grainstack/slicing/stock"
)

// A Layer is one layer as the glue-up sees it.
type Layer struct {
	Number      int // from 1
	Bottom, Top float64
	MassG       float64
	Centre      geom.Vec  // of its mass, on the stand
	Size        geom.Vec2 // its extent in plan
	Parts       int       // connected pieces; 0 where not known
}

// A Group is a run of layers that is one sub-stack.
type Group struct {
	First, Last int // layers, both included
	Bottom, Top float64
	MassG       float64 // wood and dry glue
	Centre      geom.Vec
	Size        geom.Vec2 // the larger extents of its layers
}

// Height is that of the sub-stack.
func (g Group) Height() float64 { return g.Top - g.Bottom }

// A Pressing glues one joint.
type Pressing struct {
	Number       int // from 1, in the order of work
	Lower, Upper Group
	Result       Group
	Joint        Joint
	CloseMin     float64 // to spread the glue, put the upper on the lower and set the clamps
	LimitG       float64 // recommended weight limit for one person to lift the upper; 0: not by hand
	People       int     // so that nobody lifts more than that; 0: not by hand
}

// A Stage is what may be in the clamps at the same time.
type Stage struct {
	Number    int
	Pressings []Pressing
	Waiting   []Group // sub-stacks that sit this stage out
	Rounds    int     // turns that the clamps at hand allow it in
	Minutes   float64 // of work and of waiting for the clamps
}

// A Plan is the whole glue-up.
type Plan struct {
	Stages     []Stage
	Pressings  int
	Clamps     int // most that one pressing takes
	WetG, DryG float64
	Minutes    float64
	Findings   []finding.Finding
}

// Rules say how the glue-up is done. Zero figures stand for the usual ones.
type Rules struct {
	Glue       stock.Glue
	Clamp      Clamp
	SpreadM2   float64 // m² of face spread in a minute; 0 stands for 0.1, a small roller (common practice, no source)
	SetMin     float64 // minutes to set one clamp; 0 stands for 0.4 (common practice, no source)
	LeastJoint float64 // a smaller contact is named; 0 stands for 400 mm² (common practice, no source)
	LeastRim   float64 // a narrower rim is named; 0 stands for 6 mm (common practice, no source)
}

func (r Rules) filled() Rules {
	set := func(v *float64, usual float64) {
		if !(*v > 0) {
			*v = usual
		}
	}
	set(&r.SpreadM2, 0.1)
	set(&r.SetMin, 0.4)
	set(&r.LeastJoint, 400)
	set(&r.LeastRim, 6)
	return r
}

// Order plans the pressings of layers, from the floor up, that joints[i] joins to the next: in each stage neighbours are
// joined in pairs, so that n layers are one piece after ceil(log2 n) stages. Where a stage has an odd number of sub-stacks
// the one waits that leaves the largest joints for later; a joint from which a part hangs that has nothing beneath it goes
// first. There must be one joint less than there are layers; Order gives an empty plan otherwise.
func Order(layers []Layer, joints []Joint, r Rules) Plan {
	r = r.filled()
	var p Plan
	if len(layers) == 0 || len(joints) != len(layers)-1 {
		return p
	}
	hangs := hanging(layers, joints)
	groups := make([]Group, len(layers))
	for i, l := range layers {
		groups[i] = Group{l.Number, l.Number, l.Bottom, l.Top, l.MassG, l.Centre, l.Size}
	}
	index := make(map[int]int, len(layers)) // number -> place
	for i, l := range layers {
		index[l.Number] = i
	}
	for len(groups) > 1 {
		between := make([]Joint, len(groups)-1)
		first := make([]bool, len(groups)-1)
		for i := range between {
			at := index[groups[i].Last]
			between[i], first[i] = joints[at], hangs[at]
		}
		var s Stage
		s, groups = r.stage(groups, between, alone(between, first), p.Pressings)
		s.Number = len(p.Stages) + 1
		p.add(s)
	}
	p.Findings = r.findings(layers, joints, p)
	return p
}

// alone is which of an odd number of groups waits: one at an even place. It is -1 where all have a neighbour.
func alone(between []Joint, first []bool) int {
	n := len(between) + 1
	if n%2 == 0 {
		return -1
	}
	cost := func(k int) float64 {
		if first[k] {
			return -1e12 // more than any joint's area
		}
		return between[k].Area
	}
	// With the waiting one at the top the joints 0, 2, 4 … are pressed; moving it down by a pair swaps joint k for k + 1.
	best, at, sum := 0.0, n-1, 0.0
	for w := n - 3; w >= 0; w -= 2 {
		sum += cost(w+1) - cost(w)
		if sum < best {
			best, at = sum, w
		}
	}
	return at
}

// stage presses neighbours in pairs; waits is the one that has none, or -1.
func (r Rules) stage(groups []Group, between []Joint, waits, done int) (Stage, []Group) {
	var s Stage
	var next []Group
	for i := 0; i < len(groups); i++ {
		if i == waits {
			s.Waiting = append(s.Waiting, groups[i])
			next = append(next, groups[i])
			continue
		}
		p := r.press(groups[i], groups[i+1], between[i])
		p.Number = done + len(s.Pressings) + 1
		s.Pressings = append(s.Pressings, p)
		next = append(next, p.Result)
		i++
	}
	s.Rounds, s.Minutes = r.rounds(s.Pressings)
	return s, next
}

func (r Rules) press(lower, upper Group, j Joint) Pressing {
	p := Pressing{Lower: lower, Upper: upper, Joint: j}
	p.Result = Group{
		First: lower.First, Last: upper.Last, Bottom: lower.Bottom, Top: upper.Top,
		MassG: lower.MassG + upper.MassG + j.DryG,
		Size:  geom.Vec2{X: max(lower.Size.X, upper.Size.X), Y: max(lower.Size.Y, upper.Size.Y)},
	}
	p.Result.Centre = lower.Centre
	if wood := lower.MassG + upper.MassG; wood > 0 {
		p.Result.Centre = lower.Centre.Scale(lower.MassG / wood).Add(upper.Centre.Scale(upper.MassG / wood))
	}
	p.CloseMin = closing(j, r)
	p.LimitG = liftOf(min(upper.Size.X, upper.Size.Y), lower.Height()).Limit()
	switch {
	case p.LimitG > 0:
		p.People = max(1, int(math.Ceil(upper.MassG/p.LimitG)))
	case upper.MassG <= trifle:
		p.People = 1
	}
	return p
}

// trifle is a weight, g, that anyone lifts at arm's length (common practice, no source).
const trifle = 1000

// rounds takes the pressings in order into the clamps at hand. One that needs more than there are has a round of its own.
// The clamps stay on for the glue's time from the last that was set.
func (r Rules) rounds(ps []Pressing) (rounds int, minutes float64) {
	used := 0
	for i, p := range ps {
		if i == 0 || r.Clamp.Count > 0 && used+p.Joint.Clamps > r.Clamp.Count {
			rounds++
			used = 0
			minutes += r.Glue.ClampMin
		}
		used += p.Joint.Clamps
		minutes += p.CloseMin
	}
	return rounds, minutes
}

func (p *Plan) add(s Stage) {
	p.Stages = append(p.Stages, s)
	p.Pressings += len(s.Pressings)
	p.Minutes += s.Minutes
	for _, q := range s.Pressings {
		p.Clamps = max(p.Clamps, q.Joint.Clamps)
		p.WetG += q.Joint.WetG
		p.DryG += q.Joint.DryG
	}
}

// Closing is the minutes to spread the glue of one joint, to put it together and to set its clamps.
func Closing(j Joint, r Rules) float64 { return closing(j, r.filled()) }

func closing(j Joint, r Rules) float64 {
	return j.Area*1e-6*float64(r.Glue.Faces)/r.SpreadM2 + float64(j.Clamps)*r.SetMin
}
