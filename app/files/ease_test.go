package files

import (
	"testing"

	"grainstack/assets/stocktest"
	"grainstack/slicing/geom"
	"grainstack/slicing/program"
	"grainstack/slicing/proof"
	"grainstack/slicing/stock"
	"grainstack/slicing/toolpath"
)

// TestEaseBesideOtherFaults: a move that takes too much at once is eased though a clamp is in the way too, and where nothing takes too
// much nothing is changed.
func TestEaseBesideOtherFaults(t *testing.T) {
	c := stocktest.Catalogue(t)
	cutter, _ := c.Cutter(c.First.Rough)
	deep := 1.5 * cutter.Stepdown
	one := toolpath.Made{Program: program.Program{
		Name: "panel-01-2-A-rough.nc", Panel: 1, Cutter: cutter, Safe: 5, RPM: cutter.RPM, Blank: program.Blank{X: 200, Y: 160, Board: 18},
		Moves: []program.Move{
			{To: geom.Vec{X: 50, Y: 50, Z: 5}}, {To: geom.Vec{X: 50, Y: 50, Z: -deep}, FeedMmMin: cutter.PlungeMmMin},
			{To: geom.Vec{X: 90, Y: 50, Z: -deep}, FeedMmMin: cutter.FeedMmMin}, {To: geom.Vec{X: 90, Y: 50, Z: 5}},
		},
	}}
	all := []toolpath.Made{one}
	written, err := writtenFor(all, program.Machine{Controller: stock.UsualController()})
	if err != nil {
		t.Fatal(err)
	}
	file := &written[0].Files[0]
	line := 1
	for n, ok := file.MoveOf(line); !ok || n != 2; n, ok = file.MoveOf(line) {
		line++
	}
	found := &proof.Proof{Faults: []proof.Fault{{What: proof.IntoClamp}}}
	if ease(all, written, found) || len(all[0].Moves) != len(one.Moves) {
		t.Error("something is eased for a clamp")
	}
	found.Faults = append(found.Faults, proof.Fault{What: proof.TooDeep})
	found.Bites = []proof.Bite{{Line: line, Size: deep}}
	if !ease(all, written, found) || len(all[0].Moves) <= len(one.Moves) {
		t.Error("what takes too much is not eased beside a clamp")
	}
}
