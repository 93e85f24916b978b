package report

import (
	"grainstack/slicing/job"
)

import "grainstack/slicing/unit"

// A Kept is a place that shall stay whole.
type Kept struct {
	LowMm       float64 `json:"low_mm"`
	HighMm      float64 `json:"high_mm"`
	AreaCm2     float64 `json:"area_cm2"`
	JointsBelow []int   `json:"joints_below_layers"` // the layers above the joints that go through it
}

// A FirstJoint is a first joint that goes through less of what shall stay whole than the present one.
type FirstJoint struct {
	FirstJointMm     float64 `json:"first_joint_mm"`
	Crossings        int     `json:"crossings"`
	SmallestJointCm2 float64 `json:"smallest_joint_cm2"`
	Layers           int     `json:"layers"`
}

// addKept adds what shall stay whole.
func (r *Report) addKept(f *job.Figures) {
	for _, k := range f.Kept {
		one := Kept{LowMm: k.Low, HighMm: k.High, AreaCm2: k.Area / unit.Cm2, JointsBelow: []int{}}
		for _, c := range k.Crossings {
			one.JointsBelow = append(one.JointsBelow, c.Layer)
		}
		r.Kept = append(r.Kept, one)
	}
	if b := f.BetterJoint; b.Layers > 0 {
		r.Better = &FirstJoint{b.At, b.Crossings, b.SmallestJoint / unit.Cm2, b.Layers}
	}
}
