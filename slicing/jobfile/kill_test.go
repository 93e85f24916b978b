package jobfile_test

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"grainstack/assets/stocktest"
	"grainstack/slicing/geom"
	"grainstack/slicing/hours"
	"grainstack/slicing/job"
	"grainstack/slicing/jobfile"
	"grainstack/slicing/killtest"
	"grainstack/slicing/panel"
	"grainstack/slicing/solidtest"
	"grainstack/slicing/trial"
)

// bigJob is a job of some hundred kilobytes whose places all tell which one it is.
func bigJob(t *testing.T, p *job.Piece, which int) jobfile.Job {
	s := job.Default(stocktest.Catalogue(t))
	s.Wall = float64(10 + which)
	j := jobfile.Job{Piece: p, Settings: s}
	for i := range 2000 {
		j.Places.Parts = append(j.Places.Parts, job.Place{Panel: 1 + which, Placed: panel.Placed{Part: panel.ID{Layer: i + 1}, At: geom.Vec2{X: float64(which)}}})
	}
	return j
}

// TestChildSaves is the process that TestSaveKilled kills.
func TestChildSaves(t *testing.T) {
	w := killtest.Written(t)
	p, err := job.OpenPiece(context.Background(), filepath.Join(filepath.Dir(w.Path), "ball.stl"))
	if err != nil {
		t.Fatal(err)
	}
	jobs := []jobfile.Job{bigJob(t, p, 0), bigJob(t, p, 1)}
	w.Rounds(func(round int, _ func()) error { return jobs[round%2].Save(w.Path, false) })
}

// TestSaveKilled: killed at any moment, 50 times, the job is one of the two that were saved, wholly.
func TestSaveKilled(t *testing.T) {
	c := stocktest.Catalogue(t)
	dir := t.TempDir()
	path := filepath.Join(dir, "job.grainstack")
	writeSTL(t, filepath.Join(dir, "ball.stl"), solidtest.Sphere(40, 500))
	want := []jobfile.Job{bigJob(t, nil, 0), bigJob(t, nil, 1)}
	seen := map[int]bool{}
	killtest.Killing{Child: "TestChildSaves", Path: path, Kills: 50, Look: func(old, next int) (int, error) {
		text, err := os.ReadFile(path)
		if os.IsNotExist(err) {
			return killtest.Nothing, nil
		}
		f, err := jobfile.Open(context.Background(), path, "", c, nil)
		if err != nil {
			return 0, fmt.Errorf("a job of %d bytes can't be opened: %w", len(text), err)
		}
		which := int(f.Settings.Wall) - 10
		if !reflect.DeepEqual(f.Places, want[which].Places) {
			return 0, errors.New("the job is a mixture")
		}
		if old >= 0 && old%2 == which {
			next = old
		}
		seen[next] = true
		return next, nil
	}}.Run(t)
	if len(seen) < 10 {
		t.Errorf("only %d different jobs were seen: the test looked at too little", len(seen))
	}
}

// TestWholeJobComesBack: places, trials and minutes as well.
func TestWholeJobComesBack(t *testing.T) {
	c, dir := stocktest.Catalogue(t), t.TempDir()
	j := bigJob(t, job.Demo(), 1)
	j.Places = j.Places.WithTabs(panel.ID{Layer: 2, Part: 1}, []geom.Vec2{{X: 3, Y: 4}}).WithPins(3, []geom.Vec2{{X: 1}}).
		WithSplit(job.Split{Part: panel.ID{Layer: 4}, B: geom.Vec2{Y: 1}})
	j.Trials = []trial.Trial{{Name: "thin", Settings: job.Default(c)}}
	j.Minutes = []hours.Record{{Machine: "middle", Layer: 3, Reckoned: 20, Took: 23}}
	path := filepath.Join(dir, "a.grainstack")
	if err := j.Save(path, false); err != nil {
		t.Fatal(err)
	}
	back, err := jobfile.Open(context.Background(), path, "", c, nil)
	if err != nil {
		t.Fatal(err)
	}
	if !reflect.DeepEqual(back.Places, j.Places) || !reflect.DeepEqual(back.Trials, j.Trials) || !reflect.DeepEqual(back.Minutes, j.Minutes) || back.Settings != j.Settings {
		t.Error("the job came back as another")
	}
}

// TestOlderJob: a job of version 1 has no shop and gets the usual one.
func TestOlderJob(t *testing.T) {
	c, dir := stocktest.Catalogue(t), t.TempDir()
	path := filepath.Join(dir, "old.grainstack")
	if err := (jobfile.Job{Piece: job.Demo(), Settings: job.Default(c)}.Save(path, false)); err != nil {
		t.Fatal(err)
	}
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	old := strings.Replace(string(text), `"grainstack_job": 3`, `"grainstack_job": 1`, 1)
	from, to := strings.Index(old, `"Shop": {`), strings.Index(old, `"places"`)
	old = strings.TrimRight(strings.TrimSpace(old[:from]), ",") + "},\n" + old[to:]
	if err := os.WriteFile(path, []byte(old), 0o644); err != nil {
		t.Fatal(err)
	}
	j, err := jobfile.Open(context.Background(), path, "", c, nil)
	if err != nil || j.Settings != job.Default(c) {
		t.Errorf("%v; shop %+v", err, j.Settings.Shop)
	}
}

// TestMovedPiece is found beside the job by its content, or where the maker says; another file is refused.
func TestMovedPiece(t *testing.T) {
	c, ctx, dir := stocktest.Catalogue(t), context.Background(), t.TempDir()
	at := filepath.Join(dir, "ball.stl")
	writeSTL(t, at, solidtest.Sphere(40, 500))
	p, err := job.OpenPiece(ctx, at)
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(dir, "ball.grainstack")
	if err := (jobfile.Job{Piece: p, Settings: job.Default(c)}.Save(path, false)); err != nil {
		t.Fatal(err)
	}
	if err := os.Rename(at, filepath.Join(dir, "renamed.stl")); err != nil {
		t.Fatal(err)
	}
	if j, err := jobfile.Open(ctx, path, "", c, nil); err != nil || filepath.Base(j.Piece.File) != "renamed.stl" {
		t.Errorf("a renamed piece is not found: %v", err)
	}
	away := filepath.Join(t.TempDir(), "away.stl")
	if err := os.Rename(filepath.Join(dir, "renamed.stl"), away); err != nil {
		t.Fatal(err)
	}
	var moved *jobfile.MovedError
	if _, err := jobfile.Open(ctx, path, "", c, nil); !errors.As(err, &moved) || moved.Piece != at || moved.Changed {
		t.Errorf("a piece that is gone: %v", err)
	}
	if j, err := jobfile.Open(ctx, path, away, c, nil); err != nil || j.Piece.File != away {
		t.Errorf("the piece is not taken from where the maker says: %v", err)
	}
	other := filepath.Join(dir, "other.stl")
	writeSTL(t, other, solidtest.Sphere(41, 500))
	if _, err := jobfile.Open(ctx, path, other, c, nil); !errors.As(err, &moved) || !moved.Changed {
		t.Errorf("another piece is taken: %v", err)
	}
}

// TestPieceGoesWithTheJob: the copy in the job's folder is used once the original is gone, and a file of the same name is
// left alone.
func TestPieceGoesWithTheJob(t *testing.T) {
	c, ctx, dir := stocktest.Catalogue(t), context.Background(), t.TempDir()
	at := filepath.Join(t.TempDir(), "ball.stl")
	writeSTL(t, at, solidtest.Sphere(40, 500))
	p, err := job.OpenPiece(ctx, at)
	if err != nil {
		t.Fatal(err)
	}
	mine := filepath.Join(dir, "ball.stl")
	if err := os.WriteFile(mine, []byte("another"), 0o644); err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(dir, "ball.grainstack")
	for range 2 {
		if err := (jobfile.Job{Piece: p, Settings: job.Default(c)}).Save(path, true); err != nil {
			t.Fatal(err)
		}
	}
	if err := os.Remove(at); err != nil {
		t.Fatal(err)
	}
	if _, err := jobfile.Open(ctx, path, "", c, nil); err != nil {
		t.Errorf("the copy is not found: %v", err)
	}
	if text, _ := os.ReadFile(mine); string(text) != "another" {
		t.Error("the maker's own file was written over")
	}
}
