package card

import (
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"grainstack/slicing/job"
)

// TestEscapeInAField takes back what was typed, to the very value that stood there; not what Return was pressed on; and where nothing
// was typed since it leaves the field. A function key goes to the window meanwhile.
func TestEscapeInAField(t *testing.T) {
	d := newDesk(t)
	w := test.NewWindow(d.cards[0])
	defer w.Close()
	var m *measure
	for _, r := range d.cards[0].rows {
		if one, ok := r.(*measure); ok && one.call == job.SettingOf("height").Name {
			m = one
		}
	}
	escape := func() { m.field.TypedKey(&fyne.KeyEvent{Name: fyne.KeyEscape}) }
	scale := func() float64 { return d.state.Settings.Scale }
	d.Do("scale", func(s job.Settings) job.Settings { s.Scale = 1.00012345; return s })
	d.show()
	w.Canvas().Focus(m.field)
	typed := func(text string) {
		m.field.SetText("")
		test.Type(m.field, text)
	}
	typed("250")
	if scale() == 1.00012345 {
		t.Fatal("what is typed is not taken")
	}
	passed := fyne.KeyName("")
	w.Canvas().SetOnTypedKey(func(e *fyne.KeyEvent) { passed = e.Name })
	if m.field.TypedKey(&fyne.KeyEvent{Name: fyne.KeyF3}); passed != fyne.KeyF3 {
		t.Errorf("F3 in the field leads to %q", passed)
	}
	if escape(); scale() != 1.00012345 {
		t.Errorf("Escape leads back to a scale of %v", scale())
	}
	typed("300")
	m.field.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	taken := scale()
	if escape(); scale() != taken || w.Canvas().Focused() != nil {
		t.Errorf("Escape after Return leads from a scale of %v to %v; the keys go to %T", taken, scale(), w.Canvas().Focused())
	}
}
