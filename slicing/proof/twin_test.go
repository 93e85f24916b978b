package proof

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"

	"grainstack/slicing/geom"
	"grainstack/slicing/panel"
	"grainstack/slicing/program"
	"grainstack/slicing/rs274"
	"grainstack/slicing/stock"
)

// The second simulator: it knows no columns, joints or closed forms. Over any place it asks every move for the lowest that the
// cutter's end comes there, by looking at many places of the move.
func lowestOver(moves []rs274.Move, c stock.Cutter, x, y float64) float64 {
	low := math.Inf(1)
	r := c.Diameter / 2
	for _, m := range moves {
		if m.Feed == 0 || x < min(m.From.X, m.To.X)-r || x > max(m.From.X, m.To.X)+r || y < min(m.From.Y, m.To.Y)-r || y > max(m.From.Y, m.To.Y)+r {
			continue
		}
		at := func(t float64) float64 {
			p := m.From.Add(m.To.Sub(m.From).Scale(t))
			rise, ok := c.Profile(math.Hypot(p.X-x, p.Y-y))
			if !ok {
				return math.Inf(1)
			}
			return p.Z + rise
		}
		const pieces = 2000
		best := 0
		for k := range pieces + 1 {
			if at(float64(k)/pieces) < at(float64(best)/pieces) {
				best = k
			}
		}
		for k := -50; k <= 50; k++ {
			low = min(low, at(min(max((float64(best)+float64(k)/50)/pieces, 0), 1)))
		}
	}
	return low
}

// scribble is a path that goes on from place to place as a finish does, steep and shallow, with corners of all kinds.
func scribble(seed uint64, n int) (out []rs274.Move) {
	r := rand.New(rand.NewPCG(seed, 7))
	at := geom.Vec{X: 20, Y: 15, Z: -2}
	out = append(out, rs274.Move{Line: 1, From: geom.Vec{Z: 5}, To: geom.Vec{X: at.X, Y: at.Y, Z: 5}, Turning: true})
	out = append(out, rs274.Move{Line: 2, From: out[0].To, To: at, Feed: 500, Turning: true})
	way := 0.0
	for i := range n {
		to := at
		switch i / 10 % 4 {
		case 0: // along a row, over hills
			to.X += 0.2 + r.Float64()
			to.Z += r.NormFloat64() * 0.5
		case 1: // along a row, back
			to.X -= 0.2 + r.Float64()
			to.Z += r.NormFloat64() * 0.2
		case 2: // round bends
			way += r.NormFloat64() * 0.4
			to = to.Add(geom.Vec{X: math.Cos(way), Y: math.Sin(way), Z: r.NormFloat64() * 0.3})
		default: // anywhere, and up and down on the spot
			if r.IntN(3) > 0 {
				to = to.Add(geom.Vec{X: r.NormFloat64() * 2, Y: r.NormFloat64() * 2})
			}
			to.Z += r.NormFloat64()
		}
		to.X, to.Y, to.Z = min(max(to.X, -2), 42), min(max(to.Y, -2), 32), min(max(to.Z, -7), -0.5)
		out = append(out, rs274.Move{Line: i + 3, From: at, To: to, Feed: 500, Turning: true})
		at = to
	}
	return out
}

// The columns are cut as low as the second simulator has it, for cutters of all shapes, at random places.
func TestSecondSimulator(t *testing.T) {
	cutters := map[string]stock.Cutter{
		"flat": endMill, "ball": ballNose,
		"bull":  {Shape: stock.Bull, Diameter: 6, CornerRadius: 1},
		"taper": {Shape: stock.Taper, Diameter: 6, CornerRadius: 1, TaperDeg: 8},
	}
	for name, c := range cutters {
		t.Run(name, func(t *testing.T) {
			worst := 0.0
			for seed := range uint64(6) {
				const x, y = 40, 30
				n := 201 * 151
				w := &Wanted{Blank: program.Blank{X: x, Y: y, Board: 10}, W: 201, H: 151, StepX: 0.2, StepY: 0.2,
					Low: make([]int16, n), High: make([]int16, n), Kind: make([]Kind, n), Whose: make([]int16, n)}
				p := &prover{ctx: context.Background(), want: w, machine: program.Machine{Controller: stock.UsualController()}, board: newBoard(w), out: &Proof{}, worst: map[seat]int{}, bitten: map[int]int32{}}
				p.now, p.figure, p.sweep, p.bite = &program.Program{Cutter: c}, &Figure{}, newSweep(c, w), 1<<30
				moves := scribble(seed, 80)
				box := geom.EmptyBox()
				if err := p.run(&rs274.Run{Moves: moves}, &box); err != nil {
					t.Fatal(err)
				}
				r := rand.New(rand.NewPCG(seed, 9))
				for range 150 {
					k := r.IntN(n)
					over := func(c stock.Cutter) float64 {
						return min(lowestOver(moves, c, float64(k%w.W)*0.2, float64(k/w.W)*0.2), 0) + 10
					}
					wide, want := c, over(c)
					if wide.Diameter += 1e-5; over(wide) < want-0.05 { // on the cutter's rim: cut or not as rounding has it
						continue
					}
					got := float64(p.board.top[k]) * unit
					worst = max(worst, math.Abs(got-want))
					if math.Abs(got-want) > 0.012 { // half a count, and what the many places miss of a steep move
						t.Fatalf("seed %d, column %d, %d: %.3f mm above the bed, the second simulator has %.3f", seed, k%w.W, k/w.W, got, want)
					}
				}
			}
			t.Logf("at most %.4f mm apart", worst)
		})
	}
}

// What the proof lets pass is right without any columns: no place of the part's surface lies deeper in the ball than is allowed,
// by the distance of the ball's middle from the place; and a program that is 0.1 mm too low has such places.
func TestBallAgainstSurface(t *testing.T) {
	l, _ := usual()
	deepest := func(moves []program.Move) (worst float64) {
		r := rand.New(rand.NewPCG(1, 2))
		ball := ballNose.Diameter / 2
		for range 300 {
			x, y := midX+r.NormFloat64()*8, midY+r.NormFloat64()*8
			_, high, in := lens(x, y)
			if !in || math.Hypot(x-midX, y-midY) > 18-2*step { // where it ends, between columns, they don't know
				continue
			}
			p := geom.Vec{X: x, Y: y, Z: high - boardThick - ball} // so that tips are middles
			for i := 1; i < len(moves); i++ {
				if moves[i].FeedMmMin == 0 {
					continue
				}
				a, b := moves[i-1].To, moves[i].To
				d := b.Sub(a)
				s := 0.0
				if q := d.Dot(d); q > 0 {
					s = min(max(p.Sub(a).Dot(d)/q, 0), 1)
				}
				worst = max(worst, ball-p.Sub(a.Add(d.Scale(s))).Len())
			}
		}
		return worst
	}
	moves := programs()[finishA].Moves
	if d := deepest(moves); d > l.Gouge {
		t.Errorf("the ball goes %.3f mm into the part, %.2f are allowed and the proof let it pass", d, l.Gouge)
	}
	shift(geom.Vec{Z: -0.1}, moves)
	if d := deepest(moves); d < 0.09 {
		t.Errorf("the ball 0.1 mm lower goes %.3f mm into the part: places are missed", d)
	}
}

// Turning the board over twice leaves it as it was, but for columns without wood; over once, what was cut on one side is under.
func TestTurnOver(t *testing.T) {
	for _, alongY := range []bool{false, true} {
		w := wanted()
		w.TurnAlongY = alongY
		b := newBoard(w)
		k := 30*w.W + 70
		b.top[k], b.top[k+5], b.floor[k+5] = 900, 400, 500
		high, kind := append([]int16(nil), b.high...), append([]Kind(nil), b.kind...)
		b.turn()
		at := w.onSide(geom.Vec2{X: 70 * step, Y: 30 * step}, panel.SideB)
		n := int(math.Round(at.Y/step))*w.W + int(math.Round(at.X/step))
		if b.floor[n] != b.full-900 || b.top[n] != b.full || b.side != panel.SideB {
			t.Errorf("what was cut on side A lies at %d to %d on side B", b.floor[n], b.top[n])
		}
		b.turn()
		if b.top[k] != 900 || b.floor[k] != 0 || b.top[k+5] > b.floor[k+5] {
			t.Errorf("turned twice: %d to %d", b.floor[k], b.top[k])
		}
		for i := range high {
			if b.high[i] != high[i] || b.kind[i] != kind[i] {
				t.Fatalf("turned twice column %d is another", i)
			}
		}
	}
}

// BenchmarkProof proves all programs of the small panel.
func BenchmarkProof(b *testing.B) {
	w := wanted()
	l, m := usual()
	all := written(b, programs(), m)
	for b.Loop() {
		prove(b, w, l, m, all)
	}
}
