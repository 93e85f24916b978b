package stock

import (
	"fmt"
	"math"

	"grainstack/slicing/phrase"
)

// checker gathers every fault of a catalogue, so that a maker mends them in one go.
type checker struct {
	faults []error
	line   int               // of the entry that is being looked at, 0 for none
	lines  map[[2]string]int // of each entry, by kind and key
}

func (c *checker) fault(format string, a ...any) {
	if c.line > 0 {
		format, a = "line %d: "+format, append([]any{c.line}, a...)
	}
	c.faults = append(c.faults, fmt.Errorf(format, a...))
}

// entry is the checker for one entry of the catalogue; it also gathers the sources of its figures.
type entry struct {
	check     *checker
	kind, key string
	sources   map[string]string
}

func (c *checker) entry(kind, key, name string) entry {
	e := entry{c, kind, key, map[string]string{}}
	if c.lines == nil {
		c.lines = map[[2]string]int{}
	}
	c.lines[[2]string{kind, key}] = c.line
	for _, word := range [][2]string{{"key", key}, {"name", name}} {
		if word[1] == "" {
			e.fault("has no %s", word[0])
		} else if phrase.Name(word[1]) != word[1] {
			e.fault("has a %s with signs that can't be read", word[0])
		} else if len(word[1]) > mostWord {
			e.fault("has a %s of more than %d letters", word[0], mostWord)
		}
	}
	return e
}

func (e entry) fault(format string, a ...any) { e.wrong("", format, a...) }

// wrong says what is wrong with a figure, "" for the entry itself.
func (e entry) wrong(figure, format string, a ...any) {
	e.check.faults = append(e.check.faults, &EntryError{e.check.line, e.kind, e.key, figure, fmt.Sprintf(format, a...)})
}

// An EntryError is what is wrong with an entry of the stock.
type EntryError struct {
	line      int // 0 where that is not known
	kind, key string
	Figure    string // by its name in the stock file, "" for the entry itself
	Fault     string // what is wrong with it
}

func (e *EntryError) Error() string {
	text := fmt.Sprintf("%s %q: ", e.kind, e.key)
	if e.line > 0 {
		text = fmt.Sprintf("line %d: ", e.line) + text
	}
	if e.Figure != "" {
		text += e.Figure + " "
	}
	return text + e.Fault
}

// mostWord bounds keys and names, in bytes.
const mostWord = 200

// value takes a figure whose range is said in words.
func (e entry) value(name string, f figure, fits bool, wants string) float64 {
	if f.Source != "" {
		e.sources[name] = f.Source
	}
	switch {
	case !f.given:
		e.wrong(name, "is missing")
	case !fits || math.IsNaN(f.Value) || math.IsInf(f.Value, 0):
		e.wrong(name, "is %g, wants %s", f.Value, wants)
	}
	return f.Value
}

func (e entry) positive(name string, f figure) float64 {
	return e.value(name, f, f.Value > 0, "more than 0")
}

func (e entry) within(name string, f figure, low, high float64) float64 {
	return e.value(name, f, f.Value >= low && f.Value <= high, fmt.Sprintf("%g to %g", low, high))
}

func (e entry) whole(name string, f figure, low, high int) int {
	fits := f.Value >= float64(low) && f.Value <= float64(high) && f.Value == math.Trunc(f.Value)
	n := e.value(name, f, fits, fmt.Sprintf("a whole number from %d to %d", low, high))
	if !fits {
		return low
	}
	return int(n)
}

func (e entry) tone(name string, t tone) Lab {
	if t.Source != "" {
		e.sources[name] = t.Source
	}
	if !t.given {
		e.wrong(name, "is missing")
		return Lab{}
	}
	if len(t.Value) != 3 {
		e.wrong(name, "has %d numbers, wants 3: L*, a*, b*", len(t.Value))
		return Lab{}
	}
	lab := Lab(t.Value)
	if lab[0] < 0 || lab[0] > 100 || math.Abs(lab[1]) > 128 || math.Abs(lab[2]) > 128 {
		e.wrong(name, "is %v, wants L* from 0 to 100, a* and b* from -128 to 128", t.Value)
	}
	return lab
}

func (e entry) grain(veneer int, word string) Grain {
	for _, g := range []Grain{Along, Across, Plain} {
		if g.String() == word {
			return g
		}
	}
	e.fault("veneer %d: the grain is %q, wants along, across or plain", veneer+1, word)
	return Plain
}

func (e entry) shape(word string) Shape {
	for _, s := range shapes {
		if s.String() == word {
			return s
		}
	}
	e.fault("the shape is %q, wants flat, ball, bull or taper", word)
	return Flat
}

// ends are the corner radius and the taper: both missing where the shape has none.
func (e entry) ends(s Shape, diameter float64, corner, taper figure) (radius, deg float64) {
	switch s {
	case Bull, Taper:
		fits := corner.Value > 0 && corner.Value <= diameter/2
		radius = e.value("cornerRadius", corner, fits, "more than 0 and at most half the diameter")
	default:
		e.absent("cornerRadius", corner, s)
	}
	if s == Taper {
		return radius, e.within("taperDeg", taper, 0.5, 60)
	}
	e.absent("taperDeg", taper, s)
	return radius, 0
}

// absent refuses a figure that a shape has no use for.
func (e entry) absent(name string, f figure, s Shape) {
	if f.given {
		e.wrong(name, "is given, but a %s cutter has none", s)
	}
}

// sumWithin is how far a recipe's sum may lie from the measured thickness: the last digit that a file gives.
const sumWithin = 0.0011 // mm

// mostVeneers bounds a recipe: a board of 300 mm in veneers of half a millimetre.
const mostVeneers = 600

func (e entry) recipe(b Board) {
	if len(b.Recipe) == 0 {
		e.fault("the recipe has no veneers")
		return
	}
	if len(b.Recipe) > mostVeneers {
		e.fault("the recipe has %d veneers: more than %d are none", len(b.Recipe), mostVeneers)
		return
	}
	sum := 0.0
	for i, v := range b.Recipe {
		if !(v.Thickness > 0) {
			e.fault("veneer %d: thickness is %g, wants more than 0", i+1, v.Thickness)
		}
		sum += v.Thickness
	}
	if math.Abs(sum-b.Thickness) > sumWithin {
		e.fault("the %d veneers sum to %.3f mm, the board measures %g mm", len(b.Recipe), sum, b.Thickness)
	}
}

// unique checks that no key is used twice within a kind.
func (c *checker) unique(all *Catalogue) {
	seen := map[[2]string]bool{}
	for _, k := range all.keys() {
		if seen[k] {
			c.line = c.lines[k]
			c.fault("%s %q: the key is used twice", k[0], k[1])
		}
		seen[k] = true
	}
	c.line = 0
}

// keys are the kinds and keys of all entries.
func (c *Catalogue) keys() (all [][2]string) {
	for _, s := range c.Species {
		all = append(all, [2]string{"species", s.Key})
	}
	for _, b := range c.Boards {
		all = append(all, [2]string{"board", b.Key})
	}
	for _, t := range c.Cutters {
		all = append(all, [2]string{"cutter", t.Key})
	}
	for _, m := range c.Machines {
		all = append(all, [2]string{"machine", m.Key})
	}
	for _, g := range c.Glues {
		all = append(all, [2]string{"glue", g.Key})
	}
	for _, f := range c.Finishes {
		all = append(all, [2]string{"finish", f.Key})
	}
	for _, p := range c.Panels {
		all = append(all, [2]string{"panel", p.Key})
	}
	return all
}

// ties checks that boards are of species that there are.
func (c *checker) ties(all *Catalogue) {
	for _, b := range all.Boards {
		for i, v := range b.Recipe {
			if _, ok := all.Wood(v.Species); !ok {
				c.line = c.lines[[2]string{"board", b.Key}]
				c.fault("board %q: veneer %d: no species %q in the catalogue", b.Key, i+1, v.Species)
			}
		}
	}
	c.line = 0
}

// first checks that what is chosen to begin with is in the catalogue.
func (c *checker) first(all *Catalogue) {
	seen := map[[2]string]bool{}
	for _, k := range all.keys() {
		seen[k] = true
	}
	f := all.First
	for _, pick := range [][3]string{{"board", "board", f.Board}, {"rough", "cutter", f.Rough}, {"finish", "cutter", f.Finish},
		{"machine", "machine", f.Machine}, {"glue", "glue", f.Glue}, {"coat", "finish", f.Coat}, {"panel", "panel", f.Panel}} {
		if !seen[[2]string{pick[1], pick[2]}] {
			c.fault("first: %s: no %s %q in the catalogue", pick[0], pick[1], pick[2])
		}
	}
}
