package pane

import (
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/test"

	"grainstack/app/paper"
)

// TestIndexIsChosenByHandAndKey: each word answers to a click on it, arrows go on, and Put tells nobody.
func TestIndexIsChosenByHandAndKey(t *testing.T) {
	test.NewTempApp(t)
	var chosen []int
	x := NewIndex(paper.Small, "Layer", "Panels", "Glue-up")
	x.Chosen = func(i int) { chosen = append(chosen, i) }
	w := test.NewWindow(x)
	defer w.Close()
	w.Resize(fyne.NewSize(300, 40))
	for _, i := range []int{2, 0} {
		at, size := x.Box(i)
		test.TapAt(x, at.AddXY(size.Width/2, 10))
	}
	x.TypedKey(&fyne.KeyEvent{Name: fyne.KeyRight})
	x.TypedKey(&fyne.KeyEvent{Name: fyne.KeyLeft})
	x.TypedKey(&fyne.KeyEvent{Name: fyne.KeyLeft}) // there is none further left
	x.Put([]string{"1", "2"}, 1)
	if want := []int{2, 0, 1, 0}; len(chosen) != len(want) || chosen[0] != 2 || chosen[1] != 0 || chosen[2] != 1 || chosen[3] != 0 {
		t.Errorf("chosen were %v, want %v", chosen, want)
	}
	if x.At() != 1 || len(x.Words()) != 2 {
		t.Errorf("after Put: %d of %v", x.At(), x.Words())
	}
}

// TestWhatIsTakenIsCarried: a drag from something that can be taken goes to Carried and ends in Let; beside it, it turns.
func TestWhatIsTakenIsCarried(t *testing.T) {
	test.NewTempApp(t)
	var log []string
	p := NewPicture("p", fyne.NewSize(50, 50), Gestures{
		Carrying: Carrying{
			Taken:   func(at fyne.Position) bool { return at.X < 20 },
			Carried: func(at fyne.Position) { log = append(log, "carried") },
			Let:     func(moved bool) { log = append(log, map[bool]string{true: "let", false: "let unmoved"}[moved]) },
		},
		Turned:  func(float32, float32) { log = append(log, "turned") },
		Rested:  func() { log = append(log, "rested") },
		Clicked: func(fyne.Position) { log = append(log, "clicked") },
	})
	w := test.NewWindow(p)
	defer w.Close()
	down := func(x float32) *desktop.MouseEvent {
		return &desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: fyne.NewPos(x, 10)}, Button: desktop.MouseButtonPrimary}
	}
	for _, x := range []float32{10, 30} {
		p.MouseDown(down(x))
		p.Dragged(&fyne.DragEvent{PointEvent: fyne.PointEvent{Position: fyne.NewPos(x+9, 10)}, Dragged: fyne.Delta{DX: 9}})
		p.MouseUp(down(x + 9))
		p.DragEnd()
		p.MouseDown(down(x))
		p.MouseUp(down(x))
	}
	want := []string{"carried", "let", "let unmoved", "clicked", "turned", "rested", "clicked"}
	if len(log) != len(want) {
		t.Fatalf("came %v, want %v", log, want)
	}
	for i := range want {
		if log[i] != want[i] {
			t.Fatalf("came %v, want %v", log, want)
		}
	}
}
