package program_test

import (
	"bytes"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"grainstack/slicing/geom"
	"grainstack/slicing/program"
	"grainstack/slicing/rs274"
	"grainstack/slicing/stock"
	"grainstack/slicing/unit"
)

// round is a program of arcs of all sizes, each from where the last one ended.
func round(n int, seed uint64) program.Program {
	r := rand.New(rand.NewPCG(seed, 2))
	p := wander(1, seed)
	at := geom.Vec{X: 300, Y: 200, Z: -1}
	p.Moves = []program.Move{{To: geom.Vec{X: 300, Y: 200, Z: 5}}, {To: at, FeedMmMin: 500}}
	for len(p.Moves) < n {
		wide := math.Exp(r.Float64()*7 - 2) // 0.14 to 150 mm
		sin, cos := math.Sincos(2 * math.Pi * r.Float64())
		middle := geom.Vec2{X: at.X + wide*cos, Y: at.Y + wide*sin}
		sin, cos = math.Sincos(2 * math.Pi * r.Float64())
		to := geom.Vec{X: middle.X + wide*cos, Y: middle.Y + wide*sin, Z: -10 * r.Float64()}
		if r.IntN(4) == 0 {
			to.X, to.Y = at.X, at.Y
		}
		turn := program.Clockwise
		if r.IntN(2) == 0 {
			turn = program.CounterClockwise
		}
		p.Moves = append(p.Moves, program.Move{To: to, FeedMmMin: 600, Turn: turn, Middle: middle})
		at = to
	}
	return p
}

// Arcs are read as they were meant to within 0.005 mm and what rounding comes to, in both units, as arcs and by chords; as arcs they
// take less than a fifth of the lines.
func TestArcsReadBack(t *testing.T) {
	p := round(400, 3)
	for _, units := range []unit.System{unit.Metric, unit.Inch} {
		lines := map[bool]int{}
		for _, arcs := range []bool{true, false} {
			t.Run(fmt.Sprint(units, arcs), func(t *testing.T) {
				m := like(stock.Controller{Arcs: arcs, Units: units})
				files, err := program.Write(p, m)
				if err != nil {
					t.Fatal(err)
				}
				lines[arcs] = bytes.Count(files[0].Text, []byte("\n"))
				run, err := rs274.Read(files[0].Text, geom.Vec{})
				if err != nil {
					t.Fatal(err)
				}
				if worst := furthest(t, p, &files[0], run); worst > 0.005+0.003 {
					t.Errorf("a place is %.4f mm off its arc", worst)
				}
			})
		}
		if lines[true]*5 > lines[false] {
			t.Errorf("%d lines with arcs, %d without", lines[true], lines[false])
		}
	}
}

// furthest is how far off the program's arcs the places of its file lie, and the other way round: every sixteenth of each arc is
// looked for on the moves of its lines.
func furthest(t *testing.T, p program.Program, f *program.File, run *rs274.Run) (worst float64) {
	of := map[int][]rs274.Move{}
	for _, m := range run.Moves {
		if i, ok := f.MoveOf(m.Line); ok {
			of[i] = append(of[i], m)
		}
	}
	for i := 2; i < len(p.Moves); i++ {
		from, m := p.Moves[i-1].To, p.Moves[i]
		r := from.Sub(geom.Vec{X: m.Middle.X, Y: m.Middle.Y})
		wide := math.Hypot(r.X, r.Y)
		if len(of[i]) == 0 && from.Sub(m.To).Len() > 0.002 {
			t.Fatalf("arc %d is not written", i)
		}
		first := math.Atan2(r.Y, r.X)
		all := math.Mod(float64(m.Turn)*(math.Atan2(m.To.Y-m.Middle.Y, m.To.X-m.Middle.X)-first)+4*math.Pi, 2*math.Pi)
		if all < 1e-9 {
			all = 2 * math.Pi
		}
		for k := 1.0; k <= 16; k++ {
			sin, cos := math.Sincos(first + float64(m.Turn)*all*k/16)
			want := geom.Vec{X: m.Middle.X + wide*cos, Y: m.Middle.Y + wide*sin, Z: from.Z + (m.To.Z-from.Z)*k/16}
			near := math.Inf(1)
			for _, g := range of[i] {
				d, way := g.To.Sub(g.From), want.Sub(g.From)
				share := 0.0
				if l := d.Dot(d); l > 0 {
					share = min(max(way.Dot(d)/l, 0), 1)
				}
				near = min(near, way.Sub(d.Scale(share)).Len())
			}
			worst = max(worst, near)
		}
	}
	return worst
}
