package disk

import (
	"os"
	"path/filepath"
)

// A pending is a file beside the one that it shall take the place of.
type pending struct {
	*os.File
	path   string
	closed bool
}

func begin(path string) (*pending, error) {
	f, err := os.CreateTemp(filepath.Dir(path), "."+filepath.Base(path))
	return &pending{File: f, path: path}, err
}

// CloseAtomicallyReplace puts the file in its place.
func (p *pending) CloseAtomicallyReplace() error {
	if err := p.Sync(); err != nil {
		return err
	}
	p.closed = true
	if err := p.Close(); err != nil {
		return err
	}
	return Rename(p.Name(), p.path)
}

// Cleanup takes away what was not put in its place.
func (p *pending) Cleanup() error {
	if !p.closed {
		p.Close()
	}
	return os.Remove(p.Name()) // not there any more where it has its name
}
