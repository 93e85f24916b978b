package tone

import "math"

// Lab is a colour as a colorimeter gives it: lightness 0 to 100, then a (green to red) and b (blue to yellow), D65.
type Lab [3]float64

// Light is linear light in the sRGB primaries; 1, 1, 1 is the white of the screen. Values outside 0 to 1 are out of the
// screen's gamut.
type Light [3]float32

// CIE 15: the bounds between the cube root and its straight part.
const (
	kappa   = 24389.0 / 27
	epsilon = 216.0 / 24389
)

// whiteD65 is the white that Lab is measured against, Y = 1.
var whiteD65 = [3]float64{0.95047, 1, 1.08883}

// Light is the colour as linear light.
func (c Lab) Light() Light {
	fy := (c[0] + 16) / 116
	x := whiteD65[0] * uncurve(fy+c[1]/500)
	y := whiteD65[1] * uncurve(fy)
	z := whiteD65[2] * uncurve(fy-c[2]/200)
	return Light{
		float32(3.2406*x - 1.5372*y - 0.4986*z),
		float32(-0.9689*x + 1.8758*y + 0.0415*z),
		float32(0.0557*x - 0.2040*y + 1.0570*z),
	}
}

func uncurve(f float64) float64 {
	if cube := f * f * f; cube > epsilon {
		return cube
	}
	return (116*f - 16) / kappa
}

// Lab is the light as a colorimeter would give it; the reverse of Lab.Light within the rounding of its published matrix.
func (l Light) Lab() Lab {
	r, g, b := float64(l[0]), float64(l[1]), float64(l[2])
	x := curve((0.4124*r + 0.3576*g + 0.1805*b) / whiteD65[0])
	y := curve((0.2126*r + 0.7152*g + 0.0722*b) / whiteD65[1])
	z := curve((0.0193*r + 0.1192*g + 0.9505*b) / whiteD65[2])
	return Lab{116*y - 16, 500 * (x - y), 200 * (y - z)}
}

func curve(t float64) float64 {
	if t > epsilon {
		return math.Cbrt(t)
	}
	return (kappa*t + 16) / 116
}

// Difference is ΔE*ab of 1976: the distance of two colours in Lab; about 2 is the least that an eye sees side by side.
func (c Lab) Difference(d Lab) float64 {
	return math.Sqrt((c[0]-d[0])*(c[0]-d[0]) + (c[1]-d[1])*(c[1]-d[1]) + (c[2]-d[2])*(c[2]-d[2]))
}

// Lerp is the mix of two lights, f of the second.
func (l Light) Lerp(m Light, f float32) Light {
	return Light{l[0] + f*(m[0]-l[0]), l[1] + f*(m[1]-l[1]), l[2] + f*(m[2]-l[2])}
}

// Luminance is the Y of the light.
func (l Light) Luminance() float32 { return 0.2126*l[0] + 0.7152*l[1] + 0.0722*l[2] }

// Bytes are the light's sRGB bytes, cut off at the gamut's bounds.
func (l Light) Bytes() [3]uint8 { return [3]uint8{Byte(l[0]), Byte(l[1]), Byte(l[2])} }

// FromByte is the linear light of one sRGB byte.
func FromByte(b uint8) float32 { return decoded[b] }

// FromBytes is the light of an sRGB colour.
func FromBytes(r, g, b uint8) Light { return Light{decoded[r], decoded[g], decoded[b]} }

// steps is the fineness of the encoding table. With the square root taken first the worst error is under a third of a byte.
const steps = 4096

// encoded is sRGB by the square root of linear light, decoded is linear light by sRGB byte.
var (
	encoded = encodeTable()
	decoded = decodeTable()
)

func encodeTable() *[steps + 1]uint8 {
	var t [steps + 1]uint8
	for i := range t {
		root := float64(i) / steps
		t[i] = uint8(math.Round(255 * Encode(root*root)))
	}
	return &t
}

func decodeTable() *[256]float32 {
	var t [256]float32
	for i := range t {
		t[i] = float32(Decode(float64(i) / 255))
	}
	return &t
}

// Byte encodes one channel of linear light, cut off at 0 and 1.
func Byte(c float32) uint8 {
	if !(c > 0) {
		return 0
	}
	if c >= 1 {
		return 255
	}
	return encoded[int(float32(math.Sqrt(float64(c)))*steps+0.5)]
}

// Encode is the sRGB transfer curve: linear 0 to 1 in, sRGB 0 to 1 out (IEC 61966-2-1).
func Encode(c float64) float64 {
	if c <= 0.0031308 {
		return 12.92 * c
	}
	return 1.055*math.Pow(c, 1/2.4) - 0.055
}

// Decode is the reverse of Encode.
func Decode(s float64) float64 {
	if s <= 0.04045 {
		return s / 12.92
	}
	return math.Pow((s+0.055)/1.055, 2.4)
}
