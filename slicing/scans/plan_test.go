package scans

import (
	"bufio"
	"context"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"grainstack/slicing/chalk"
	"grainstack/slicing/cloud"
	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
	"grainstack/slicing/register"
	"grainstack/slicing/solidtest"
)

// written are the files of sittings, as coloured PLY: each of one colour.
func written(t *testing.T, sittings []solidtest.Sitting) (files []string) {
	t.Helper()
	dir := t.TempDir()
	for i, s := range sittings {
		path := filepath.Join(dir, fmt.Sprintf("scan-%c.ply", 'a'+i))
		f, err := os.Create(path)
		if err != nil {
			t.Fatal(err)
		}
		w := bufio.NewWriter(f)
		fmt.Fprintf(w, "ply\nformat ascii 1.0\nelement vertex %d\nproperty float x\nproperty float y\nproperty float z\nproperty uchar red\nproperty uchar green\nproperty uchar blue\nelement face %d\nproperty list uchar int vertex_indices\nend_header\n", len(s.Mesh.Points), len(s.Mesh.Triangles))
		for _, p := range s.Mesh.Points {
			fmt.Fprintln(w, p[0], p[1], p[2], 50*(i+1), 0, 0)
		}
		for _, f := range s.Mesh.Triangles {
			fmt.Fprintln(w, 3, f[0], f[1], f[2])
		}
		if w.Flush() != nil || f.Close() != nil {
			t.Fatal("not written")
		}
		files = append(files, path)
	}
	return files
}

// TestPlanMakesAPiece: scans are found and joined; carried out again where they were found to lie the piece is the very same; a scan
// more, one less, other seams and a cut come from there.
func TestPlanMakesAPiece(t *testing.T) {
	ctx := context.Background()
	m := solidtest.Bumpy(60, 8_000)
	sittings := solidtest.Sittings(m, 3, 0.0005, 0, 2)
	files := written(t, sittings)
	two, err := Make(ctx, NewPlan(files[:2]...), nil)
	if err != nil {
		t.Fatal(err)
	}
	three, err := Make(ctx, two.With(files[2]), nil)
	if err != nil {
		t.Fatal(err)
	}
	unit := sittings[0].At.Scale
	if v := three.Piece.Mesh.Volume() * unit * unit * unit; math.Abs(v/m.Volume()-1) > 0.01 {
		t.Errorf("the piece has %g of the volume", v/m.Volume())
	}
	for i, s := range sittings {
		if k := three.Set.At[i].Scale * unit / s.At.Scale; math.Abs(k-1) > 0.005 {
			t.Errorf("scan %d is scaled by %g of what it should be", i, k)
		}
	}
	again, err := Make(ctx, three.Lying(), nil)
	if err != nil {
		t.Fatal(err)
	}
	if !slices.Equal(again.Piece.Mesh.Points, three.Piece.Mesh.Points) || !slices.Equal(again.Set.At, three.Set.At) {
		t.Error("the piece is another when its scans lie where they were found")
	}
	for i, f := range again.Set.Fits {
		if g := three.Set.Fits[i]; f.Overlap != g.Overlap || f.Middle != g.Middle {
			t.Errorf("scan %d: %v is told of it, and was %v", i, f, g)
		}
	}
	both, err := Make(ctx, three.Without(1), nil)
	if err != nil || len(both.Set.Scans) != 2 || both.Set.Scans[1].Name != "scan-c.ply" {
		t.Errorf("without the second scan: %v", err)
	}
	if wide := three.Blended(0.1); wide.Blend != 0.1 || !wide.Still || three.Plan.Blend != UsualBlend {
		t.Errorf("seams of another width: %+v", wide)
	}
	testColours(t, three)
	testApart(t, three, 0.0005*solidtest.Size(m)/unit)
	cut, err := Make(ctx, three.Cut(2, Cut{Along: geom.Vec{X: 1}, From: sittings[2].Mesh.Box().Center().X}), nil)
	if err != nil {
		t.Fatal(err)
	}
	if n, of := len(cut.Set.Scans[2].Cloud.Points), len(three.Set.Scans[2].Cloud.Points); n < of/10 || n > 9*of/10 {
		t.Errorf("of %d points %d are left of a scan that is cut in two", of, n)
	}
}

// TestCoarseScansAreTold: how far the points of a scan lie apart decides, at the scale that it is put at.
func TestCoarseScansAreTold(t *testing.T) {
	fine, coarse := &cloud.Cloud{Spacing: 1}, &cloud.Cloud{Spacing: 2}
	s := &Set{Scans: []Scan{{Name: "fine", Cloud: fine}, {Name: "rough", Cloud: coarse}, {Name: "small", Cloud: coarse}}, Size: 50,
		At: []geom.Placement{{Scale: 1}, {Scale: 1}, {Scale: 0.5}}, Fits: make([]register.Fit, 3), Floors: make([][]register.Flat, 3)}
	if n := s.Notes(); len(n) != 1 || !strings.HasPrefix(n[0], "rough is coarse") {
		t.Errorf("told: %q", n)
	}
}

// testColours: the piece carries the colours of all scans, each where it lies.
func testColours(t *testing.T, j *Joined) {
	seen := map[uint8]bool{}
	c := j.Colours()
	for i, rgb := range c.RGB {
		seen[rgb[0]] = true
		if p := c.Points[i].Vec(); p.Sub(j.Piece.Mesh.Box().Center()).Len() > 2*j.Set.Size {
			t.Fatalf("a colour lies at %v, far from the piece", p)
		}
	}
	if len(seen) != 3 || len(c.Points) == 0 {
		t.Errorf("of the colours of three scans %v came onto the piece", seen)
	}
}

// testApart: where two scans saw the piece they lie apart by what their noise makes, about.
func testApart(t *testing.T, j *Joined, noise float64) {
	sum, n := 0.0, 0
	for _, d := range j.Apart {
		if d >= 0 {
			sum, n = sum+float64(d), n+1
		}
	}
	if mean := sum / float64(max(1, n)); n < len(j.Apart)/3 || mean < 0.2*noise || mean > 5*noise {
		t.Errorf("at %d of %d points scans of a noise of %g lie %g apart in the mean", n, len(j.Apart), noise, mean)
	}
}

// TestOneScanIsCut: what a box leaves of one scan is its own facets, bit for bit, in their order.
func TestOneScanIsCut(t *testing.T) {
	ball := solidtest.Sphere(10, 2000)
	file := written(t, []solidtest.Sitting{{Mesh: ball}})[0]
	cut := BoxCut(ball, geom.Vec{X: -20, Y: -20, Z: -20}, geom.Vec{X: 20, Y: 20, Z: -5})
	j, err := Make(t.Context(), CutAlone(file, cut), nil)
	if err != nil {
		t.Fatal(err)
	}
	whole, _, err := mesh.Open(file)
	if err != nil {
		t.Fatal(err)
	}
	type facet [3]mesh.Point
	of := func(m *mesh.Mesh) map[facet]bool {
		out := map[facet]bool{}
		for _, f := range m.Triangles {
			out[facet{m.Points[f[0]], m.Points[f[1]], m.Points[f[2]]}] = true
		}
		return out
	}
	left, all := of(j.Piece.Mesh), of(whole)
	want := 0
	for f := range all {
		middle := f[0].Vec().Add(f[1].Vec()).Add(f[2].Vec()).Scale(1.0 / 3)
		if cut.Keeps(middle) {
			want++
			if !left[f] {
				t.Fatalf("the facet at %v is gone, or another", middle)
			}
		}
	}
	if want != len(left) || want == len(all) || want == 0 {
		t.Errorf("of %d facets %d are left, %d are to be", len(all), len(left), want)
	}
	if n := j.Set.Notes(); len(n) > 0 || j.Piece.UnseenArea() > 0 || j.With("b").Check() != nil || j.Lying().Check() != nil {
		t.Errorf("a cut scan is told to be %q", n)
	}
	if err := CutAlone(file).Check(); err == nil {
		t.Error("one scan without a cut is a plan")
	}
}

// TestPlanIsChecked: what can't be carried out is a sentence, before any file is read.
func TestPlanIsChecked(t *testing.T) {
	at := geom.NoPlacement()
	flat := geom.Placement{Turn: geom.Turn{{1, 0, 0}, {0, 1, 0}, {0, 1, 0}}, Scale: 1}
	mirror := geom.Placement{Turn: geom.Turn{{1, 0, 0}, {0, 1, 0}, {0, 0, -1}}, Scale: 1}
	huge := geom.Placement{Turn: geom.NoTurn(), Scale: math.Inf(1)}
	many := NewPlan()
	for i := range 20 {
		many.Sources = append(many.Sources, Source{File: fmt.Sprint(i)})
	}
	with := func(change func(*Plan)) *Plan {
		p := NewPlan("a", "b")
		change(p)
		return p
	}
	for says, p := range map[string]*Plan{
		"two scans are needed":          NewPlan("a"),
		"20 scans are named":            many,
		"a is among the scans already":  NewPlan("a", "b", "a"),
		"where b lies on the other":     with(func(p *Plan) { p.Sources[1].At = &flat }),
		"where a lies on the other":     with(func(p *Plan) { p.Sources[0].At = &mirror }),
		"seams are blended over":        with(func(p *Plan) { p.Blend = math.NaN() }),
		"a plane that scans are cut":    with(func(p *Plan) { p.Sources[0].Cuts = []Cut{{}} }),
		"a box that scans are cut":      with(func(p *Plan) { p.Sources[0].Cuts = []Cut{{Box: &geom.Box{Max: geom.Vec{X: math.NaN()}}}} }),
		"a matching point is of no two": with(func(p *Plan) { p.Matches = []Match{{A: 0, B: 7}} }),
		"where b lies on":               with(func(p *Plan) { p.Sources[0].At, p.Still = &at, true }),
	} {
		if err := p.Check(); err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%q wanted, got %v", says, err)
		}
	}
	if err := with(func(p *Plan) { p.Sources[1].At = &huge }).Check(); err == nil {
		t.Error("a scan of no size is taken")
	}
	if _, err := Make(context.Background(), NewPlan("no such file", "nor this"), nil); err == nil || !strings.Contains(err.Error(), "no such file") {
		t.Errorf("of a file that is not there: %v", err)
	}
}

// TestCalledOff: joining ends with its context's error.
func TestCalledOff(t *testing.T) {
	ctx, off := context.WithCancel(context.Background())
	files := written(t, solidtest.Sittings(solidtest.Bumpy(60, 8_000), 3, 0.0005, 0, 2))
	_, err := Make(ctx, NewPlan(files...), func(step string, done float64) {
		if done > 0.2 {
			off()
		}
	})
	if err != context.Canceled {
		t.Errorf("called off, it ends with %v", err)
	}
}

// TestCuts: each kind of cut, and the other side of it.
func TestCuts(t *testing.T) {
	box := geom.Box{Max: geom.Vec{X: 1, Y: 1, Z: 1}}
	in, out := geom.Vec{X: 0.5, Y: 0.5, Z: 0.5}, geom.Vec{X: -0.5, Y: 0.5, Z: 0.5}
	for _, c := range []Cut{{Box: &box}, {Along: geom.Vec{X: 2}, From: 0}} {
		away := c
		away.Away = true
		if !c.Keeps(in) || c.Keeps(out) || away.Keeps(in) || !away.Keeps(out) {
			t.Errorf("%+v", c)
		}
	}
}

// TestCutsThroughPlaces: a plane through places of a floor takes the floor and leaves what stands on it; a box takes what the places
// reach round; the other side of either is the rest.
func TestCutsThroughPlaces(t *testing.T) {
	ball := solidtest.Sphere(10, 2000)
	m := &mesh.Mesh{Points: slices.Clone(ball.Points)}
	for x := -20; x <= 20; x += 4 {
		for y := -20; y <= 20; y += 4 {
			m.Points = append(m.Points, mesh.Point{float32(x), float32(y), -10})
		}
	}
	c, ok := PlaneCut(m, geom.Vec{X: -20, Y: -20, Z: -10}, geom.Vec{X: 20, Y: -20, Z: -10}, geom.Vec{Y: 20, Z: -10})
	if !ok || c.check() != nil || c.Keeps(geom.Vec{X: 12, Z: -10}) || !c.Keeps(geom.Vec{Z: 9}) || !c.Keeps(geom.Vec{Z: -9}) {
		t.Errorf("the floor is cut by %+v", c)
	}
	if o := c.Other(); !o.Keeps(geom.Vec{X: 12, Z: -10}) || o.Keeps(geom.Vec{}) {
		t.Errorf("the other side of it is %+v", o)
	}
	if _, ok := PlaneCut(m, geom.Vec{}, geom.Vec{X: 1}, geom.Vec{X: 2}); ok {
		t.Error("three places on a line make a plane")
	}
	if b := BoxCut(m, geom.Vec{}, geom.Vec{X: 5, Y: 5}); b.check() != nil || b.Keeps(geom.Vec{X: 2, Y: 2}) || !b.Keeps(geom.Vec{X: 2, Y: 2, Z: 3}) || !b.Keeps(geom.Vec{X: -5}) {
		t.Errorf("the box is %+v", b)
	}
	marks, err := (*chalk.Marks)(nil).With(chalk.Stroke{Kind: chalk.DontCare, Radius: 3, Path: []geom.Vec{{Z: 10}}})
	if err != nil {
		t.Fatal(err)
	}
	if s := (Cut{Chalk: marks}); s.check() != nil || s.Keeps(geom.Vec{Z: 9}) || !s.Keeps(geom.Vec{Z: 6}) || s.Other().Keeps(geom.Vec{Z: 6}) {
		t.Error("strokes take something else than what they mark")
	}
	file := written(t, []solidtest.Sitting{{Mesh: ball}})[0]
	left, _, err := Source{File: file, Cuts: []Cut{{Along: geom.Vec{Z: 1}}}}.Face(t.Context())
	if n := len(ball.Triangles); err != nil || len(left.Triangles) < n/3 || len(left.Triangles) > 2*n/3 {
		t.Errorf("of a ball that is cut in two %v, %v", left, err)
	}
	if _, _, err := (Source{File: file, Cuts: []Cut{{Along: geom.Vec{Z: 1}, From: 99}}}).Face(t.Context()); err == nil || !strings.Contains(err.Error(), "nothing is left") {
		t.Errorf("of nothing: %v", err)
	}
}
