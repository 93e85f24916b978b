package stock_test

import (
	"strings"
	"testing"

	"grainstack/assets"
	"grainstack/slicing/stock"
)

func base(t testing.TB) *stock.Catalogue {
	t.Helper()
	c, err := stock.Load(assets.FS, "stock.json")
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// own is a maker's own file: a board of the catalogue's species, a cutter in place of the catalogue's, a new one, and what a
// new job begins with.
const own = `{
  "first": {"rough": "bull-8"},
  "boards": [
    {"key": "shed-15", "name": "From the shed, 15 mm", "nominal": 15, "thickness": 15, "sheetX": 900, "sheetY": 600, "density": 650,
     "glueLine": 0.1, "glueTone": [34, 10, 12],
     "recipe": {"veneers": [{"thickness": 5, "grain": "along", "species": "birch"}, {"thickness": 5, "grain": "across", "species": "birch"}, {"thickness": 5, "grain": "along", "species": "birch"}]}}
  ],
  "cutters": [
    {"key": "ball-6.35", "name": "My worn ball", "shape": "ball", "diameter": 6.3, "flutes": 2, "cutLength": 25, "reach": 35, "shank": 6.35, "feedMmMin": 2000, "plungeMmMin": 700, "rpm": 15000, "stepdown": 3, "stepover": 0.6},
    {"key": "bull-8", "name": "Bull nose 8 mm", "shape": "bull", "diameter": 8, "cornerRadius": 2, "flutes": 3, "cutLength": 30, "reach": 40, "shank": 8, "feedMmMin": 2500, "plungeMmMin": 800, "rpm": 15000, "stepdown": 3, "stepover": 3}
  ]
}`

func TestMerge(t *testing.T) {
	c := base(t)
	m, notes, err := c.Merge("own.json", []byte(own))
	if err != nil {
		t.Fatal(err)
	}
	if len(m.Boards) != len(c.Boards)+1 || len(m.Cutters) != len(c.Cutters)+1 || len(m.Machines) != len(c.Machines) {
		t.Errorf("%d boards and %d cutters of %d and %d", len(m.Boards), len(m.Cutters), len(c.Boards), len(c.Cutters))
	}
	if k, _ := m.Cutter("ball-6.35"); k.Name != "My worn ball" || k.Diameter != 6.3 {
		t.Errorf("the ball is %+v", k)
	}
	if k, _ := c.Cutter("ball-6.35"); k.Diameter != 6.35 {
		t.Error("the catalogue itself has changed")
	}
	if len(notes) != 1 || !strings.Contains(notes[0], `"ball-6.35" of own.json takes the place`) {
		t.Errorf("said: %q", notes)
	}
	if m.First.Rough != "bull-8" || m.First.Finish != c.First.Finish {
		t.Errorf("a new job begins with %+v", m.First)
	}
	if !m.Own("cutter", "bull-8") || !m.Own("board", "shed-15") || m.Own("cutter", "end-6.35") || m.Own("board", "bull-8") {
		t.Error("own entries are not told from the program's")
	}
	if _, again, err := m.Merge("own.json", []byte(own)); err != nil || len(again) != 0 {
		t.Errorf("the same over itself: %q, %v", again, err)
	}
}

// Each row spoils one thing; the error names the file, the line and what is wrong.
func TestMergeRefuses(t *testing.T) {
	c := base(t)
	for _, tt := range []struct{ name, old, new, want string }{
		{"figure out of bounds", `"diameter": 8`, `"diameter": -8`, `line 10: cutter "bull-8": diameter is -8, wants 0.1 to 150`},
		{"rows too close", `"stepover": 3}`, `"stepover": 1e-9}`, `line 10: cutter "bull-8": stepover is 1e-09, wants 0.01 to 150`},
		{"species nobody has", `"across", "species": "birch"`, `"across", "species": "bog oak"`, `line 4: board "shed-15": veneer 2: no species "bog oak"`},
		{"a slip", `"sheetX"`, `"sheetx2"`, `line 4: nothing is called "sheetx2"`},
		{"a word", `"flutes": 3`, `"flutes": "three"`, `line 10: "three" is no number`},
		{"twice", `"key": "bull-8"`, `"key": "ball-6.35"`, `line 10: cutter "ball-6.35": the key is used twice`},
		{"no such first", `"rough": "bull-8"`, `"rough": "bull-9"`, `first: rough: no cutter "bull-9"`},
		{"no such part", `"cutters": [`, `"knives": [`, `a catalogue has no part "knives"`},
		{"no list", `"cutters": [`, `"cutters": {`, `line 8: {`},
		{"entry without braces", `"boards": [`, `"boards": [7,`, `line 3: a number stands where an entry in braces ought to`},
		{"comma lost", `"birch"}]}}`, `"birch"}]}`, `line 6: `},
		{"long name", "Bull nose 8 mm", strings.Repeat("B", 300), `line 10: cutter "bull-8": has a name of more than 200 letters`},
	} {
		if !strings.Contains(own, tt.old) {
			t.Fatalf("there is no %s to spoil", tt.old)
		}
		_, _, err := c.Merge("own.json", []byte(strings.Replace(own, tt.old, tt.new, 1)))
		if err == nil || !strings.Contains(err.Error(), tt.want) || !strings.Contains(err.Error(), "own.json") {
			t.Errorf("%s: got %v, want %q", tt.name, err, tt.want)
		}
	}
	if _, _, err := c.Merge("own.json", make([]byte, 5<<20)); err == nil {
		t.Error("5 MiB are taken")
	}
	many := `{"panels": [` + strings.Repeat(`{},`, 2001) + `{}]}`
	if _, _, err := c.Merge("own.json", []byte(many)); err == nil || !strings.Contains(err.Error(), "too many") {
		t.Errorf("2002 panels: %v", err)
	}
}

// TestCarry: what a job carries is enough to open it where only the program's catalogue is.
func TestCarry(t *testing.T) {
	c := base(t)
	m, _, err := c.Merge("own.json", []byte(own))
	if err != nil {
		t.Fatal(err)
	}
	if got := m.Carry(c.First); string(got) == "" || strings.Contains(string(got), "bull-8") {
		t.Errorf("with the worn ball as finish cutter: %s", got)
	}
	if got := c.Carry(c.First); got != nil {
		t.Errorf("of the program's own things: %s", got)
	}
	text := m.Carry(stock.Choice{Board: "shed-15", Rough: "bull-8"}, stock.Choice{Finish: "bull-8"})
	there, notes, err := c.Merge("the job", text)
	if err != nil || len(notes) != 0 {
		t.Fatalf("elsewhere: %v, %q", err, notes)
	}
	want, _ := m.Cutter("bull-8")
	got, _ := there.Cutter("bull-8")
	if got.Sources = want.Sources; got.Diameter != want.Diameter || got.CornerRadius != want.CornerRadius || got.Name != want.Name {
		t.Errorf("elsewhere the cutter is %+v", got)
	}
	if _, ok := there.Board("shed-15"); !ok {
		t.Error("elsewhere the board is missing")
	}
}

// TestEditing: a cutter is put in, changed and taken out of a file whose other entries stay.
func TestEditing(t *testing.T) {
	c := base(t)
	k := stock.Cutter{Key: "taper-3", Name: "Tapered ball 3 mm", Shape: stock.Taper, Diameter: 6, CornerRadius: 1.5, TaperDeg: 5, Flutes: 2,
		CutLength: 20, Reach: 30, Shank: 6, FeedMmMin: 1500, PlungeMmMin: 500, RPM: 18000, Stepdown: 1, Stepover: 0.4}
	if faults := k.Check(); len(faults) != 0 {
		t.Fatal(faults)
	}
	for _, text := range []string{"", own} {
		with, err := stock.WithCutter([]byte(text), k)
		if err != nil {
			t.Fatal(err)
		}
		m, _, err := c.Merge("own.json", with)
		if err != nil {
			t.Fatalf("%v\n%s", err, with)
		}
		got, ok := m.Cutter("taper-3")
		if got.Sources = nil; !ok || got.Shape != k.Shape || got.TaperDeg != 5 || got.Diameter != 6 || got.Stepover != 0.4 {
			t.Errorf("it came back as %+v", got)
		}
		k2 := k
		k2.Flutes = 3
		changed, err := stock.WithCutter(with, k2)
		if err != nil {
			t.Fatal(err)
		}
		again, _, err := c.Merge("own.json", changed)
		if err != nil || len(again.Cutters) != len(m.Cutters) {
			t.Fatalf("changed: %d cutters of %d, %v", len(again.Cutters), len(m.Cutters), err)
		}
		if got, _ := again.Cutter("taper-3"); got.Flutes != 3 {
			t.Errorf("it has %d flutes", got.Flutes)
		}
		gone, err := stock.WithoutCutter(changed, "taper-3")
		if err != nil {
			t.Fatal(err)
		}
		last, _, err := c.Merge("own.json", gone)
		if err != nil {
			t.Fatal(err)
		}
		if _, ok := last.Cutter("taper-3"); ok || len(last.Boards) != len(m.Boards) {
			t.Error("taken out, it is still there, or something else is gone")
		}
	}
	k.Diameter, k.Stepover = 0, 1e9
	if faults := k.Check(); len(faults) < 2 {
		t.Errorf("a cutter without width: %v", faults)
	}
	if _, err := stock.WithCutter([]byte(`{"knives": []}`), k); err == nil {
		t.Error("a part that would be lost is taken")
	}
}

func FuzzMerge(f *testing.F) {
	c := base(f)
	f.Add(own)
	f.Add(own[:len(own)/2])
	f.Add(`{"cutters":[{"key":"a"}]}`)
	f.Add(`{"boards":[null],"first":{}}`)
	f.Fuzz(func(t *testing.T, s string) {
		m, _, err := c.Merge("own.json", []byte(s))
		if err != nil {
			return
		}
		text := m.Carry(m.First)
		if text == nil {
			return
		}
		if _, _, err := c.Merge("the job", text); err != nil {
			t.Errorf("what is carried is refused elsewhere: %v", err)
		}
	})
}
