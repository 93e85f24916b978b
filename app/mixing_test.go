package app

import (
	"bytes"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

	"grainstack/slicing/job"
)

// item is the entry of the open menu whose words begin so.
func (r *rig) item(words string) *fyne.MenuItem {
	r.t.Helper()
	for _, one := range r.blankMenu().Items {
		if strings.HasPrefix(one.Label, words) {
			return one
		}
	}
	r.t.Fatalf("the menu of layer %d has no %q", r.bench.Layer(), words)
	return nil
}

// TestLayerMenuOnTheStick: a click with the other button picks the layer and opens its menu; its board and turn change figures,
// stick and look, and each is one step to take back.
func TestLayerMenuOnTheStick(t *testing.T) {
	r := newRig(t, ring())
	r.pick(3)
	r.settle()
	plain := append([]byte(nil), r.stick.Frame().Pix...)
	kg := r.bench.Figures.Totals.WoodKg
	l := r.bench.Figures.Layers[2]
	at := fyne.NewPos(r.stick.Size().Width/2, float32(r.stick.Now.Out.Y((l.Bottom+l.Top)/2)))
	for _, do := range []func(*desktop.MouseEvent){r.stick.MouseDown, r.stick.MouseUp} {
		do(&desktop.MouseEvent{Button: desktop.MouseButtonSecondary, PointEvent: fyne.PointEvent{Position: at}})
	}
	if r.bench.Layer() != 3 || r.blank == nil || !r.blank.Visible() {
		t.Fatalf("layer %d is picked, menu %v", r.bench.Layer(), r.blank)
	}
	if one := r.item("Birch 12 mm"); !one.Disabled {
		t.Error("a board that is too thin can be chosen")
	}
	if one := r.item("Birch 18 mm"); !one.Checked || !strings.Contains(one.Label, "as the others") {
		t.Errorf("the board of the others is %q, checked %v", one.Label, one.Checked)
	}
	r.blank.Dismiss()
	r.item("All-walnut").Action()
	r.settle()
	if got := r.bench.Settings().Mix; got != "3:walnut-18-13" {
		t.Fatalf("the mix is %q", got)
	}
	if r.bench.Figures.Layers[2].Board.Key != "walnut-18-13" || !(r.bench.Figures.Totals.WoodKg < kg) {
		t.Errorf("layer 3 is of %s, %.4f kg, was %.4f", r.bench.Figures.Layers[2].Board.Key, r.bench.Figures.Totals.WoodKg, kg)
	}
	if bytes.Equal(plain, r.stick.Frame().Pix) {
		t.Error("the stick doesn't show the walnut")
	}
	if !r.item("All-walnut").Checked {
		t.Error("the walnut is not checked")
	}
	r.item("Turned by 90°").Action()
	r.settle()
	if got := r.bench.Settings().Mix; got != "3:walnut-18-13+turn" || !r.item("Turned by 90°").Checked {
		t.Errorf("the mix is %q", got)
	}
	if got := r.bench.UndoName(); got != "turn of layer 3" {
		t.Errorf("undo is called %q", got)
	}
	r.run("undo")
	r.run("undo")
	r.settle()
	if got := r.bench.Settings(); got.Mix != "" || r.bench.Figures.Totals.WoodKg != kg || !bytes.Equal(plain, r.stick.Frame().Pix) {
		t.Errorf("after undo the mix is %q and the wood weighs %.4f kg, was %.4f", got.Mix, r.bench.Figures.Totals.WoodKg, kg)
	}
	r.run("redo")
	r.settle()
	r.item("Board and turn as the others").Action()
	if got := r.bench.Settings().Mix; got != "" {
		t.Errorf("as the others: %q", got)
	}
}

// TestLayerMenuByKey: Return opens the menu of the picked layer, and what it holds is on the Board card, too.
func TestLayerMenuByKey(t *testing.T) {
	r := newRig(t, ring())
	r.pick(2)
	r.stick.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	if r.blank == nil || !r.blank.Visible() || !strings.Contains(r.blankMenu().Items[0].Label, "Layer 2") {
		t.Fatal("Return opens no menu of layer 2")
	}
	r.blank.Dismiss()
	r.Do("board of layer 2", func(s job.Settings) job.Settings { s.Mix = s.Mix.With(2, job.Other{Board: "birch-12-9"}); return s })
	r.until("the board is refused", func() bool { return strings.Contains(r.bench.Figures.Withheld.String(), "can't be planed") })
	if !strings.Contains(r.bench.Figures.Withheld.String(), "thicker board") {
		t.Errorf("refused without a way out: %q", r.bench.Figures.Withheld)
	}
	r.run("sheet Panels")
	for _, tt := range []struct{ in, other string }{{"measures 12 mm", "measures 0.472 in"}, {"measures 0.472 in", "measures 12 mm"}} {
		r.until("the sheet says so in the units shown", func() bool { return strings.Contains(r.panels.Now.Ask.Message, tt.in) })
		_, err := r.making.makeWork()
		for _, text := range []string{r.panels.Now.Ask.Message, r.sentence(err)} {
			if strings.Contains(text, tt.other) {
				t.Errorf("where it should say %q, it says %q", tt.in, text)
			}
		}
		r.run("units")
	}
	r.run("undo")
	r.settle()
}
