package picture

import (
	"slices"

	"grainstack/render/tone"
	"grainstack/slicing/mesh"
	"grainstack/slicing/scans"
)

// Tones of how far scans lie apart: they get darker evenly from none at all to the most; what one scan alone saw is grey, and what
// none saw, which is a guess, is blue.
var (
	apartTones = []tone.Lab{{93, 0, 8}, {78, 6, 45}, {60, 35, 50}, {38, 50, 30}}
	aloneTone  = tone.Lab{70, 0, 0}
	guessTone  = tone.Lab{55, -5, -40}
)

// ApartTone is the tone of a share of the most that scans lie apart, from 0 to 1.
func ApartTone(share float64) [3]uint8 {
	at := max(0, min(1, share)) * float64(len(apartTones)-1)
	i := min(int(at), len(apartTones)-2)
	a, b, f := apartTones[i], apartTones[i+1], at-float64(i)
	return tone.Lab{a[0] + f*(b[0]-a[0]), a[1] + f*(b[1]-a[1]), a[2] + f*(b[2]-a[2])}.Light().Bytes()
}

// AloneTone is that of what one scan alone saw, and GuessTone of what none saw.
func AloneTone() [3]uint8 { return aloneTone.Light().Bytes() }

// GuessTone is that of what no scan saw.
func GuessTone() [3]uint8 { return guessTone.Light().Bytes() }

// mostShare is the share of the places that the scale reaches to: single ones that are farther off get the last tone.
const mostShare = 0.98

// MostApart is where the scale of tones ends: how far scans lie apart at nearly all places that two saw, in units of the first; 0 where
// there are none.
func MostApart(j *scans.Joined) float64 {
	both := slices.DeleteFunc(slices.Clone(j.Apart), func(d float32) bool { return d < 0 })
	if len(both) == 0 {
		return 0
	}
	slices.Sort(both)
	return float64(both[int(mostShare*float64(len(both)-1))])
}

// Apart are the tones of how far the scans of a piece lie apart, at the points of the piece.
func Apart(j *scans.Joined) *mesh.Colours {
	m, most := j.Piece.Mesh, MostApart(j)
	c := &mesh.Colours{Points: m.Points, RGB: make([][3]uint8, len(m.Points))}
	alone, guess := AloneTone(), GuessTone()
	for i, d := range j.Apart {
		switch {
		case d < 0:
			c.RGB[i] = alone
		case most > 0:
			c.RGB[i] = ApartTone(float64(d) / most)
		default:
			c.RGB[i] = ApartTone(0)
		}
	}
	for f, t := range m.Triangles {
		if j.Piece.Guessed[f] {
			for _, p := range t {
				c.RGB[p] = guess
			}
		}
	}
	return c
}
