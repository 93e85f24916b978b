package main

import (
	"flag"
	"strings"
	"testing"

	"grainstack/slicing/program"
	"grainstack/slicing/stock"
	"grainstack/slicing/unit"
)

// What a flag says goes before what the stock says of a machine; what no flag says is the stock's.
func TestMachineFlags(t *testing.T) {
	m := stock.Machine{TravelX: 600, TravelY: 500, TravelZ: 90, Controller: stock.Controller{Zero: stock.AtDowel, Height: stock.OnBed, Units: unit.Inch,
		Pause: true, Arcs: true, MostBytes: 50000, First: []string{"G54"}, Last: []string{"M9"}}}
	resolve := func(words ...string) (program.Machine, error) {
		set := flag.NewFlagSet("make", flag.ContinueOnError)
		f := bindMachine(set)
		if err := set.Parse(words); err != nil {
			t.Fatal(err)
		}
		return f.machine(m, false)
	}
	got, err := resolve()
	if err != nil || got.Zero != stock.AtDowel || got.Height != stock.OnBed || got.Units != unit.Inch || got.Spindle || !got.Pause || !got.Arcs || got.MostBytes != 50000 ||
		len(got.First) != 1 || len(got.Last) != 1 || got.Travel.Y != 500 {
		t.Errorf("%v: %+v", err, got)
	}
	got, err = resolve("-zero", "corner", "-zero-height", "face", "-hand-spindle=false", "-pause=false", "-no-arcs", "-most-bytes", "0", "-most-lines", "900", "-first-lines", "", "-last-lines", "M8; M9")
	if err != nil || got.Zero != stock.AtCorner || got.Height != stock.OnFace || !got.Spindle || got.Pause || got.Arcs || got.MostBytes != 0 || got.MostLines != 900 ||
		len(got.First) != 0 || strings.Join(got.Last, ";") != "M8;M9" {
		t.Errorf("%v: %+v", err, got)
	}
	for _, words := range [][]string{{"-zero", "here"}, {"-zero-height", "top"}, {"-most-bytes", "12"}, {"-most-lines", "-5"}, {"-first-lines", "G0 X1 (µ)"}} {
		if _, err := resolve(words...); err == nil || !strings.Contains(err.Error(), "wants") && !strings.Contains(err.Error(), "at the least") {
			t.Errorf("%v: %v", words, err)
		}
	}
}
