package stock

import (
	"fmt"
	"math"
	"slices"

	"grainstack/slicing/phrase"
	"grainstack/slicing/unit"
)

// A Zero is where the maker sets X and Y to 0.
type Zero int

// The zeros in X and Y.
const (
	AtCorner Zero = iota // the panel's front left corner as it lies
	AtMiddle             // the middle of the panel
	AtDowel              // the first register dowel, as it is for the side that lies up
)

// A Height is where the maker sets Z to 0.
type Height int

// The zeros in Z.
const (
	OnFace Height = iota // the panel's face that lies up, where it was not skimmed
	OnBed                // what the panel lies on: layers are as thick as wanted whatever the board's thickness is
)

// The words for them in a stock file and on the command line, in their order.
var (
	zeroWords   = []string{"corner", "middle", "dowel"}
	heightWords = []string{"face", "bed"}
	unitWords   = []string{"mm", "inch"}
)

// ParseZero reads corner, middle or dowel.
func ParseZero(word string) (Zero, error) { return choice[Zero](word, zeroWords) }

// ParseHeight reads face or bed.
func ParseHeight(word string) (Height, error) { return choice[Height](word, heightWords) }

// choice is which of some words one is.
func choice[T ~int | ~uint8](word string, words []string) (T, error) {
	n := slices.Index(words, word)
	if n < 0 {
		return 0, fmt.Errorf("is %q, wants %s", phrase.Name(word), either(words))
	}
	return T(n), nil
}

// either lists words of which one is wanted.
func either(words []string) string {
	out := words[0]
	for i, w := range words[1:] {
		if i == len(words)-2 {
			out += " or " + w
		} else {
			out += ", " + w
		}
	}
	return out
}

// A Controller is how a machine wants its programs to be.
type Controller struct {
	Zero       Zero
	Height     Height
	Units      unit.System // of the file: G21 or G20
	SafeHeight float64     // the least height of rapids above the face that lies up, mm; 0 for none of its own
	Spindle    bool        // the machine starts and stops its spindle by M3 and M5
	Pause      bool        // each file stops for the cutter to be changed (M0) before the spindle starts
	Arcs       bool        // it goes round arcs by itself (G2, G3)
	MostBytes  int         // the largest file that it takes, 0 for any
	MostLines  int         // the same in lines
	First      []string    // lines of the maker's own at the start, after the units are set
	Last       []string    // and before the end
}

// UsualController writes millimetres, with the zero in the panel's corner and on its face, turns the spindle on and off, and goes
// round arcs.
func UsualController() Controller { return Controller{Spindle: true, Arcs: true} }

// Limits of what a controller may be said to take.
const (
	leastBytes  = 4096  // a file's head and a few moves
	leastLines  = 100   // the same
	mostSafe    = 200.0 // mm
	mostOwn     = 100   // lines of the maker's own at either end
	longestLine = 80    // NIST RS274/NGC takes 256 signs, small controllers often 80 or fewer (from memory)
)

// A ControllerFault is what is wrong with one figure of a controller, by its name in a stock file.
type ControllerFault struct{ Figure, Fault string }

// Error is the fault as a sentence for whoever gave it otherwise than in a stock file.
func (f ControllerFault) Error() string {
	return fmt.Sprintf("programs for the machine: %s %s", f.Figure, f.Fault)
}

// Faults say what is wrong with a controller, none where programs can be written for it.
func (c Controller) Faults() (all []ControllerFault) {
	add := func(figure, format string, a ...any) {
		all = append(all, ControllerFault{figure, fmt.Sprintf(format, a...)})
	}
	if c.Zero < AtCorner || c.Zero > AtDowel {
		add("zero", "is none of %s", either(zeroWords))
	}
	if c.Height < OnFace || c.Height > OnBed {
		add("zeroHeight", "is neither %s", either(heightWords))
	}
	if !(c.SafeHeight >= 0 && c.SafeHeight <= mostSafe) {
		add("safeHeight", "is %g, wants 0 to %g", c.SafeHeight, mostSafe)
	}
	for _, most := range []struct {
		name, of  string
		is, least int
	}{{"mostBytes", "bytes", c.MostBytes, leastBytes}, {"mostLines", "lines", c.MostLines, leastLines}} {
		if most.is != 0 && most.is < most.least {
			add(most.name, "is %d: a program needs %d %s at the least; leave it out or give 0 for files of any size", most.is, most.least, most.of)
		}
	}
	for _, own := range []struct {
		name  string
		lines []string
	}{{"firstLines", c.First}, {"lastLines", c.Last}} {
		if len(own.lines) > mostOwn {
			add(own.name, "has %d lines, wants no more than %d", len(own.lines), mostOwn)
		}
		for _, line := range own.lines {
			if line == "" || !phrase.Plain(line) || len(line) > longestLine {
				add(own.name, "has the line %q, wants plain letters, digits and marks, at least 1 and no more than %d", line, longestLine)
			}
		}
	}
	return all
}

// controllerRow is a controller as a stock file has it, under "programs" of a machine. What is left out is usual.
type controllerRow struct {
	Zero, ZeroHeight, Units          *string
	Spindle, Pause, Arcs             *bool
	SafeHeight, MostBytes, MostLines figure
	FirstLines, LastLines            []string
}

func (r controllerRow) controller(e entry) Controller {
	c := UsualController()
	c.First, c.Last = r.FirstLines, r.LastLines
	wordOf(e, "zero", r.Zero, zeroWords, &c.Zero)
	wordOf(e, "zeroHeight", r.ZeroHeight, heightWords, &c.Height)
	wordOf(e, "units", r.Units, unitWords, &c.Units)
	for _, b := range []struct {
		from *bool
		to   *bool
	}{{r.Spindle, &c.Spindle}, {r.Pause, &c.Pause}, {r.Arcs, &c.Arcs}} {
		if b.from != nil {
			*b.to = *b.from
		}
	}
	if r.SafeHeight.given {
		c.SafeHeight = e.within("safeHeight", r.SafeHeight, 0, mostSafe)
	}
	for _, n := range []struct {
		name string
		from figure
		to   *int
	}{{"mostBytes", r.MostBytes, &c.MostBytes}, {"mostLines", r.MostLines, &c.MostLines}} {
		if n.from.given {
			*n.to = e.whole(n.name, n.from, 0, math.MaxInt32)
		}
	}
	for _, f := range c.Faults() {
		if f.Figure != "safeHeight" { // told already
			e.wrong(f.Figure, "%s", f.Fault)
		}
	}
	return c
}

// wordOf takes a word where there is one.
func wordOf[T ~int | ~uint8](e entry, name string, word *string, words []string, to *T) {
	if word == nil {
		return
	}
	v, err := choice[T](*word, words)
	if err != nil {
		e.wrong(name, "%s", err)
		return
	}
	*to = v
}
