package job_test

import (
	"math"
	"testing"

	"grainstack/assets/stocktest"
	"grainstack/slicing/job"
)

// TestLayerSlider: with the board held the skim moves and never goes below nothing; with the skim held the board moves.
func TestLayerSlider(t *testing.T) {
	c := stocktest.Catalogue(t)
	s := job.Default(c)
	board, _ := s.BoardIn(c)
	for _, tt := range []struct {
		name            string
		hold            job.Hold
		ask, layer, was float64
	}{
		{"thinner, board held", job.HoldBoard, 12, 12, 0},
		{"thicker than the board, board held", job.HoldBoard, 40, board.Thickness, 0},
		{"nothing, board held", job.HoldBoard, -3, 1, 0},
		{"thinner, skim held", job.HoldSkim, 12, 12, 0},
		{"thicker than the board, skim held", job.HoldSkim, 30, 30, 0},
	} {
		s := s
		s.Hold = tt.hold
		got := s.WithLayer(c, tt.ask)
		if math.Abs(got.LayerThickness(c)-tt.layer) > 1e-5 {
			t.Errorf("%s: the layer is %g, want %g", tt.name, got.LayerThickness(c), tt.layer)
		}
		if err := got.Check(c); err != nil {
			t.Errorf("%s: %v", tt.name, err)
		}
		if tt.hold == job.HoldSkim && got.Skim != s.Skim {
			t.Errorf("%s: the skim moved from %g to %g", tt.name, s.Skim, got.Skim)
		}
		if tt.hold == job.HoldBoard && got.BoardThickness != s.BoardThickness {
			t.Errorf("%s: the board moved", tt.name)
		}
	}
}

// TestSkimmedBoard: a board of 17.7 mm (birch, 13 plies, mean of a trade data sheet) skimmed by the usual 0.85 mm is 16 mm.
func TestSkimmedBoard(t *testing.T) {
	c := stocktest.Catalogue(t)
	s := job.Default(c)
	if got := s.LayerThickness(c); math.Abs(got-16) > 1e-9 || math.Abs(s.Skim-0.85) > 1e-9 {
		t.Errorf("layer %g, skim %g", got, s.Skim)
	}
	sum := 0.0
	for _, v := range s.Blanks(c).Usual().Veneers {
		sum += v.Thickness
	}
	if math.Abs(sum-16) > 1e-9 {
		t.Errorf("the veneers left are %g mm together", sum)
	}
}

// TestSettingsAreChecked: what can't be worked with is named.
func TestSettingsAreChecked(t *testing.T) {
	c := stocktest.Catalogue(t)
	for name, spoil := range map[string]func(*job.Settings){
		"board":      func(s *job.Settings) { s.Board = "ebony" },
		"scale":      func(s *job.Settings) { s.Scale = math.Inf(1) },
		"scale NaN":  func(s *job.Settings) { s.Scale = math.NaN() },
		"skim":       func(s *job.Settings) { s.Skim = -1 },
		"all skim":   func(s *job.Settings) { s.Skim = 9 },
		"wall":       func(s *job.Settings) { s.Wall = -2 },
		"caps":       func(s *job.Settings) { s.CapTop = -1 },
		"cutter":     func(s *job.Settings) { s.Rough.Key = "spoon" },
		"stepover":   func(s *job.Settings) { s.Fine.Stepover = -1 },
		"machine":    func(s *job.Settings) { s.Machine = "hands" },
		"glue":       func(s *job.Settings) { s.Glue = "spit" },
		"finish":     func(s *job.Settings) { s.Finish = "mud" },
		"panel":      func(s *job.Settings) { s.PanelX = 0 },
		"clearance":  func(s *job.Settings) { s.Clearance = -1 },
		"safe":       func(s *job.Settings) { s.SafeHeight = 0 },
		"joint":      func(s *job.Settings) { s.FirstJoint = -1 },
		"thick NaN":  func(s *job.Settings) { s.BoardThickness = math.NaN() },
		"rim wanted": func(s *job.Settings) { s.RimWanted = math.NaN() },
	} {
		s := job.Default(c)
		spoil(&s)
		if s.Check(c) == nil {
			t.Errorf("%s: nothing is said of %+v", name, s)
		}
	}
	if err := job.Default(c).Check(c); err != nil {
		t.Errorf("the settings to start with: %v", err)
	}
}
