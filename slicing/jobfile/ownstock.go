package jobfile

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"grainstack/slicing/disk"
	"grainstack/slicing/stock"
)

// ownLimit is the most that a maker's own stock file may hold, as for the catalogue.
const ownLimit = 4 << 20

// OwnStock is a maker's own stock file.
type OwnStock struct {
	Path  string
	Text  []byte   // as it is written; none where there is no file yet
	Notes []string // what of it takes the place of something in the catalogue
}

// LoadOwnStock lays the maker's own stock file over a catalogue. A file that is not there holds nothing. Where it can't be
// read the catalogue comes back as it was, with the error.
func LoadOwnStock(path string, c *stock.Catalogue) (OwnStock, *stock.Catalogue, error) {
	own := OwnStock{Path: path}
	text, err := disk.ReadText(path, ownLimit)
	if errors.Is(err, fs.ErrNotExist) {
		return own, c, nil
	}
	if err != nil {
		return own, c, fmt.Errorf("your own stock can't be read: %w", err)
	}
	merged, notes, err := c.Merge(path, text)
	if err != nil {
		return own, c, fmt.Errorf("your own stock is left out until its file is mended: %w", err)
	}
	own.Text, own.Notes = text, notes
	return own, merged, nil
}

// Save writes the file, wholly or not at all.
func (o OwnStock) Save() error {
	err := os.MkdirAll(filepath.Dir(o.Path), 0o755)
	if err == nil {
		err = disk.WriteFile(o.Path, o.Text)
	}
	if err != nil {
		return fmt.Errorf("your own stock is not saved, what was there before is untouched: %w", err)
	}
	return nil
}

// carried is what of the maker's own stock a job needs to open elsewhere.
func (j Job) carried() []byte {
	if j.Catalogue == nil {
		return nil
	}
	uses := j.Settings.Uses()
	for _, t := range j.Trials {
		uses = append(uses, t.Settings.Uses()...)
	}
	return j.Catalogue.Carry(uses...)
}

// with is a catalogue with what a job brings along.
func (f *File) with(c *stock.Catalogue, path string) (*stock.Catalogue, []string, error) {
	if len(f.Stock) == 0 || string(f.Stock) == "null" {
		return c, nil, nil
	}
	return c.Merge(filepath.Base(path), f.Stock)
}
