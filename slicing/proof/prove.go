package proof

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"math"
	"slices"

	"grainstack/slicing/geom"
	"grainstack/slicing/panel"
	"grainstack/slicing/program"
	"grainstack/slicing/rs274"
)

// A Written is a program with the files that it was written to, in the order in which they are run. Of the program its moves
// are not looked at.
type Written struct {
	For   *program.Program
	Files []program.File
}

// A Figure is what one program does.
type Figure struct {
	Name        string
	Lines       int
	Moves       int
	RapidMM     float64
	CutMM       float64
	Minutes     float64 // at the feeds told, without acceleration; rapids count for nothing
	Lowest      float64 // of the tip, from the face that lies up, negative below it
	Highest     float64
	Travel      geom.Vec // from the furthest to the furthest
	Deepest     float64  // taken at once
	IntoPart    float64  // the deepest that a part or a tab is cut into, 0 for not at all
	Left        float64  // the most that stays on a part where it stays more than it ought to
	RemovedCm3  float64
	Understated bool // it was not looked at to its end
}

// A Proof is what came of programs for a panel.
type Proof struct {
	Figures    []Figure // of each program
	Faults     []Fault  // none where all holds; of each program the worst place of each kind
	Unheld     []int    // parts, from 1, that have no tab and so hang on nothing in the end: they have to be screwed down
	Loose      int      // pieces of waste that come free
	Bites      []Bite   // moves that take more at once than they may, in the order in which they are run
	Splintered float64  // of parts that are held, what comes off them, mm² seen from above
}

// A Bite is a move that takes too much at once.
type Bite struct {
	Program int // its number among those that were proven, from 0
	File    int // of the program, from 0
	Line    int // from 1
	Size    float64
}

// Holds reports whether nothing was found.
func (p *Proof) Holds() bool { return len(p.Faults) == 0 }

// Prove carries out programs, in their order, on a board. The error is of the questions alone; what programs do wrong is told
// by faults. It looks at ctx every few hundred moves.
func Prove(ctx context.Context, w *Wanted, l Limits, m program.Machine, programs []Written) (*Proof, error) {
	if err := w.check(); err != nil {
		return nil, err
	}
	if len(programs) == 0 {
		return nil, errors.New("there are no programs to prove")
	}
	p := &prover{ctx: ctx, want: w, limits: l, machine: m, board: newBoard(w), out: &Proof{}, worst: map[seat]int{}, bitten: map[int]int32{}}
	p.order(programs)
	for i := range programs {
		if err := p.program(&programs[i]); err != nil {
			return nil, err
		}
	}
	p.hold()
	slices.SortStableFunc(p.out.Faults, func(a, b Fault) int { return cmp.Compare(a.What, b.What) })
	return p.out, ctx.Err()
}

// A seat is what one fault is told for.
type seat struct {
	file string
	what What
}

// A prover goes through the programs of a panel.
type prover struct {
	ctx     context.Context
	want    *Wanted
	limits  Limits
	machine program.Machine
	board   *board
	out     *Proof
	worst   map[seat]int

	now       *program.Program
	file      string
	number    int // of the file among its program's
	line      int
	figure    *Figure
	sweep     sweep
	bite      int32
	suspect   bool          // the move cuts below where it may
	bitten    map[int]int32 // columns of which the move takes too much at once, with where they ended before
	measured  int           // such moves of the file
	registers bool          // the program drills the holes of the register dowels
}

// tell notes a fault; of a program and kind the worst stays.
func (p *prover) tell(f Fault) {
	f.File, f.Side = p.file, p.board.side
	if f.Line == 0 {
		f.Line = p.line
	}
	k := seat{f.File, f.What}
	i, seen := p.worst[k]
	if !seen {
		p.worst[k] = len(p.out.Faults)
		p.out.Faults = append(p.out.Faults, f)
		return
	}
	if f.Size > p.out.Faults[i].Size {
		p.out.Faults[i] = f
	}
}

// order says what of the work is missing or comes too early.
func (p *prover) order(programs []Written) {
	last := -1
	place := func(w *program.Program) int {
		switch {
		case w.Step == program.Holes && last >= 0: // of pins, wherever the cutter for them is at hand
			return last
		case w.Step == program.Holes:
			return 0
		case w.Step == program.Rough && w.Side == panel.SideA:
			return 1
		case w.Step == program.Rough:
			return 2
		case w.Step == program.Finish && w.Side == panel.SideB:
			return 3
		case w.Step == program.Finish:
			return 4
		}
		return 5
	}
	var seen [6]bool
	for i := range programs {
		w := programs[i].For
		p.file = w.Name
		n := place(w)
		if n < last {
			p.tell(Fault{What: NoStep, Text: "it comes after work that it has to come before"})
		}
		last, seen[n] = n, true
	}
	for n, name := range [...]string{1: "rough pass of side A", 2: "rough pass of side B", 3: "finish of side B", 4: "finish of side A"} {
		if n > 0 && !seen[n] {
			p.file = programs[0].For.Name
			p.tell(Fault{What: NoStep, Text: fmt.Sprintf("with these programs the %s is missing", name)})
		}
	}
	if !seen[0] { // then the holes are drilled by hand beforehand
		p.board.stand()
	}
}

// program carries out one program.
func (p *prover) program(w *Written) error {
	p.now, p.file, p.line = w.For, w.For.Name, 0
	if p.board.side != w.For.Side {
		p.board.turn()
	}
	if w.For.Step == program.Free {
		p.board.left = Counts(p.limits.TabLeft)
		p.board.bounds()
	}
	p.out.Figures = append(p.out.Figures, Figure{Name: w.For.Name, Lowest: math.Inf(1), Highest: math.Inf(-1)})
	p.figure = &p.out.Figures[len(p.out.Figures)-1]
	p.registers = w.For.Step == program.Holes && len(p.out.Figures) == 1
	p.sweep = newSweep(w.For.Cutter, p.want)
	p.bite = int32(math.Round(p.most() / unit))
	box := geom.EmptyBox()
	for i, f := range w.Files {
		p.file, p.number, p.measured = f.Name, i, 0
		if want := p.machine.FileName(w.For.Name, i+1); f.Name != want {
			p.tell(Fault{What: NoStep, Text: "it stands where " + want + " ought to: a part is missing or out of order"})
		}
		if next := program.GoesOn(f.Text); next != "" && i == len(w.Files)-1 {
			p.tell(Fault{What: NoStep, Text: next + ", in which it goes on, is missing"})
		}
		run, err := rs274.Read(f.Text, geom.Vec{}, p.machine.Own()...)
		if err != nil {
			fault := Fault{What: Unread, Text: err.Error()}
			var at *rs274.LineError
			if errors.As(err, &at) {
				fault.Line, fault.Text = at.Line, at.Fault
			}
			p.tell(fault)
			p.figure.Understated = true
			continue
		}
		p.figure.Lines += run.Lines
		p.figure.Moves += len(run.Moves)
		for _, turns := range [2]float64{run.RPM, min(run.RPM, run.Slowest)} {
			if p.machine.Spindle && w.For.RPM > 0 && math.Abs(turns-w.For.RPM) > 1 {
				p.tell(Fault{What: WrongSpeed, Size: turns, Bound: w.For.RPM})
				break
			}
		}
		if err := p.run(run, &box); err != nil {
			return err
		}
	}
	p.line = 0
	p.travel(box)
	switch {
	case p.registers:
		p.holes()
	case w.For.Step == program.Rough || w.For.Step == program.Finish:
		p.left()
	}
	return p.ctx.Err()
}

// most is how much wood the program may take at once.
func (p *prover) most() float64 {
	c := p.now.Cutter
	switch p.now.Step {
	case program.Finish:
		if p.limits.FinishCut > 0 {
			return p.limits.FinishCut + biteFit
		}
		if c.CutLength > 0 {
			return c.CutLength
		}
		return p.want.Blank.Board
	case program.Holes:
		return p.want.Blank.Board // a hole is sunk by pecks or turns, which lift the cutter between
	}
	return c.Stepdown + biteFit
}

// biteFit is how much deeper than the stepdown a cut may be: what one leaves uneven the next one takes, mm.
const biteFit = 0.1

// run carries out a file.
func (p *prover) run(r *rs274.Run, box *geom.Box) error {
	o := p.machine.Origin(p.want.Blank, p.want.dowels(p.board.side))
	o.Z += p.want.Blank.Board // to the bed
	touches := p.touches()
	joined := false
	for i := range r.Moves {
		if i&255 == 0 && p.ctx.Err() != nil {
			return p.ctx.Err()
		}
		m := &r.Moves[i]
		p.line = m.Line
		from, to := m.From.Add(o), m.To.Add(o)
		*box = box.Add(from).Add(to)
		p.account(m, from, to)
		p.look(m, from, to)
		if min(from.Z, to.Z) >= p.want.Blank.Board {
			joined = false
			continue
		}
		if m.Feed == 0 {
			s := p.slimmer(graze)
			if upright := s.along(from, to); !upright || to.Z < from.Z {
				s.visit(stretch{whole: true, beyond: 2 * s.radius}, p.crosses)
			}
			joined = false
			continue
		}
		upright := p.sweep.along(from, to)
		how := stretch{whole: !joined, beyond: 2 * p.sweep.radius}
		if joined = !upright; joined && i+1 < len(r.Moves) && r.Moves[i+1].Feed > 0 {
			if next := p.sweep; !next.along(r.Moves[i+1].From.Add(o), r.Moves[i+1].To.Add(o)) && min(to.Z, next.a.Z+next.slope*next.length) < p.want.Blank.Board {
				how.beyond = p.sweep.joint(&next)
			}
		}
		p.suspect = false
		p.sweep.visit(how, touches)
		if len(p.bitten) > 0 {
			p.bites(from, to, how, touches)
		}
		if p.suspect {
			p.spoils(from, to)
		}
	}
	return nil
}

// account adds a move to the program's figures.
func (p *prover) account(m *rs274.Move, from, to geom.Vec) {
	f, d := p.figure, to.Sub(from).Len()
	if m.Feed > 0 {
		f.CutMM += d
		f.Minutes += d / m.Feed
	} else {
		f.RapidMM += d
	}
	z := to.Z - p.want.Blank.Board
	f.Lowest, f.Highest = min(f.Lowest, z), max(f.Highest, z)
}
