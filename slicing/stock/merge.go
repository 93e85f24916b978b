package stock

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"maps"
	"slices"
)

// Merge is the catalogue with a maker's own stock laid over it: a file of the catalogue's form in which every part and every
// source may be missing. Entries with new keys follow the catalogue's, those with a key of the catalogue's take its place,
// which notes say in sentences where they differ from it; what first names begins a new job. Name is the file's, for notes and errors. The error names
// line, entry and figure, and lists all that is wrong; c itself never changes.
func (c *Catalogue) Merge(name string, text []byte) (merged *Catalogue, notes []string, err error) {
	if len(text) > mostBytes {
		return nil, nil, fmt.Errorf("stock: %s: more than %d MiB: not a catalogue", name, mostBytes>>20)
	}
	w, err := read(text)
	if err != nil {
		return nil, nil, fmt.Errorf("stock: %s: %w", name, err)
	}
	check := &checker{}
	own := w.catalogue(check)
	check.unique(own)
	m := &Catalogue{First: c.First.with(own.First), own: map[[2]string]json.RawMessage{}}
	maps.Copy(m.own, c.own)
	l := layer{name: name, was: c.own, now: map[[2]string]json.RawMessage{}}
	for section, kind := range sections {
		for _, row := range w.rows[section] {
			k := [2]string{kind, keyOf(row.text)}
			l.now[k], m.own[k] = row.text, row.text
		}
	}
	m.Species = over(&l, "species", c.Species, own.Species, func(s Species) string { return s.Key })
	m.Boards = over(&l, "board", c.Boards, own.Boards, func(b Board) string { return b.Key })
	m.Cutters = over(&l, "cutter", c.Cutters, own.Cutters, func(t Cutter) string { return t.Key })
	m.Machines = over(&l, "machine", c.Machines, own.Machines, func(m Machine) string { return m.Key })
	m.Glues = over(&l, "glue", c.Glues, own.Glues, func(g Glue) string { return g.Key })
	m.Finishes = over(&l, "finish", c.Finishes, own.Finishes, func(f Finish) string { return f.Key })
	m.Panels = over(&l, "panel", c.Panels, own.Panels, func(p Panel) string { return p.Key })
	check.ties(m)
	check.first(m)
	if err := errors.Join(check.faults...); err != nil {
		return nil, nil, fmt.Errorf("stock: %s: %w", name, err)
	}
	return m, l.notes, nil
}

// with is a choice with another's where that makes one.
func (f Choice) with(o Choice) Choice {
	for _, p := range [][2]*string{{&f.Board, &o.Board}, {&f.Rough, &o.Rough}, {&f.Finish, &o.Finish}, {&f.Machine, &o.Machine},
		{&f.Glue, &o.Glue}, {&f.Coat, &o.Coat}, {&f.Panel, &o.Panel}} {
		if *p[1] != "" {
			*p[0] = *p[1]
		}
	}
	return f
}

// A layer is what is being laid over a catalogue.
type layer struct {
	name     string
	was, now map[[2]string]json.RawMessage // own entries as they are written, under it and in it
	notes    []string
}

// same reports whether an entry only says again what is there.
func (l *layer) same(k [2]string) bool {
	var was, now bytes.Buffer
	return json.Compact(&was, l.was[k]) == nil && json.Compact(&now, l.now[k]) == nil && bytes.Equal(was.Bytes(), now.Bytes())
}

// over lays one kind's entries over the catalogue's.
func over[T any](l *layer, kind string, under, own []T, key func(T) string) []T {
	out := slices.Clone(under)
	for _, one := range own {
		at := slices.IndexFunc(out, func(o T) bool { return key(o) == key(one) })
		if at < 0 {
			out = append(out, one)
			continue
		}
		out[at] = one
		if l.same([2]string{kind, key(one)}) {
			continue
		}
		l.notes = append(l.notes, fmt.Sprintf("The %s %q of %s takes the place of the one in the catalogue.", kind, key(one), l.name))
	}
	return out
}

// keyOf is the key of an entry as it is written.
func keyOf(text []byte) string {
	var k struct{ Key string }
	_ = json.Unmarshal(text, &k) // it was read before
	return k.Key
}

// Own reports whether an entry is the maker's own: not the program's, or in place of the program's. kind is board, species,
// cutter, machine, glue, finish or panel.
func (c *Catalogue) Own(kind, key string) bool {
	_, own := c.own[[2]string{kind, key}]
	return own
}

// Carry is a stock file, to be merged elsewhere, of those of the maker's own entries that are named; boards bring their own
// species along. It is nil where none of them is the maker's own.
func (c *Catalogue) Carry(named ...Choice) []byte {
	page := map[string][]json.RawMessage{}
	put := func(section, kind, key string) {
		text, own := c.own[[2]string{kind, key}]
		if own && !slices.ContainsFunc(page[section], func(o json.RawMessage) bool { return bytes.Equal(o, text) }) {
			page[section] = append(page[section], text)
		}
	}
	for _, one := range named {
		if b, ok := c.Board(one.Board); ok {
			for _, v := range b.Recipe {
				put("species", "species", v.Species)
			}
		}
		put("boards", "board", one.Board)
		put("cutters", "cutter", one.Rough)
		put("cutters", "cutter", one.Finish)
		put("machines", "machine", one.Machine)
		put("glues", "glue", one.Glue)
		put("finishes", "finish", one.Coat)
	}
	if len(page) == 0 {
		return nil
	}
	text, err := json.Marshal(page)
	if err != nil {
		return nil // can't be: every entry was read as JSON
	}
	return text
}
