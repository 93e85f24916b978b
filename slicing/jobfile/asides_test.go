package jobfile_test

import (
	"context"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"grainstack/assets/stocktest"
	"grainstack/slicing/finding"
	"grainstack/slicing/geom"
	"grainstack/slicing/job"
	"grainstack/slicing/jobfile"
)

// TestWhatIsSetAsideComesBack: places and notes after saving and opening are those before; a list that no program writes is refused.
func TestWhatIsSetAsideComesBack(t *testing.T) {
	c := stocktest.Catalogue(t)
	at := filepath.Join(t.TempDir(), "demo.grainstack")
	all := finding.Set(nil, "with the bent gouge", finding.Key{Kind: finding.Undercut.String(), Own: geom.Vec{X: 1.5, Y: -2, Z: 30.25}, Placed: true})
	all = finding.Set(all, "", finding.Key{Kind: finding.Doubled.String()})
	if err := (jobfile.Job{Piece: job.Demo(), Settings: job.Default(c), Asides: all}.Save(at, false)); err != nil {
		t.Fatal(err)
	}
	back, err := jobfile.Open(context.Background(), at, "", c, nil)
	if err != nil || !slices.Equal(back.Asides, all) {
		t.Errorf("%+v came back as %+v, %v", all, back.Asides, err)
	}
	all[0].Note = strings.Repeat("x", 10_000)
	if err := (jobfile.Job{Piece: job.Demo(), Settings: job.Default(c), Asides: all}.Save(at, false)); err != nil {
		t.Fatal(err)
	}
	if _, err := jobfile.Open(context.Background(), at, "", c, nil); err == nil {
		t.Error("a note of 10 000 letters is taken")
	}
}
