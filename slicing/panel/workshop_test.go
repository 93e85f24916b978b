package panel

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	own "grainstack/slicing/geom"
)

// Common practice, no source: a 4 x 8 ft board gives 8 panels of 2 x 2 ft size, two boards 16.
func TestSawBoards(t *testing.T) {
	for _, tt := range []struct {
		name             string
		panels           int
		x, y             float64
		s                Sheet
		boards, perBoard int
	}{
		{"a board", 8, 600, 600, Sheet{X: 2440, Y: 1220, Kerf: 3}, 1, 8},
		{"the same, length across", 8, 600, 600, Sheet{X: 1220, Y: 2440, Kerf: 3}, 1, 8},
		{"two boards", 16, 600, 600, Sheet{X: 2440, Y: 1220, Kerf: 3, Trim: 5}, 2, 8},
		{"one more", 17, 600, 600, Sheet{X: 2440, Y: 1220, Kerf: 3}, 3, 8},
		{"exactly", 4, 100, 100, Sheet{X: 203, Y: 203, Kerf: 3}, 1, 4},
		{"the kerf is too wide", 2, 100, 100, Sheet{X: 203, Y: 203, Kerf: 3.1}, 2, 1},
		{"trimmed away", 8, 600, 600, Sheet{X: 2440, Y: 1220, Kerf: 3, Trim: 9}, 2, 4},
		{"grain along only", 2, 600, 400, Sheet{X: 1000, Y: 620, Kerf: 3}, 2, 1},
		{"none", 0, 600, 600, Sheet{X: 2440, Y: 1220, Kerf: 3}, 0, 8},
	} {
		tt.s.Price = 40
		p, err := Saw(tt.panels, tt.x, tt.y, tt.s)
		if err != nil {
			t.Errorf("%s: %v", tt.name, err)
			continue
		}
		if len(p.Boards) != tt.boards || p.PerBoard != tt.perBoard || p.Cost != 40*float64(tt.boards) {
			t.Errorf("%s: %d boards of %d at %g, want %d of %d", tt.name, len(p.Boards), p.PerBoard, p.Cost, tt.boards, tt.perBoard)
		}
	}
	for name, s := range map[string]Sheet{"small": {X: 500, Y: 500}, "NaN": {X: math.NaN(), Y: 500}, "all trim": {X: 1000, Y: 1000, Trim: 600}, "kerf": {X: 2440, Y: 1220, Kerf: -1}} {
		if _, err := Saw(3, 600, 600, s); err == nil {
			t.Errorf("%s: sawn", name)
		}
	}
}

// Panels, offcuts, kerfs and trimmings are all there is of a board, and none of them meet.
func TestSawLosesNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := Sheet{
			X: rapid.Float64Range(300, 3000).Draw(t, "X"), Y: rapid.Float64Range(300, 1500).Draw(t, "Y"),
			Kerf: rapid.Float64Range(0, 5).Draw(t, "kerf"), Trim: rapid.Float64Range(0, 20).Draw(t, "trim"),
		}
		x, y := rapid.Float64Range(100, 900).Draw(t, "x"), rapid.Float64Range(100, 900).Draw(t, "y")
		n := rapid.IntRange(1, 30).Draw(t, "panels")
		p, err := Saw(n, x, y, s)
		if err != nil {
			return
		}
		for _, b := range p.Boards {
			n -= len(b.Panels)
			all := append(append([]own.Box2{}, b.Panels...), b.Offcuts...)
			for i, a := range all {
				if a.Min.X < s.Trim-exact || a.Min.Y < s.Trim-exact || a.Max.X > s.X-s.Trim+exact || a.Max.Y > s.Y-s.Trim+exact {
					t.Fatalf("%v lies off the board", a)
				}
				for _, c := range all[:i] {
					if gap(a, c) < s.Kerf-exact || s.Kerf == 0 && overlap(a, c) > exact {
						t.Fatalf("%v and %v are %g apart, kerf %g", a, c, gap(a, c), s.Kerf)
					}
				}
				for _, cut := range b.Cuts {
					if d := gap(a, own.EmptyBox2().Add(cut.From).Add(cut.To)); d < s.Kerf/2-exact {
						t.Fatalf("a cut runs into %v", a)
					}
				}
			}
			for _, q := range b.Panels {
				if got := q.Size(); math.Abs(got.X-x) > exact || math.Abs(got.Y-y) > exact {
					t.Fatalf("a panel of %v, want %g x %g", got, x, y)
				}
			}
			left := s.X*s.Y - 2*s.Trim*(s.X+s.Y) + 4*s.Trim*s.Trim
			for _, a := range all {
				left -= areaOf(a)
			}
			sawn := 0.0
			cuts := b.Cuts
			if s.Trim > 0 {
				cuts = cuts[4:] // the trimmings have their cuts in them
			}
			for _, cut := range cuts {
				sawn += cut.To.Sub(cut.From).Len() * s.Kerf
			}
			if left < -1e-3 || left > sawn+1e-3 {
				t.Fatalf("%g mm² lost beside %g of cuts", left, sawn)
			}
		}
		if n != 0 {
			t.Fatalf("%d panels are missing", n)
		}
	})
}

func overlap(a, b own.Box2) float64 {
	x := math.Min(a.Max.X, b.Max.X) - math.Max(a.Min.X, b.Min.X)
	y := math.Min(a.Max.Y, b.Max.Y) - math.Max(a.Min.Y, b.Min.Y)
	return math.Max(0, x) * math.Max(0, y)
}

func TestRegistration(t *testing.T) {
	for _, axis := range []Axis{AlongX, AlongY} {
		for _, seat := range []Seat{OnCentreLine, AtOneEnd} {
			for _, size := range [][2]float64{{600, 600}, {800, 400}, {400, 800}} {
				name := fmt.Sprint(axis, seat, size)
				r, err := Registration(size[0], size[1], axis, seat, 8, 12, 20)
				if err != nil {
					t.Errorf("%s: %v", name, err)
					continue
				}
				for _, d := range r.Dowels {
					over := r.TurnOver(d.At)
					if over.Sub(r.Dowels[0].At).Len() > 1e-9 && over.Sub(r.Dowels[1].At).Len() > 1e-9 {
						t.Errorf("%s: a dowel comes to lie at %v", name, over)
					}
					if r.TurnOver(over) != d.At {
						t.Errorf("%s: turned twice a dowel is at %v", name, r.TurnOver(over))
					}
				}
				bent := r
				bent.Dowels[0].At = bent.Dowels[0].At.Add(own.Vec2{X: 0.02, Y: 0.02})
				if bent.Check() == nil {
					t.Errorf("%s: a dowel 0.03 mm off its place is taken", name)
				}
			}
		}
	}
	even := Register{PanelX: 600, PanelY: 600, Depth: 10, Dowels: [2]Dowel{{own.Vec2{X: 20, Y: 300}, 8}, {own.Vec2{X: 580, Y: 300}, 8}}}
	if even.Check() == nil {
		t.Error("dowels that let a panel be laid end for end are taken")
	}
	for _, bad := range []float64{math.NaN(), 0, -3, math.Inf(1), 700} {
		if _, err := Registration(600, 600, AlongX, OnCentreLine, bad, 10, 20); err == nil {
			t.Errorf("a dowel of %g mm is taken", bad)
		}
	}
}

// Side B, laid out on its own and turned back, matches side A; a mirror line half a hundredth off shows.
func TestSidesMatch(t *testing.T) {
	r, err := Registration(600, 400, AlongX, OnCentreLine, 8, 12, 20)
	if err != nil {
		t.Fatal(err)
	}
	a := shifted(statue(1, 3, 300)[2].Shadow, own.Vec2{X: 250, Y: 180})
	b := a.Mirror(r.TurnOver)
	if got := mismatch(r, a, b); got > 1e-9 {
		t.Errorf("side B turned back is %g mm off", got)
	}
	if math.Abs(b.Area()-a.Area()) > 1e-6 {
		t.Errorf("areas %g and %g: outlines run the wrong way", a.Area(), b.Area())
	}
	if got := mismatch(r, a, shifted(b, own.Vec2{Y: 0.5})); got < 0.3 || got > 0.5+1e-9 {
		t.Errorf("moved by 0.5 mm it is %g mm off", got)
	}
	if got := mismatch(r, a, nil); got < 700 {
		t.Errorf("a missing side is %g mm off", got)
	}
}

// mismatch is the largest distance between an outline of side A and that of side B turned back, each way, measured at the
// points of either. Where only one side has outlines it is the diagonal of the panel.
func mismatch(r Register, sideA, sideB own.Region) float64 {
	a, b := newOutline(sideA), newOutline(sideB.Mirror(r.TurnOver))
	worst := math.Hypot(r.PanelX, r.PanelY)
	if len(a.edges) == 0 || len(b.edges) == 0 {
		if len(a.edges) == len(b.edges) {
			return 0
		}
		return worst
	}
	off := 0.0
	for _, e := range a.edges {
		off = math.Max(off, b.rim(e.a, worst))
	}
	for _, e := range b.edges {
		off = math.Max(off, a.rim(e.a, worst))
	}
	return off
}
