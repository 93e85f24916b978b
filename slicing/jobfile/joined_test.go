package jobfile_test

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"grainstack/assets/stocktest"
	"grainstack/slicing/chalk"
	"grainstack/slicing/geom"
	"grainstack/slicing/job"
	"grainstack/slicing/jobfile"
	"grainstack/slicing/scans"
	"grainstack/slicing/solidtest"
)

// TestJoinedJob: the job of a joined piece opens as the very same piece, without its scans being found anew; where one of them was
// moved it is asked for; what a file may not say is refused in a sentence.
func TestJoinedJob(t *testing.T) {
	c, ctx, dir := stocktest.Catalogue(t), context.Background(), t.TempDir()
	var files []string
	for i, s := range solidtest.Sittings(solidtest.Bumpy(60, 8_000), 2, 0.0005, 0, 2) {
		files = append(files, filepath.Join(dir, string(rune('a'+i))+".stl"))
		writeSTL(t, files[i], s.Mesh)
	}
	plan := scans.NewPlan(files...)
	marks, err := (*chalk.Marks)(nil).With(chalk.Stroke{Kind: chalk.DontCare, Radius: 3, Path: []geom.Vec{{X: 1}, {Y: 5}}})
	if err != nil {
		t.Fatal(err)
	}
	plan.Sources[1].Cuts = []scans.Cut{{Along: geom.Vec{Z: 1}, From: -1e6}, {Chalk: marks}}
	p, err := job.JoinPiece(ctx, plan, nil)
	if err != nil {
		t.Fatal(err)
	}
	at := filepath.Join(dir, "piece.grainstack")
	s := job.Default(c)
	s.Wall = 11
	if err := (jobfile.Job{Piece: p, Settings: s}.Save(at, false)); err != nil {
		t.Fatal(err)
	}
	same := func(moved string) {
		t.Helper()
		j, err := jobfile.Open(ctx, at, moved, c, nil)
		if err != nil {
			t.Fatal(err)
		}
		if j.Settings != s || !slices.Equal(j.Piece.Mesh.Points, p.Mesh.Points) || j.Piece.Name != "a" || len(j.Piece.Joined.Plan.Sources[1].Cuts) != 2 || !j.Piece.Joined.Plan.Sources[1].Cuts[1].Chalk.Equal(marks) {
			t.Error("another piece came back")
		}
	}
	same("")
	if err := (jobfile.Job{Piece: p, Settings: s}.Save(files[1], false)); err == nil || !strings.Contains(err.Error(), "not written over") {
		t.Errorf("saved over one of its scans: %v", err)
	}
	testTampered(t, at)

	away := filepath.Join(t.TempDir(), "elsewhere.stl")
	if err := os.Rename(files[1], away); err != nil {
		t.Fatal(err)
	}
	var gone *jobfile.MovedError
	if _, err := jobfile.Open(ctx, at, "", c, nil); !errors.As(err, &gone) || filepath.Base(gone.Piece) != "b.stl" {
		t.Errorf("of a scan that was moved: %v", err)
	}
	same(away)
	if _, err := jobfile.Open(ctx, at, files[0], c, nil); !errors.As(err, &gone) {
		t.Errorf("with another scan in its place: %v", err)
	}
}

// testTampered has a job of two scans say what it may not.
func testTampered(t *testing.T, at string) {
	text, err := os.ReadFile(at)
	if err != nil {
		t.Fatal(err)
	}
	good := string(text)
	bad := filepath.Join(filepath.Dir(at), "bad.grainstack")
	for says, with := range map[string]string{
		"seams are blended":    strings.Replace(good, `"blend": 0.02`, `"blend": -1`, 1),
		"where a.stl lies":     strings.Replace(good, `"scale": 1`, `"scale": 0`, 1),
		"two scans are needed": good[:strings.Index(good, `"scans": [`)] + `"scans": []` + good[strings.Index(good, `"blend"`)-len(",\n    "):],
		"a plane that scans": strings.Replace(good, `"Z": 1
            },
            "from"`, `"Z": 0
            },
            "from"`, 1),
		"among the scans already": strings.Replace(good, `"path": "b.stl"`, `"path": "a.stl"`, 1),
		"of version 5":            strings.Replace(good, `"grainstack_job": 4`, `"grainstack_job": 5`, 1),
	} {
		if with == good {
			t.Errorf("%q: the case changes nothing", says)
			continue
		}
		if err := os.WriteFile(bad, []byte(with), 0o644); err != nil {
			t.Fatal(err)
		}
		if _, err := jobfile.Open(context.Background(), bad, "", stocktest.Catalogue(t), nil); err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%q wanted, got %v", says, err)
		}
	}
}

// TestCutJob: the job of one scan that is cut opens as what was left of it.
func TestCutJob(t *testing.T) {
	c, ctx, dir := stocktest.Catalogue(t), context.Background(), t.TempDir()
	file, at := filepath.Join(dir, "ball.stl"), filepath.Join(dir, "ball.grainstack")
	writeSTL(t, file, solidtest.Sphere(10, 2000))
	p, err := job.JoinPiece(ctx, scans.CutAlone(file, scans.Cut{Along: geom.Vec{Z: 1}, From: -6}), nil)
	if err != nil {
		t.Fatal(err)
	}
	if err := (jobfile.Job{Piece: p, Settings: job.Default(c)}.Save(at, false)); err != nil {
		t.Fatal(err)
	}
	j, err := jobfile.Open(ctx, at, "", c, nil)
	if err != nil {
		t.Fatal(err)
	}
	if low := j.Piece.Mesh.Box().Min.Z; !slices.Equal(j.Piece.Mesh.Points, p.Mesh.Points) || low < -7 || low > -5 || !j.Piece.Joined.Plan.Alone() {
		t.Errorf("another piece came back, from %g up", low)
	}
}
