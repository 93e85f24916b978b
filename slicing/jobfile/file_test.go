package jobfile_test

import (
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"grainstack/assets/stocktest"
	"grainstack/slicing/geom"
	"grainstack/slicing/job"
	"grainstack/slicing/jobfile"
	"grainstack/slicing/mesh"
	"grainstack/slicing/solidtest"
	"grainstack/slicing/stock"
	"grainstack/slicing/trial"
)

func writeSTL(t *testing.T, path string, m *mesh.Mesh) {
	t.Helper()
	f, err := os.Create(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if err := mesh.WriteSTL(f, m); err != nil {
		t.Fatal(err)
	}
}

// load opens a mesh or a job and gives what most tests ask for.
func load(ctx context.Context, path string, c *stock.Catalogue) (*job.Piece, job.Settings, error) {
	j, err := jobfile.Open(ctx, path, "", c, nil)
	return j.Piece, j.Settings, err
}

// TestJobComesBackAsItWas: piece and settings after saving and loading are those before.
func TestJobComesBackAsItWas(t *testing.T) {
	c, ctx, dir := stocktest.Catalogue(t), context.Background(), t.TempDir()
	piece := filepath.Join(dir, "ball.stl")
	writeSTL(t, piece, solidtest.Sphere(40, 2000))
	p, s, err := load(ctx, piece, c)
	if err != nil {
		t.Fatal(err)
	}
	s.Turn, s.Wall, s.Skim, s.FirstJoint = geom.TurnXYZ(12.3, -4.5, 6.7), 7.25, 0.913, 3.1
	at := filepath.Join(dir, "ball.grainstack")
	if err := (jobfile.Job{Piece: p, Settings: s}.Save(at, false)); err != nil {
		t.Fatal(err)
	}
	q, back, err := load(ctx, at, c)
	if err != nil {
		t.Fatal(err)
	}
	if back != s {
		t.Errorf("settings came back as\n%+v\nand were\n%+v", back, s)
	}
	if len(q.Mesh.Triangles) != len(p.Mesh.Triangles) || q.File != piece {
		t.Errorf("the piece came back with %d triangles from %s", len(q.Mesh.Triangles), q.File)
	}
}

// TestDemoJob: the demo piece needs no file.
func TestDemoJob(t *testing.T) {
	c := stocktest.Catalogue(t)
	at := filepath.Join(t.TempDir(), "demo.grainstack")
	s := job.Default(c)
	s.Wall = 11
	if err := (jobfile.Job{Piece: job.Demo(), Settings: s}.Save(at, false)); err != nil {
		t.Fatal(err)
	}
	p, back, err := load(context.Background(), at, c)
	if err != nil || back != s || !p.Solid() {
		t.Errorf("the demo's job came back with %v, solid %v, %v", back == s, p != nil && p.Solid(), err)
	}
}

// TestBrokenJobs: every fault is told with the file's name and what to do, and nothing panics.
func TestBrokenJobs(t *testing.T) {
	c, ctx, dir := stocktest.Catalogue(t), context.Background(), t.TempDir()
	piece := filepath.Join(dir, "ball.stl")
	writeSTL(t, piece, solidtest.Sphere(40, 500))
	p, s, err := load(ctx, piece, c)
	if err != nil {
		t.Fatal(err)
	}
	at := filepath.Join(dir, "ball.grainstack")
	if err := (jobfile.Job{Piece: p, Settings: s}.Save(at, false)); err != nil {
		t.Fatal(err)
	}
	text, err := os.ReadFile(at)
	if err != nil {
		t.Fatal(err)
	}
	good := string(text)
	for _, tt := range []struct{ name, text, want string }{
		{"newer", strings.Replace(good, `"grainstack_job": 3`, `"grainstack_job": 7`, 1), "version 7"},
		{"no version", strings.Replace(good, `"grainstack_job": 3`, `"grainstack_job": -3`, 1), "version -3"},
		{"cut short", good[:len(good)/2], "can't be read"},
		{"piece gone", strings.NewReplacer("ball.stl", "gone.stl", `"sha256": "`, `"sha256": "00`).Replace(good), "gone.stl"},
		{"piece changed", strings.Replace(good, `"sha256": "`, `"sha256": "00`, 1), "is not the file it was"},
		{"no such board", strings.Replace(good, s.Board, "ebony", 1), "ebony"},
		{"words for a number", strings.Replace(good, `"Scale": 1`, `"Scale": "1"`, 1), `"settings.Scale" holds a string and wants a number`},
		{"a list for the piece", strings.Replace(good, `"piece": {`, `"trials": 7, "piece": {`, 1), `"trials" holds a number and wants a list`},
		{"nothing for the piece", strings.Replace(good, `"path": "ball.stl"`, `"path": ""`, 1), "is a folder"},
		{"scale 0", strings.Replace(good, `"Scale": 1`, `"Scale": 0`, 1), "scale"},
	} {
		path := filepath.Join(dir, "broken.grainstack")
		if tt.text == good {
			t.Fatalf("%s: the case changes nothing", tt.name)
		}
		if err := os.WriteFile(path, []byte(tt.text), 0o644); err != nil {
			t.Fatal(err)
		}
		if _, _, err := load(ctx, path, c); err == nil || !strings.Contains(err.Error(), tt.want) || !strings.Contains(err.Error(), "broken.grainstack") {
			t.Errorf("%s: got %v, want the file's name and %q", tt.name, err, tt.want)
		}
	}
}

// TestMarkedJob: an editor's mark before a job is no part of it, and nothing for stock is none.
func TestMarkedJob(t *testing.T) {
	c, path := stocktest.Catalogue(t), filepath.Join(t.TempDir(), "a.grainstack")
	want := job.Default(c)
	want.Wall = 12
	if err := (jobfile.Job{Piece: job.Demo(), Settings: want}.Save(path, false)); err != nil {
		t.Fatal(err)
	}
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	marked := "\ufeff" + strings.Replace(string(text), `"piece": {`, `"stock": null, "piece": {`, 1)
	if err := os.WriteFile(path, []byte(marked), 0o644); err != nil {
		t.Fatal(err)
	}
	if j, err := jobfile.Open(context.Background(), path, "", c, nil); err != nil || j.Settings != want {
		t.Errorf("%v", err)
	}
}

// TestJobSparesPiece: a job is not saved over its own piece.
func TestJobSparesPiece(t *testing.T) {
	piece := filepath.Join(t.TempDir(), "ball.stl")
	writeSTL(t, piece, solidtest.Sphere(40, 500))
	p, err := job.OpenPiece(context.Background(), piece)
	if err != nil {
		t.Fatal(err)
	}
	if err := (jobfile.Job{Piece: p, Settings: job.Default(stocktest.Catalogue(t))}).Save(piece, false); err == nil || !strings.Contains(err.Error(), "not written over") {
		t.Errorf("got %v", err)
	}
	if _, err := job.OpenPiece(context.Background(), piece); err != nil {
		t.Error(err)
	}
}

// TestSaveKeepsWhatWasThere where the folder can't be written.
func TestSaveKeepsWhatWasThere(t *testing.T) {
	err := jobfile.Job{Piece: job.Demo(), Settings: job.Default(stocktest.Catalogue(t))}.Save(filepath.Join(t.TempDir(), "no", "such", "folder.grainstack"), false)
	if err == nil || !strings.Contains(err.Error(), "not saved") {
		t.Errorf("saving into a folder that is not there: %v", err)
	}
}

// TestUnknownFieldsSurvive: what a newer program of the same version wrote is in the file again after opening and saving, at
// its place and to the digit; what was changed meanwhile is changed, and what was taken out is out.
func TestUnknownFieldsSurvive(t *testing.T) {
	c, ctx, dir := stocktest.Catalogue(t), context.Background(), t.TempDir()
	at := filepath.Join(dir, "demo.grainstack")
	s := job.Default(c)
	j := jobfile.Job{Piece: job.Demo(), Settings: s, Trials: []trial.Trial{{Name: "one", Settings: s}, {Name: "two", Settings: s}}}
	if err := j.Save(at, false); err != nil {
		t.Fatal(err)
	}
	text, err := os.ReadFile(at)
	if err != nil {
		t.Fatal(err)
	}
	newer := strings.NewReplacer(
		`"grainstack_job": 3,`, `"grainstack_job": 3, "bench_light": {"kelvin": 5000.00000000000000000001, "on": [1, null, "x"]},`,
		`"Kerf": 3,`, `"Kerf": 3, "Blade": "fine",`,
		`"name": "two",`, `"name": "two", "liked": true,`,
	).Replace(string(text))
	if strings.Count(newer, "Blade") != 3 || !strings.Contains(newer, "liked") || !strings.Contains(newer, "bench_light") {
		t.Fatal("the case changes nothing")
	}
	if err := os.WriteFile(at, []byte(newer), 0o644); err != nil {
		t.Fatal(err)
	}
	k, err := jobfile.Open(ctx, at, "", c, nil)
	if err != nil {
		t.Fatal(err)
	}
	k.Settings.Wall = 33
	k.Trials = k.Trials[1:]
	if err := k.Save(at, false); err != nil {
		t.Fatal(err)
	}
	again, err := os.ReadFile(at)
	if err != nil {
		t.Fatal(err)
	}
	for word, want := range map[string]int{"5000.00000000000000000001": 1, `"Blade": "fine"`: 2, `"liked": true`: 1, `"name": "one"`: 0, `"Wall": 33`: 1, "null": 1} {
		if got := strings.Count(string(again), word); got != want {
			t.Errorf("%s is there %d times, want %d", word, got, want)
		}
	}
	if l, err := jobfile.Open(ctx, at, "", c, nil); err != nil || l.Settings != k.Settings || len(l.Trials) != 1 {
		t.Errorf("the file saved again opens with %v", err)
	}
}
