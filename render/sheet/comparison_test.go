package sheet_test

import (
	"fmt"
	"image"
	"math"
	"strings"
	"testing"

	"grainstack/render/draw"
	"grainstack/render/golden"
	"grainstack/render/sheet"
)

// compared is a made-up comparison with n columns and so many rows, every second of which says nothing.
func compared(n, rows int) sheet.ComparisonView {
	v := sheet.ComparisonView{Note: "Differences are from the first."}
	for i := range n {
		v.Columns = append(v.Columns, sheet.ComparedColumn{Name: fmt.Sprintf("Trial %d", i+1), Chosen: i == 1})
	}
	v.Columns[n-1].Choices = []string{"wall 20 mm → 25 mm", "stand as it came → forward 12.5°, sideways 90°", "rough cutter End mill 6.35 mm → End mill 12 mm", "panel 600 × 600 mm → 900 × 600 mm"}
	for k := range rows {
		r := sheet.ComparedRow{Name: fmt.Sprintf("Figure %d", k+1)}
		for i := range n {
			r.Values = append(r.Values, fmt.Sprintf("%d.%d kg", i+1, k))
			by := ""
			if k%2 == 1 && i > 0 {
				by = fmt.Sprintf("+%d.0 kg", i)
			}
			r.Differences = append(r.Differences, by)
		}
		v.Rows = append(v.Rows, r)
	}
	return v
}

func TestComparisonKeepsWhatDiffers(t *testing.T) {
	s := style(t, draw.LightInk())
	v := compared(3, 14)
	words := func(d *draw.Drawing) string { return strings.Join(recorded(d).words(), "\n") + "\n" }
	whole := words(sheet.Comparison(v, s, 900, 1200).Drawing)
	low := words(sheet.Comparison(v, s, 900, 330).Drawing)
	for k := range 14 {
		name := fmt.Sprintf("Figure %d\n", k+1)
		if !strings.Contains(whole, name) {
			t.Errorf("a high sheet lacks %q", name)
		}
		if k%2 == 1 && k < 6 && !strings.Contains(low, name) {
			t.Errorf("a low sheet lacks %q, in which something differs", name)
		}
	}
	if strings.Contains(low, "Figure 13\n") || strings.Contains(low, "Figure 1\n") {
		t.Error("a low sheet spends its room on what is alike")
	}
	v.Whole = true
	if got := words(sheet.Comparison(v, s, 900, 330).Drawing); !strings.Contains(got, "Figure 13\n") {
		t.Error("a whole table was wanted")
	}
}

// TestComparisonStaysInItsColumns: nothing is lettered into a neighbour or over the edge, at any width.
func TestComparisonStaysInItsColumns(t *testing.T) {
	s := style(t, draw.LightInk())
	for _, w := range []float64{420, 665, 1024, 1280} {
		for n := 1; n <= 4; n++ {
			c := sheet.Comparison(compared(n, 9), s, w, 500)
			if len(c.Pictures) != n {
				t.Fatalf("%d pictures for %d stacks", len(c.Pictures), n)
			}
			for _, text := range recorded(c.Drawing).texts {
				b := s.Letters.Box(text)
				if b.Min.X < 0 || b.Max.X > w || b.Min.Y < 0 || b.Max.Y > 500 {
					t.Errorf("%g wide, %d stacks: %q goes over the edge", w, n, text.Words)
				}
				for i, p := range c.Pictures {
					if text.At.X >= p.Min.X-0.01 && text.At.X < p.Max.X && text.Align == draw.Left && b.Max.X > p.Max.X+10 && text.Words != "Differences are from the first." {
						t.Errorf("%g wide, %d stacks: %q of column %d ends in the next", w, n, text.Words, i)
					}
				}
			}
			for i, p := range c.Pictures {
				mid := p.Min.Add(p.Max).Scale(0.5)
				if got, ok := c.ColumnAt(mid.X, mid.Y); !ok || got != i || p.Size().Sub(c.Pictures[0].Size()).Len() > 1e-9 {
					t.Errorf("column %d is found as %d, of size %v", i, got, p.Size())
				}
			}
		}
	}
}

func TestComparisonHeight(t *testing.T) {
	s := style(t, draw.LightInk())
	v := compared(4, 12)
	h := sheet.ComparisonHeight(v, s, 665, 1)
	v.Whole = true
	size := sheet.Comparison(v, s, 665, h).Pictures[0].Size()
	if math.Abs(size.X-size.Y) > 0.01 {
		t.Errorf("on a sheet %g high the pictures are %v, want them as high as wide", h, size)
	}
	if h := sheet.ComparisonHeight(sheet.ComparisonView{}, s, 665, 1); h != 60 {
		t.Errorf("nothing to compare is %g high", h)
	}
}

func TestComparisonGolden(t *testing.T) {
	for _, tt := range []struct {
		name string
		ink  draw.Ink
	}{{"comparison", draw.LightInk()}, {"comparison-dark", draw.DarkInk()}} {
		s := style(t, tt.ink)
		c := sheet.Comparison(compared(3, 8), s, 760, 420)
		var img image.Image = draw.NewRaster(s.Letters).Picture(c.Drawing, 1)
		golden.Image(t, tt.name, img, close4)
	}
}
