package snag

import (
	"fmt"
	"slices"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"grainstack/app/paper"
)

// many is a list of n sentences with places each, of which one is picked.
func many(n, places, group, place int) (s Says) {
	for i := range n {
		g := Group{Class: fmt.Sprint("class ", i/5), Text: fmt.Sprintf("At %d places of layers %d to %d wood is thin, down to 0.%d mm: it breaks easily before it is glued.", places, i, i+9, i), Strong: i < 6, Picked: None}
		for k := range places {
			g.Spots = append(g.Spots, fmt.Sprintf("layer %d, at the front left, %d mm up: %d.3 mm", k, 10*k+i, k))
		}
		g.Rest = fmt.Sprintf("%d smaller ones, up to %d mm", 3*i, i)
		if i == group {
			g.Picked = place
			g.Detail = &Detail{Where: fmt.Sprintf("Layer %d of 19 · panel %d, 203 mm from the left and %d mm from the lower edge", i, place, i), Do: "Take narrower or thinner tabs, or screw it down."}
			for k := range 5 {
				g.Detail.Ways = append(g.Detail.Ways, Way{Text: fmt.Sprintf("Tilt the piece %d° towards you, put the first joint at %d mm: nothing stays out of reach", k, place), Price: "+1.2 h, −250 g, +2 layers", Worse: "With this the piece falls over."})
			}
		}
		s.Groups = append(s.Groups, g)
	}
	return s
}

// BenchmarkPut picks one place after another of a long list.
func BenchmarkPut(b *testing.B) {
	a := test.NewTempApp(b)
	a.Settings().SetTheme(paper.NewTheme(paper.Light, nil, nil))
	var later []func()
	l := NewList(Do{}, func(f func()) { later = append(later, f) })
	w := test.NewWindow(l.Object())
	defer w.Close()
	w.Resize(fyne.NewSize(330, 480))
	var took []time.Duration
	timed := func(f func()) {
		begun := time.Now()
		f()
		took = append(took, time.Since(begun))
	}
	for i := range b.N {
		s := many(17, 5, i%17, i%5)
		timed(func() { l.Put(s) })
		timed(l.Reveal)
		for len(later) > 0 {
			f := later[0]
			later = later[1:]
			timed(f)
		}
	}
	slices.Sort(took)
	b.ReportMetric(float64(took[len(took)*98/100].Microseconds())/1000, "ms/step-98%")
	b.ReportMetric(float64(len(took))/float64(b.N), "steps/put")
}

// TestListInSteps: a long list is made so many lines at a time, all of it in the end; the picked line is brought into sight then; and
// lines that stay as they are are not made anew.
func TestListInSteps(t *testing.T) {
	a := test.NewTempApp(t)
	a.Settings().SetTheme(paper.NewTheme(paper.Light, nil, nil))
	var later []func()
	l := NewList(Do{}, func(f func()) { later = append(later, f) })
	w := test.NewWindow(l.Object())
	defer w.Close()
	w.Resize(fyne.NewSize(330, 480))
	all := func() {
		for len(later) > 0 {
			f := later[0]
			later = later[1:]
			was := len(l.box.Objects)
			if f(); len(l.box.Objects) > was+atOnce+1 {
				t.Fatalf("a step makes %d lines", len(l.box.Objects)-was)
			}
		}
	}
	if l.Put(many(17, 5, 12, 3)); len(l.box.Objects) > atOnce+1 || len(later) != 1 {
		t.Fatalf("%d lines at once, %d steps wait", len(l.box.Objects), len(later))
	}
	l.Reveal()
	all()
	if len(l.box.Objects) != len(l.lines) || len(l.lines) < 17*7 {
		t.Fatalf("%d of %d lines", len(l.box.Objects), len(l.lines))
	}
	y := float32(0)
	for _, o := range l.box.Objects {
		if o.Position().Y != y || o.Size().Height != o.MinSize().Height {
			t.Fatalf("a line at %v is %v high, wants %v and to be at %v", o.Position(), o.Size().Height, o.MinSize().Height, y)
		}
		y += o.Size().Height
	}
	if h := l.scroll.Content.Size().Height; h < y {
		t.Errorf("the content is %v high, its lines are %v", h, y)
	}
	if y := l.picked.object.Position().Y - l.scroll.Offset.Y; y < 0 || y > 480 {
		t.Errorf("the picked line is seen at %v", y)
	}
	was := slices.Clone(l.box.Objects)
	l.Put(many(17, 5, 3, 1))
	l.Put(many(17, 5, 2, 1)) // before the other is all there
	all()
	kept := 0
	for _, o := range l.box.Objects {
		if slices.Contains(was, o) {
			kept++
		}
	}
	if kept < len(was)-20 || l.Put(many(17, 5, 2, 1)) {
		t.Errorf("of %d lines %d are kept; the same is put anew", len(was), kept)
	}
	l.Put(Says{Word: "Nothing needs a look."})
	if all(); len(l.box.Objects) != 1 || l.scroll.Offset.Y != 0 {
		t.Errorf("%d lines for nothing, scrolled to %v", len(l.box.Objects), l.scroll.Offset)
	}
}

// TestKeysStayWithAWay: the keys are sent to the first way out, and stay with the control that has them though its words change.
func TestKeysStayWithAWay(t *testing.T) {
	a := test.NewTempApp(t)
	a.Settings().SetTheme(paper.NewTheme(paper.Light, nil, nil))
	var later []func()
	took := -1
	l := NewList(Do{Take: func(i int) { took = i }}, func(f func()) { later = append(later, f) })
	w := test.NewWindow(l.Object())
	defer w.Close()
	w.Resize(fyne.NewSize(330, 480))
	put := func(s Says) {
		l.Put(s)
		for len(later) > 0 {
			f := later[0]
			later = later[1:]
			f()
		}
	}
	if put(many(3, 2, None, 0)); l.TakeKeys() {
		t.Error("nothing is picked, and the keys go somewhere")
	}
	put(many(3, 2, 1, 1))
	if !l.TakeKeys() || l.held() != (held{"way 0", 0}) {
		t.Fatalf("the keys go to %+v", l.held())
	}
	w.Canvas().FocusNext()
	w.Canvas().FocusNext() // take it, keep it as a trial, take the next
	if l.held() != (held{"way 1", 0}) {
		t.Fatalf("the keys have gone to %+v", l.held())
	}
	was := w.Canvas().Focused()
	s := many(3, 2, 1, 1)
	s.Groups[1].Detail.Ways[1].Price = "+2.4 h"
	put(s)
	if now := w.Canvas().Focused(); now == was || l.held() != (held{"way 1", 0}) {
		t.Fatalf("the words have changed, the keys go to %+v", l.held())
	}
	w.Canvas().Focused().TypedKey(&fyne.KeyEvent{Name: fyne.KeySpace})
	if took != 1 {
		t.Errorf("taken is %d", took)
	}
}
