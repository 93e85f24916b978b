package program

import (
	"fmt"
	"math"
	"strconv"

	"grainstack/slicing/geom"
	"grainstack/slicing/unit"
)

// A File is a program as it is written.
type File struct {
	Name string
	Text []byte
	of   []int32 // the move that each line is of, -1 for a line that is of none
}

// MoveOf is the move of the program, from 0, that a line, from 1, is of; ok is false for a line that is of none.
func (f *File) MoveOf(line int) (move int, ok bool) {
	if line < 1 || line > len(f.of) || f.of[line-1] < 0 {
		return 0, false
	}
	return int(f.of[line-1]), true
}

// Write writes a program in the words of a machine: one file, or several that are run one after another where the controller
// takes no larger ones. A file begins and ends at the safe height. The error says what can't be written.
func Write(p Program, m Machine) ([]File, error) {
	if err := p.Check(); err != nil {
		return nil, err
	}
	if err := m.Check(); err != nil {
		return nil, err
	}
	var out []File
	for from := 0; from < len(p.Moves); {
		if len(out) == mostParts {
			return nil, fmt.Errorf("%s comes to more than %d files of what the controller takes in one (%s): give larger files", p.Name, mostParts, m.largest())
		}
		w := newWriter(&p, m, from, len(out)+1)
		next, err := w.moves(from)
		if err != nil {
			return nil, err
		}
		w.close(next)
		out = append(out, File{Name: m.FileName(p.Name, len(out)+1), Text: w.buf, of: w.of})
		from = next
	}
	return out, nil
}

// A writer writes one file. What a controller keeps (place, kind of move, feed) is written only where it changes.
type writer struct {
	p      *Program
	m      Machine
	buf    []byte
	from   [3]float64 // where 0 is, in mm
	at     [3]int64   // counts
	set    [3]bool    // at holds something
	last   geom.Vec   // where the cutter is, in the program's frame
	mode   int        // of motion: 0 rapid, 1 feed, 2 and 3 arcs, -1 none yet
	feed   int64      // counts
	number int        // of the file
	now    int32      // the move that lines are of, -1 for none
	of     []int32    // as in a file
}

const unset = math.MinInt64

// decimals of places and of feeds: a thousandth of a mm and a ten-thousandth of an inch, whole mm/min and tenths of an inch a
// minute.
func (w *writer) decimals() (place, feed int) {
	if w.m.Units == unit.Inch {
		return 4, 1
	}
	return 3, 0
}

// unit is how long one of the file's units is, mm.
func (w *writer) unit() float64 {
	if w.m.Units == unit.Inch {
		return 25.4
	}
	return 1
}

func newWriter(p *Program, m Machine, from, number int) *writer {
	w := &writer{p: p, m: m, mode: -1, feed: unset, now: -1, number: number}
	o := p.origin(m)
	w.from = [3]float64{o.X, o.Y, o.Z}
	w.head()
	holds := "G17 G21 G90 G94"
	if m.Units == unit.Inch {
		holds = "G17 G20 G90 G94"
	}
	w.line(holds)
	for _, l := range m.First {
		w.line(l)
	}
	if len(m.First) > 0 { // whatever they have set
		w.line(holds)
	}
	w.move(Move{To: geom.Vec{Z: p.home()}}, upright)
	if m.Pause {
		w.line("M0")
	}
	if m.Spindle {
		if p.RPM > 0 {
			w.line("S" + strconv.FormatFloat(p.RPM, 'f', 0, 64) + " M3")
		} else {
			w.line("M3")
		}
	}
	if from > 0 { // wherever the cutter is, it goes on from where the last file ended
		to := p.Moves[from-1].To
		w.move(Move{To: to}, level)
		if to.Z < p.Safe {
			w.move(Move{To: geom.Vec{Z: min(above, p.Safe)}}, upright)
			w.move(Move{To: to, FeedMmMin: w.plunge()}, upright)
		} else {
			w.move(Move{To: to}, upright)
		}
	}
	return w
}

// above is how far above the face a rapid down to where a file goes on ends, mm.
const above = 1.0

// plunge is the feed at which the cutter comes down: its own, or the slowest of the program where that isn't known.
func (w *writer) plunge() float64 {
	slow := w.p.Cutter.PlungeMmMin
	for _, m := range w.p.Moves {
		if !(slow > 0) || !m.Rapid() && m.FeedMmMin < slow {
			slow = m.FeedMmMin
		}
	}
	return slow
}

func (w *writer) line(words string) {
	w.buf = append(w.buf, words...)
	w.end()
}

// end ends a line.
func (w *writer) end() {
	w.buf = append(w.buf, '\n')
	w.of = append(w.of, w.now)
}

// axes are those that a line may name: X, Y and Z by bits.
type axes uint8

const (
	level   axes = 3
	upright axes = 4
	all     axes = 7
)

// counts is a place of an axis in counts of the last decimal.
func (w *writer) counts(axis int, v float64) int64 {
	place, _ := w.decimals()
	return int64(math.Round((v - w.from[axis]) * math.Pow10(place) / w.unit()))
}

// move writes a line for what changes, none where nothing does.
func (w *writer) move(m Move, named axes) {
	if m.Turn != Straight && !w.arc(m) {
		from := w.last
		for _, c := range Straightened(from, []Move{m}, chordOff) {
			w.move(c, named)
		}
		return
	}
	if named&level != 0 {
		w.last.X, w.last.Y = m.To.X, m.To.Y
	}
	if named&upright != 0 {
		w.last.Z = m.To.Z
	}
	if m.Turn != Straight {
		return
	}
	place, _ := w.decimals()
	start, mode, moved := len(w.buf), 1, false
	if m.Rapid() {
		mode = 0
	}
	if mode != w.mode {
		w.buf = append(w.buf, 'G', '0'+byte(mode))
	}
	for axis, v := range [3]float64{m.To.X, m.To.Y, m.To.Z} {
		n := w.counts(axis, v)
		if named>>axis&1 == 0 || w.set[axis] && n == w.at[axis] {
			continue
		}
		w.word("XYZ"[axis], n, place, start)
		w.at[axis], w.set[axis], moved = n, true, true
	}
	if !moved {
		w.buf = w.buf[:start]
		return
	}
	if w.mode = mode; !m.Rapid() {
		w.feedWord(m.FeedMmMin, start)
	}
	w.end()
}

// feedWord writes a feed where it changes.
func (w *writer) feedWord(mmMin float64, start int) {
	_, feed := w.decimals()
	n := int64(math.Floor(mmMin/w.unit()*math.Pow10(feed) + 1e-6)) // never faster than wanted
	if n = max(n, 1); n != w.feed {
		w.word('F', n, feed, start)
		w.feed = n
	}
}

// word writes a letter and a number of counts of the last decimal, without zeros that say nothing.
func (w *writer) word(letter byte, n int64, decimals, start int) {
	if len(w.buf) > start {
		w.buf = append(w.buf, ' ')
	}
	w.buf = append(w.buf, letter)
	if n < 0 {
		w.buf = append(w.buf, '-')
		n = -n
	}
	one := int64(1)
	for range decimals {
		one *= 10
	}
	w.buf = strconv.AppendInt(w.buf, n/one, 10)
	if n %= one; n == 0 {
		return
	}
	w.buf = append(w.buf, '.')
	for n > 0 {
		one /= 10
		w.buf = append(w.buf, '0'+byte(n/one))
		n %= one
	}
}

// close lifts the cutter, stops the spindle and ends a file that another one goes on from at the move next.
func (w *writer) close(next int) {
	w.move(Move{To: geom.Vec{Z: w.p.home()}}, upright)
	if w.m.Spindle {
		w.line("M5")
	}
	for _, l := range w.m.Last {
		w.line(l)
	}
	if next < len(w.p.Moves) {
		w.line(goesOn + w.m.FileName(w.p.Name, w.number+1) + ")")
	}
	w.line("M2")
}
