package program

import (
	"fmt"
	"strings"

	"grainstack/slicing/phrase"
	"grainstack/slicing/stock"
	"grainstack/slicing/unit"
)

// cautions stand in the head of every file.
var cautions = [...]string{
	"RUN IT IN THE AIR FIRST, cutter well above the panel.",
	"Check the zero, the cutter, the clamps and the dowels.",
	"Stay with the machine, a hand at its emergency stop.",
	"Eyes, ears and lungs protected; dust extraction on.",
	"What the machine's maker says and local rules come first.",
	"Proven on a model of the board: parts, tabs, dowels, clamps, bed and",
	"travel are kept clear of. It can't know a wrong zero, a panel that",
	"slips, a wrong or blunt cutter, or other wood than it was made for.",
}

// head writes what the file is for, where the zero is and the cautions, as comments.
func (w *writer) head() {
	p := w.p
	name := p.Name
	if w.m.Divides() {
		name = fmt.Sprintf("%s, part %d of %s", w.m.FileName(p.Name, w.number), w.number, p.Name)
	}
	w.comment(name)
	w.comment(fmt.Sprintf("Panel %d, side %v up: %v.", p.Panel, p.Side, p.Step))
	cutter := "Cutter: " + p.Cutter.Name
	if p.RPM > 0 {
		cutter += fmt.Sprintf(", %.0f rpm", p.RPM)
	}
	w.comment(cutter + ".")
	w.comment(fmt.Sprintf("Panel %s x %s, board %s thick.", w.length(p.Blank.X), w.length(p.Blank.Y), w.length(p.Blank.Board)))
	w.comment("X0 Y0: " + w.zero() + " Z0: " + w.height())
	w.comment(fmt.Sprintf("Rapids %s above the face that lies up.", w.length(p.Safe)))
	if own := w.m.Unproven(); len(own) > 0 {
		w.comment("NOT PROVEN are these lines of the maker's own, which nobody read back:")
		for _, l := range own {
			w.comment(l)
		}
	}
	for _, r := range p.Remarks {
		w.comment(r)
	}
	for _, c := range cautions {
		w.comment(c)
	}
}

func (w *writer) zero() string {
	switch w.m.Zero {
	case stock.AtMiddle:
		return "the middle of the panel."
	case stock.AtDowel:
		return "the middle of the register dowel in the panel's left or front half."
	}
	return "the panel's front left corner as it lies."
}

func (w *writer) height() string {
	if w.m.Height == stock.OnBed {
		return "what the panel lies on."
	}
	return "the face that lies up, where nothing is carved off it."
}

// length is a length in the file's units.
func (w *writer) length(mm float64) string {
	if w.m.Units == unit.Inch {
		return fmt.Sprintf("%.3f in", mm/25.4)
	}
	return fmt.Sprintf("%.1f mm", mm)
}

// longestComment bounds a line with its parentheses: small controllers take no more than 80 signs (from memory).
const longestComment = 78

// comment writes lines in parentheses. A comment of RS274/NGC holds no parentheses and, so that no controller stumbles, only
// plain signs.
func (w *writer) comment(text string) {
	text = strings.Map(func(r rune) rune {
		switch {
		case r == '(' || r == ')':
			return -1
		case r == '×':
			return 'x'
		case r < ' ' || r > '~':
			return '-'
		}
		return r
	}, phrase.Name(text))
	line := ""
	for _, word := range strings.Fields(text) {
		if len(word) > longestComment-2 {
			word = word[:longestComment-2]
		}
		if line != "" && len(line)+1+len(word) > longestComment-2 {
			w.line("(" + line + ")")
			line = ""
		}
		line = strings.TrimPrefix(line+" "+word, " ")
	}
	if line != "" {
		w.line("(" + line + ")")
	}
}
