package draw

import (
	"image/color"
	"math"
	"testing"

	"grainstack/render/golden"
)

// Reference values: WCAG 2.1 gives 21 : 1 for black on white; #767676 on white is the well-known lightest grey that
// passes, 4.54 : 1 (W3C, Understanding Success Criterion 1.4.3, rounding down to 4.54).
func TestContrast(t *testing.T) {
	for _, tt := range []struct {
		a, b uint32
		want float64
	}{{0x000000, 0xffffff, 21}, {0xffffff, 0xffffff, 1}, {0x767676, 0xffffff, 4.54}, {0xffffff, 0x767676, 4.54}} {
		if got := golden.Contrast(rgb(tt.a), rgb(tt.b)); math.Abs(got-tt.want) > 0.005 {
			t.Errorf("#%06x on #%06x: %.3f, want %.2f", tt.a, tt.b, got, tt.want)
		}
	}
}

func TestInksAreLegible(t *testing.T) {
	for name, k := range map[string]Ink{"light": LightInk(), "dark": DarkInk()} {
		for _, tt := range []struct {
			what string
			c    color.RGBA
			on   color.RGBA
		}{{"ink", k.Ink, k.Paper}, {"faint", k.Faint, k.Paper}, {"accent", k.Accent, k.Paper}, {"paper on accent", k.Paper, k.Accent}} {
			if got := golden.Contrast(tt.c, tt.on); got < 4.5 {
				t.Errorf("%s %s: contrast %.2f, wants 4.5", name, tt.what, got)
			}
		}
		if got := golden.Contrast(k.Long, k.End); got < 1.4 {
			t.Errorf("%s: long and end grain differ by %.2f only", name, got)
		}
	}
}
