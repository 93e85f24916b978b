package golden

import (
	"flag"
	"image"
	"image/color"
	"image/draw"
	"image/png"
	"os"
	"path/filepath"
	"testing"
)

var update = flag.Bool("update", false, "keep the pictures as they are drawn now")

// A Tolerance says how unlike two pictures may be: a picture point differs when one of its colours is off by more than
// Step of 255, and up to Share of all points may differ.
type Tolerance struct {
	Step  int
	Share float64
}

// Image fails t when got is not like testdata/<name>.png within the tolerance.
func Image(t testing.TB, name string, got image.Image, tol Tolerance) {
	t.Helper()
	path := filepath.Join("testdata", name+".png")
	if *update {
		if err := write(path, got); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := read(path)
	if err != nil {
		t.Fatalf("%v (run the test with -update to keep the picture)", err)
	}
	share, diff := Compare(got, want, tol.Step)
	if share <= tol.Share {
		return
	}
	failed := filepath.Join("testdata", "failed", name)
	for file, img := range map[string]image.Image{failed + ".png": got, failed + "-difference.png": diff} {
		if err := write(file, img); err != nil {
			t.Error(err)
		}
	}
	t.Errorf("%s: %.2f %% of the picture differs, wants at most %.2f %%: see %s.png", name, 100*share, 100*tol.Share, failed)
}

// Compare gives the share of picture points that differ by more than step in one of their colours, and a picture that
// shows them dark on white. Pictures of different sizes differ altogether.
func Compare(a, b image.Image, step int) (share float64, diff image.Image) {
	x, y := rgba(a), rgba(b)
	w, h := x.Rect.Dx(), x.Rect.Dy()
	out := image.NewGray(image.Rect(0, 0, w, h))
	if y.Rect.Dx() != w || y.Rect.Dy() != h {
		return 1, out
	}
	n := 0
	for i := range w * h {
		far := 0
		for k := range 4 {
			far = max(far, abs(int(x.Pix[4*i+k])-int(y.Pix[4*i+k])))
		}
		out.Pix[i] = uint8(255 - far)
		if far > step {
			n++
		}
	}
	return float64(n) / float64(max(1, w*h)), out
}

func abs(v int) int { return max(v, -v) }

// rgba is img as a tight picture that starts at 0, 0.
func rgba(img image.Image) *image.RGBA {
	out := image.NewRGBA(image.Rectangle{Max: img.Bounds().Size()})
	draw.Draw(out, out.Rect, image.NewUniform(color.Transparent), image.Point{}, draw.Src)
	draw.Draw(out, out.Rect, img, img.Bounds().Min, draw.Src)
	return out
}

func read(path string) (image.Image, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return png.Decode(f)
}

func write(path string, img image.Image) error {
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		return err
	}
	f, err := os.Create(path)
	if err != nil {
		return err
	}
	if err := png.Encode(f, img); err != nil {
		f.Close()
		return err
	}
	return f.Close()
}
