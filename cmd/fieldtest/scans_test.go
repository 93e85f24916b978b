package fieldtest

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"grainstack/slicing/mesh"
	"grainstack/slicing/solidtest"
)

// shortScans is how many scans the short form makes.
const shortScans = 8

// TestScans makes bad scans from seeds and has each reported and made with random settings.
func TestScans(t *testing.T) {
	if os.Getenv(fieldSet) == "" && *scans == 0 {
		t.Skipf("no scans are tried: %s is not set", fieldSet)
	}
	n, tall := *scans, heights{everyHeight.least, min(300, *tallest)}
	if n == 0 {
		n, tall.most = shortScans, 80
	}
	y := &tester{program: built(t), stock: shelf(t)}
	dir := t.TempDir()
	if *keep != "" {
		dir = workFolder(t, "scans")
	}
	var all []trial
	for k := range n {
		if *onlyCase >= 0 && k != *onlyCase {
			continue
		}
		s := solidtest.NewScan(int64(k + 1))
		file := filepath.Join(dir, fmt.Sprintf("scan-%04d.stl", k))
		var text bytes.Buffer
		if err := mesh.WriteSTL(&text, s.Mesh); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(file, text.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
		y.also = func(u *setup, r *report, f *faults) { checkMended(&s, u, r, f) }
		one := y.try(t, draw(file, k, tall, y.stock))
		one.name = fmt.Sprintf("scans with %v", s.Faults)
		if len(s.Faults) > 1 {
			one.name = fmt.Sprintf("scans with %d-faults", len(s.Faults))
		}
		all = append(all, one)
		if len(one.found) == 0 {
			_ = os.Remove(file) // the next needs the room
		}
	}
	tell(t, all)
}

// mendedShare is how far a mended scan's volume may be from what its solids enclose, where nothing but their surface's order
// was spoilt: mending by a field is true to a cell's share of the skin.
const mendedShare = 0.02

// checkMended holds a mended scan against what is known of its solids.
func checkMended(s *solidtest.Scan, u *setup, r *report, f *faults) {
	spoilt := slices.ContainsFunc([]string{"thin ears", "noise", "holes"}, s.Has)
	changed := slices.ContainsFunc([]string{"-saw-base", "-smooth", "-thin"}, func(w string) bool { return slices.Contains(u.flags, w) })
	if spoilt || changed || !u.mended || r.Piece.Volume == nil {
		return
	}
	k := r.Settings.Scale
	v := *r.Piece.Volume * 1000 / (k * k * k)
	if v < s.Least*(1-mendedShare) || v > s.Most*(1+mendedShare) {
		f.add("mended volume", "scan with %v: %.5g instead of %.5g to %.5g, in its own units", s.Faults, v, s.Least, s.Most)
	}
}
