package app

import (
	"reflect"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/test"
)

// TestWhatIsDrawnAnewLiesWhereItLay: the toolkit forgets how a widget is drawn that has been out of sight for a minute. Made anew at
// the size that the widget has, all of it lies and says what it did before.
func TestWhatIsDrawnAnewLiesWhereItLay(t *testing.T) {
	r := newRig(t, ring())
	kinds := map[string]bool{}
	for _, l := range r.folder.leaves {
		r.run("sheet " + l.name)
		r.drain()
		eachWidget(r.win.Content(), func(w fyne.Widget) {
			name := reflect.TypeOf(w).String()
			if w.Size().IsZero() || !strings.HasPrefix(reflect.TypeOf(w).Elem().PkgPath(), "grainstack/") {
				return
			}
			kinds[name] = true
			was := lies(test.WidgetRenderer(w).Objects())
			if is := lies(w.CreateRenderer().Objects()); !reflect.DeepEqual(was, is) {
				t.Errorf("of a %s on the sheet %s lay\n%v\nand drawn anew\n%v", name, l.name, was, is)
			}
		})
	}
	if len(kinds) < 10 {
		t.Errorf("only these were met: %v", kinds)
	}
}

// A lying is where something lies that is drawn, and what it says.
type lying struct {
	at   fyne.Position
	size fyne.Size
	says string
}

// lies are where things lie, but for what isn't seen.
func lies(all []fyne.CanvasObject) (out []lying) {
	for _, o := range all {
		if !o.Visible() {
			continue
		}
		one := lying{at: o.Position(), size: o.Size()}
		if text, ok := o.(*canvas.Text); ok {
			one.says = text.Text
		}
		out = append(out, one)
	}
	return out
}

// eachWidget meets every widget within an object that is in sight.
func eachWidget(o fyne.CanvasObject, meet func(fyne.Widget)) {
	if !o.Visible() {
		return
	}
	var within []fyne.CanvasObject
	switch o := o.(type) {
	case *fyne.Container:
		within = o.Objects
	case fyne.Widget:
		within = test.WidgetRenderer(o).Objects()
		meet(o)
	}
	for _, one := range within {
		eachWidget(one, meet)
	}
}
