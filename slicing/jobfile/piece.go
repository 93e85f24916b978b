package jobfile

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"grainstack/slicing/disk"
	"grainstack/slicing/phrase"
)

// A MovedError says that the piece of a job is not where it was. The maker can say where it is: Open takes that path.
type MovedError struct {
	Job, Piece string
	Changed    bool // there is a file, but of another content
	Err        error
}

// Error is a sentence with the way out.
func (e *MovedError) Error() string {
	if e.Changed {
		return fmt.Sprintf("%s: its piece %s is not the file it was when the job was saved: say where the piece is now, or open the piece itself and save the job again", phrase.Name(e.Job), phrase.Name(e.Piece))
	}
	return fmt.Sprintf("%s: its piece %s can't be read: say where the piece is now, put the file back there, or open it and save the job again (%v)", phrase.Name(e.Job), phrase.Name(e.Piece), e.Err)
}

// Unwrap is what the system said.
func (e *MovedError) Unwrap() error { return e.Err }

// find is the path of the piece: where it was, or where the maker says it is now, or a file of the same content in the job's
// folder.
func (r PieceRef) find(job, moved string) (string, error) {
	at := filepath.FromSlash(r.Path)
	if !filepath.IsAbs(at) {
		at = filepath.Join(filepath.Dir(job), at)
	}
	if moved != "" {
		at = moved
	}
	sum, _, err := hashFile(at)
	if err == nil && sum == r.SHA256 {
		return at, nil
	}
	if near, ok := r.beside(job); ok && moved == "" {
		return near, nil
	}
	return "", &MovedError{Job: job, Piece: at, Changed: err == nil, Err: err}
}

// mostBeside bounds how many files of a folder are looked into for a moved piece.
const mostBeside = 200

// beside looks for a file of the same kind and content in the job's folder, in the order of names.
func (r PieceRef) beside(job string) (string, bool) {
	dir := filepath.Dir(job)
	all, err := os.ReadDir(dir)
	if err != nil {
		return "", false
	}
	looked := 0
	for _, e := range all {
		info, err := e.Info()
		if err != nil || !info.Mode().IsRegular() || !strings.EqualFold(filepath.Ext(e.Name()), filepath.Ext(r.Path)) || r.Bytes > 0 && info.Size() != r.Bytes {
			continue
		}
		if looked++; looked > mostBeside {
			return "", false
		}
		at := filepath.Join(dir, e.Name())
		if sum, _, err := hashFile(at); err == nil && sum == r.SHA256 {
			return at, true
		}
	}
	return "", false
}

// hashFile is a file's content hash and its size.
func hashFile(path string) (sum string, size int64, err error) {
	f, err := disk.Open(path)
	if err != nil {
		return "", 0, err
	}
	defer f.Close()
	h := sha256.New()
	if size, err = io.Copy(h, f); err != nil {
		return "", 0, err
	}
	return hex.EncodeToString(h.Sum(nil)), size, nil
}

// copyBeside copies a file into a job's folder, wholly or not at all, and gives its path there. A file of that name and
// other content is left alone; the copy then has part of its hash in its name.
func copyBeside(job, from, sum string) (string, error) {
	dir, base := filepath.Dir(job), filepath.Base(from)
	ext := filepath.Ext(base)
	names := []string{base, strings.TrimSuffix(base, ext) + "-" + sum[:12] + ext}
	i := slices.IndexFunc(names, func(name string) bool {
		there, _, err := hashFile(filepath.Join(dir, name))
		return errors.Is(err, fs.ErrNotExist) || err == nil && there == sum
	})
	if i < 0 {
		return "", fmt.Errorf("%s is there already and is another file", filepath.Join(dir, names[1]))
	}
	to := filepath.Join(dir, names[i])
	if _, err := os.Stat(to); err == nil {
		return to, nil
	}
	in, err := disk.Open(from)
	if err != nil {
		return "", err
	}
	defer in.Close()
	return to, disk.Write(to, func(w io.Writer) error {
		_, err := io.Copy(w, in)
		return err
	})
}
