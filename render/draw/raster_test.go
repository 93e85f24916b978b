package draw

import (
	"bytes"
	"image"
	"image/color"
	"math"
	"os"
	"testing"
	"unicode/utf8"

	"grainstack/slicing/geom"
)

func letters(t testing.TB) *Letters {
	t.Helper()
	l, err := LoadLetters(os.DirFS("../../assets"))
	if err != nil {
		t.Fatal(err)
	}
	return l
}

var (
	white = color.RGBA{255, 255, 255, 255}
	black = color.RGBA{0, 0, 0, 255}
)

// dark adds up how much black there is, in whole picture points.
func dark(img *image.RGBA) float64 {
	sum := 0.0
	for i := 0; i < len(img.Pix); i += 4 {
		sum += 1 - float64(img.Pix[i])/255
	}
	return sum
}

func TestAreaOfInk(t *testing.T) {
	r := NewRaster(letters(t))
	g := geom.Region{star(geom.Vec2{X: 150, Y: 150}, 100, 300), backwards(star(geom.Vec2{X: 150, Y: 150}, 30, 100))}
	for _, tt := range []struct {
		name string
		put  func(d *Drawing)
		want float64 // square drawing units
	}{
		{"fill with a hole", func(d *Drawing) { d.Fill(g, black) }, g.Area()},
		{"rectangle", func(d *Drawing) {
			d.Rect(geom.Box2{Min: geom.Vec2{X: 10.5, Y: 20}, Max: geom.Vec2{X: 60, Y: 40}}, black)
		}, 990},
		{"clipped", func(d *Drawing) {
			d.Clip(geom.Box2{Max: geom.Vec2{X: 50, Y: 50}})
			d.Rect(geom.Box2{Max: geom.Vec2{X: 300, Y: 20}}, black)
		}, 1000},
		{"stroke", func(d *Drawing) {
			d.Segments(Pen{Color: black, Width: 3}, Segment{{X: 20, Y: 100}, {X: 220, Y: 100}})
		}, 600},
		{"dashes", func(d *Drawing) {
			d.Segments(Pen{black, 2, []float64{6, 4}}, Segment{{X: 20, Y: 100}, {X: 220, Y: 100}})
		}, 20 * 6 * 2},
		{"dots", func(d *Drawing) {
			d.Segments(Pen{black, 4, []float64{0, 10}}, Segment{{X: 20, Y: 100}, {X: 219, Y: 100}})
		}, 20 * math.Pi * 4},
	} {
		for _, scale := range []float64{1, 2} {
			d := New(300, 300, white)
			tt.put(d)
			img := r.Picture(d, scale)
			if got := dark(img) / scale / scale; math.Abs(got-tt.want) > 0.03*tt.want+scale {
				t.Errorf("%s at scale %g: %.0f of ink, want %.0f", tt.name, scale, got, tt.want)
			}
		}
	}
}

func TestPictureIsTight(t *testing.T) {
	img := NewRaster(letters(t)).Picture(New(33.4, 20, white), 1.5)
	if img.Rect != image.Rect(0, 0, 50, 30) || img.Stride != 200 {
		t.Errorf("got %v, stride %d", img.Rect, img.Stride)
	}
}

// Every sign that the program prints is in both weights, and figures are of one width, so that columns line up.
func TestLettersAreComplete(t *testing.T) {
	l := letters(t)
	for i, w := range l.widths {
		for _, r := range "0123456789ABCXYZabcxyz°×·−–—²³±½¼¾⅛→←µøØ≥≤∙…“”’äöüÄÖÜßéèàçñåæ" {
			if _, ok := w[r]; !ok {
				t.Errorf("weight %d lacks %c", i, r)
			}
		}
		for r := '0'; r <= '9'; r++ {
			if w[r] != w['0'] {
				t.Errorf("weight %d: %c is %g wide, 0 is %g", i, r, w[r], w['0'])
			}
		}
	}
}

// What is printed lies in the box that was promised, upright and turned, and fills most of it.
func TestTextKeepsToItsBox(t *testing.T) {
	l := letters(t)
	r := NewRaster(l)
	for _, up := range []bool{false, true} {
		for _, align := range []Align{Left, Centre, Right} {
			txt := Text{At: geom.Vec2{X: 150.3, Y: 149.6}, Words: "Hdepth 131.7 mm", Size: 13, Color: black, Align: align, Up: up}
			d := New(300, 300, white)
			d.Text(txt)
			got := inked(r.Picture(d, 1))
			b := l.Box(txt)
			want := image.Rect(int(math.Floor(b.Min.X))-1, int(math.Floor(b.Min.Y))-1, int(math.Ceil(b.Max.X))+1, int(math.Ceil(b.Max.Y))+1)
			if got.Empty() || !got.In(want) {
				t.Errorf("up %v, align %d: printed on %v, promised %v", up, align, got, want)
			}
			if 10*got.Dx() < 8*want.Dx() || 10*got.Dy() < 7*want.Dy() {
				t.Errorf("up %v, align %d: printed on %v only, promised %v", up, align, got, want)
			}
		}
	}
}

func inked(img *image.RGBA) image.Rectangle {
	out := image.Rectangle{}
	for y := range img.Rect.Dy() {
		for x := range img.Rect.Dx() {
			if img.RGBAAt(x, y) != white {
				out = out.Union(image.Rect(x, y, x+1, y+1))
			}
		}
	}
	return out
}

func TestSameDrawingSamePicture(t *testing.T) {
	l := letters(t)
	d := New(200, 100, white)
	d.Outline(Pen{black, 1.2, []float64{3, 2}}, geom.Region{star(geom.Vec2{X: 80, Y: 50}, 30, 99)})
	d.Text(Text{At: geom.Vec2{X: 20, Y: 60}, Words: "twice", Size: 20, Color: black})
	r := NewRaster(l)
	first := r.Picture(d, 1)
	for _, again := range []*image.RGBA{r.Picture(d, 1), NewRaster(l).Picture(d, 1)} {
		if !bytes.Equal(first.Pix, again.Pix) {
			t.Error("pictures differ")
		}
	}
}

func TestLettersMissing(t *testing.T) {
	if _, err := LoadLetters(os.DirFS("testdata/none")); err == nil {
		t.Error("no typeface, no error")
	}
}

func FuzzText(f *testing.F) {
	l := letters(f)
	r := NewRaster(l)
	f.Add("17 × 16.0 mm", 11.0, 10.0, 20.0, true)
	f.Add("\x00\xff→", 0.0, -50.0, 1e9, false)
	f.Fuzz(func(t *testing.T, words string, size, x, y float64, up bool) {
		if utf8.RuneCountInString(words) > 40 || !(math.Abs(size) < 200) || math.Abs(x) > 1e6 || math.Abs(y) > 1e6 {
			t.Skip()
		}
		d := New(40, 30, white)
		d.Text(Text{At: geom.Vec2{X: x, Y: y}, Words: words, Size: size, Up: up})
		r.Picture(d, 1)
	})
}
