package swatch

import (
	"bytes"
	"encoding/binary"
	"hash/crc32"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"grainstack/render/frame"
	"grainstack/render/tone"
)

// Tones of an oiled board, our own.
var (
	lightVeneer = tone.Lab{74, 10, 29}
	darkVeneer  = tone.Lab{62, 13, 31}
	endGrain    = tone.Lab{51, 14, 27}
)

// A board is a synthetic photo: three upright bands of tones, a grey card of L* 49.5 (18 %) in the corner, under a light that
// multiplies each channel, with bell-shaped noise in bytes and a share of pixels that are anything.
type board struct {
	gain    [3]float32
	noise   float64
	spoiled float64
}

const wide, high = 360, 240

func (b board) photo() *image.RGBA {
	r := rand.New(rand.NewPCG(5, 6))
	img := image.NewRGBA(image.Rect(0, 0, wide, high))
	for y := range high {
		for x := range wide {
			l := []tone.Lab{lightVeneer, darkVeneer, endGrain}[3*x/wide].Light()
			if x < 60 && y < 60 {
				l = tone.Light{0.18, 0.18, 0.18}
			}
			var c [3]uint8
			for i := range c {
				v := 255*tone.Encode(float64(l[i]*b.gain[i])) + b.noise*r.NormFloat64()
				if r.Float64() < b.spoiled {
					v = 255 * float64(r.IntN(2))
				}
				c[i] = uint8(math.Round(min(max(v, 0), 255)))
			}
			img.SetRGBA(x, y, color.RGBA{c[0], c[1], c[2], 255})
		}
	}
	return img
}

func read(t testing.TB, file []byte) *Photo {
	t.Helper()
	p, err := decode(file)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func asPNG(t testing.TB, img image.Image) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := png.Encode(&b, img); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func asJPEG(t testing.TB, img image.Image, quality int) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := jpeg.Encode(&b, img, &jpeg.Options{Quality: quality}); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// Where the three tones and the card lie.
var (
	places = [3]image.Point{{60, 160}, {180, 120}, {300, 120}}
	truth  = [3]tone.Lab{lightVeneer, darkVeneer, endGrain}
	card   = image.Pt(30, 30)
)

// TestPatchFindsTheTone: the tone comes back within the stated CIELAB distance from noise, from a JPEG and from a photo in which
// every seventh channel is black or white. About 2 is the least that an eye sees side by side.
func TestPatchFindsTheTone(t *testing.T) {
	plain := [3]float32{1, 1, 1}
	for _, tt := range []struct {
		name   string
		photo  *Photo
		within float64
	}{
		{"clean", read(t, asPNG(t, board{gain: plain}.photo())), 0.35}, // half a byte in each channel
		{"noise of 12 bytes", read(t, asPNG(t, board{plain, 12, 0}.photo())), 1},
		{"JPEG of a noisy photo", read(t, asJPEG(t, board{plain, 12, 0}.photo(), 85)), 1.2},
		{"every seventh channel spoilt", read(t, asPNG(t, board{plain, 6, 1.0 / 7}.photo())), 1},
	} {
		for i, at := range places {
			p, err := tt.photo.Patch(at, 18)
			if err != nil {
				t.Fatal(err)
			}
			if d := p.Light.Lab().Difference(truth[i]); d > tt.within {
				t.Errorf("%s: tone %d is %.1f, want %.1f: off by %.2f, want at most %g", tt.name, i, p.Light.Lab(), truth[i], d, tt.within)
			}
		}
	}
}

// TestSpreadTellsNoise: a clean patch has none, one whose pixels are off by a dozen bytes has as much as an eye sees at once.
func TestSpreadTellsNoise(t *testing.T) {
	clean, _ := of(board{gain: [3]float32{1, 1, 1}}.photo()).Patch(places[1], 18)
	noisy, _ := of(board{[3]float32{1, 1, 1}, 12, 0}.photo()).Patch(places[1], 18)
	if clean.Spread > 0.01 || noisy.Spread < 3 {
		t.Errorf("spread %.2f clean, %.2f noisy", clean.Spread, noisy.Spread)
	}
}

// TestCardTakesTheLightOut: a photo in warm lamp light and a stop too dark gives the true tones once its grey card is picked;
// without the exposure the hue is right and the lightness is not; without the card neither is.
func TestCardTakesTheLightOut(t *testing.T) {
	p := read(t, asPNG(t, board{[3]float32{0.66, 0.5, 0.3}, 3, 0}.photo()))
	grey, err := p.Patch(card, 18)
	if err != nil {
		t.Fatal(err)
	}
	full, err := BalanceOf(grey, GreyCard)
	if err != nil || !full.Known() {
		t.Fatal(err)
	}
	hue, err := BalanceOf(grey, 0)
	if err != nil {
		t.Fatal(err)
	}
	if c := hue.Tone(grey); math.Hypot(c[1], c[2]) > 0.3 {
		t.Errorf("the card is %.2f, want neutral", c)
	}
	for i, at := range places {
		patch, err := p.Patch(at, 18)
		if err != nil {
			t.Fatal(err)
		}
		if d := full.Tone(patch).Difference(truth[i]); d > 1.5 {
			t.Errorf("tone %d is %.1f, want %.1f: off by %.2f", i, full.Tone(patch), truth[i], d)
		}
		if d := patch.Light.Lab().Difference(truth[i]); d < 10 {
			t.Errorf("without a card tone %d is off by only %.1f: the photo proves nothing", i, d)
		}
		a, b := hue.Tone(patch), truth[i]
		if d := math.Abs(math.Atan2(a[2], a[1]) - math.Atan2(b[2], b[1])); d > 0.06 || a[0] > b[0]-8 {
			t.Errorf("hue alone: tone %d is %.1f, want the hue of %.1f, and darker", i, a, b)
		}
	}
}

func TestCardsThatTellNothing(t *testing.T) {
	img := image.NewRGBA(image.Rect(0, 0, 100, 50))
	for y := range 50 {
		for x := range 100 {
			img.SetRGBA(x, y, color.RGBA{255, 255, 250, 255})
			if x < 50 {
				img.SetRGBA(x, y, color.RGBA{9, 6, 4, 255})
			}
		}
	}
	p := of(img)
	white, _ := p.Patch(image.Pt(75, 25), 10)
	black, _ := p.Patch(image.Pt(25, 25), 10)
	if _, err := BalanceOf(white, 0); err == nil || white.Hard != 1 {
		t.Errorf("a burnt-out card is taken: %v, %g hard", err, white.Hard)
	}
	if _, err := BalanceOf(black, 0); err == nil {
		t.Error("a black card is taken")
	}
	if got := (Balance{}).Tone(white); got != white.Light.Lab() {
		t.Errorf("no balance changes %v to %v", white.Light.Lab(), got)
	}
}

// TestLargePhotosAreThinned: tones and places stay those of the file.
func TestLargePhotosAreThinned(t *testing.T) {
	small := board{gain: [3]float32{1, 1, 1}}.photo()
	const k = 7
	big := image.NewRGBA(image.Rect(0, 0, k*wide, k*high))
	for y := range k * high {
		for x := range k * wide {
			big.SetRGBA(x, y, small.RGBAAt(x/k, y/k))
		}
	}
	p := of(big)
	if p.Size() != image.Pt(k*wide, k*high) || len(p.light) > kept || p.step < 2 {
		t.Fatalf("%v kept as %d pixels", p.Size(), len(p.light))
	}
	for i, at := range places {
		patch, err := p.Patch(at.Mul(k), 100)
		if err != nil || patch.Light.Lab().Difference(truth[i]) > 0.35 {
			t.Errorf("tone %d is %.1f: %v", i, patch.Light.Lab(), err)
		}
	}
}

func TestFitThereAndBack(t *testing.T) {
	p := of(image.NewRGBA(image.Rect(0, 0, 300, 100)))
	var pool frame.Pool
	for _, size := range []image.Point{{150, 150}, {640, 90}, {299, 101}} {
		f := p.Draw(pool.Get(size), Balance{})
		for _, at := range []image.Point{{0, 0}, {299, 99}, {150, 50}} {
			if got, ok := f.Place(f.Back(at)); !ok || got != at {
				t.Errorf("in %v, %v comes back as %v, %v", size, at, got, ok)
			}
		}
		if _, ok := f.Place(float64(size.X)/2, -1); ok {
			t.Errorf("in %v a place above the photo is on it", size)
		}
	}
	if _, ok := p.fitIn(image.Pt(150, 150)).Place(75, 10); ok {
		t.Error("a place beside the photo is on it")
	}
}

// TestUntrustedFiles: a header that promises a huge picture is refused before anything is decoded, and so is what is no photo.
func TestUntrustedFiles(t *testing.T) {
	good := asPNG(t, board{gain: [3]float32{1, 1, 1}}.photo())
	huge := bytes.Clone(good)
	binary.BigEndian.PutUint32(huge[16:], 200_000)
	binary.BigEndian.PutUint32(huge[20:], 100_000)
	binary.BigEndian.PutUint32(huge[29:], crc32.ChecksumIEEE(huge[12:29]))
	for _, tt := range []struct {
		name, want string
		file       []byte
	}{
		{"huge", "200000 × 100000 pixels, more than 25 million", huge},
		{"cut short", "breaks off", good[:len(good)/2]},
		{"text", "no photo that can be read", []byte("not a photo")},
		{"empty", "no photo that can be read", nil},
		{"too many bytes", "more than 64 MB", make([]byte, mostBytes+1)},
	} {
		if _, err := decode(tt.file); err == nil || !strings.Contains(err.Error(), tt.want) {
			t.Errorf("%s: %v, want %q", tt.name, err, tt.want)
		}
	}
}

func TestPlacesWithoutATone(t *testing.T) {
	img := image.NewNRGBA(image.Rect(0, 0, 50, 50)) // wholly transparent
	p := of(img)
	for _, at := range []image.Point{{-1, 5}, {5, 50}, {25, 25}} {
		if _, err := p.Patch(at, 10); err == nil {
			t.Errorf("a tone at %v", at)
		}
	}
	if _, err := p.Patch(image.Pt(2, 2), math.NaN()); err == nil {
		t.Error("a radius that is no number is taken")
	}
	one := image.NewRGBA(image.Rect(3, 4, 4, 5))
	one.SetRGBA(3, 4, color.RGBA{200, 150, 100, 255})
	if patch, err := of(one).Patch(image.Pt(0, 0), 5); err != nil || patch.Pixels != 1 {
		t.Errorf("a photo of one pixel: %v", err)
	}
}

// FuzzRead: no file makes a photo that can't be picked from, and none costs more than its header says it may.
func FuzzRead(f *testing.F) {
	img := image.NewRGBA(image.Rect(0, 0, 8, 8))
	f.Add(asPNG(f, img))
	f.Add(asJPEG(f, img, 80))
	f.Fuzz(func(t *testing.T, file []byte) {
		if head, _, err := image.DecodeConfig(bytes.NewReader(file)); err == nil && head.Width*head.Height > 1<<20 {
			return // as large as allowed, but slow to try
		}
		p, err := decode(file)
		if err != nil {
			return
		}
		if s := p.Size(); s.X < 1 || s.Y < 1 {
			t.Fatalf("a photo of %v", s)
		}
		patch, err := p.Patch(image.Pt(p.size.X/2, p.size.Y/2), p.UsualRadius())
		if tone := patch.Light.Lab(); err == nil && (tone[0] < -0.1 || tone[0] > 100.1 || math.IsNaN(tone[1])) {
			t.Fatalf("a tone of %v", tone)
		}
	})
}
