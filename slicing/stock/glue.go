package stock

// A Glue joins the layers.
type Glue struct {
	Key, Name string
	SpreadGM2 float64 // g/m² on one face
	Faces     int     // faces of a joint that are spread: 1 or 2
	Solids    float64 // share of its weight that stays when dry, 0 to 1
	OpenMin   float64 // minutes from the first stroke to closing the joint
	ClampMin  float64 // minutes in the clamps
	SoftMPa   float64 // clamp pressure for soft, light wood
	HardMPa   float64 // clamp pressure for hard, dense wood
	Line      float64 // width of the joint's glue line, mm
	Tone      Lab     // of that line
	Sources   map[string]string
}

// Wet is the glue that area mm² of joint takes, in g as poured.
func (g Glue) Wet(area float64) float64 { return area * 1e-6 * g.SpreadGM2 * float64(g.Faces) }

// Dry is what Wet weighs once cured, in g.
func (g Glue) Dry(area float64) float64 { return g.Wet(area) * g.Solids }
