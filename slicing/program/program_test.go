package program_test

import (
	"bytes"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"grainstack/slicing/geom"
	"grainstack/slicing/program"
	"grainstack/slicing/rs274"
	"grainstack/slicing/stock"
	"grainstack/slicing/unit"
)

// wander is a program of many moves here and there, with lifts between.
func wander(n int, seed uint64) program.Program {
	r := rand.New(rand.NewPCG(seed, 1))
	p := program.Program{
		Name: "panel-01-2-A-rough.nc", Panel: 1, Step: program.Rough, RPM: 12000, Safe: 5,
		Cutter: stock.Cutter{Name: "End mill 6 mm (¼ in), up-cut × 2", Diameter: 6},
		Blank:  program.Blank{X: 600, Y: 400, Board: 17.8},
		Dowels: [2]geom.Vec2{{X: 12, Y: 200}, {X: 580, Y: 200}},
	}
	for len(p.Moves) < n {
		at := geom.Vec{X: r.Float64() * 600, Y: r.Float64() * 400, Z: 5}
		p.Moves = append(p.Moves, program.Move{To: at})
		for range 20 {
			at = at.Add(geom.Vec{X: r.NormFloat64(), Y: r.NormFloat64() * float64(r.IntN(2))})
			at.Z = -r.Float64() * 17
			p.Moves = append(p.Moves, program.Move{To: at, FeedMmMin: []float64{800, 2200, 1234.5}[r.IntN(3)]})
		}
		at.Z = 5
		p.Moves = append(p.Moves, program.Move{To: at})
	}
	return p
}

func like(c stock.Controller) program.Machine { return program.Machine{Controller: c} }

// at is the last move of the program that a file has.
func at(f program.File) (move int) {
	for line := range bytes.Count(f.Text, []byte("\n")) {
		if m, ok := f.MoveOf(line); ok {
			move = max(move, m)
		}
	}
	return move
}

// What is written is read as it was meant: every place to half a count of the last decimal, feeds never above what was wanted
// and no more than a count below, whatever the zero, the units and the largest file.
func TestReadBack(t *testing.T) {
	never := wander(2000, 8)
	for i := range never.Moves {
		never.Moves[i].FeedMmMin = 700
		never.Moves[i].To.Z = min(never.Moves[i].To.Z, -1)
	}
	for _, p := range []program.Program{wander(2000, 3), never} {
		readBack(t, p)
	}
}

func readBack(t *testing.T, p program.Program) {
	for _, m := range []program.Machine{
		program.Machine{Controller: stock.UsualController()},
		like(stock.Controller{Units: unit.Inch, Zero: stock.AtMiddle, Spindle: true, Pause: true}),
		like(stock.Controller{Zero: stock.AtDowel, Height: stock.OnBed, First: []string{"G54", "M8"}, Last: []string{"M9"}}),
		like(stock.Controller{Spindle: true, MostBytes: 9000}),
		like(stock.Controller{Spindle: true, MostLines: 300}),
		like(stock.Controller{Units: unit.Inch, Height: stock.OnBed, MostBytes: 5000, Spindle: true}),
	} {
		t.Run(fmt.Sprintf("%+v", m), func(t *testing.T) {
			files, err := program.Write(p, m)
			if err != nil {
				t.Fatal(err)
			}
			fine, slow := 0.0005+1e-9, 1.0
			if m.Units == unit.Inch {
				fine, slow = 25.4*0.00005+1e-9, 2.54
			}
			o := m.Origin(p.Blank, p.Dowels)
			var got []rs274.Move
			for i, f := range files {
				if m.MostBytes > 0 && len(f.Text) > m.MostBytes {
					t.Errorf("%s has %d bytes, more than %d", f.Name, len(f.Text), m.MostBytes)
				}
				if n := bytes.Count(f.Text, []byte("\n")); m.MostLines > 0 && n > m.MostLines {
					t.Errorf("%s has %d lines, more than %d", f.Name, n, m.MostLines)
				}
				run, err := rs274.Read(f.Text, geom.Vec{Z: 50})
				if err != nil {
					t.Fatalf("%s: %v", f.Name, err)
				}
				last := len(run.Moves) - 1
				if z := run.Moves[last].To.Z + o.Z; math.Abs(z-p.Safe) > fine {
					t.Errorf("%s ends at %g, not at the safe height", f.Name, z)
				}
				moves := run.Moves[1:]
				for i > 0 && moves[0].From.Sub(got[len(got)-1].To).Len() > 1e-9 { // back to where the file before ended
					if m := moves[0]; m.To.Z+o.Z < p.Safe-fine && m.Feed == 0 && (m.From.X != m.To.X || m.From.Y != m.To.Y || m.To.Z+o.Z < 1-fine) {
						t.Fatalf("%s goes back by %+v", f.Name, m)
					}
					moves = moves[1:]
				}
				if n := len(moves) - 1; i < len(files)-1 && moves[n].To.Z-moves[n].From.Z > fine && (len(moves) < 2 || p.Moves[at(files[i])].To.Z < p.Safe) {
					moves = moves[:n] // lifted under way
				}
				for _, m := range moves {
					if m.From != m.To { // a file that ends lifted says so once more
						got = append(got, m)
					}
				}
			}
			i := 0
			was := geom.Vec{X: math.NaN()}
			for k, want := range p.Moves {
				to := want.To.Sub(o)
				if to.Sub(was).Len() < 2*fine { // too little to be written
					continue
				}
				if i >= len(got) {
					t.Fatalf("move %d isn't written", k)
				}
				g := got[i]
				if d := g.To.Sub(to); math.Abs(d.X) > fine || math.Abs(d.Y) > fine || math.Abs(d.Z) > fine {
					t.Fatalf("move %d goes to %v, want %v", k, g.To, to)
				}
				if g.Feed > want.FeedMmMin+1e-6 || g.Feed < want.FeedMmMin-slow || (g.Feed == 0) != want.Rapid() {
					t.Fatalf("move %d at %g, want %g", k, g.Feed, want.FeedMmMin)
				}
				was, i = to, i+1
			}
			if m.Divides() && len(files) < 3 {
				t.Errorf("%d files are no test of files that are too large", len(files))
			}
		})
	}
}

// The file is plain, its lines short, with the cautions in its head, and it says nothing twice.
func TestPlain(t *testing.T) {
	files, err := program.Write(wander(500, 4), program.Machine{Controller: stock.UsualController()})
	if err != nil {
		t.Fatal(err)
	}
	text := string(files[0].Text)
	for i, line := range strings.Split(text, "\n") {
		if len(line) > 80 {
			t.Errorf("line %d is %d long: %s", i+1, len(line), line)
		}
		for _, r := range line {
			if r < ' ' || r > '~' {
				t.Errorf("line %d has %q", i+1, r)
			}
		}
	}
	for _, want := range []string{"RUN IT IN THE AIR FIRST", "local rules", "front left corner", "M3", "M5\nM2\n", "G17 G21 G90 G94\nG0 Z5\nS12000 M3\n"} {
		if !strings.Contains(text, want) {
			t.Errorf("no %q in\n%s", want, text[:1500])
		}
	}
	body := text[strings.Index(text, "S12000"):]
	if n := strings.Count(body, "F800"); n > strings.Count(body, "F")/2 {
		t.Errorf("the feed is told again and again")
	}
	if strings.Contains(body, "-0 ") || strings.Contains(body, ".0 ") || strings.Contains(body, "-0\n") {
		t.Error("zeros that say nothing")
	}
}

// A file says the same for the same program.
func TestSameBytes(t *testing.T) {
	a, _ := program.Write(wander(500, 5), program.Machine{Controller: stock.UsualController()})
	b, _ := program.Write(wander(500, 5), program.Machine{Controller: stock.UsualController()})
	if !bytes.Equal(a[0].Text, b[0].Text) {
		t.Error("two writings differ")
	}
}

func TestNotWritten(t *testing.T) {
	for name, change := range map[string]func(*program.Program, *program.Machine){
		"no name":                func(p *program.Program, _ *program.Machine) { p.Name = "" },
		"a name with a folder":   func(p *program.Program, _ *program.Machine) { p.Name = "../a.nc" },
		"no panel":               func(p *program.Program, _ *program.Machine) { p.Panel = 0 },
		"no moves":               func(p *program.Program, _ *program.Machine) { p.Moves = nil },
		"a place that is none":   func(p *program.Program, _ *program.Machine) { p.Moves[3].To.X = math.NaN() },
		"a place far off":        func(p *program.Program, _ *program.Machine) { p.Moves[3].To.Z = math.Inf(-1) },
		"a feed that is none":    func(p *program.Program, _ *program.Machine) { p.Moves[3].FeedMmMin = math.NaN() },
		"a feed backwards":       func(p *program.Program, _ *program.Machine) { p.Moves[3].FeedMmMin = -5 },
		"no safe height":         func(p *program.Program, _ *program.Machine) { p.Safe = 0 },
		"no size":                func(p *program.Program, _ *program.Machine) { p.Blank.Board = 0 },
		"travel that is none":    func(_ *program.Program, m *program.Machine) { m.Travel.X = math.NaN() },
		"a line of two":          func(_ *program.Program, m *program.Machine) { m.First = []string{"G54\nG0 Z-50"} },
		"a controller too small": func(_ *program.Program, m *program.Machine) { m.MostBytes = 10 },
		"no such zero":           func(_ *program.Program, m *program.Machine) { m.Zero = 7 },
		"more lines of one's own than fit": func(_ *program.Program, m *program.Machine) {
			m.MostBytes, m.First = 5000, slices.Repeat([]string{strings.Repeat("(-)", 26)}, 60)
		},
		"an arc at full speed": func(p *program.Program, _ *program.Machine) {
			p.Moves[0].Turn = program.Clockwise
		},
	} {
		p, m := wander(1000, 6), program.Machine{Controller: stock.UsualController()}
		change(&p, &m)
		if files, err := program.Write(p, m); err == nil || len(files) > 0 {
			t.Errorf("%s: written", name)
		} else if len(err.Error()) < 20 {
			t.Errorf("%s: %v is no sentence", name, err)
		}
	}
}
