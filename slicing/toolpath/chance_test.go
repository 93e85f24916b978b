package toolpath_test

import (
	"flag"
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"grainstack/slicing/boxtree"
	"grainstack/slicing/geom"
	"grainstack/slicing/hours"
	"grainstack/slicing/mesh"
	"grainstack/slicing/panel"
	"grainstack/slicing/program"
	"grainstack/slicing/proof"
	"grainstack/slicing/solidtest"
	"grainstack/slicing/stock"
	"grainstack/slicing/toolpath"
	"grainstack/slicing/unit"
)

var (
	jobs  = flag.Int("jobs", 12, "random jobs whose programs are made and proven")
	first = flag.Uint64("first", 0, "the first of them")
)

// A chance is a job by chance.
type chance struct {
	panel   toolpath.Panel
	setup   hours.Setup
	machine program.Machine
}

// chanceOf is the job of a seed: odd cutters, boards, skims, tabs, pins, ways to turn over, options of the machine, clamps and hollows.
func chanceOf(t testing.TB, seed uint64) (c chance) {
	rnd := rand.New(rand.NewPCG(seed, 11))
	between := func(low, high float64) float64 { return low + (high-low)*rnd.Float64() }
	thick := between(8, 24)
	high := func(m *mesh.Mesh) *mesh.Mesh {
		size := m.Box().Size()
		k := between(25, 80) / max(size.X, size.Y)
		return solidtest.Stretch(m, k*between(0.7, 1), k*between(0.7, 1), thick/size.Z)
	}
	solids := []func() *mesh.Mesh{
		func() *mesh.Mesh { return high(solidtest.Bumpy(30, 8000)) },
		func() *mesh.Mesh { return high(solidtest.Frustum(30, between(8, 30), 16, 60)) },
		func() *mesh.Mesh { return high(solidtest.Torus(22, between(4, 9), 90, 40)) },
		func() *mesh.Mesh {
			return solidtest.Turned(high(solidtest.Box(50, between(15, 50), 16)), geom.TurnXYZ(0, 0, between(0, 90)))
		},
		func() *mesh.Mesh { return high(solidtest.Ellipsoid(40, between(20, 40), 20, 6000)) },
		func() *mesh.Mesh {
			return high(solidtest.Turned(solidtest.Box(between(20, 50), 25, 30), geom.TurnXYZ(between(0, 60), between(0, 60), 0)))
		},
	}
	c.panel = laid(t, solids[rnd.IntN(len(solids))]())
	p := &c.panel
	p.Thickness, p.Skim = thick, between(0, 1.5)
	axis := []panel.Axis{panel.AlongX, panel.AlongY}[rnd.IntN(2)]
	p.Register, _ = panel.Registration(200, 160, axis, []panel.Seat{panel.OnCentreLine, panel.AtOneEnd}[rnd.IntN(2)], between(5, 10), between(5, 12), 14)
	for i := range p.Tabs {
		p.Tabs[i].Width = between(5, 12)
		p.Tabs[i].Bottom = thick * between(0.1, 0.4)
		p.Tabs[i].Top = thick * between(0.55, 0.9)
		p.Tabs[i].Length = 40 // into the frame, however wide the gap
	}
	p.Holes = p.Holes[:rnd.IntN(3)]
	for i := range p.Holes {
		p.Holes[i].At = geom.Vec2{X: 100, Y: 80}
		p.Holes[i].Diameter, p.Holes[i].Depth = between(3, 10), thick*between(0.2, 0.6)
	}
	c.setup, _ = setup(t)
	s := &c.setup
	shape := func(c *stock.Cutter, shapes ...stock.Shape) {
		c.Shape = shapes[rnd.IntN(len(shapes))]
		c.CornerRadius, c.TaperDeg = 0, 0
		switch c.Shape {
		case stock.Bull:
			c.CornerRadius = c.Diameter * between(0.1, 0.4)
		case stock.Taper:
			c.CornerRadius, c.TaperDeg = between(0.5, 1.2), between(3, 10)
		}
		c.CutLength, c.Reach, c.Shank = 30, 45, c.Diameter
	}
	s.Rough.Diameter, s.Rough.Stepdown = between(3, 10), between(1, 4)
	s.Rough.Stepover = s.Rough.Diameter * between(0.2, 0.6)
	shape(&s.Rough, stock.Flat, stock.Flat, stock.Bull, stock.Ball)
	s.Finish.Diameter = between(3, 8)
	s.Finish.Stepover = s.Finish.Diameter * between(0.05, 0.15)
	shape(&s.Finish, stock.Ball, stock.Ball, stock.Bull, stock.Taper)
	s.Leave, s.Clearance, s.AcrossGrain = between(0.2, 0.8), between(0.5, 4), rnd.IntN(2) == 0
	c.machine = program.Machine{Controller: stock.UsualController()}
	c.machine.Zero, c.machine.Height = stock.Zero(rnd.IntN(3)), stock.Height(rnd.IntN(2))
	c.machine.Spindle, c.machine.Pause = rnd.IntN(2) == 0, rnd.IntN(2) == 0
	c.machine.Units = []unit.System{unit.Metric, unit.Inch}[rnd.IntN(2)]
	c.keepToWood()
	more := rand.New(rand.NewPCG(seed, 13)) // a source of its own, so that what is drawn above stays what it is
	c.addHold(more)
	c.addHollow(t, more)
	return c
}

func (c chance) String() string {
	s, p := c.setup, c.panel
	return fmt.Sprintf("board %.1f skim %.2f; rough %v %.2f down %.2f over %.2f leave %.2f; finish %v %.2f over %.2f; clearance %.2f; dowels %.1f; %d holes; %d facets; nut %.1f; %d clamps; %d cores; tabs to %.2f",
		p.Thickness, p.Skim, s.Rough.Shape, s.Rough.Diameter, s.Rough.Stepdown, s.Rough.Stepover, s.Leave, s.Finish.Shape, s.Finish.Diameter, s.Finish.Stepover,
		s.Clearance, p.Register.Dowels[0].Diameter, len(p.Holes), len(p.Parts[0].Solid.Triangles),
		p.Nut, len(p.Clamps), len(p.Cores), p.TabLeft)
}

// TestByChance: the programs of jobs by chance hold or are refused with a sentence, and what the proof lets pass cuts no deeper into
// a part by its facets than it says. With -jobs N more are tried. Those that are refused may be no more than a tenth, apart from those
// where nothing but a clamp is in the way that lies nearer to the part than a layout allows.
func TestByChance(t *testing.T) {
	refused, crowded := 0, 0
	seeds := []uint64{56} // a rapid went through wood that the columns of neither side show
	for seed := *first; seed < *first+uint64(*jobs); seed++ {
		seeds = append(seeds, seed)
	}
	for _, seed := range seeds {
		c := chanceOf(t, seed)
		b, err := toolpath.NewBench(t.Context(), &c.panel, c.setup)
		if err != nil {
			t.Errorf("job %d (%v): %v", seed, c, err)
			continue
		}
		all, err := b.Programs(t.Context(), corner)
		if err != nil {
			t.Errorf("job %d (%v): %v", seed, c, err)
			continue
		}
		var out *proof.Proof
		var written []proof.Written
		for round := 0; ; round++ {
			out, written = provenOn(t, c.panel, c.setup, all, c.machine)
			if round == 4 || !slices.ContainsFunc(out.Faults, func(f proof.Fault) bool { return f.What == proof.TooDeep }) {
				break
			}
			ease(t, all, out, written)
		}
		if !out.Holds() {
			if c.crowded() && onlyClamps(out.Faults) {
				crowded++
				t.Logf("job %d (%v) has a clamp too near to the part: %v and %d more", seed, c, out.Faults[0], len(out.Faults)-1)
				continue
			}
			refused++
			t.Logf("job %d (%v) is refused: %v and %d more", seed, c, out.Faults[0], len(out.Faults)-1)
			continue
		}
		part := standing(c.panel)
		tree, err := boxtree.New(t.Context(), part)
		if err != nil {
			t.Fatal(err)
		}
		rnd := rand.New(rand.NewPCG(seed, 12))
		for _, one := range all {
			if one.Step != program.Rough && one.Step != program.Finish || one.Cutter.Shape == stock.Taper || one.Cutter.Shape == stock.Bull {
				continue
			}
			if worst, at := deepest(c.panel, one, part, tree, rnd); worst > 0.05 {
				t.Errorf("job %d (%v): %s was let pass and cuts %.3f mm into the part at %v", seed, c, one.Name, worst, at)
			}
		}
	}
	t.Logf("%d of %d refused, and %d for a clamp too near to the part", refused, len(seeds), crowded)
	if refused*10 > len(seeds)-crowded {
		t.Errorf("%d of %d jobs are refused", refused, len(seeds)-crowded)
	}
}
