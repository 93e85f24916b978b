package proof

import (
	"math"

	"grainstack/slicing/program"
	"grainstack/slicing/stock"
)

// left looks at what stays on parts once a side was roughed or finished: no more than the cutter must leave there. A column
// that has more is let pass where the cutter can't come lower without touching what stays, and where what stays is no further
// along the panel from wood as high than a path may be off: half a row, and the lattice that paths are laid on. Every few
// columns are looked at.
func (p *prover) left() {
	b, w := p.board, p.want
	c := p.now.Cutter
	r := p.reachable()
	aside := c.Stepover + p.limits.Lattice + r.step()
	allowed := Counts(p.limits.Residue + cusp(c))
	leave := int16(0)
	what := LeftFine
	if p.now.Step == program.Rough {
		leave, what = Counts(p.limits.Leave), LeftRough
		aside += p.limits.Leave
	}
	for j := 0; j < w.H; j += r.every {
		if p.ctx.Err() != nil {
			return
		}
		for i := 0; i < w.W; i += r.every {
			n := j*w.W + i
			if b.kind[n] != Part || b.top[n] <= b.floor[n] || b.top[n]-b.high[n] <= allowed+leave {
				continue
			}
			over := b.top[n] - r.lowest(i, j) - allowed
			if over > 0 {
				over = b.top[n] - r.around(i, j, aside) - allowed
			}
			if over > 0 {
				over = b.top[n] - r.surely(i, j, c.Stepover/2+p.limits.Lattice) - allowed
			}
			if over <= 0 {
				continue
			}
			size := float64(over+allowed+leave) * unit
			if size > p.figure.Left {
				p.figure.Left = size
			}
			p.tell(Fault{What: what, Part: int(b.whose[n]), At: p.place(n, int32(b.top[n])), Size: size, Bound: float64(allowed+leave) * unit})
		}
	}
}

// cusp is the height of the ridge between two rows on a flat, mm: h = R - √(R² - s²/4) for a ball.
func cusp(c stock.Cutter) float64 {
	h, _ := c.Profile(c.Stepover / 2)
	return h
}

// A reachable says how low the cutter can come over columns without touching what stays. Its tips are on every coarse-th node,
// looked for when they are asked for first.
type reachable struct {
	board  *board
	every  int     // columns between those that are looked at
	coarse int     // columns between tips
	tips   []int16 // unasked where not looked for yet
	tw, th int
	near   []offset // of columns from a tip, for where it may go
	over   []offset // of tips from a column, for how low it comes
	leave  int16
}

// An offset is a column nearby and how high above its tip the cutter's end is there.
type offset struct {
	i, j int
	rise int16
}

const unasked = math.MinInt16

func (p *prover) reachable() *reachable {
	w := p.want
	r := &reachable{board: p.board, every: 3, coarse: 2}
	wide := p.now.Cutter
	if p.now.Step == program.Rough {
		r.every, r.coarse = 5, 4
		wide, r.leave = wide.Grown(p.limits.Leave), Counts(p.limits.Leave)
	}
	if d := p.now.Cutter.Diameter; d > 7 { // about as many tips for a wider cutter
		r.coarse = int(math.Ceil(float64(r.coarse) * d / 7))
	}
	r.tw, r.th = (w.W-1)/r.coarse+1, (w.H-1)/r.coarse+1
	r.tips = make([]int16, r.tw*r.th)
	for i := range r.tips {
		r.tips[i] = unasked
	}
	r.near = offsets(wide, w)
	r.over = offsets(p.now.Cutter, w)
	return r
}

// step is how far the nearest tip may be from where it would have to be, mm.
func (r *reachable) step() float64 { return float64(r.coarse) * r.board.want.StepX }

// offsets are the columns under a cutter.
func offsets(c stock.Cutter, w *Wanted) (out []offset) {
	e := c.Edge()
	di, dj := int(c.Diameter/2/w.StepX), int(c.Diameter/2/w.StepY)
	for j := -dj; j <= dj; j++ {
		for i := -di; i <= di; i++ {
			if h, ok := e.At(math.Hypot(float64(i)*w.StepX, float64(j)*w.StepY)); ok {
				out = append(out, offset{i, j, Counts(h)})
			}
		}
	}
	return out
}

// tip is how low the tip may go over a node of its own lattice.
func (r *reachable) tip(x, y int) int16 {
	t := &r.tips[y*r.tw+x]
	if *t != unasked {
		return *t
	}
	b := r.board
	low := int16(0)
	for _, o := range r.near {
		i, j := x*r.coarse+o.i, y*r.coarse+o.j
		if i < 0 || j < 0 || i >= b.want.W || j >= b.want.H {
			continue
		}
		n := j*b.want.W + i
		z := b.high[n]
		switch b.kind[n] {
		case Free:
			continue
		case Frame, edge, bore, dowel:
			z = b.full
		case Pin: // holes begin at a planed face, and none but the program that drills them goes in
			z = b.full - Counts(b.want.Skim)
		}
		low = max(low, z-o.rise)
	}
	*t = low + r.leave
	return *t
}

// lowest is the lowest that the cutter's end comes over a column.
func (r *reachable) lowest(i, j int) int16 {
	low := int16(math.MaxInt16)
	for _, o := range r.over {
		x, y := i+o.i, j+o.j
		if x < 0 || y < 0 || x%r.coarse != 0 || y%r.coarse != 0 {
			continue
		}
		if x, y = x/r.coarse, y/r.coarse; x < r.tw && y < r.th {
			low = min(low, r.tip(x, y)+o.rise)
		}
	}
	return low
}

// surely is the lowest that the cutter's end comes over a column from places beside which it comes as low for a distance all round:
// rows and a lattice that far apart have a place there.
func (r *reachable) surely(i, j int, about float64) int16 {
	low := int16(math.MaxInt16)
	far := int(math.Ceil(about / r.step()))
	for _, o := range r.over {
		x, y := i+o.i, j+o.j
		if x < 0 || y < 0 || x%r.coarse != 0 || y%r.coarse != 0 {
			continue
		}
		x, y = x/r.coarse, y/r.coarse
		high := int16(0)
		for v := max(y-far, 0); v <= min(y+far, r.th-1); v++ {
			for u := max(x-far, 0); u <= min(x+far, r.tw-1); u++ {
				high = max(high, r.tip(u, v))
			}
		}
		low = min(low, high+o.rise)
	}
	return low
}

// around is the highest of that in columns no further away than a distance.
func (r *reachable) around(i, j int, aside float64) int16 {
	w := r.board.want
	high := r.lowest(i, j)
	for _, share := range [2]float64{0.5, 1} {
		for k := range 8 {
			sin, cos := math.Sincos(float64(k) * math.Pi / 4)
			x, y := i+int(math.Round(aside*share*cos/w.StepX)), j+int(math.Round(aside*share*sin/w.StepY))
			if x >= 0 && y >= 0 && x < w.W && y < w.H {
				high = max(high, r.lowest(x, y))
			}
		}
	}
	return high
}
