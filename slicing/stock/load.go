package stock

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
)

// mostBytes bounds a catalogue file: several thousand boards.
const mostBytes = 4 << 20

// Load reads the catalogue file name and checks every figure in it: positive and finite, recipes that sum to the measured
// thickness, unique keys, known species. The error names the entry and the figure, and lists all that is wrong.
func Load(fsys fs.FS, name string) (*Catalogue, error) {
	file, err := fsys.Open(name)
	if err != nil {
		return nil, fmt.Errorf("stock: %w", err)
	}
	defer file.Close()
	text, err := io.ReadAll(io.LimitReader(file, mostBytes+1))
	if err != nil {
		return nil, fmt.Errorf("stock: %s: %w", name, err)
	}
	if len(text) > mostBytes {
		return nil, fmt.Errorf("stock: %s: more than %d MiB: not a catalogue", name, mostBytes>>20)
	}
	c, err := parse(text)
	if err != nil {
		return nil, fmt.Errorf("stock: %s: %w", name, err)
	}
	return c, nil
}

func parse(text []byte) (*Catalogue, error) {
	var page page
	dec := json.NewDecoder(bytes.NewReader(text))
	dec.DisallowUnknownFields()
	if err := dec.Decode(&page); err != nil {
		return nil, placed(text, err)
	}
	if _, err := dec.Token(); err != io.EOF {
		return nil, fmt.Errorf("line %d: something follows the end of the catalogue", lineOf(text, dec.InputOffset()))
	}
	check := &checker{}
	c := page.catalogue(check)
	check.whole(c)
	if err := errors.Join(check.faults...); err != nil {
		return nil, err
	}
	return c, nil
}

// placed adds the line to a fault of the file's form.
func placed(text []byte, err error) error {
	var syntax *json.SyntaxError
	var kind *json.UnmarshalTypeError
	switch {
	case errors.As(err, &syntax):
		return fmt.Errorf("line %d: %w", lineOf(text, syntax.Offset), err)
	case errors.As(err, &kind):
		return fmt.Errorf("line %d: %q is a %s, which does not fit", lineOf(text, kind.Offset), kind.Field, kind.Value)
	case errors.Is(err, io.EOF), errors.Is(err, io.ErrUnexpectedEOF):
		return errors.New("the file stops before the catalogue ends")
	}
	return err
}

func lineOf(text []byte, offset int64) int {
	return 1 + bytes.Count(text[:min(max(offset, 0), int64(len(text)))], []byte("\n"))
}
