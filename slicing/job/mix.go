package job

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"grainstack/slicing/stock"
)

// mostLayers is more than anybody glues; a piece in the wrong unit would ask for millions.
const mostLayers = 1000

// A Mix says which layers of the stack differ from the rest: "5:walnut-18-13, 9:turn, 11:walnut-18-13+turn". It is always
// written in this one way, in rising order of layers, so that equal mixes are equal strings; "" has no such layer. Layers
// that the stack doesn't have do nothing.
type Mix string

// An Other is how one layer differs from the rest. The zero Other doesn't.
type Other struct {
	Board string // key of its board; "" for that of the rest
	Turn  bool   // turned by 90 degrees against how it would lie
}

// turnWord stands for a turn in a Mix; no board can be called so.
const turnWord = "turn"

// Bounds of what a Mix is read from: any stack that there can be, and keys as long as anybody types.
const (
	mixLimit = 128 << 10 // bytes
	keyLimit = 64        // bytes
)

// mixed is one layer of a Mix.
type mixed struct {
	layer int
	Other
}

// ParseMix reads layers with their boards and turns, as in "5:walnut-18-13, 9:turn". A run of layers is written 5-7, a board
// and a turn are joined by a plus. The error is a sentence for the maker.
func ParseMix(text string) (Mix, error) {
	if len(text) > mixLimit {
		return "", fmt.Errorf("the list of layers of their own is longer than %d letters: no stack has so many", mixLimit)
	}
	var all []mixed
	for word := range strings.SplitSeq(text, ",") {
		if word = strings.TrimSpace(word); word == "" {
			continue
		}
		where, what, ok := strings.Cut(word, ":")
		if !ok {
			return "", fmt.Errorf("%q is no layer of its own: write its number, a colon and its board or %q, as in 5:walnut-18-13 or 9:turn", word, turnWord)
		}
		from, to, err := parseLayers(where)
		if err != nil {
			return "", err
		}
		o, err := parseOther(what)
		if err != nil {
			return "", fmt.Errorf("layer %s: %w", strings.TrimSpace(where), err)
		}
		for n := from; n <= to; n++ {
			if slices.ContainsFunc(all, func(m mixed) bool { return m.layer == n }) {
				return "", fmt.Errorf("layer %d is named twice: join a board and a turn by a plus, as in %d:walnut-18-13+turn", n, n)
			}
			all = append(all, mixed{n, o})
		}
	}
	return mixOf(all), nil
}

// parseLayers reads a number, or two with a line between them.
func parseLayers(text string) (from, to int, err error) {
	first, last, run := strings.Cut(text, "-")
	if !run {
		last = first
	}
	from, errFrom := strconv.Atoi(strings.TrimSpace(first))
	to, errTo := strconv.Atoi(strings.TrimSpace(last))
	if errFrom != nil || errTo != nil || from < 1 || to < from || to > mostLayers {
		return 0, 0, fmt.Errorf("%q is no layer: give its number, 1 at the bottom and %d at the most, or a run as in 5-7", strings.TrimSpace(text), mostLayers)
	}
	return from, to, nil
}

func parseOther(text string) (o Other, err error) {
	for word := range strings.SplitSeq(text, "+") {
		word = strings.TrimSpace(word)
		switch {
		case word == turnWord && !o.Turn:
			o.Turn = true
		case word == turnWord || word == "":
			return o, fmt.Errorf("name a board, or %q, or both with a plus between them", turnWord)
		case o.Board != "":
			return o, errors.New("a layer is of one board: two are named")
		case !keyed(word):
			return o, fmt.Errorf("%q can't be the key of a board: it has spaces or signs, or more than %d letters", word, keyLimit)
		default:
			o.Board = word
		}
	}
	return o, nil
}

// keyed reports whether a word can be told from the rest of a Mix.
func keyed(key string) bool {
	return len(key) <= keyLimit && !strings.ContainsFunc(key, func(r rune) bool { return r <= ' ' || r == ',' || r == ':' || r == '+' || r == 0x7f })
}

// mixOf writes layers in rising order; those that don't differ are left out.
func mixOf(all []mixed) Mix {
	slices.SortFunc(all, func(a, b mixed) int { return a.layer - b.layer })
	var b strings.Builder
	for _, m := range all {
		if m.Other == (Other{}) {
			continue
		}
		if b.Len() > 0 {
			b.WriteString(", ")
		}
		fmt.Fprintf(&b, "%d:%s", m.layer, m.Other)
	}
	return Mix(b.String())
}

// String is the other as it stands in a Mix, "" for the zero Other.
func (o Other) String() string {
	switch {
	case o.Board == "" && o.Turn:
		return turnWord
	case o.Turn:
		return o.Board + "+" + turnWord
	}
	return o.Board
}

// all are the layers of a mix; none where it can't be read.
func (m Mix) all() []mixed {
	var out []mixed
	for word := range strings.SplitSeq(string(m), ", ") {
		where, what, _ := strings.Cut(word, ":")
		n, err := strconv.Atoi(where)
		o, wrong := parseOther(what)
		if err != nil || wrong != nil {
			return nil
		}
		out = append(out, mixed{n, o})
	}
	return out
}

// Of is how a layer, counted from 1, differs from the rest.
func (m Mix) Of(layer int) Other {
	for _, one := range m.all() {
		if one.layer == layer {
			return one.Other
		}
	}
	return Other{}
}

// With is the mix with a layer made so; the zero Other makes it as the rest again. A layer that no stack has is left alone.
func (m Mix) With(layer int, o Other) Mix {
	if layer < 1 || layer > mostLayers || !keyed(o.Board) || o.Board == turnWord {
		return m
	}
	all := slices.DeleteFunc(m.all(), func(one mixed) bool { return one.layer == layer })
	return mixOf(append(all, mixed{layer, o}))
}

// UnmarshalText reads a mix from a file, where a hand may have written it.
func (m *Mix) UnmarshalText(text []byte) (err error) {
	*m, err = ParseMix(string(text))
	return err
}

// check looks for the boards of a mix; missing says that a key is no board's. Whether they are thick enough is known once the
// layers are.
func (m Mix) check(missing func(key string) error) error {
	if again, err := ParseMix(string(m)); err != nil {
		return err
	} else if again != m {
		return fmt.Errorf("the layers of their own are written as %q, not as %q", again, m)
	}
	for _, one := range m.all() {
		if one.Board == "" {
			continue
		}
		if err := missing(one.Board); err != nil {
			return fmt.Errorf("layer %d: %w", one.layer, err)
		}
	}
	return nil
}

// Uses are the entries of a catalogue that settings name, those of single layers among them.
func (s Settings) Uses() []stock.Choice {
	all := []stock.Choice{{Board: s.Board, Rough: s.Rough.Key, Finish: s.Fine.Key, Machine: s.Machine, Glue: s.Glue, Coat: s.Finish}}
	for _, one := range s.Mix.all() {
		all = append(all, stock.Choice{Board: one.Board})
	}
	return all
}

// words are the layers that differ from the rest, by the names of their boards.
func (m *Mix) words(c *stock.Catalogue) string {
	var words []string
	for _, one := range m.all() {
		what := one.Board
		if c != nil {
			if b, ok := c.Board(one.Board); ok {
				what = b.Name
			}
		}
		if one.Turn && what != "" {
			what += ", turned"
		} else if one.Turn {
			what = "turned"
		}
		words = append(words, fmt.Sprintf("%d %s", one.layer, what))
	}
	if len(words) == 0 {
		return "none"
	}
	return strings.Join(words, "; ")
}
