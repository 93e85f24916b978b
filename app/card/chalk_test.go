package card

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"grainstack/slicing/chalk"
	"grainstack/slicing/geom"
	"grainstack/slicing/job"
)

// TestSticks: a click takes a stick of chalk up, a click on another changes to it, and one on that in hand puts it down.
func TestSticks(t *testing.T) {
	d := newDesk(t)
	places := d.cards[len(d.cards)-1].Places()
	tap := func(name string) {
		o, ok := places[name].(fyne.Tappable)
		if !ok {
			t.Fatalf("there is no %q", name)
		}
		test.Tap(o)
	}
	tap("Seen side")
	if d.state.View.Brush.Kind != chalk.SeenSide || len(d.ran) != 1 || d.ran[0] != "chalk" {
		t.Fatalf("brush %+v, ran %v", d.state.View.Brush, d.ran)
	}
	d.state.View.Brush.On = true // as the command does
	d.show()
	tap("Rub out")
	if d.state.View.Brush.Kind != chalk.Unmarked || len(d.ran) != 1 {
		t.Errorf("changing sticks: brush %+v, ran %v", d.state.View.Brush, d.ran)
	}
	tap("Rub out")
	if len(d.ran) != 2 {
		t.Errorf("the stick in hand was not put down: ran %v", d.ran)
	}
}

// TestChalkWords: what is said of marks follows the figures.
func TestChalkWords(t *testing.T) {
	d := newDesk(t)
	if got := keptWords(d.state); got != "Nothing is marked." {
		t.Errorf("without marks: %s", got)
	}
	d.state.Settings.Chalk, _ = d.state.Settings.Chalk.With(chalk.Stroke{Kind: chalk.KeepWhole, Radius: 5, Path: []geom.Vec{{X: 123}}})
	d.show()
	if got := keptWords(d.state); !strings.Contains(got, "worked out") {
		t.Errorf("with instant figures: %s", got)
	}
	d.state.Figures.Settled = true
	d.state.Figures.Kept = []job.Kept{{Low: 10, High: 20, Crossings: []job.Crossing{{Layer: 2}}}, {Low: 30, High: 31.5}}
	if got, want := keptWords(d.state), "To stay whole: 10 to 20 mm (1 joint goes through), 30 to 31.5 mm. 1 joint goes through in all."; got != want {
		t.Errorf("got  %s\nwant %s", got, want)
	}
	if got := chalkLine(d.state); got != "keep whole" {
		t.Errorf("folded it says %q", got)
	}
}
