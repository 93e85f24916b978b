package stock

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"

	"grainstack/slicing/phrase"
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
	w, err := read(text)
	if err != nil {
		return nil, err
	}
	check := &checker{}
	c := w.catalogue(check)
	check.unique(c)
	check.ties(c)
	check.first(c)
	if err := errors.Join(check.faults...); err != nil {
		return nil, err
	}
	return c, nil
}

// A written is a catalogue file as it is written.
type written struct {
	first Choice
	rows  map[string][]writtenRow // by section
}

// A writtenRow is an entry with the line of the file that it begins on.
type writtenRow struct {
	text json.RawMessage
	line int
}

// sections are the lists of a catalogue file with what one of their entries is called.
var sections = map[string]string{"boards": "board", "species": "species", "cutters": "cutter", "machines": "machine",
	"glues": "glue", "finishes": "finish", "panels": "panel"}

// mostRows bounds the entries of one list.
const mostRows = 2000

// read takes a catalogue file apart.
func read(text []byte) (*written, error) {
	w := &written{rows: map[string][]writtenRow{}}
	dec := json.NewDecoder(bytes.NewReader(text))
	if err := delim(dec, text, '{'); err != nil {
		return nil, err
	}
	for dec.More() {
		name, err := dec.Token()
		if err != nil {
			return nil, phrase.JSON(text, err)
		}
		if err := w.section(dec, text, name.(string)); err != nil {
			return nil, err
		}
	}
	if _, err := dec.Token(); err != nil {
		return nil, phrase.JSON(text, err)
	}
	if _, err := dec.Token(); err != io.EOF {
		return nil, fmt.Errorf("line %d: something follows the end of the catalogue", phrase.Line(text, dec.InputOffset()))
	}
	return w, nil
}

// delim reads a bracket.
func delim(dec *json.Decoder, text []byte, want json.Delim) error {
	got, err := dec.Token()
	if err != nil {
		return phrase.JSON(text, err)
	}
	if got != want {
		if got == nil {
			got = "null"
		}
		return fmt.Errorf("line %d: %v stands where %v ought to", phrase.Line(text, dec.InputOffset()), got, want)
	}
	return nil
}

// section reads one of the file's parts.
func (w *written) section(dec *json.Decoder, text []byte, name string) error {
	line := phrase.Line(text, dec.InputOffset())
	if name == "note" || name == "first" {
		var raw json.RawMessage
		if err := dec.Decode(&raw); err != nil {
			return phrase.JSON(text, err)
		}
		if name == "note" {
			return nil
		}
		if err := strict(raw, &w.first); err != nil {
			return fmt.Errorf("line %d: first: %s", line, phrase.JSON(raw, err))
		}
		return nil
	}
	if _, known := sections[name]; !known {
		return fmt.Errorf("line %d: a catalogue has no part %q", line, name)
	}
	if err := delim(dec, text, '['); err != nil {
		return err
	}
	for dec.More() {
		if len(w.rows[name]) >= mostRows {
			return fmt.Errorf("line %d: more than %d %s are too many", phrase.Line(text, dec.InputOffset()), mostRows, name)
		}
		var raw json.RawMessage
		if err := dec.Decode(&raw); err != nil {
			return phrase.JSON(text, err)
		}
		begins := dec.InputOffset() - int64(len(raw))
		w.rows[name] = append(w.rows[name], writtenRow{raw, phrase.Line(text, begins)})
	}
	return delim(dec, text, ']')
}
