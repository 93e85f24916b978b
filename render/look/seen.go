package look

import "grainstack/render/tone"

// seenCover is how much of the wood is hidden under what the scanner saw: joints and stripes stay to be told.
const seenCover = 0.85

// seen is a pixel's light with the scanner's colour of its facet over it.
func (d *Dress) seen(c tone.Light, s *sample) tone.Light {
	if s.kind != surface || int(s.facet) >= len(d.Seen) {
		return c
	}
	k := d.Seen[s.facet]
	own := tone.FromBytes(k[0], k[1], k[2])
	lit := 0.35 + 1.3*(c[0]+c[1]+c[2])/3 // the colour lies in the same light, so that form stays to be seen
	return c.Lerp(tone.Light{own[0] * lit, own[1] * lit, own[2] * lit}, seenCover)
}
