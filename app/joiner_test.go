package app

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/storage"

	"grainstack/app/state"
	"grainstack/app/task"
	"grainstack/app/work"
	"grainstack/slicing/job"
	"grainstack/slicing/jobfile"
	"grainstack/slicing/mesh"
	"grainstack/slicing/scans"
	"grainstack/slicing/solidtest"
)

// sittings are scans of one piece.
func sittings(n int) []solidtest.Sitting {
	return solidtest.Sittings(solidtest.Bumpy(60, 8_000), n, 0.0005, 0, 2)
}

// scanFiles are those scans in files.
func scanFiles(t *testing.T, n int) (files []string) {
	t.Helper()
	dir := t.TempDir()
	for i, s := range sittings(n) {
		path := filepath.Join(dir, "scan-"+string(rune('a'+i))+".stl")
		f, err := os.Create(path)
		if err != nil {
			t.Fatal(err)
		}
		if err := errors.Join(mesh.WriteSTL(f, s.Mesh), f.Close()); err != nil {
			t.Fatal(err)
		}
		files = append(files, path)
	}
	return files
}

// joinedOf waits until the piece is joined of so many scans, 0 for a piece of one file.
func (r *rig) joinedOf(n int) {
	r.t.Helper()
	r.until("the scans are joined", func() bool {
		j := r.bench.Model.Piece.Joined
		return !r.tasks.join.Busy() && r.bench.Plan() == r.bench.Model.Plan() && (n == 0 && j == nil || j != nil && len(j.Plan.Sources) == n)
	})
}

// TestScansBecomeOnePiece: several files make the piece; one more is found and joined, undone and done again without being joined
// anew; what was chosen stays; the job keeps it all.
func TestScansBecomeOnePiece(t *testing.T) {
	files := scanFiles(t, 3)
	r := newRig(t, ring())
	r.dropped([]fyne.URI{storage.NewFileURI(files[0]), storage.NewFileURI(files[1])}) // on the demo piece
	r.joinedOf(2)
	two := r.bench.Model.Piece
	if two.File != files[0] || r.bench.UndoName() != "" {
		t.Errorf("of %q, undo says %q", two.File, r.bench.UndoName())
	}
	r.Do("wall", func(s job.Settings) job.Settings { s.Wall = 7; return s })
	r.Rest()
	r.addScans(files[2:])
	r.joinedOf(3)
	three := r.bench.Model.Piece
	if r.bench.UndoName() != "add 1 scan" || r.bench.Settings().Wall != 7 {
		t.Errorf("undo says %q, the wall is %g", r.bench.UndoName(), r.bench.Settings().Wall)
	}
	r.settle()
	r.run("undo")
	r.drain()
	if r.bench.Model.Piece.Joined != two.Joined {
		t.Error("undo does not bring the piece of before back at once")
	}
	r.run("redo")
	r.drain()
	if r.bench.Model.Piece.Joined != three.Joined {
		t.Error("redo does not bring the joined piece back at once")
	}
	path := filepath.Join(t.TempDir(), "a.grainstack")
	if err := r.bench.Job().Save(path, false); err != nil {
		t.Fatal(err)
	}
	if j, err := jobfile.Open(t.Context(), path, "", r.bench.Shelf.Now, nil); err != nil || len(j.Piece.Joined.Plan.Sources) != 3 || j.Settings.Wall != 7 {
		t.Errorf("the job comes back with %v", err)
	}
	r.removeScan(1)
	r.joinedOf(2)
	if names := r.bench.Model.Piece.Files(); names[1] != files[2] || r.bench.UndoName() != "remove scan-b.stl" {
		t.Errorf("left are %v after %q", names, r.bench.UndoName())
	}
	r.removeScan(1)
	if len(r.pages) != 1 || r.bench.Model.Piece.Joined == nil {
		t.Error("the last but one scan went without a word")
	}
}

// TestOneFileBecomesOneOfSeveral: a scan is joined with a piece of one file, and undo leads back to that.
func TestOneFileBecomesOneOfSeveral(t *testing.T) {
	files := scanFiles(t, 2)
	r := newRig(t, ring())
	r.openNow(files[0])
	r.until("it is open", func() bool { return r.bench.Model.Piece.File == files[0] })
	raw := r.bench.Scan.Raw
	r.addScans(files[1:])
	r.joinedOf(2)
	if s := r.cardState(); s.Join.Blend != scans.UsualBlend {
		t.Errorf("seams of %g", s.Join.Blend)
	}
	r.blendSeams(0.1)
	r.until("seams are wider", func() bool { return r.bench.Plan() != nil && r.bench.Plan().Blend == 0.1 })
	r.joinedOf(2)
	r.run("undo")
	r.run("undo")
	r.drain()
	if r.bench.Scan.Raw.Piece != raw.Piece || r.bench.Plan() != nil {
		t.Error("undo does not lead back to the one scan")
	}
	r.run("redo")
	r.joinedOf(2)
}

// TestScansThatDoNotGoTogether: a sentence each, and nothing is lost; a call off leaves all as it was.
func TestScansThatDoNotGoTogether(t *testing.T) {
	files := scanFiles(t, 2)
	other := filepath.Join(t.TempDir(), "torus.stl")
	f, err := os.Create(other)
	if err != nil {
		t.Fatal(err)
	}
	if err := errors.Join(mesh.WriteSTL(f, solidtest.Torus(50, 20, 60, 40)), f.Close()); err != nil {
		t.Fatal(err)
	}
	r := newRig(t, ring())
	r.openScans(files)
	r.joinedOf(2)
	was := r.bench.Model.Piece.Joined
	var many []string
	for range 20 {
		many = append(many, other)
	}
	for _, more := range [][]string{{other}, {files[1]}, {"nowhere.stl"}, many} {
		r.addScans(more)
		r.until("it is told", func() bool { return len(r.pages) > 0 })
		r.pages[0].Hide()
		if r.bench.Model.Piece.Joined != was || r.bench.UndoName() != "" {
			t.Errorf("%v was added", more)
		}
	}
	r.removeScan(0)
	r.addScans([]string{other})
	r.until("it is at work", func() bool { return r.bench.Tasks.Join.State == task.Working })
	r.run("cancel")
	if r.bench.Tasks.Join.State != task.Off || r.bench.Model.Piece.Joined != was {
		t.Error("joining can't be called off")
	}
	r.joined(work.JoinAsk{Of: &state.Model{}, Plan: r.bench.Plan()}, nil, errors.New("a fault"))
	if len(r.pages) != 1 || !strings.Contains(r.log.String(), "what=") {
		t.Error("a fault is not told")
	}
}
