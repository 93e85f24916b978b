package draw

import (
	"fmt"
	"io/fs"

	"golang.org/x/image/font"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"

	"grainstack/slicing/geom"
)

// Letters is a typeface in two weights, with the widths of its letters. It is never written to after it has been loaded
// and may be shared by any number of goroutines.
type Letters struct {
	fonts  [2]*opentype.Font // regular, bold
	widths [2]map[rune]float64
}

// LoadLetters reads fonts/Lato-Regular.ttf and fonts/Lato-Bold.ttf.
func LoadLetters(fsys fs.FS) (*Letters, error) {
	l := &Letters{}
	for i, name := range []string{"fonts/Lato-Regular.ttf", "fonts/Lato-Bold.ttf"} {
		b, err := fs.ReadFile(fsys, name)
		if err != nil {
			return nil, fmt.Errorf("draw: letters: %w", err)
		}
		if l.fonts[i], err = opentype.Parse(b); err != nil {
			return nil, fmt.Errorf("draw: letters: %s: %w", name, err)
		}
		l.widths[i] = advances(l.fonts[i])
	}
	return l, nil
}

// advances are widths per em of the letters that sheets use most.
func advances(f *opentype.Font) map[rune]float64 {
	out := make(map[rune]float64, 512)
	var buf sfnt.Buffer
	for r := rune(' '); r < 0x2300; r++ {
		if r == 0x0400 {
			r = 0x2010
		}
		if g, err := f.GlyphIndex(&buf, r); err == nil && g != 0 {
			if a, err := f.GlyphAdvance(&buf, g, fixed.I(1000), font.HintingNone); err == nil {
				out[r] = float64(a) / 64 / 1000
			}
		}
	}
	return out
}

// Width is how far a line of lettering reaches, in drawing units, without kerning. A letter that the typeface lacks counts
// as 0.6 of its size.
func (l *Letters) Width(words string, size float64, bold bool) float64 {
	w, sum := l.widths[weight(bold)], 0.0
	for _, r := range words {
		if a, ok := w[r]; ok {
			sum += a
		} else {
			sum += 0.6
		}
	}
	return sum * size
}

// capHeight and descent are Lato's, per em, with a little over for accents.
const (
	capHeight = 0.74
	descent   = 0.2
)

// Box is the rectangle that a text takes up on the sheet.
func (l *Letters) Box(t Text) geom.Box2 {
	w := l.Width(t.Words, t.Size, t.Bold)
	before := w * [...]float64{0, 0.5, 1}[t.Align]
	if t.Up {
		return geom.Box2{
			Min: geom.Vec2{X: t.At.X - capHeight*t.Size, Y: t.At.Y - (w - before)},
			Max: geom.Vec2{X: t.At.X + descent*t.Size, Y: t.At.Y + before},
		}
	}
	return geom.Box2{
		Min: geom.Vec2{X: t.At.X - before, Y: t.At.Y - capHeight*t.Size},
		Max: geom.Vec2{X: t.At.X - before + w, Y: t.At.Y + descent*t.Size},
	}
}

func weight(bold bool) int {
	if bold {
		return 1
	}
	return 0
}
