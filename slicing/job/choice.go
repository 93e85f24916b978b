package job

import (
	"encoding/json"

	"grainstack/slicing/phrase"
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

// Written is what was chosen, resolved to figures for layers so thick and written as an object of JSON: the settings that the table has a name for in
// reports, in its order, and behind them those that are not always there.
func (s Settings) Written(layer float64) (json.RawMessage, error) {
	var r []phrase.Member
	for _, often := range []bool{true, false} {
		for i := range table {
			one := &table[i]
			if one.Report == "" || often != (one.reported(Settings{}, 0) != nil) {
				continue
			}
			if v := one.reported(s, layer); v != nil {
				text, err := json.Marshal(v)
				if err != nil {
					return nil, err
				}
				r = append(r, phrase.Member{Name: one.Report, Value: text})
			}
		}
	}
	return phrase.Object(r)
}
