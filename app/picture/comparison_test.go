package picture

import (
	"context"
	"image"
	"math"
	"os"
	"testing"

	"grainstack/assets/stocktest"
	"grainstack/render/draw"
	"grainstack/render/look"
	"grainstack/render/sheet"
	"grainstack/slicing/job"
	"grainstack/slicing/mesh"
	"grainstack/slicing/solidtest"
	"grainstack/slicing/stock"
	"grainstack/slicing/trial"
	"grainstack/slicing/unit"
)

// compared are two cubes of 60 and 30 mm with their tickets.
func compared(t *testing.T, c *stock.Catalogue) []Compared {
	t.Helper()
	var all []Compared
	p := job.NewPiece("cube", solidtest.Box(60, 60, 60), mesh.Raw{})
	var tr trial.Trier
	for _, one := range []struct {
		name  string
		scale float64
	}{{"large", 1}, {"small", 0.5}} {
		s := job.Default(c)
		s.Wall, s.Scale = 0, one.scale
		ticket, err := tr.Ticket(context.Background(), p, s, c, nil, false, nil, nil)
		if err != nil {
			t.Fatal(err)
		}
		all = append(all, Compared{Name: one.name, Ticket: ticket, For: s, Body: look.NewBody(p.Mesh), Thin: p.Mesh})
	}
	return all
}

// TestStacksStandAtOneScaleOnOneFloor: seen from the front, a cube half as large covers half the width and ends at the same
// height below.
func TestStacksStandAtOneScaleOnOneFloor(t *testing.T) {
	c := stocktest.Catalogue(t)
	letters, err := draw.LoadLetters(os.DirFS("../../assets"))
	if err != nil {
		t.Fatal(err)
	}
	shelf := NewShelf(c, letters)
	camera := look.Camera{Azimuth: -math.Pi / 2, Zoom: 1}
	type seen struct{ wide, low int }
	var got []seen
	err = shelf.Pictures(context.Background(), compared(t, c), camera, image.Pt(200, 160), func(_ int, img *image.RGBA) error {
		left, right, low := 200, 0, 0
		for y := range 160 {
			for x := range 200 {
				if p := img.RGBAAt(x, y); int(p.R)-int(p.B) > 40 { // wood is far yellower than paper
					left, right, low = min(left, x), max(right, x), y
				}
			}
		}
		got = append(got, seen{right - left + 1, low})
		return nil
	})
	if err != nil || len(got) != 2 {
		t.Fatalf("%d pictures, %v", len(got), err)
	}
	if ratio := float64(got[0].wide) / float64(got[1].wide); math.Abs(ratio-2) > 0.06 {
		t.Errorf("a cube twice as large is drawn %.3f times as wide: %v", ratio, got)
	}
	if d := got[0].low - got[1].low; d < -1 || d > 1 {
		t.Errorf("the cubes stand on floors %d pixels apart: %v", d, got)
	}
}

func TestAComparisonSaysByHowMuch(t *testing.T) {
	c := stocktest.Catalogue(t)
	all := compared(t, c)
	v := ComparisonOf(all, all[0], c, unit.Metric)
	if len(v.Columns) != 2 || len(v.Columns[0].Choices) != 0 || len(v.Columns[1].Choices) != 1 || v.Columns[1].Choices[0] != "scale 1 → 0.5" {
		t.Fatalf("columns %+v", v.Columns)
	}
	rows := map[string]sheet.ComparedRow{}
	for _, r := range v.Rows {
		rows[r.Name] = r
	}
	for name, want := range map[string][2]string{"Layers": {"4", "2"}, "Height": {"60 mm", "30 mm"}} {
		if r := rows[name]; len(r.Values) != 2 || r.Values[0] != want[0] || r.Values[1] != want[1] || r.Differences[0] != "" || r.Differences[1][:3] != "−" {
			t.Errorf("%s: %+v, want %v", name, r, want)
		}
	}
	if _, ok := rows[trial.TrappedWood.String()]; ok {
		t.Error("what nobody has worked out has a row")
	}
}

// TestTheSheetShowsEachPictureInItsColumn: the columns differ where the stacks do, and a click finds its column.
func TestTheSheetShowsEachPictureInItsColumn(t *testing.T) {
	c := stocktest.Catalogue(t)
	letters, err := draw.LoadLetters(os.DirFS("../../assets"))
	if err != nil {
		t.Fatal(err)
	}
	all := compared(t, c)
	shelf := NewShelf(c, letters)
	how := ShelfView{Camera: look.Camera{Azimuth: -1, Elevation: 0.3, Zoom: 1}, Size: image.Pt(640, 420), Scale: 1, Style: sheet.Style{Ink: draw.LightInk(), Letters: letters}}
	f, plan, err := shelf.Draw(context.Background(), all, ComparisonOf(all, all[0], c, unit.Metric), how)
	if err != nil {
		t.Fatal(err)
	}
	if len(plan.Pictures) != 2 || plan.Pictures[0].Size() != plan.Pictures[1].Size() {
		t.Fatalf("pictures at %v", plan.Pictures)
	}
	for i, b := range plan.Pictures {
		mid := b.Min.Add(b.Max).Scale(0.5)
		if got, ok := plan.ColumnAt(mid.X, mid.Y); !ok || got != i {
			t.Errorf("the middle of picture %d is in column %d", i, got)
		}
		wood := 0
		r := pixels(b, 1)
		for y := r.Min.Y; y < r.Max.Y; y++ {
			for x := r.Min.X; x < r.Max.X; x++ {
				if p := f.Image.RGBAAt(x, y); int(p.R)-int(p.B) > 40 {
					wood++
				}
			}
		}
		if wood < 200 {
			t.Errorf("picture %d holds %d pixels of wood", i, wood)
		}
	}
	if _, ok := plan.ColumnAt(2, 2); ok {
		t.Error("the names' column is a stack's")
	}
}
