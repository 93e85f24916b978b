package stock

// Lab is a tone in CIELAB under D65: lightness 0 to 100, a* (green to red), b* (blue to yellow).
type Lab [3]float64

// A Species is a wood as it looks in a board, bare and sanded.
type Species struct {
	Key, Name string
	Long      Lab     // long grain: the broad tone of a face or of a veneer cut along its fibres
	Dark      Lab     // long grain in its darkest bands (latewood, growth lines)
	End       Lab     // end grain
	Vary      float64 // natural difference between two veneers or two places on one, as a CIELAB distance
	Sources   map[string]string
}

// A Finish is what the sculpture is coated with. The bare finish has no coats and shifts nothing.
type Finish struct {
	Key, Name string
	Coats     int
	CoverM2L  float64 // m² that a litre covers once; 0 when there are no coats
	Shift     float64 // added to L* of long grain (negative darkens)
	EndShift  float64 // added to L* of end grain, which drinks more
	Chroma    float64 // a* and b* are multiplied by it
	Gloss     float64 // 0 dead matt to 1 mirror
	RecoatH   float64 // hours before the next coat
	Density   float64 // kg a litre as it is poured; 0 where that is not known
	Solids    float64 // share of its weight that stays when dry, 0 to 1
	Sources   map[string]string
}

// Tone is a bare tone as it looks under the finish; end is the share of end grain in it, 0 to 1.
func (f Finish) Tone(bare Lab, end float64) Lab {
	l := bare[0] + f.Shift + (f.EndShift-f.Shift)*min(max(end, 0), 1)
	return Lab{min(max(l, 0), 100), bare[1] * f.Chroma, bare[2] * f.Chroma}
}

// Litres is the finish that area mm² of surface takes in all coats.
func (f Finish) Litres(area float64) float64 {
	if f.Coats == 0 || !(f.CoverM2L > 0) {
		return 0
	}
	return float64(f.Coats) * area * 1e-6 / f.CoverM2L
}

// Dry is what Litres weighs once cured, in g; 0 where its density is not known.
func (f Finish) Dry(area float64) float64 { return f.Litres(area) * f.Density * 1000 * f.Solids }
