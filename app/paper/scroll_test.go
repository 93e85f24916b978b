package paper

import (
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"
)

// column is a window on a scroll with so many buttons, one under another.
func column(t *testing.T, n int) (s *Scroll, list *fyne.Container, all []*Button, w fyne.Window) {
	test.NewTempApp(t)
	list = container.NewVBox()
	for range n {
		b := NewButton("button", func() {})
		all = append(all, b)
		list.Add(b)
	}
	s = NewScroll(list)
	w = test.NewWindow(NewDesk(s.Whole))
	t.Cleanup(w.Close)
	w.Resize(fyne.NewSize(200, 150))
	return s, list, all, w
}

// TestAScrollStaysOnItsContent when that becomes shorter than the place it is scrolled to: the pane is never empty.
func TestAScrollStaysOnItsContent(t *testing.T) {
	s, list, all, _ := column(t, 40)
	s.ScrollToBottom()
	if s.Offset.Y < 500 {
		t.Fatalf("at the bottom it is at %v", s.Offset.Y)
	}
	list.Objects = list.Objects[:6]
	test.WidgetRenderer(s.Scroll).Layout(s.Size()) // what the driver does when what is in it asks for less room
	foot := s.Content.Position().Y + all[5].Position().Y + all[5].Size().Height
	if foot < s.Size().Height-20 || foot > s.Size().Height+20 {
		t.Errorf("of a pane %v high the last button ends at %v", s.Size().Height, foot)
	}
	list.Objects = list.Objects[:1]
	test.WidgetRenderer(s.Scroll).Layout(s.Size())
	if s.Offset.Y != 0 || s.Content.Position().Y != 0 {
		t.Errorf("with one button it is at %v", s.Offset.Y)
	}
}

// TestTheWheelGoesOverFields: a field that could be scrolled itself does not stop it.
func TestTheWheelGoesOverFields(t *testing.T) {
	s, list, _, w := column(t, 40)
	e := widget.NewEntry()
	e.Scroll = fyne.ScrollHorizontalOnly
	e.SetText("a line that is much longer than the field in which it stands, so that it could be moved sideways")
	list.Objects = append([]fyne.CanvasObject{e}, list.Objects...)
	list.Refresh()
	test.Scroll(w.Canvas(), fyne.NewPos(60, 15), 0, -50)
	if s.Offset.Y != 50 {
		t.Errorf("the wheel over a field moves the column by %v", s.Offset.Y)
	}
}

// TestTabBringsControlsIntoSight, each wherever the column was scrolled to.
func TestTabBringsControlsIntoSight(t *testing.T) {
	s, _, all, w := column(t, 40)
	in := func(b *Button) bool {
		top := b.Position().Y - s.Offset.Y
		return top >= 0 && top+b.Size().Height <= s.Size().Height
	}
	for i, b := range all {
		w.Canvas().FocusNext()
		if w.Canvas().Focused() != fyne.Focusable(b) || !in(b) {
			t.Fatalf("button %d, in sight %v, has the focus: %v", i, in(b), w.Canvas().Focused() == fyne.Focusable(b))
		}
	}
	if w.Canvas().FocusNext(); !in(all[0]) {
		t.Error("round again, the first is not in sight")
	}
}

// TestKeysOfControls: Enter and the space bar press, a click takes the keys, and what a control has no use for goes to the window.
func TestKeysOfControls(t *testing.T) {
	_, list, all, w := column(t, 1)
	pressed, passed := 0, ""
	all[0].OnTapped = func() { pressed++ }
	check := NewCheck("tick", nil)
	choice := NewSelect([]string{"one", "two"}, nil)
	pointer := NewPointer("there", func() { pressed++ })
	list.Objects = append(list.Objects, check, choice, pointer)
	w.Canvas().SetOnTypedKey(func(e *fyne.KeyEvent) { passed += string(e.Name) })
	w.Canvas().SetOnTypedRune(func(r rune) { passed += string(r) })
	for _, k := range []fyne.KeyName{fyne.KeyReturn, fyne.KeySpace} {
		all[0].TypedKey(&fyne.KeyEvent{Name: k})
		pointer.TypedKey(&fyne.KeyEvent{Name: k})
	}
	if check.TypedRune(' '); pressed != 4 || !check.Checked || passed != "" {
		t.Errorf("pressed %d times, ticked %v, passed on %q", pressed, check.Checked, passed)
	}
	for _, o := range []fyne.Focusable{all[0], check, choice, pointer} {
		passed = ""
		o.TypedKey(&fyne.KeyEvent{Name: fyne.KeyP})
		o.TypedRune('?')
		if passed != "P?" {
			t.Errorf("%T passes on %q", o, passed)
		}
	}
	w.Canvas().Focus(check)
	all[0].Tapped(&fyne.PointEvent{})
	if w.Canvas().Focused() != fyne.Focusable(all[0]) {
		t.Error("a click leaves the keys where they were")
	}
}

// TestCutWordsStandInFullOnASlip, which stays in the window and goes with the pointer.
func TestCutWordsStandInFullOnASlip(t *testing.T) {
	test.NewTempApp(t)
	long := Tell("a line that is much too long for the room that it has got in this window", Small, Ink)
	short := Tell("short", Small, Ink)
	meant := Tell("spread", Small, Ink).Means("how much glue goes onto a face")
	d := NewDesk(container.NewVBox(long, short, meant))
	w := test.NewWindow(d)
	defer w.Close()
	w.Resize(fyne.NewSize(160, 200))
	for _, tt := range []struct {
		words *Told
		want  string
	}{{long, long.Text()}, {short, ""}, {meant, meant.Meaning}} {
		tt.words.MouseIn(nil)
		if d.said() != tt.want {
			t.Errorf("over %q the slip says %q", tt.words.Text(), d.said())
		}
		if at, size := d.slip.Position(), d.slip.Size(); d.said() != "" && (at.X < 0 || at.Y < 0 || at.X+size.Width > d.Size().Width || at.Y+size.Height > d.Size().Height) {
			t.Errorf("%q lies at %v, %v large, in a window of %v", d.said(), at, size, d.Size())
		}
		if tt.words.MouseOut(); d.said() != "" {
			t.Errorf("%q stays", d.said())
		}
	}
}

// said is what is written on the slip, "" while there is none.
func (d *Desk) said() string {
	if !d.slip.Visible() {
		return ""
	}
	return d.words.Text
}
