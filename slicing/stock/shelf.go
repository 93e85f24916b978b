package stock

import (
	"bytes"
	"encoding/json"
	"fmt"
	"slices"

	"grainstack/slicing/phrase"
)

// emptyOwn is a maker's own stock file with nothing in it yet.
const emptyOwn = `{"note": "Own stock, laid over the program's. Lengths in mm; a figure is a bare number or {value, source}."}`

// WithCutter is a maker's own stock file with a cutter in it: in the place of the one with its key, or else after the others.
// Everything else stays as it is written. An empty text begins a new file.
func WithCutter(text []byte, c Cutter) ([]byte, error) {
	row, err := json.Marshal(rowOf(c))
	if err != nil {
		return nil, fmt.Errorf("stock: cutter %q: %w", c.Key, err)
	}
	return withCutters(text, func(rows []json.RawMessage) []json.RawMessage {
		if at := slices.IndexFunc(rows, func(r json.RawMessage) bool { return keyOf(r) == c.Key }); at >= 0 {
			rows[at] = row
			return rows
		}
		return append(rows, row)
	})
}

// WithoutCutter is the file without the cutter of a key.
func WithoutCutter(text []byte, key string) ([]byte, error) {
	return withCutters(text, func(rows []json.RawMessage) []json.RawMessage {
		return slices.DeleteFunc(rows, func(r json.RawMessage) bool { return keyOf(r) == key })
	})
}

func withCutters(text []byte, change func([]json.RawMessage) []json.RawMessage) ([]byte, error) {
	if len(bytes.TrimSpace(text)) == 0 {
		text = []byte(emptyOwn)
	}
	page := map[string]json.RawMessage{}
	if err := json.Unmarshal(text, &page); err != nil {
		return nil, fmt.Errorf("stock: %w", phrase.JSON(text, err))
	}
	for name := range page {
		if !slices.Contains(order[:], name) {
			return nil, fmt.Errorf("stock: a catalogue has no part %q", name)
		}
	}
	var rows []json.RawMessage
	if list, ok := page["cutters"]; ok {
		if err := json.Unmarshal(list, &rows); err != nil {
			return nil, fmt.Errorf("stock: the cutters are no list: %w", err)
		}
	}
	rows = change(rows)
	delete(page, "cutters")
	if len(rows) > 0 {
		list, err := json.Marshal(rows)
		if err != nil {
			return nil, fmt.Errorf("stock: %w", err)
		}
		page["cutters"] = list
	}
	return laidOut(page)
}

// order is that of the parts in a file that is written anew.
var order = [...]string{"note", "first", "boards", "species", "cutters", "machines", "glues", "finishes", "panels"}

// laidOut writes the parts in their order, an entry a line.
func laidOut(page map[string]json.RawMessage) ([]byte, error) {
	var b bytes.Buffer
	b.WriteString("{")
	sep := "\n"
	for _, name := range order {
		part, ok := page[name]
		if !ok {
			continue
		}
		fmt.Fprintf(&b, "%s  %q: ", sep, name)
		sep = ",\n"
		var rows []json.RawMessage
		if json.Unmarshal(part, &rows) != nil {
			b.Write(part)
			continue
		}
		b.WriteString("[\n")
		for i, r := range rows {
			b.WriteString("    ")
			if err := json.Compact(&b, r); err != nil {
				return nil, fmt.Errorf("stock: %s: %w", name, err)
			}
			if i < len(rows)-1 {
				b.WriteString(",")
			}
			b.WriteString("\n")
		}
		b.WriteString("  ]")
	}
	b.WriteString("\n}\n")
	return b.Bytes(), nil
}

// A plainCutter is a cutter as a maker's own file has it: bare numbers.
type plainCutter struct {
	Key          string  `json:"key"`
	Name         string  `json:"name"`
	Shape        string  `json:"shape"`
	Diameter     float64 `json:"diameter"`
	CornerRadius float64 `json:"cornerRadius,omitempty"`
	TaperDeg     float64 `json:"taperDeg,omitempty"`
	Flutes       int     `json:"flutes"`
	CutLength    float64 `json:"cutLength"`
	Reach        float64 `json:"reach"`
	Shank        float64 `json:"shank"`
	FeedMmMin    float64 `json:"feedMmMin"`
	PlungeMmMin  float64 `json:"plungeMmMin"`
	RPM          float64 `json:"rpm"`
	Stepdown     float64 `json:"stepdown"`
	Stepover     float64 `json:"stepover"`
}

func rowOf(c Cutter) plainCutter {
	return plainCutter{c.Key, c.Name, c.Shape.String(), c.Diameter, c.CornerRadius, c.TaperDeg, c.Flutes, c.CutLength, c.Reach,
		c.Shank, c.FeedMmMin, c.PlungeMmMin, c.RPM, c.Stepdown, c.Stepover}
}

// Check says what is wrong with a cutter's figures, one sentence for each; nil where it can be taken into the catalogue.
func (c Cutter) Check() []error {
	text, err := json.Marshal(rowOf(c))
	if err != nil {
		return []error{fmt.Errorf("a figure of the cutter is no number")}
	}
	var r cutterRow
	if err := json.Unmarshal(text, &r); err != nil {
		return []error{err}
	}
	check := &checker{}
	r.cutter(check)
	return check.faults
}
