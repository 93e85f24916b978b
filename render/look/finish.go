package look

import "grainstack/render/tone"

// A Finish is what lies on the wood. The zero Finish is bare wood.
type Finish struct {
	Shift    float64 // how much darker it makes light long grain, in lightness (Lab)
	EndShift float64 // the same for end grain, whose open fibres drink it
	Chroma   float64 // factor on chroma, 1 where it is 0
	Gloss    float64 // 0 matt to 1 mirror
}

// darkerStill is how much more a finish darkens dark wood, in parts for each step in lightness below that of light wood.
// That dark wood darkens more and contrast grows: Tashiro & Nakamura, J. Soc. Mater. Sci. Japan 62(4), 2013; the size is
// from memory.
const (
	darkerStill = 0.035
	lightWood   = 81.0
)

// yellower is how much more of its chroma a finish adds towards yellow than towards red: from memory.
const yellower = 2.0

// over is the tone under the finish that darkens light wood by shift: darker, and richer.
func (f Finish) over(t tone.Lab, shift float64) tone.Lab {
	more := 0.0
	if f.Chroma > 0 {
		more = f.Chroma - 1
	}
	shift = within(shift, lightWood)
	return tone.Lab{t[0] - shift*(1+darkerStill*max(0, lightWood-t[0])), t[1] * (1 + more*0.55), t[2] * (1 + more*0.55*yellower)}
}

// Coated is long grain of a bare tone under the finish.
func (f Finish) Coated(t tone.Lab) tone.Lab { return f.over(t, f.Shift) }

// Mean is the light that the wood throws back on the whole, half of it from end grain.
func (w *Wood) Mean() tone.Light {
	var sum tone.Light
	for _, v := range w.Veneers {
		l := w.Finish.over(v.Long, w.Finish.Shift).Light().Lerp(w.Finish.over(v.End, w.Finish.EndShift).Light(), 0.5)
		for i := range sum {
			sum[i] += l[i] * float32(v.thick()/w.panel())
		}
	}
	return sum
}
