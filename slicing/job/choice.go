package job

import (
	"fmt"
	"strings"

	"grainstack/slicing/stock"
	"grainstack/slicing/unit"
)

// A Choice is something that two settings differ in, in a maker's words.
type Choice struct{ Name, From, To string }

// String is the choice as it is listed: "wall 20 mm → 25 mm".
func (c Choice) String() string {
	if c.From == "" && c.To == "" {
		return c.Name
	}
	return c.Name + " " + c.From + " → " + c.To
}

// Choices are what settings differ in, from one to the other, the weightiest first. Settings that are not equal always differ
// in something.
func Choices(from, to Settings, c *stock.Catalogue, u unit.System) []Choice {
	var out []Choice
	at := from
	for i := range table {
		f, next := &table[i], at
		if f.take == nil {
			continue
		}
		if f.take(&next, &to); next == at {
			continue
		}
		at = next
		one := Choice{f.Name, f.told(&from, c, u), f.told(&to, c, u)}
		if one.From == one.To && one.From != "" {
			one = Choice{Name: f.Name + " by a hair"}
		}
		out = append(out, one)
	}
	if at != to {
		out = append(out, Choice{Name: "other choices"})
	}
	return out
}

// words are the layers that differ from the rest, by the names of their boards.
func (m *Mix) words(c *stock.Catalogue, _ unit.System) string {
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
