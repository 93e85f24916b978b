package finding

import (
	"fmt"
	"strings"

	"grainstack/slicing/phrase"
	"grainstack/slicing/unit"
)

// Words are how findings are told: in which units, and whether on paper, where nothing can be looked for or clicked.
type Words struct {
	Units unit.System
	Paper bool
}

// A teller tells one finding.
type teller struct {
	Words
	Finding
}

// Sentence says what is the matter and what to do about it.
func (w Words) Sentence(f Finding) string {
	text := w.What(f)
	if do := w.Do(f); do != "" {
		text += " " + do
	}
	return text
}

// What is the sentence without what to do, and Do what to do, "" for nothing.
func (w Words) What(f Finding) string { return sentences[f.Kind].what(teller{w, f}) }

// Do is what to do about a finding, "" for nothing.
func (w Words) Do(f Finding) string {
	if do := sentences[f.Kind].do; do != nil {
		return do(teller{w, f})
	}
	return ""
}

// Text is the sentence with the places, where there are several and it doesn't name them itself.
func (w Words) Text(f Finding) string {
	text := w.Sentence(f)
	if !f.Listed() || f.Kind.row().measure == uncounted {
		return text
	}
	told, rest := f.Told()
	var all []string
	for _, p := range told {
		all = append(all, w.Place(f, p))
	}
	if len(rest) > 0 {
		all = append(all, w.Rest(f, rest))
	}
	return text + " " + phrase.Capital(strings.Join(all, "; ")) + "."
}

// Texts are all findings as Text tells them.
func (w Words) Texts(all []Finding) []string {
	out := make([]string, len(all))
	for i, f := range all {
		out[i] = w.Text(f)
	}
	return out
}

// Place says where a place lies and how large it is: "layer 12, at the front left, 130 mm up: 3.2 cm³".
func (w Words) Place(f Finding, p Place) string {
	text := w.layer(p)
	if p.Placed {
		text += ", " + w.Whereabouts(p)
	}
	if size := w.size(f, p); size != "" {
		text += ": " + size
	}
	return text
}

func (w Words) layer(p Place) string {
	switch {
	case p.To > p.Layer:
		return fmt.Sprintf("layers %d to %d", p.Layer, p.To)
	case p.Part > 0:
		return fmt.Sprintf("layer %d, part %d", p.Layer, p.Part)
	}
	return fmt.Sprintf("layer %d", p.Layer)
}

// Whereabouts says where on the piece a place lies: "at the front left, 130 mm up".
func (w Words) Whereabouts(p Place) string { return p.Where.String() + ", " + w.height(p.At.Z) + " up" }

// height is a height to a whole millimetre, or a tenth of an inch.
func (w Words) height(mm float64) string {
	if w.Units == unit.Metric {
		return unit.Number(mm, 0) + " mm"
	}
	return unit.Length(mm, w.Units)
}

// size is a place's size in words, "" for kinds without.
func (w Words) size(f Finding, p Place) string { return w.measured(f.Kind.row().measure, p.Size) }

func (w Words) measured(m measure, size float64) string {
	switch m {
	case lengths:
		return unit.Length(size, w.Units)
	case areas:
		return unit.Area(size, w.Units)
	case volumes:
		return unit.Volume(size, w.Units)
	case minutes:
		return unit.Number(size, 0) + " min"
	case masses:
		return unit.Mass(1000*size, w.Units)
	case counts:
		return unit.Number(size, 0)
	case joints:
		return fmt.Sprintf("%.0f %s", size, phrase.Plural(int(size), "joint", "joints"))
	}
	return ""
}

// Rest tells small places together: "11 smaller ones, 0.6 cm³ in all".
func (w Words) Rest(f Finding, rest []Place) string {
	row := f.Kind.row()
	switch {
	case row.measure == uncounted:
		return fmt.Sprintf("%d more", len(rest))
	case row.least:
		return fmt.Sprintf("%d larger ones, from %s", len(rest), w.size(f, rest[0]))
	case row.measure == volumes || row.measure == areas:
		return fmt.Sprintf("%d smaller %s, %s in all", len(rest), phrase.Plural(len(rest), "one", "ones"), w.measured(row.measure, sum(rest)))
	}
	return fmt.Sprintf("%d smaller %s, up to %s", len(rest), phrase.Plural(len(rest), "one", "ones"), w.size(f, rest[0]))
}

func (t teller) len(mm float64) string { return unit.Length(mm, t.Units) }

// n is how many places there are, many whether there are several.
func (t teller) n() int { return len(t.Places) }

func (t teller) many() bool { return len(t.Places) > 1 }

// in names the layers: "layer 3", "layers 3 to 5 and 9".
func (t teller) in() string { return numbered("layer", t.Layers()) }

// worst is the worst place's size, all that of all.
func (t teller) worst() string { return t.size(t.Finding, t.Worst()) }

func (t teller) all() string { return t.measured(t.Kind.row().measure, sum(t.Places)) }

// one is a word for one layer or for several.
func (t teller) one(one, more string) string { return phrase.Plural(len(t.Layers()), one, more) }

// side is the side of a layer that a place lies on, as it begins a sentence.
func side(p Place) string {
	if p.Name == "" {
		return fmt.Sprintf("In layer %d", p.Layer)
	}
	return fmt.Sprintf("On the %s of layer %d", p.Name, p.Layer)
}

// numbered names things by number, those that follow one another put together: "layers 3 to 5 and 9".
func numbered(thing string, numbers []int) string {
	return thing + phrase.Plural(len(numbers), "", "s") + " " + runs(numbers)
}

// runs writes numbers in rising order with runs of three and more put together.
func runs(numbers []int) string {
	var words []string
	for i := 0; i < len(numbers); {
		j := i
		for j+1 < len(numbers) && numbers[j+1] == numbers[j]+1 {
			j++
		}
		if j-i >= 2 {
			words = append(words, fmt.Sprintf("%d to %d", numbers[i], numbers[j]))
		} else {
			for _, n := range numbers[i : j+1] {
				words = append(words, fmt.Sprint(n))
			}
		}
		i = j + 1
	}
	if n := len(words); n > 1 {
		return strings.Join(words[:n-1], ", ") + " and " + words[n-1]
	}
	return strings.Join(words, "")
}
