package job

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"path/filepath"

	"grainstack/slicing/stock"

	"github.com/google/renameio/v2"
)

// FileVersion is the version of the job file that this program writes.
const FileVersion = 1

// jobLimit is the most that a job file may hold; a job is settings, a piece is elsewhere.
const jobLimit = 4 << 20

// A File is a job as it is kept: where the piece came from, and what was chosen.
type File struct {
	Grainstack int      `json:"grainstack_job"` // the version
	Piece      PieceRef `json:"piece"`
	Settings   Settings `json:"settings"`
}

// A PieceRef says where the piece of a job is and how its file can be told from another.
type PieceRef struct {
	Path   string `json:"path"` // relative to the job file where it lies beside or below it; the demo piece has none
	SHA256 string `json:"sha256,omitempty"`
}

// Save writes a job, wholly or not at all.
func Save(path string, p *Piece, s Settings) error {
	ref, err := refer(path, p)
	if err != nil {
		return err
	}
	f := File{FileVersion, ref, s}
	text, err := json.MarshalIndent(f, "", "  ")
	if err != nil {
		return err
	}
	if err := renameio.WriteFile(path, append(text, '\n'), 0o644); err != nil {
		return fmt.Errorf("the job is not saved, what was there before is untouched: %w", err)
	}
	return nil
}

// refer says where a piece is, as seen from a job file.
func refer(jobPath string, p *Piece) (PieceRef, error) {
	if p.File == "" {
		return PieceRef{Path: demoPath}, nil
	}
	sum, err := hashFile(p.File)
	if err != nil {
		return PieceRef{}, fmt.Errorf("the piece can't be read again: %w", err)
	}
	return PieceRef{relative(jobPath, p.File), sum}, nil
}

// Load opens a mesh, or a job with its piece. A mesh starts with the default settings, at the unit that its file names, if
// any.
func Load(ctx context.Context, path string, c *stock.Catalogue) (*Piece, Settings, error) {
	f, isJob, err := readJob(path)
	if err != nil {
		return nil, Settings{}, err
	}
	if !isJob {
		p, err := OpenPiece(ctx, path)
		s := Default(c)
		if err == nil && p.Raw.UnitMM > 0 {
			s.Scale = p.Raw.UnitMM
		}
		return p, s, err
	}
	if err := f.Settings.Check(c); err != nil {
		return nil, Settings{}, fmt.Errorf("%s: %w", path, err)
	}
	if f.Piece.Path == demoPath {
		return Demo(), f.Settings, nil
	}
	at := filepath.FromSlash(f.Piece.Path)
	if !filepath.IsAbs(at) {
		at = filepath.Join(filepath.Dir(path), at)
	}
	sum, err := hashFile(at)
	if err != nil {
		return nil, Settings{}, fmt.Errorf("%s: its piece %s can't be read: put the file back there, or open it and save the job again (%w)", path, at, err)
	}
	if sum != f.Piece.SHA256 {
		return nil, Settings{}, fmt.Errorf("%s: its piece %s is not the file it was when the job was saved: open the piece itself and save the job again", path, at)
	}
	p, err := OpenPiece(ctx, at)
	return p, f.Settings, err
}

// readJob reads a job file; isJob is false for a file that is something else.
func readJob(path string) (f File, isJob bool, err error) {
	file, err := os.Open(path)
	if err != nil {
		return f, false, err
	}
	defer file.Close()
	var head [512]byte
	n, _ := io.ReadFull(file, head[:])
	if text := bytes.TrimSpace(head[:n]); len(text) == 0 || text[0] != '{' || !bytes.Contains(text, []byte(`"grainstack_job"`)) {
		return f, false, nil
	}
	text, err := io.ReadAll(io.LimitReader(io.MultiReader(bytes.NewReader(head[:n]), file), jobLimit+1))
	if err != nil {
		return f, true, err
	}
	if len(text) > jobLimit {
		return f, true, fmt.Errorf("%s: a job of more than %d bytes is none of ours", path, jobLimit)
	}
	if err := json.Unmarshal(text, &f); err != nil {
		return f, true, fmt.Errorf("%s: the job can't be read: %w", path, err)
	}
	if f.Grainstack != FileVersion {
		return f, true, fmt.Errorf("%s: the job is of version %d, this program knows version %d: use a program as new as the job", path, f.Grainstack, FileVersion)
	}
	return f, true, nil
}

func hashFile(path string) (string, error) {
	f, err := os.Open(path)
	if err != nil {
		return "", err
	}
	defer f.Close()
	h := sha256.New()
	if _, err := io.Copy(h, f); err != nil {
		return "", err
	}
	return hex.EncodeToString(h.Sum(nil)), nil
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
