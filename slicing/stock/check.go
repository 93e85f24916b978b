package stock

import (
	"fmt"
	"math"
)

// checker gathers every fault of a catalogue, so that a maker mends them in one go.
type checker struct{ faults []error }

func (c *checker) fault(format string, a ...any) {
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
	if key == "" {
		e.fault("has no key")
	}
	if name == "" {
		e.fault("has no name")
	}
	return e
}

func (e entry) fault(format string, a ...any) {
	e.check.fault("%s %q: "+format, append([]any{e.kind, e.key}, a...)...)
}

// value takes a figure whose range is said in words.
func (e entry) value(name string, f figure, fits bool, wants string) float64 {
	if f.Source != "" {
		e.sources[name] = f.Source
	}
	switch {
	case !f.given:
		e.fault("%s is missing", name)
	case !fits || math.IsNaN(f.Value) || math.IsInf(f.Value, 0):
		e.fault("%s is %g, wants %s", name, f.Value, wants)
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
		e.fault("%s is missing", name)
		return Lab{}
	}
	if len(t.Value) != 3 {
		e.fault("%s has %d numbers, wants 3: L*, a*, b*", name, len(t.Value))
		return Lab{}
	}
	lab := Lab(t.Value)
	if lab[0] < 0 || lab[0] > 100 || math.Abs(lab[1]) > 128 || math.Abs(lab[2]) > 128 {
		e.fault("%s is %v, wants L* from 0 to 100, a* and b* from -128 to 128", name, t.Value)
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
		e.fault("%s is given, but a %s cutter has none", name, s)
	}
}

// sumWithin is how far a recipe's sum may lie from the measured thickness: the last digit that a file gives.
const sumWithin = 0.0011 // mm

func (e entry) recipe(b Board) {
	if len(b.Recipe) == 0 {
		e.fault("the recipe has no veneers")
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

// whole checks what ties the entries together.
func (c *checker) whole(all *Catalogue) {
	seen := map[[2]string]bool{}
	once := func(kind, key string) {
		if seen[[2]string{kind, key}] {
			c.fault("%s %q: the key is used twice", kind, key)
		}
		seen[[2]string{kind, key}] = true
	}
	for _, s := range all.Species {
		once("species", s.Key)
	}
	for _, b := range all.Boards {
		once("board", b.Key)
		for i, v := range b.Recipe {
			if !seen[[2]string{"species", v.Species}] {
				c.fault("board %q: veneer %d: no species %q in the catalogue", b.Key, i+1, v.Species)
			}
		}
	}
	for _, t := range all.Cutters {
		once("cutter", t.Key)
	}
	for _, m := range all.Machines {
		once("machine", m.Key)
	}
	for _, g := range all.Glues {
		once("glue", g.Key)
	}
	for _, f := range all.Finishes {
		once("finish", f.Key)
	}
	for _, p := range all.Panels {
		once("panel", p.Key)
	}
	c.first(all.First, seen)
}

// first checks that what is chosen to begin with is in the catalogue.
func (c *checker) first(f Choice, seen map[[2]string]bool) {
	for _, pick := range [][3]string{{"board", "board", f.Board}, {"rough", "cutter", f.Rough}, {"finish", "cutter", f.Finish},
		{"machine", "machine", f.Machine}, {"glue", "glue", f.Glue}, {"coat", "finish", f.Coat}, {"panel", "panel", f.Panel}} {
		if !seen[[2]string{pick[1], pick[2]}] {
			c.fault("first: %s: no %s %q in the catalogue", pick[0], pick[1], pick[2])
		}
	}
}
