package app

import (
	"image"
	"slices"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/test"

	"grainstack/app/card"
	"grainstack/app/paper"
	"grainstack/slicing/geom"
	"grainstack/slicing/job"
	"grainstack/slicing/unit"
)

// press is a key as the driver hands it on: to what has the focus, else to the window.
func (r *rig) press(k fyne.KeyName) {
	c := r.win.Canvas()
	if f := c.Focused(); f != nil {
		f.TypedKey(&fyne.KeyEvent{Name: k})
	} else {
		c.OnTypedKey()(&fyne.KeyEvent{Name: k})
	}
	r.drain()
}

// open has just the cards of the numbers open, pinned where they are several.
func (r *rig) open(numbers ...int) {
	for _, c := range r.cards.all {
		switch want := slices.Contains(numbers, c.Number); {
		case c.Open() && !want, !c.Open() && want && len(numbers) == 1:
			c.Toggle()
		case want && !c.Pinned() && len(numbers) > 1:
			c.Pin()
		}
	}
	r.drain()
}

// TestACardOpenedByItsDigitHasTheKeys: they stay on its head, other digits go on to other cards, and Tab goes on into its rows.
func TestACardOpenedByItsDigitHasTheKeys(t *testing.T) {
	r := newRig(t, ring())
	r.settle()
	c := r.win.Canvas()
	c.Focus(nil)
	for _, one := range r.cards.all {
		if one.Number == 0 {
			continue // it has no digit
		}
		digit := fyne.KeyName(string(rune('0' + one.Number%10)))
		if r.press(digit); !one.Open() {
			r.press(digit)
		}
		head := c.Focused()
		if head == nil || !one.Open() {
			t.Fatalf("%s is open: %v, and %T has the keys", one.Title, one.Open(), head)
		}
		c.FocusNext()
		at, in := fyne.CurrentApp().Driver().AbsolutePositionForObject(c.Focused().(fyne.CanvasObject)), fyne.CurrentApp().Driver().AbsolutePositionForObject(one)
		if at.Y <= in.Y || at.Y > in.Y+one.Size().Height {
			t.Errorf("%s: Tab goes to %T %.0f below its head, which has %.0f", one.Title, c.Focused(), at.Y-in.Y, one.Size().Height)
		}
		c.Focus(head)
	}
}

// TestTheHeightIsTypedAtOnce: whoever wants to say the size of a piece by its height types it next, in the place of what stands there.
func TestTheHeightIsTypedAtOnce(t *testing.T) {
	r := newRig(t, ring())
	r.settle()
	r.router.askUnit()
	buttons := 0
	for range 12 {
		if b, ok := r.win.Canvas().Focused().(*paper.Choice); ok && b.Text == "By its height…" {
			test.Tap(b)
			buttons++
			break
		}
		r.win.Canvas().FocusNext()
	}
	field, ok := r.win.Canvas().Focused().(*card.Field)
	if buttons != 1 || !ok {
		t.Fatalf("%d such answers, and the keys go to %T", buttons, r.win.Canvas().Focused())
	}
	test.Type(field, "44")
	r.press(fyne.KeyReturn)
	r.settle()
	if got := r.bench.Standing.Placed.Box.Size().Z; got < 43.9 || got > 44.1 {
		t.Errorf("44 was typed, and the piece is %.1f mm high", got)
	}
}

// TestLetterKeysLive after a click on a figure of the ticket, a drag of a rule and a click on a card's head, even where a field
// had the keys before.
func TestLetterKeysLive(t *testing.T) {
	r := newRig(t, ring())
	r.open(5)
	var rule *card.Rule
	var field fyne.Focusable
	for _, c := range r.cards.all {
		if c.Number == 5 {
			rule = c.Rules()["wall"]
		}
	}
	r.win.Canvas().Focus(rule)
	r.win.Canvas().FocusNext() // the field beside it
	if field = r.win.Canvas().Focused(); field == fyne.Focusable(rule) || field == nil {
		t.Fatal("there is no field beside the rule")
	}
	for _, tt := range []struct {
		what string
		do   func()
	}{
		{"a click on the ticket", func() { test.TapCanvas(r.win.Canvas(), middleOf(r.ticket.Object()).AddXY(-300, 0)) }},
		{"a rule that was dragged", func() {
			at := func(x float32) *desktop.MouseEvent {
				return &desktop.MouseEvent{Button: desktop.MouseButtonPrimary, PointEvent: fyne.PointEvent{Position: fyne.NewPos(x, 10)}}
			}
			rule.MouseDown(at(20))
			rule.Dragged(&fyne.DragEvent{PointEvent: at(40).PointEvent, Dragged: fyne.NewDelta(20, 0)})
			rule.DragEnd()
			rule.MouseUp(at(40))
		}},
		{"a click on a card's head", func() { test.TapCanvas(r.win.Canvas(), headOf(r.cards.all[5])) }},
	} {
		for _, k := range []struct {
			key   fyne.KeyName
			sheet string
		}{{fyne.KeyU, "Glue-up"}, {fyne.KeyE, "Layer"}} {
			r.win.Canvas().Focus(field)
			tt.do()
			r.drain()
			if r.press(k.key); r.folder.inFront().name != k.sheet {
				t.Errorf("after %s the key %s leads to %q", tt.what, k.key, r.folder.inFront().name)
			}
		}
	}
}

func middleOf(o fyne.CanvasObject) fyne.Position {
	at, size := fyne.CurrentApp().Driver().AbsolutePositionForObject(o), o.Size()
	return at.AddXY(size.Width/2, size.Height/2)
}

// headOf is on the head of a card.
func headOf(c *card.Card) fyne.Position {
	return fyne.CurrentApp().Driver().AbsolutePositionForObject(c).AddXY(30, 12)
}

// TestFocusIsSeenAndInSight: Tab brings every control of the open cards into sight, and each looks otherwise while it has the keys.
func TestFocusIsSeenAndInSight(t *testing.T) {
	r := newRig(t, ring())
	r.win.Resize(fyne.NewSize(1024, 640))
	r.open(4, 5)
	r.settle()
	c := r.win.Canvas()
	c.Focus(nil)
	top := fyne.CurrentApp().Driver().AbsolutePositionForObject(r.cards.scroll.Scroll)
	foot, left := top.Y+r.cards.scroll.Size().Height, top.X
	seen := map[fyne.Focusable]bool{}
	hidden, blind := 0, 0
	for range 120 {
		c.FocusNext()
		f := c.Focused()
		if f == nil || seen[f] {
			continue
		}
		seen[f] = true
		o, ok := f.(fyne.CanvasObject)
		if !ok {
			continue
		}
		at := fyne.CurrentApp().Driver().AbsolutePositionForObject(o)
		if at.X >= left && !slices.Contains(r.top.buttons, o) && (at.Y < top.Y-1 || at.Y+o.Size().Height > foot+1 && o.Size().Height < foot-top.Y) {
			hidden++
			t.Errorf("%T at %v, %v high, has the keys out of sight: the cards go from %v to %v", f, at, o.Size().Height, top.Y, foot)
		}
		if len(seen)%7 == 0 { // a picture of the whole window takes its time
			area := image.Rect(int(at.X)-3, int(at.Y)-3, int(at.X+o.Size().Width)+3, int(at.Y+o.Size().Height)+3)
			with := c.Capture()
			c.Unfocus()
			without := c.Capture()
			c.Focus(f)
			if same(with, without, area) {
				blind++
				t.Errorf("%T at %v looks the same with the keys and without", f, at)
			}
		}
	}
	if len(seen) < 40 || hidden+blind > 0 {
		t.Errorf("%d controls were tried, %d were out of sight", len(seen), hidden)
	}
}

func same(a, b image.Image, in image.Rectangle) bool {
	in = in.Intersect(a.Bounds())
	for y := in.Min.Y; y < in.Max.Y; y++ {
		for x := in.Min.X; x < in.Max.X; x++ {
			if a.At(x, y) != b.At(x, y) {
				return false
			}
		}
	}
	return true
}

// TestOnePageAtATime: a shortcut opens no page over another and changes nothing under one, and Escape closes every page, wherever
// the keys are on it.
func TestOnePageAtATime(t *testing.T) {
	r := newRig(t, ring())
	r.wall(9)
	r.Rest()
	r.settle()
	overlays := func() int { return len(r.win.Canvas().Overlays().List()) }
	shortcut := func(name string) {
		for _, one := range r.items {
			if one.name == name {
				one.item.Action()
			}
		}
		r.drain()
	}
	for _, page := range []string{"keys", "about", "make", "open", "save as", "tones", "book"} {
		shortcut(page)
		if overlays() != 1 {
			t.Fatalf("%s opens %d pages", page, overlays())
		}
		for _, other := range []string{"make", "undo", "open", "keys"} {
			if shortcut(other); overlays() != 1 || r.bench.Settings().Wall != 9 {
				t.Errorf("over the page %s, %s leads to %d pages and a wall of %v", page, other, overlays(), r.bench.Settings().Wall)
			}
		}
		for range map[bool]int{true: 5}[page != "open" && page != "tones"] { // on whatever has the keys there; the toolkit's own page keeps them to itself
			r.win.Canvas().FocusNext()
		}
		if r.press(fyne.KeyEscape); overlays() != 0 {
			t.Errorf("Escape on %T leaves the page %s open", r.win.Canvas().Focused(), page)
			r.pages[len(r.pages)-1].Hide()
		}
	}
	if len(r.pages) != 0 {
		t.Errorf("%d pages that are closed are kept", len(r.pages))
	}
}

// TestTwoPointsAreForgottenOnceThePieceTurns: the words above the picture are of what the maker does now.
func TestTwoPointsAreForgottenOnceThePieceTurns(t *testing.T) {
	r := newRig(t, ring())
	r.pickFor("measure")
	r.gather(geom.Vec{X: -80}, 2)
	r.gather(geom.Vec{X: 80}, 2)
	r.settle()
	if !strings.HasPrefix(r.look.Caption.Text(), "Between the two points: ") {
		t.Fatalf("with two points the caption is %q", r.look.Caption.Text())
	}
	r.Do("scale", func(s job.Settings) job.Settings { s.Scale *= 2; return s })
	r.Rest()
	r.settle()
	if !strings.HasPrefix(r.look.Caption.Text(), "Between the two points: "+unit.Length(320, unit.Metric)) {
		t.Errorf("at another scale the caption is %q", r.look.Caption.Text())
	}
	r.run("Turn forward 90°")
	r.settle()
	if strings.HasPrefix(r.look.Caption.Text(), "Between") {
		t.Errorf("after a turn the caption is %q", r.look.Caption.Text())
	}
}

// TestCaptionAndSheetAreOfOneLayer at every moment, while layers are gone through quickly.
func TestCaptionAndSheetAreOfOneLayer(t *testing.T) {
	r := newRig(t, ring())
	told := 0
	for range 4 {
		for range 3 {
			r.run("layer up")
		}
		for range 40 {
			select {
			case f := <-r.queue:
				f()
			default:
			}
			if want := layerWords(r); !strings.HasPrefix(r.sheet.Caption.Text(), want) {
				t.Fatalf("the caption %q stands above the sheet of %q", r.sheet.Caption.Text(), want)
			}
			told++
		}
	}
	r.settle()
	if want := layerWords(r); told == 0 || !strings.HasPrefix(r.sheet.Caption.Text(), want) {
		t.Errorf("in the end it is %q, wanted %q", r.sheet.Caption.Text(), want)
	}
}

func layerWords(r *rig) string {
	return "Layer " + unit.Number(float64(r.sheet.Now.Ask.Layer), 0) + " of"
}

// TestAQuickHandWithChalk: strokes that are drawn faster than pictures come are all there, and the view stays.
func TestAQuickHandWithChalk(t *testing.T) {
	r := newRig(t, ball())
	r.run("front")
	r.settle()
	r.run("chalk")
	r.settle()
	view, size := r.look.Camera.Camera, r.look.Size()
	for i := range 4 {
		y := size.Height * (0.4 + 0.06*float32(i))
		at := func(x float32) *desktop.MouseEvent {
			return &desktop.MouseEvent{Button: desktop.MouseButtonPrimary, PointEvent: fyne.PointEvent{Position: fyne.NewPos(size.Width*x, y)}}
		}
		r.look.MouseDown(at(0.46))
		for k := range 5 {
			r.look.Dragged(&fyne.DragEvent{PointEvent: at(0.48 + 0.02*float32(k)).PointEvent, Dragged: fyne.NewDelta(size.Width*0.02, 0)})
		}
		r.look.DragEnd()
		r.look.MouseUp(at(0.56))
	}
	r.until("all is known", func() bool { return !r.look.Stroke.Down && !r.look.Drawing() && len(r.queue) == 0 })
	if n := len(r.bench.Settings().Chalk.Strokes()); n != 4 || r.look.Camera.Camera != view {
		t.Errorf("%d strokes, and the view has turned: %v", n, r.look.Camera.Camera != view)
	}
}
