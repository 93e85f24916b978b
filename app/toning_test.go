package app

import (
	"image"
	"image/color"
	"image/png"
	"os"
	"path/filepath"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"grainstack/render/tone"
	"grainstack/slicing/job"
	"grainstack/slicing/stock"
)

// photoOfBoard writes a photo of three veneers and a grey card, four bands side by side.
func photoOfBoard(t *testing.T) (path string, bands [4]color.RGBA) {
	t.Helper()
	bands = [4]color.RGBA{{210, 170, 120, 255}, {180, 130, 80, 255}, {140, 95, 60, 255}, {118, 118, 118, 255}}
	img := image.NewRGBA(image.Rect(0, 0, 400, 300))
	for y := range 300 {
		for x := range 400 {
			img.SetRGBA(x, y, bands[x/100])
		}
	}
	path = filepath.Join(t.TempDir(), "board.png")
	f, err := os.Create(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if err := png.Encode(f, img); err != nil {
		t.Fatal(err)
	}
	return path, bands
}

// clickPhoto clicks at a pixel of the photo.
func (r *rig) clickPhoto(x, y int) {
	r.toning.click(r.toning.overPixel(image.Pt(x, y)))
	r.drain()
}

// TestTonesFromAPhoto: three places picked by hand and by key become the settings' tones, the look takes them, one step takes
// them back, and the catalogue's come back from the card.
func TestTonesFromAPhoto(t *testing.T) {
	r := newRig(t, ring())
	path, bands := photoOfBoard(t)
	r.openPhoto(path)
	r.until("the photo is shown", func() bool { return r.toning != nil && r.toning.view.Frame() != nil })
	page := r.toning
	if !page.use.Disabled() || page.at != lightVeneer {
		t.Error("tones can be used before they are picked")
	}
	r.clickPhoto(50, 150)
	r.clickPhoto(150, 150)
	if page.at != endGrain {
		t.Errorf("next is picked %d, want the end grain", page.at)
	}
	for page.cross.X < 250 { // by key, from where the last was picked
		page.keyed(fyne.KeyRight)
	}
	page.keyed(fyne.KeyReturn)
	if page.use.Disabled() || page.fault.Text != "" {
		t.Fatalf("three are picked, but can't be used: %q", page.fault.Text)
	}
	before := r.bench.Settings()
	test.Tap(page.use)
	own := r.bench.Settings().Tones
	for i, got := range []stock.Lab{own.Light, own.Dark, own.End} {
		want := tone.FromBytes(bands[i].R, bands[i].G, bands[i].B).Lab()
		if d := tone.Lab(got).Difference(want); !own.Own || d > 0.1 {
			t.Errorf("tone %d is %.1f, want %.1f", i, got, want)
		}
	}
	if r.toning != nil || r.bench.UndoName() != "tones of the board" {
		t.Errorf("page %v, undo %q", r.toning, r.bench.UndoName())
	}
	r.settle()
	r.run("undo")
	if r.bench.Settings() != before {
		t.Error("one step back doesn't take the tones back")
	}
	r.run("redo")
	r.settle()
	r.Do("tones of the catalogue", func(s job.Settings) job.Settings { s.Tones = job.Tones{}; return s })
	r.settle()
}

// TestCardOnThePage: a grey card of 18 % sets the exposure; one burnt out is refused in a sentence and changes nothing.
func TestCardOnThePage(t *testing.T) {
	r := newRig(t, ring())
	path, bands := photoOfBoard(t)
	r.openPhoto(path)
	r.until("the photo is shown", func() bool { return r.toning != nil && r.toning.view.Frame() != nil })
	page := r.toning
	for x := 50; x < 400; x += 100 {
		page.choose(x / 100)
		r.clickPhoto(x, 150)
	}
	light := tone.FromBytes(bands[0].R, bands[0].G, bands[0].B)
	if d := page.card.Tone(page.picked[lightVeneer]).Difference(light.Lab()); d > 0.1 {
		t.Errorf("a neutral card moves the tone by %.2f", d)
	}
	page.kind.SetSelectedIndex(1)
	// Grey of 118 throws back 18.1 % (IEC 61966-2-1), so that the tones stay within half a step.
	if d := page.card.Tone(page.picked[lightVeneer]).Difference(light.Lab()); d > 0.5 || !page.card.Known() {
		t.Errorf("a card that is as light as it should be moves the tone by %.2f", d)
	}
	page.kind.SetSelectedIndex(2)
	if got := page.card.Tone(page.picked[lightVeneer]); got[0] < 95 {
		t.Errorf("taken for white paper the card lifts the light veneer only to %.0f", got[0])
	}
	page.keyed(fyne.KeyEscape)
	r.drain()
	if r.bench.Settings().Tones.Own {
		t.Error("Escape took the tones")
	}
}

// TestNoPhoto: a file that is none is told, and the bench stays as it is.
func TestNoPhoto(t *testing.T) {
	r := newRig(t, ring())
	path := filepath.Join(t.TempDir(), "board.png")
	if err := os.WriteFile(path, []byte("no photo"), 0o600); err != nil {
		t.Fatal(err)
	}
	r.openPhoto(path)
	r.until("it is told", func() bool { return r.win.Canvas().Overlays().Top() != nil })
	if r.toning != nil {
		t.Error("a page of tones is open")
	}
}
