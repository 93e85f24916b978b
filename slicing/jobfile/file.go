package jobfile

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"slices"

	"grainstack/slicing/chalk"
	"grainstack/slicing/disk"
	"grainstack/slicing/finding"
	"grainstack/slicing/hours"
	"grainstack/slicing/job"
	"grainstack/slicing/phrase"
	"grainstack/slicing/stock"
	"grainstack/slicing/trial"
)

// thisVersion is the version of the job file that this program writes. Version 1 had no shop, no places and no minutes;
// version 2 had no layers of another board or turn, no marks in chalk and no tones; version 3 had no pieces joined of several scans,
// and a job without one is still of that version.
const thisVersion = 4

// unjoined is the version of a job whose piece is of one file.
const unjoined = 3

// jobLimit is the most that a job file may hold; a job is settings and places, a piece is elsewhere.
const jobLimit = 16 << 20

// demoPath stands for the demo piece in a job file.
const demoPath = "demo:resting-hare"

// A File is a job as it is kept: where the piece came from, what was chosen, and what was put by hand.
type File struct {
	Grainstack int             `json:"grainstack_job"`   // the version
	Piece      PieceRef        `json:"piece"`            // the first of the scans, where there are several
	Joined     *JoinedRef      `json:"joined,omitempty"` // what the piece is joined of
	Settings   job.Settings    `json:"settings"`
	Trials     []trial.Trial   `json:"trials,omitempty"`
	Places     job.Places      `json:"places"`
	Minutes    []hours.Record  `json:"minutes,omitempty"`
	Asides     []finding.Aside `json:"set_aside,omitempty"` // what needs a look and the maker sees to by hand

	Saved string `json:"saved,omitempty"` // where the job is saved, of one that was kept for the case of a crash

	Stock json.RawMessage `json:"stock,omitempty"` // the maker's own entries that the settings name, in the catalogue's form

	more any // what this program doesn't know
}

// A PieceRef says where the piece of a job is and how its file can be told from another.
type PieceRef struct {
	Path   string `json:"path"` // relative to the job file where it lies beside or below it; the demo piece has none
	SHA256 string `json:"sha256,omitempty"`
	Bytes  int64  `json:"bytes,omitempty"`
}

// A Job is everything that is saved.
type Job struct {
	Piece    *job.Piece
	Settings job.Settings
	Trials   []trial.Trial
	Places   job.Places
	Minutes  []hours.Record  // that sides really took
	Asides   []finding.Aside // what needs a look and the maker sees to by hand
	Saved    string          // where the job is saved, of one that was kept for the case of a crash; "" for nowhere

	Catalogue *stock.Catalogue // that the settings' names are looked up in, with what the job brought along
	Notes     []string         // what it brought that takes the place of something else

	more any // what a newer program wrote into the job's file and this one doesn't know
}

// Save writes a job, wholly or not at all. withPiece puts a copy of the piece's file into the job's folder first, so that the
// folder can be taken elsewhere.
func (j Job) Save(path string, withPiece bool) error {
	if err := disk.Apart(path, j.Piece.Files()...); err != nil {
		return fmt.Errorf("the job is not saved: %w", err)
	}
	ref, joined, err := referAll(path, j.Piece, withPiece)
	if err != nil {
		return err
	}
	version := unjoined
	if joined != nil {
		version = thisVersion
	}
	f := File{Grainstack: version, Piece: ref, Joined: joined, Settings: j.Settings, Trials: j.Trials, Places: j.Places, Minutes: j.Minutes, Asides: j.Asides, Saved: j.Saved, Stock: j.carried()}
	text, err := f.text(j.more)
	if err != nil {
		return fmt.Errorf("the job is not saved, what was there before is untouched: %w", err)
	}
	if len(text) >= jobLimit {
		return fmt.Errorf("the job is not saved: with more than %d bytes no program would open it again", jobLimit)
	}
	if err := disk.WriteFile(path, append(text, '\n')); err != nil {
		return fmt.Errorf("the job is not saved, what was there before is untouched: %w", err)
	}
	return nil
}

// text is the file with what was not known of it when it was opened.
func (f File) text(more any) ([]byte, error) {
	text, err := json.Marshal(f)
	if err != nil {
		return nil, err
	}
	if text, err = with(text, more); err != nil {
		return nil, err
	}
	var out bytes.Buffer
	err = json.Indent(&out, text, "", "  ")
	return out.Bytes(), err
}

// refer says where a file of the piece is, as seen from a job file, and copies it there if wanted.
func refer(jobPath, file string, copied bool) (PieceRef, error) {
	if file == "" {
		return PieceRef{Path: demoPath}, nil
	}
	sum, size, err := hashFile(file)
	if err != nil {
		return PieceRef{}, fmt.Errorf("the piece can't be read again: %w", err)
	}
	at := file
	if copied {
		if at, err = copyBeside(jobPath, file, sum); err != nil {
			return PieceRef{}, fmt.Errorf("the piece can't be copied to the job, which is not saved: %w", err)
		}
	}
	return PieceRef{relative(jobPath, at), sum, size}, nil
}

// Open opens a mesh, or a job with its piece and everything that it holds. A mesh starts with the default settings, at the unit that its
// file names, if any. Where the piece of a job is not where it was, a file of the same content is
// looked for in the job's folder; where there is none the error is a *MovedError, and the maker can say where the piece is:
// it is taken as moved, and refused when its content is another. Joining scans takes long: report, which may be nil, is given what is
// being done and the share of it that is done.
func Open(ctx context.Context, path, moved string, c *stock.Catalogue, report func(step string, done float64)) (Job, error) {
	f, isJob, err := readJob(path)
	if err != nil {
		return Job{}, err
	}
	if !isJob {
		p, err := job.OpenPiece(ctx, path)
		s := job.Default(c)
		if err == nil && p.Raw.UnitMM > 0 {
			s.Scale = p.Raw.UnitMM
		}
		return Job{Piece: p, Settings: s, Catalogue: c}, err
	}
	c, notes, err := f.with(c, path)
	if err != nil {
		return Job{}, err
	}
	trials, err := trial.Tidy(f.Trials)
	j := Job{Settings: f.Settings, Trials: trials, Places: f.Places, Minutes: f.Minutes, Asides: f.Asides, Saved: f.Saved, Catalogue: c, Notes: notes, more: f.more}
	if err := errors.Join(f.Settings.Check(c), f.Places.Check(), finding.CheckAsides(f.Asides), err); err != nil {
		return Job{}, fmt.Errorf("%s: %w", phrase.Name(path), err)
	}
	if f.Piece.Path == demoPath {
		j.Piece = job.Demo()
		return j, nil
	}
	if f.Joined != nil {
		plan, err := f.Joined.plan(path, moved)
		if err != nil {
			return Job{}, err
		}
		j.Piece, err = job.JoinPiece(ctx, plan, report)
		return j, err
	}
	at, err := f.Piece.find(path, moved)
	if err != nil {
		return Job{}, err
	}
	j.Piece, err = job.OpenPiece(ctx, at)
	return j, err
}

// readJob reads a job file; isJob is false for a file that is something else.
func readJob(path string) (f File, isJob bool, err error) {
	name := phrase.Name(path)
	file, err := disk.Open(path)
	if err != nil {
		return f, false, err
	}
	defer file.Close()
	var head [512]byte
	n, _ := io.ReadFull(file, head[:])
	mark := len(disk.Mark)
	if !bytes.HasPrefix(head[:n], []byte(disk.Mark)) {
		mark = 0
	}
	if text := bytes.TrimSpace(head[mark:n]); len(text) == 0 || text[0] != '{' || !bytes.Contains(text, []byte(`"grainstack_job"`)) {
		return f, false, nil
	}
	text, err := io.ReadAll(io.LimitReader(io.MultiReader(bytes.NewReader(head[mark:n]), file), jobLimit+1))
	if err != nil {
		return f, true, err
	}
	if len(text) > jobLimit {
		return f, true, fmt.Errorf("%s: a job of more than %d bytes is none of ours", name, jobLimit)
	}
	var about struct {
		Version int `json:"grainstack_job"`
	}
	if err := json.Unmarshal(text, &about); err != nil {
		return f, true, fmt.Errorf("%s: the job can't be read: %w", name, phrase.JSON(text, err))
	}
	if v := about.Version; v > thisVersion {
		return f, true, fmt.Errorf("%s: the job is of version %d and this program knows versions up to %d: use a program as new as the job", name, v, thisVersion)
	} else if v < 1 {
		return f, true, fmt.Errorf("%s: there is no version %d of a job", name, v)
	}
	f.Settings = job.Unread() // for what an older job doesn't have
	if err := json.Unmarshal(text, &f); err != nil {
		return f, true, fmt.Errorf("%s: the job can't be read: %w", name, phrase.JSON(text, err))
	}
	f.shareChalk()
	f.more = unknownIn(text)
	return f, true, nil
}

// shareChalk lets settings and trials with equal marks hold the very same ones, so that they are equal.
func (f *File) shareChalk() {
	seen := []*chalk.Marks{nil}
	one := func(m **chalk.Marks) {
		if i := slices.IndexFunc(seen, (*m).Equal); i >= 0 {
			*m = seen[i]
			return
		}
		seen = append(seen, *m)
	}
	one(&f.Settings.Chalk)
	for i := range f.Trials {
		one(&f.Trials[i].Settings.Chalk)
	}
}

// relative is the piece's path as seen from the job's folder where it lies in it, else absolute.
func relative(jobPath, piece string) string {
	dir, err1 := filepath.Abs(filepath.Dir(jobPath))
	at, err2 := filepath.Abs(piece)
	if err1 != nil || err2 != nil {
		return piece
	}
	if rel, err := filepath.Rel(dir, at); err == nil && filepath.IsLocal(rel) {
		return filepath.ToSlash(rel)
	}
	return at
}
