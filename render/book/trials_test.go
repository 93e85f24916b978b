package book

import (
	"fmt"
	"image"
	"math"
	"strings"
	"testing"

	"grainstack/render/sheet"
	"grainstack/slicing/unit"
)

// trialsOf is a made-up page of n stacks.
func trialsOf(n int) Trials {
	t := Trials{View: sheet.ComparisonView{Note: "Differences are from the first."}}
	for i := range n {
		t.View.Columns = append(t.View.Columns, sheet.ComparedColumn{Name: fmt.Sprintf("Trial %d", i+1), Choices: []string{strings.Repeat("wall 20 mm → 25 mm ", 4)}})
		t.Pictures = append(t.Pictures, look(120, 120))
	}
	for k := range 15 {
		r := sheet.ComparedRow{Name: fmt.Sprintf("Figure %d", k)}
		for i := range n {
			r.Values, r.Differences = append(r.Values, fmt.Sprintf("%d.%02d kg", i+1, k)), append(r.Differences, "−1.25 kg")
		}
		t.View.Rows = append(t.View.Rows, r)
	}
	return t
}

// TestTrialsHaveTheirPages: one for each group, square pictures in the columns under their names, all figures on the paper,
// and a line in the contents; without trials there is no such page.
func TestTrialsHaveTheirPages(t *testing.T) {
	l := letters(t)
	for _, paper := range []Paper{A4, Letter} {
		b := sample(t, 3, paper, unit.Metric)
		plain := len(Lay(b, l).pages)
		b.Trials = []Trials{trialsOf(4), trialsOf(2)}
		b.Trials[1].Pictures[1] = image.Image(nil)
		d := Lay(b, l)
		if len(d.pages) != plain+2 {
			t.Fatalf("%s: %d pages with two groups of trials, %d without", paper, len(d.pages), plain)
		}
		var pages []*page
		for _, p := range d.pages {
			if p.section == "Trials" {
				pages = append(pages, p)
			}
		}
		if len(pages) != 2 || pages[0].begins != "Trials" || len(pages[0].pictures) != 4 || len(pages[1].pictures) != 1 {
			t.Fatalf("%s: %d pages of trials", paper, len(pages))
		}
		w, h := paper.Size()
		for _, p := range pages {
			for _, pic := range p.pictures {
				if s := pic.box.Size(); math.Abs(s.X-s.Y) > 0.1 || pic.box.Min.X < sideMargin || pic.box.Max.X > w-sideMargin {
					t.Errorf("%s: a picture at %v", paper, pic.box)
				}
			}
			seen := ""
			for _, one := range p.all(l) {
				seen += one.words + "\n"
				if one.box.Min.X < printable || one.box.Max.X > w-printable || one.box.Max.Y > h-printable {
					t.Errorf("%s: %q goes over the edge", paper, one.words)
				}
			}
			for k := range 15 {
				if !strings.Contains(seen, fmt.Sprintf("Figure %d\n", k)) {
					t.Errorf("%s: figure %d is left out", paper, k)
				}
			}
		}
		if cover := lettering(d.pages[0].Drawing); !strings.Contains(fmt.Sprint(cover), "Trials") {
			t.Errorf("%s: the contents lack the trials", paper)
		}
	}
}
