package files

import (
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"grainstack/assets/stocktest"
	"grainstack/slicing/export"
	"grainstack/slicing/geom"
	"grainstack/slicing/job"
	"grainstack/slicing/mesh"
	"grainstack/slicing/panel"
	"grainstack/slicing/plane"
	"grainstack/slicing/program"
	"grainstack/slicing/proof"
	"grainstack/slicing/solidtest"
	"grainstack/slicing/stock"
)

// The rule by which the board that programs leave and the solid of a panel are compared: on the columns of the solid, at which its
// faces are exact, where as far as awayFrom all columns have wood, all or none of them are of a tab, and no wall stands between two
// of them: a slope of more than steepest, or a step of more than ledge. Their difference is taken square to that slope.
//
// Where the cutter can't come down to the solid, or only by less than reached, the board is held against how low it comes: reckoned
// on these columns, with upright walls two columns nearer, since between which two a wall stands they don't tell, and to half a row
// aside. Beyond the carve boundary no part of a cutter comes: the frame keeps its raw faces.
const (
	awayFrom = 1.0  // mm from upright walls, where a hair aside is millimetres of height
	steepest = 65   // degrees
	ledge    = 0.1  // mm
	agreed   = 0.1  // mm
	reached  = 0.02 // mm
)

// lattice has heights at the columns of a panel, x fastest.
type lattice struct {
	w, h int
	step float64
	tabs []bool // the column is of a tab, whose sides are upright
}

// bridged marks the columns of tabs.
func (l *lattice) bridged(tabs []export.PanelTab) {
	l.tabs = make([]bool, l.w*l.h)
	for n := range l.tabs {
		at := geom.Vec2{X: float64(n%l.w) * l.step, Y: float64(n/l.w) * l.step}
		l.tabs[n] = slices.ContainsFunc(tabs, func(t export.PanelTab) bool {
			d := at.Sub(t.At)
			along, across := d.Dot(t.Way), d.X*t.Way.Y-d.Y*t.Way.X
			return along >= -t.Root && along <= t.Length && math.Abs(across) <= t.Width/2
		})
	}
}

// heights are where a solid is lowest and highest over columns; high < low where it is not.
func (l lattice) heights(m *mesh.Mesh) (low, high []float64) {
	low, high = make([]float64, l.w*l.h), make([]float64, l.w*l.h)
	for i := range low {
		low[i], high[i] = math.Inf(1), math.Inf(-1)
	}
	for i := range m.Triangles {
		a, b, c := m.Corners(i)
		area := (b.X-a.X)*(c.Y-a.Y) - (b.Y-a.Y)*(c.X-a.X)
		if area == 0 {
			continue
		}
		for y := int(math.Ceil(min(a.Y, b.Y, c.Y)/l.step - 1e-6)); y <= int(max(a.Y, b.Y, c.Y)/l.step+1e-6); y++ {
			for x := int(math.Ceil(min(a.X, b.X, c.X)/l.step - 1e-6)); x <= int(max(a.X, b.X, c.X)/l.step+1e-6); x++ {
				px, py := float64(x)*l.step, float64(y)*l.step
				u := ((b.X-px)*(c.Y-py) - (b.Y-py)*(c.X-px)) / area
				v := ((c.X-px)*(a.Y-py) - (c.Y-py)*(a.X-px)) / area
				if u < -1e-6 || v < -1e-6 || u+v > 1+1e-6 || x < 0 || y < 0 || x >= l.w || y >= l.h {
					continue
				}
				n, z := y*l.w+x, u*a.Z+v*b.Z+(1-u-v)*c.Z
				low[n], high[n] = min(low[n], z), max(high[n], z)
			}
		}
	}
	return low, high
}

// walled are heights with those beside upright walls as high as these.
func (l lattice) walled(z []float64) []float64 {
	out := slices.Clone(z)
	for n := range z {
		for j := max(n/l.w-1, 0); j <= min(n/l.w+1, l.h-1); j++ {
			for i := max(n%l.w-1, 0); i <= min(n%l.w+1, l.w-1); i++ {
				if k := j*l.w + i; z[k] > z[n] && l.upright(z, n, k) {
					out[n] = max(out[n], z[k])
				}
			}
		}
	}
	return out
}

// upright reports whether a wall stands between two columns beside one another: where it is steeper than steepest there, or as good as
// level on both sides of a step.
func (l lattice) upright(z []float64, n, k int) bool {
	step := math.Abs(z[k] - z[n])
	if !(step <= l.step*math.Tan(steepest*math.Pi/180)) {
		return true
	}
	before, after := 2*n-k, 2*k-n
	if min(before, after) < 0 || max(before, after) >= len(z) {
		return false
	}
	return step > ledge+max(math.Abs(z[n]-z[before]), math.Abs(z[after]-z[k]))
}

// slope is how steep heights are at a column, as the cosine of that; ok is false where the rule leaves it out.
func (l lattice) slope(z []float64, n int) (cos float64, ok bool) {
	x, y, r := n%l.w, n/l.w, int(awayFrom/l.step+1e-9)
	if x < r || y < r || x >= l.w-r || y >= l.h-r {
		return 0, false
	}
	for j := y - r; j <= y+r; j++ {
		for i := x - r; i <= x+r; i++ {
			k := j*l.w + i
			if math.IsInf(z[k], 0) || l.tabs[k] != l.tabs[n] || i < x+r && l.upright(z, k, k+1) || j < y+r && l.upright(z, k, k+l.w) {
				return 0, false
			}
		}
	}
	return l.cosine(z, n), true
}

// cosine is that of how steep heights are at a column that isn't at the panel's edge.
func (l lattice) cosine(z []float64, n int) float64 {
	dx, dy := (z[n+1]-z[n-1])/(2*l.step), (z[n+l.w]-z[n-l.w])/(2*l.step)
	return 1 / math.Sqrt(1+dx*dx+dy*dy)
}

// lowest is how low a cutter's end comes over each column without going below any height. The tip's places are the columns.
func (l lattice) lowest(z []float64, c stock.Cutter) []float64 {
	edge := c.Edge()
	type off struct {
		i, j int
		rise float64
	}
	var under []off
	r := int(c.Diameter / 2 / l.step)
	for j := -r; j <= r; j++ {
		for i := -r; i <= r; i++ {
			if rise, ok := edge.At(math.Hypot(float64(i), float64(j)) * l.step); ok {
				under = append(under, off{i, j, rise})
			}
		}
	}
	pass := func(from []float64, pick func(now, z, rise float64) float64, first float64) []float64 {
		out := make([]float64, len(from))
		for n := range out {
			out[n] = first
			for _, o := range under {
				if x, y := n%l.w+o.i, n/l.w+o.j; x >= 0 && y >= 0 && x < l.w && y < l.h {
					out[n] = pick(out[n], from[y*l.w+x], o.rise)
				}
			}
		}
		return out
	}
	tips := pass(z, func(now, z, rise float64) float64 { return max(now, z-rise) }, math.Inf(-1))
	return pass(tips, func(now, tip, rise float64) float64 { return min(now, tip+rise) }, math.Inf(1))
}

// An agreement is what came of comparing one side.
type agreement struct {
	seen, unreached int     // columns that were compared, of which the cutter comes down to none
	deeper, higher  float64 // the most by which the board lies below and above the solid, mm
	off             int     // columns that are further off than agreed
	at              [3]float64
}

// wall is a height that no cutter comes over.
const wall = 1e3

// compare compares a board's heights with a solid's, both as the side lies up, within the carve boundary and on the raw frame.
func (l lattice) compare(board, solid []float64, within *plane.Mask, c stock.Cutter) (a agreement) {
	clear := slices.Clone(solid)
	for n := range clear {
		if !within.Has(n%l.w, n/l.w) {
			clear[n] = wall
		}
	}
	reach := l.lowest(l.walled(l.walled(clear)), c)
	for n, z := range solid {
		cos, ok := l.slope(solid, n)
		if !ok {
			continue
		}
		a.seen++
		d := (board[n] - z) * cos
		if d > agreed && within.Has(n%l.w, n/l.w) && (reach[n]-z)*cos > reached {
			a.unreached++
			cos = min(cos, l.cosine(reach, n))
			d = max((board[n]-reach[n])*cos-c.Stepover/2*math.Sqrt(1-cos*cos), 0)
		}
		if math.Abs(d) > agreed {
			a.off++
		}
		if d > a.higher || -d > a.deeper {
			a.at = [3]float64{float64(n%l.w) * l.step, float64(n/l.w) * l.step, z}
		}
		a.higher, a.deeper = max(a.higher, d), max(a.deeper, -d)
	}
	return a
}

// agree makes the programs of panel i and compares what they leave of its board with both sides of its solid.
func agree(t *testing.T, w Work, i int) {
	t.Helper()
	ctx := t.Context()
	b := newBench(ctx, w)
	all, err := b.programs.panels[i]()
	if err != nil {
		t.Error(err)
		return
	}
	batch := b.programs.batch(i, all)
	const step = 0.5 // of the solid's columns
	c, err := proof.NewCourse(ctx, batch, step, func(float64) {})
	if err != nil {
		t.Fatal(err)
	}
	var left proof.Relief
	if err := c.Wood(ctx, c.At(math.Inf(1)), &left); err != nil {
		t.Fatal(err)
	}
	plan, err := b.panelPlan(i)
	if err != nil {
		t.Fatal(err)
	}
	model, err := export.Wanted(ctx, plan, batch.Skim, w.Workshop.Register)
	if err != nil {
		t.Fatal(err)
	}
	s, err := b.sidesA[i]()
	if err != nil {
		t.Fatal(err)
	}
	if left.Side != panel.SideA || math.Abs(left.StepX-step) > 1e-9 || math.Abs(left.StepY-step) > 1e-9 {
		t.Fatalf("the board lies with side %v up, on columns of %g by %g mm", left.Side, left.StepX, left.StepY)
	}
	l := lattice{w: left.W, h: left.H, step: step}
	l.bridged(plan.Tabs)
	low, high := l.heights(s)
	top, bottom := make([]float64, len(low)), make([]float64, len(low))
	var parts, boundary plane.Mask
	parts.Reset(l.w, l.h)
	kind := func(n int) proof.Kind {
		x, y := float64(n%l.w)*step, float64(n/l.w)*step
		return model.Kind[int(y/model.StepY+0.5)*model.W+int(x/model.StepX+0.5)]
	}
	for n := range low {
		if kind(n) == proof.Part {
			parts.Set(n%l.w, n/l.w)
		}
	}
	boundary.Dilate(&parts, plan.Gap/step, nil)
	thick := w.Figures.Thickness
	for n := range top {
		if left.Top[n] <= left.Floor[n] {
			top[n], bottom[n] = math.Inf(-1), math.Inf(1)
		} else {
			top[n], bottom[n] = float64(left.Top[n])*proof.Count-batch.Skim, float64(left.Floor[n])*proof.Count-batch.Skim
		}
		if !boundary.Has(n%l.w, n/l.w) {
			low[n], high[n] = -batch.Skim, thick+batch.Skim
			if kind(n) != proof.Frame {
				top[n], bottom[n] = high[n], low[n]
			}
		}
		low[n], bottom[n] = thick-low[n], thick-bottom[n]
	}
	finish := w.Workshop.For.Setup(w.Catalogue).Finish
	for side, a := range map[panel.Face]agreement{panel.SideA: l.compare(top, high, &boundary, finish), panel.SideB: l.compare(bottom, low, &boundary, finish)} {
		t.Logf("panel %d, side %v: %d columns, %.3f mm deeper, %.3f mm higher, %d not reached", batch.Number, side, a.seen, a.deeper, a.higher, a.unreached)
		if a.off > 0 || a.seen < 1000 {
			t.Errorf("panel %d, side %v: %d of %d columns are off by more than %g mm, up to %.3f mm deeper and %.3f mm higher, at %v", batch.Number, side, a.off, a.seen, agreed, a.deeper, a.higher, a.at)
		}
	}
}

// TestBoardsAgree: what the programs leave of a panel's board and the solids of its sides are the same wood, but where the cutter
// can't come down to it.
func TestBoardsAgree(t *testing.T) {
	for name, m := range map[string]*mesh.Mesh{"bumpy": solidtest.Bumpy(45, 20000), "upright": solidtest.Box(80, 50, 30)} {
		t.Run(name, func(t *testing.T) {
			w := work(t, m, job.Places{}, func(s *job.Settings) {
				solid(s)
				s.PanelX, s.PanelY = 200, 160
			})
			w.Machine = program.Machine{Controller: stock.UsualController()}
			agree(t, w, 0)
		})
	}
}

// TestBoardsOfTheDemoAgree is that for the last panel of the demo.
func TestBoardsOfTheDemoAgree(t *testing.T) {
	if testing.Short() {
		t.Skip("the programs of a whole panel take a minute")
	}
	w := work(t, job.Demo().Mesh, job.Places{}, nil)
	w.Machine = program.Machine{Controller: stock.UsualController()}
	agree(t, w, len(w.Workshop.Layout.Panels)-1)
}

// TestBoardsOfTheFieldAgree is that for the last panel of pieces from outside, from the folder that GRAINSTACK_FIELD_SET names: those whose names
// GRAINSTACK_FIELD_PIECES lists, or some.
func TestBoardsOfTheFieldAgree(t *testing.T) {
	set := os.Getenv("GRAINSTACK_FIELD_SET")
	if set == "" {
		t.Skip("GRAINSTACK_FIELD_SET doesn't name a folder of pieces")
	}
	names := os.Getenv("GRAINSTACK_FIELD_PIECES")
	if names == "" {
		names = "fandisk.off,rotor.off,dino.off,bunny.obj"
	}
	for _, name := range strings.Split(names, ",") {
		t.Run(name, func(t *testing.T) {
			w := fieldWork(t, filepath.Join(set, name), 70)
			agree(t, w, len(w.Workshop.Layout.Panels)-1)
		})
	}
}

// fieldWork is the work of a piece from outside, so high, on small panels.
func fieldWork(t *testing.T, file string, height float64) Work {
	t.Helper()
	p, err := job.OpenPiece(t.Context(), file)
	if err != nil {
		t.Fatal(err)
	}
	s := job.Default(stocktest.Catalogue(t))
	if p, err = p.Mend(t.Context(), s, func(string, float64) {}); err != nil {
		t.Fatal(err)
	}
	w := work(t, p.Mesh, job.Places{}, func(s *job.Settings) {
		solid(s)
		s.Scale *= height / p.Mesh.Box().Size().Z
		s.PanelX, s.PanelY = 220, 220
	})
	w.Machine = program.Machine{Controller: stock.UsualController()}
	return w
}
