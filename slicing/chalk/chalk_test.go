package chalk_test

import (
	"context"
	"encoding/json"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"grainstack/slicing/chalk"
	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
	"grainstack/slicing/solidtest"
)

// plate is a grid of squares of two facets, side by side from 0 to n·cell in X and Y, twice: facing up at height 0, and facing
// down at height -thick.
func plate(n int, cell, thick float64) *mesh.Mesh {
	m := &mesh.Mesh{}
	for side, z := range []float64{0, -thick} {
		first := int32(len(m.Points))
		at := func(i, j int) int32 { return first + int32(i*(n+1)+j) }
		for i := range n + 1 {
			for j := range n + 1 {
				m.Points = append(m.Points, mesh.Point{float32(float64(i) * cell), float32(float64(j) * cell), float32(z)})
			}
		}
		for i := range n {
			for j := range n {
				a, b, c, d := at(i, j), at(i+1, j), at(i+1, j+1), at(i, j+1)
				if side == 1 {
					b, d = d, b
				}
				m.Triangles = append(m.Triangles, mesh.Triangle{a, b, c}, mesh.Triangle{a, c, d})
			}
		}
	}
	return m
}

var down = geom.Vec{Z: -1}

func with(t testing.TB, m *chalk.Marks, s chalk.Stroke) *chalk.Marks {
	t.Helper()
	out, err := m.With(s)
	if err != nil {
		t.Fatal(err)
	}
	return out
}

func middle(m *mesh.Mesh, f int) geom.Vec {
	a, b, c := m.Corners(f)
	return a.Add(b).Add(c).Scale(1.0 / 3)
}

// TestDabIsADisc: a dab on a plate marks the facets whose middles are within the radius and no others, and leaves the lower
// face alone though it lies within the radius too.
func TestDabIsADisc(t *testing.T) {
	m := plate(60, 1, 2)
	at, r := geom.Vec{X: 31, Y: 28.5}, 9.0 // a place that needs no rounding
	for _, sight := range []geom.Vec{down, {Z: -3, X: 2}} {
		kinds := with(t, nil, chalk.Stroke{Kind: chalk.SeenSide, Radius: r, Sight: sight, Path: []geom.Vec{at}}).On(m)
		half, count := len(m.Triangles)/2, 0
		for f, k := range kinds {
			want := chalk.Unmarked
			if d := middle(m, f).Sub(at).Len(); f < half && d <= r {
				want = chalk.SeenSide
				count++
			}
			if k != want {
				t.Fatalf("seen along %v: facet %d at %v is %v, want %v", sight, f, middle(m, f), k, want)
			}
		}
		if got, want := float64(count)/2, math.Pi*r*r; math.Abs(got/want-1) > 0.03 {
			t.Errorf("the disc has %v of area, want %v", got, want)
		}
	}
}

// TestStrokeIsAStadium: a straight stroke marks a stadium, 2rl + πr².
func TestStrokeIsAStadium(t *testing.T) {
	m := plate(80, 1, 5)
	kinds := with(t, nil, chalk.Stroke{Kind: chalk.KeepWhole, Radius: 6, Sight: down, Path: []geom.Vec{{X: 20, Y: 20}, {X: 40, Y: 20}, {X: 60, Y: 20}}}).On(m)
	count := 0
	for _, k := range kinds {
		if k == chalk.KeepWhole {
			count++
		}
	}
	if got, want := float64(count)/2, 2*6*40+math.Pi*36; math.Abs(got/want-1) > 0.02 {
		t.Errorf("the stroke has %v of area, want %v", got, want)
	}
}

// A brush that jumps from one part of the piece to another marks nothing between.
func TestAJumpMarksNothingBetween(t *testing.T) {
	m := plate(80, 1, 5)
	kinds := with(t, nil, chalk.Stroke{Kind: chalk.KeepWhole, Radius: 3, Sight: down, Path: []geom.Vec{{X: 10, Y: 20}, {X: 70, Y: 20}}}).On(m)
	for f, k := range kinds {
		if x := middle(m, f).X; k != chalk.Unmarked && x > 14 && x < 66 {
			t.Fatalf("marked at %v", middle(m, f))
		}
	}
}

// TestFastIsSlow: blocks and covers taken further come to the same as asking every facet about every stroke.
func TestFastIsSlow(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	m := solidtest.Shuffle(solidtest.Bumpy(50, 3000), 3)
	x := chalk.NewIndex(m)
	var marks *chalk.Marks
	var was *chalk.Cover
	for n := range 16 {
		var path []geom.Vec
		p := m.Points[r.IntN(len(m.Points))].Vec()
		for range 1 + r.IntN(6) {
			path = append(path, p)
			p = p.Add(geom.Vec{X: r.NormFloat64(), Y: r.NormFloat64(), Z: r.NormFloat64()}.Scale(5))
		}
		marks = with(t, marks, chalk.Stroke{Kind: chalk.Kind(r.IntN(4)), Radius: 1 + 12*r.Float64(), Sight: path[0].Scale(-1), Path: path})
		now, err := x.Cover(context.Background(), marks, was)
		if err != nil {
			t.Fatal(err)
		}
		if n%3 != 1 { // sometimes two at once
			was = now
		}
		if want := slow(marks, m); !slices.Equal(now.Kinds, want) {
			t.Fatalf("after %d strokes the cover differs from the slow twin's", n+1)
		}
		if !slices.Equal(marks.On(m), now.Kinds) {
			t.Fatal("On differs from the cover")
		}
	}
}

// slow asks every facet about every stroke. Its facets are smaller than the brushes or are asked whether the brush went over.
func slow(marks *chalk.Marks, m *mesh.Mesh) []chalk.Kind {
	out := make([]chalk.Kind, len(m.Triangles))
	for f := range out {
		a, b, c := m.Corners(f)
		n := b.Sub(a).Cross(c.Sub(a)).Unit()
		coarse := func(r float64) bool { return max(a.Sub(b).Len(), b.Sub(c).Len(), c.Sub(a).Len()) > r }
		for _, s := range marks.Strokes() {
			if n.Dot(s.Sight.Unit()) > 0.17 {
				continue
			}
			least, over := math.Inf(1), false
			for i, p := range s.Path {
				from := p
				if i > 0 && p.Sub(s.Path[i-1]).Len() <= 8*s.Radius {
					from = s.Path[i-1]
				}
				least = min(least, search(func(k float64) float64 { return middle(m, f).Sub(from.Add(p.Sub(from).Scale(k))).Len() }))
				over = over || coarse(s.Radius) && above(p, a, b, c, n, s.Radius/8)
			}
			if least <= s.Radius || over {
				out[f] = s.Kind
			}
		}
	}
	return out
}

// search is the least value of a function that falls and then rises between 0 and 1.
func search(of func(float64) float64) float64 {
	low, high := 0.0, 1.0
	for range 50 {
		a, b := low+(high-low)/3, high-(high-low)/3
		if of(a) < of(b) {
			high = b
		} else {
			low = a
		}
	}
	return min(of(low), of(0), of(1))
}

// above reports by areas whether p lies over a triangle.
func above(p, a, b, c, n geom.Vec, slack float64) bool {
	d := n.Dot(p.Sub(a))
	q := p.Sub(n.Scale(d))
	area := func(u, v, w geom.Vec) float64 { return v.Sub(u).Cross(w.Sub(u)).Len() }
	whole := area(a, b, c)
	return math.Abs(d) <= slack && area(q, a, b)+area(q, b, c)+area(q, c, a) <= whole*(1+1e-9)
}

// A facet larger than the brush is marked where the brush went over it, and its height only as far as the brush reached.
func TestCoarseFacets(t *testing.T) {
	m := solidtest.Box(100, 100, 100)
	at := m.Box().Min.Add(geom.Vec{X: 0, Y: 30, Z: 60}) // on the side that faces -X
	marks := with(t, nil, chalk.Stroke{Kind: chalk.KeepWhole, Radius: 4, Sight: geom.Vec{X: 1}, Path: []geom.Vec{at}})
	regions, err := marks.KeptWhole(context.Background(), m, m.Adjacency())
	if err != nil || len(regions) != 1 {
		t.Fatalf("%d regions, %v", len(regions), err)
	}
	low, high := regions[0].Heights(geom.Placement{Turn: geom.NoTurn(), Scale: 1, Shift: geom.Vec{Z: -m.Box().Min.Z}})
	if low < 56-1e-6 || high > 64+1e-6 || low > high {
		t.Errorf("the mark is from %v to %v, want within 56 to 64", low, high)
	}
}

// The same strokes on a finer and on a coarser mesh of one shape give the same region, within the coarser facets.
func TestSameRegionOnAnotherMesh(t *testing.T) {
	place := geom.Placement{Turn: geom.TurnXYZ(20, -35, 10), Scale: 2, Shift: geom.Vec{Z: 100}}
	front := geom.Vec{X: -30, Y: -40}.Scale(1)
	marks := with(t, nil, chalk.Stroke{Kind: chalk.KeepWhole, Radius: 12, Sight: front.Scale(-1), Path: []geom.Vec{front, front.Add(geom.Vec{Z: 6})}})
	type found struct{ low, high, area float64 }
	measure := func(m *mesh.Mesh) found {
		regions, err := marks.KeptWhole(context.Background(), m, m.Adjacency())
		if err != nil || len(regions) != 1 {
			t.Fatalf("%d regions, %v", len(regions), err)
		}
		low, high := regions[0].Heights(place)
		return found{low, high, regions[0].Area}
	}
	fine := solidtest.Sphere(50, 200_000)
	want := measure(fine)
	// the cap that a ball of radius r cuts out of a sphere has the area πr²; a stroke of length l adds about 2rl
	if cap := math.Pi*144 + 2*12*6; math.Abs(want.area/cap-1) > 0.05 {
		t.Errorf("the region has %v of area, want about %v", want.area, cap)
	}
	for _, coarse := range []*mesh.Mesh{solidtest.Sphere(50, 20_000), mesh.Thin(fine, 1.2), solidtest.Shuffle(fine, 9)} {
		edge := 2 * 2 * 50 * math.Sqrt(8*math.Pi/float64(len(coarse.Triangles))) // mm: two edges of its mean facet
		got := measure(coarse)
		if math.Abs(got.low-want.low) > edge || math.Abs(got.high-want.high) > edge || math.Abs(got.area/want.area-1) > 0.15 {
			t.Errorf("%d facets: %+v, want %+v within %v mm", len(coarse.Triangles), got, want, edge)
		}
	}
}

// Two dabs apart are two regions; a stroke that joins them makes one, and rubbing between parts them again.
func TestRegionsJoinAndPart(t *testing.T) {
	m := plate(80, 1, 5)
	adj := m.Adjacency()
	dab := func(k chalk.Kind, r float64, path ...geom.Vec) chalk.Stroke {
		return chalk.Stroke{Kind: k, Radius: r, Sight: down, Path: path}
	}
	left, right := geom.Vec{X: 20, Y: 40}, geom.Vec{X: 60, Y: 40}
	marks := with(t, with(t, nil, dab(chalk.KeepWhole, 8, left)), dab(chalk.KeepWhole, 8, right))
	for _, step := range []struct {
		what  string
		marks *chalk.Marks
		want  int
	}{
		{"two dabs", marks, 2},
		{"joined", with(t, marks, dab(chalk.KeepWhole, 3, left, geom.Vec{X: 40, Y: 40}, right)), 1},
		{"rubbed out between", with(t, with(t, marks, dab(chalk.KeepWhole, 3, left, geom.Vec{X: 40, Y: 40}, right)), dab(chalk.Unmarked, 6, geom.Vec{X: 40, Y: 40})), 2},
		{"another mark between", with(t, with(t, marks, dab(chalk.KeepWhole, 3, left, geom.Vec{X: 40, Y: 40}, right)), dab(chalk.DontCare, 6, geom.Vec{X: 40, Y: 40})), 2},
		{"all wiped", marks.Wiped(chalk.KeepWhole), 0},
		{"another wiped", marks.Wiped(chalk.SeenSide), 2},
	} {
		got, err := step.marks.KeptWhole(context.Background(), m, adj)
		if err != nil || len(got) != step.want {
			t.Errorf("%s: %d regions, want %d (%v)", step.what, len(got), step.want, err)
		}
	}
}

// TestWiping: wiping a kind unmarks what is of it, and nothing of another kind comes up from under it.
func TestWiping(t *testing.T) {
	m := plate(40, 1, 5)
	at := geom.Vec{X: 20, Y: 20}
	s := chalk.Stroke{Radius: 8, Sight: down, Path: []geom.Vec{at}}
	under, over := s, s
	under.Kind, over.Kind, over.Radius = chalk.SeenSide, chalk.KeepWhole, 4
	marks := with(t, with(t, nil, under), over)
	before, after := marks.On(m), marks.Wiped(chalk.KeepWhole).On(m)
	for f := range before {
		want := before[f]
		if want == chalk.KeepWhole {
			want = chalk.Unmarked
		}
		if after[f] != want {
			t.Fatalf("facet %d was %v and became %v", f, before[f], after[f])
		}
	}
	if marks.Wiped(chalk.KeepWhole).Wiped(chalk.SeenSide) != nil {
		t.Error("marks without any kind are not none")
	}
}

// TestJSON: what is read is what was written, marks and all.
func TestJSON(t *testing.T) {
	r := rand.New(rand.NewPCG(8, 9))
	var marks *chalk.Marks
	places := 0
	for range 60 {
		var path []geom.Vec
		for range 1 + r.IntN(40) {
			path = append(path, geom.Vec{X: 300 * r.NormFloat64(), Y: r.NormFloat64() * 1e4, Z: r.Float64()})
		}
		places += len(path)
		marks = with(t, marks, chalk.Stroke{Kind: chalk.Kind(r.IntN(4)), Radius: math.Exp(6*r.Float64() - 3), Path: path,
			Sight: geom.Vec{X: r.NormFloat64(), Y: r.NormFloat64(), Z: r.NormFloat64()}})
	}
	text, err := json.Marshal(marks)
	if err != nil {
		t.Fatal(err)
	}
	var back *chalk.Marks
	if err := json.Unmarshal(text, &back); err != nil {
		t.Fatal(err)
	}
	if !back.Equal(marks) || !marks.Equal(back) {
		t.Error("the marks came back as others")
	}
	if back.Equal(back.Wiped(chalk.KeepWhole)) {
		t.Error("other marks pass for equal")
	}
	again, err := json.Marshal(back)
	if err != nil || string(again) != string(text) {
		t.Error("written again they read otherwise")
	}
	if per := len(text) / places; per > 40 {
		t.Errorf("%d bytes a place", per)
	}
}

// TestRefused: what no bench of ours wrote is refused with a word on it.
func TestRefused(t *testing.T) {
	good := `{"kind":"keep whole","radius":8,"sight":"0 4096 0","path":"1 2 3 4 5 6"}`
	var m chalk.Marks
	if err := json.Unmarshal([]byte(`{"strokes":[`+good+`]}`), &m); err != nil || m.Empty() {
		t.Fatalf("the good one: %v", err)
	}
	for _, tt := range []struct{ from, to, want string }{
		{"keep whole", "keep wet", "no mark"},
		{`"radius":8`, `"radius":-8`, "radius"},
		{`"radius":8`, `"radius":1e300`, "radius"},
		{"0 4096 0", "0 4096", "three"},
		{"0 4096 0", "0 99999 0", "direction"},
		{"1 2 3 4", "1 2 3", "three"},
		{"1 2 3 4", "1 2.5 3 4", "whole"},
		{"1 2 3 4", "1 99999999999999 3 4", "whole"},
		{"1 2 3 4 5 6", "", "no place"},
		{"1 2 3 4 5 6", strings.Repeat("1 1 1 ", 60_000), "places"},
		{`"radius":8`, `"radius":"8"`, "radius"},
	} {
		text := strings.Replace(good, tt.from, tt.to, 1)
		if text == good {
			t.Fatalf("%q changes nothing", tt.from)
		}
		if err := json.Unmarshal([]byte(`{"strokes":[`+good+","+text+`]}`), &m); err == nil || !strings.Contains(err.Error(), tt.want) {
			t.Errorf("%s instead of %s: got %v, want a word on %q", tt.to, tt.from, err, tt.want)
		}
	}
	many := `{"strokes":[` + strings.Repeat(good+",", 3000) + good + `]}`
	if err := json.Unmarshal([]byte(many), &m); err == nil {
		t.Error("3001 strokes were taken")
	}
	for _, s := range []chalk.Stroke{
		{Kind: 9, Radius: 1, Path: []geom.Vec{{}}}, {Radius: 0, Path: []geom.Vec{{}}}, {Radius: 1},
		{Radius: 1, Path: []geom.Vec{{X: math.NaN()}}}, {Radius: 1, Path: []geom.Vec{{X: math.Inf(1)}}},
		{Radius: math.NaN(), Path: []geom.Vec{{}}}, {Radius: 1, Sight: geom.Vec{X: math.NaN()}, Path: []geom.Vec{{}}},
	} {
		if _, err := m.With(s); err == nil {
			t.Errorf("%+v was taken", s)
		}
	}
}

// Marks that were made stay as they were, whatever is made of them.
func TestMarksNeverChange(t *testing.T) {
	at := func(x float64) chalk.Stroke {
		return chalk.Stroke{Kind: chalk.KeepWhole, Radius: 4, Path: []geom.Vec{{X: x}}}
	}
	one := with(t, nil, at(1))
	two, other := with(t, one, at(2)), with(t, one, at(3))
	if len(one.Strokes()) != 1 || two.Strokes()[1].Path[0].X != 2 || other.Strokes()[1].Path[0].X != 3 {
		t.Error("marks share what they should not")
	}
}

func FuzzMarks(f *testing.F) {
	f.Add(`{"strokes":[{"kind":"keep whole","radius":8,"sight":"0 4096 0","path":"1 2 3 4 5 6"}]}`)
	f.Add(`{"strokes":[{"kind":"rub out","radius":1e-8,"sight":"0 0 0","path":"-1099511627776 2 3"}]}`)
	f.Fuzz(func(t *testing.T, text string) {
		var m *chalk.Marks
		if json.Unmarshal([]byte(text), &m) != nil || m == nil {
			return
		}
		out, err := json.Marshal(m)
		if err != nil {
			t.Fatal(err)
		}
		var back *chalk.Marks
		if err := json.Unmarshal(out, &back); err != nil || !back.Equal(m) {
			t.Fatalf("%s came back as %s: %v", text, out, err)
		}
	})
}

func ExampleMarks_KeptWhole() {
	post := solidtest.Frustum(30, 30, 200, 720) // upright, from height 0
	face := geom.Vec{Y: -30, Z: 120}
	marks, _ := (*chalk.Marks)(nil).With(chalk.Stroke{Kind: chalk.KeepWhole, Radius: 10, Sight: geom.Vec{Y: 1}, Path: []geom.Vec{face}})
	regions, _ := marks.KeptWhole(context.Background(), post, post.Adjacency())
	low, high := regions[0].Heights(geom.Placement{Turn: geom.NoTurn(), Scale: 1})
	fmt.Printf("%d region, from %.0f to %.0f mm\n", len(regions), low, high)
	// Output: 1 region, from 110 to 130 mm
}

// BenchmarkStroke is one more step of a long stroke on a million facets that carry much chalk already.
func BenchmarkStroke(b *testing.B) {
	m := solidtest.Sphere(150, 1_000_000)
	x := chalk.NewIndex(m)
	r := rand.New(rand.NewPCG(1, 2))
	along := func(n int) chalk.Stroke {
		angle, up := 6*r.Float64(), 2*r.Float64()-1
		s := chalk.Stroke{Kind: chalk.Kind(1 + r.IntN(3)), Radius: 10}
		for range n {
			angle, up = angle+0.02, max(-1, min(1, up+0.005))
			q := math.Sqrt(1 - up*up)
			s.Path = append(s.Path, geom.Vec{X: 150 * q * math.Cos(angle), Y: 150 * q * math.Sin(angle), Z: 150 * up})
		}
		s.Sight = s.Path[n/2].Scale(-1)
		return s
	}
	var marks *chalk.Marks
	for range 200 {
		marks = with(b, marks, along(60))
	}
	base, _ := x.Cover(context.Background(), marks, nil)
	live := with(b, marks, along(100))
	for _, tt := range []struct {
		name string
		was  *chalk.Cover
	}{{"step", base}, {"anew", nil}} {
		b.Run(tt.name, func(b *testing.B) {
			for b.Loop() {
				x.Cover(context.Background(), live, tt.was)
			}
		})
	}
	b.Run("index", func(b *testing.B) {
		for b.Loop() {
			chalk.NewIndex(m)
		}
	})
}

// TestAt: a place is of the last stroke that reaches it, and of none beyond all radii.
func TestAt(t *testing.T) {
	var m *chalk.Marks
	if m.At(geom.Vec{}) != chalk.Unmarked {
		t.Error("no marks mark something")
	}
	for _, s := range []chalk.Stroke{
		{Kind: chalk.DontCare, Radius: 2, Path: []geom.Vec{{}, {X: 10}}},
		{Kind: chalk.Unmarked, Radius: 1, Path: []geom.Vec{{X: 10}}},
	} {
		next, err := m.With(s)
		if err != nil {
			t.Fatal(err)
		}
		m = next
	}
	for p, want := range map[geom.Vec]chalk.Kind{{X: 5, Z: 1.9}: chalk.DontCare, {X: 5, Z: 2.1}: chalk.Unmarked, {X: 10.5}: chalk.Unmarked, {X: 11.5}: chalk.DontCare, {X: 99}: chalk.Unmarked} {
		if got := m.At(p); got != want {
			t.Errorf("%v is %v, want %v", p, got, want)
		}
	}
}
