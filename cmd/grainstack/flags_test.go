package main

import (
	"strings"
	"testing"

	"grainstack/assets/stocktest"
	"grainstack/slicing/job"
	"grainstack/slicing/unit"
)

// TestEverySettingHasAFlag: each setting of the table can be said on the command line, and nothing else is changed by it.
func TestEverySettingHasAFlag(t *testing.T) {
	c := stocktest.Catalogue(t)
	for flags, want := range map[string]string{
		"-wall 1.2cm": "wall 20 mm → 12 mm", "-rim 9": "rim wanted 15 mm → 9 mm", "-hold skim": "layer rule skim (board held) → board (skim held)",
		"-glue epoxy": "", "-machine large": "", "-rough-cutter end-8": "", "-rough-feed 2200": "rough feed usual → 2200 mm/min", "-finish-stepover 0.4": "finish stepover usual → 0.4 mm",
		"-across-grain": "finish rows along the grain → across the grain", "-same-way": "layers every second turned → all the same way",
		"-panel 900x600": "panel 600 mm × 600 mm → 900 mm × 600 mm", "-panel-length 750": "panel 600 mm × 600 mm → 750 mm × 600 mm", "-panel-width 2ft": "panel 600 mm × 600 mm → 600 mm × 609.6 mm",
		"-tab-width 10": "tab width 8 mm → 10 mm", "-pin 0": "alignment pins 8 mm → none", "-spread both": "spread of glue as its maker has it → on both faces",
		"-grits 80,120": "sanding 120, 150, 180 → 80, 120", "-grits none": "sanding 120, 150, 180 → none", "-coats 2": "coats usual → 2", "-evening 90": "length of an evening 180 min → 90 min",
		"-debris 2": "debris 0.1 % → 2 %", "-grid 0.8": "resolution usual → 0.8 mm", "-mend off": "scan mended → as it is", "-caps 1,3": "solid layers above 1 → 3", "-solid-above 3": "solid layers above 1 → 3",
		"-price 80": "price of a board none → 80", "-dowel-axis y": "panel turned about its line along the grain → its line across",
	} {
		set := newFlags("report")
		f := bindStack(set)
		from := job.Default(c)
		if _, err := parse(set, strings.Fields(flags)); err != nil {
			t.Fatalf("%s: %v", flags, err)
		}
		to, err := f.apply(from, c)
		if err != nil {
			t.Fatalf("%s: %v", flags, err)
		}
		got := job.Choices(from, to, c, unit.Metric)
		if len(got) != 1 || want != "" && got[0].String() != want {
			t.Errorf("%s changes %v, want %q", flags, got, want)
		}
		if err := to.Check(c); err != nil {
			t.Errorf("%s: %v", flags, err)
		}
	}
}
