package look

import (
	"sort"

	"grainstack/render/tone"
)

// seams are the joints of a stack, drawn so that they can be told from veneers where a pixel spans more than the glue line.
type seams struct {
	at   []float32 // heights, rising
	lead tone.Light
	gap  float32 // mm between the closest two
}

const (
	// seamStrength is how much of a pixel's colour a seam takes at the most.
	seamStrength = 0.5
	// seamsFrom is how many pixels a layer has to have at least for its seams to be drawn, and seamsFull from how many on they are
	// drawn in full.
	seamsFrom, seamsFull = 3, 7
)

// newSeams are the joints of a dress on a piece so high; none unless it wants them drawn.
func newSeams(d *Dress, height float64) *seams {
	if !d.Seams {
		return nil
	}
	s := &seams{lead: tone.Lab{26, 9, 13}.Light(), gap: float32(farthest)}
	for i, l := range d.stacked(height)[1:] {
		z := float32(l.Bottom)
		if i > 0 {
			s.gap = min(s.gap, z-s.at[len(s.at)-1])
		}
		s.at = append(s.at, z)
	}
	if len(s.at) < 2 {
		s.gap = float32(d.Wood.panel())
	}
	return s
}

// over lays the seams over the colour of a pixel at a height that spans so much height.
func (s *seams) over(red, green, blue, h, foot float32) (float32, float32, float32) {
	if s == nil || len(s.at) == 0 {
		return red, green, blue
	}
	foot = max(foot, 0.02)
	share := min(1, (s.gap/foot-seamsFrom)/(seamsFull-seamsFrom))
	if share <= 0 {
		return red, green, blue
	}
	i := sort.Search(len(s.at), func(i int) bool { return s.at[i] >= h })
	near := float32(farthest)
	if i < len(s.at) {
		near = s.at[i] - h
	}
	if i > 0 {
		near = min(near, h-s.at[i-1])
	}
	k := seamStrength * share * max(0, min(1, 1.25-near/foot))
	return red + k*(s.lead[0]-red), green + k*(s.lead[1]-green), blue + k*(s.lead[2]-blue)
}
