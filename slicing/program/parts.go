package program

import (
	"bytes"
	"fmt"
	"math"

	"grainstack/slicing/phrase"
)

// moves writes as many moves as fit the file, from one on, and says with which the next file begins. A file ends where the
// cutter is lifted anyhow, unless that would leave more than half of it empty: then it ends under way, and the next one comes
// down where it was.
func (w *writer) moves(from int) (next int, err error) {
	room := w.room()
	fits := func(s size, share int) bool { return s.bytes <= room.bytes/share && s.lines <= room.lines/share }
	written := func() size { return size{len(w.buf), len(w.of)} }
	lifted, end := from, size{}
	for i := from; i < len(w.p.Moves); i++ {
		m, before := w.p.Moves[i], written()
		w.now = int32(i)
		w.move(m, all)
		if !fits(written(), 1) {
			if lifted == from || fits(end, 2) {
				lifted, end = i, before
			}
			if lifted == from {
				return 0, fmt.Errorf("%s: its head alone is about as much as the controller takes in one file (%s): give fewer lines of your own, or larger files", w.p.Name, w.m.largest())
			}
			w.buf, w.of, w.now = w.buf[:end.bytes], w.of[:end.lines], -1
			w.set[2] = false // closed by a lift, wherever it went since
			return lifted, nil
		}
		if m.Rapid() && m.To.Z >= w.p.Safe {
			lifted, end = i+1, written()
		}
	}
	w.now = -1
	return len(w.p.Moves), nil
}

// A size is how much a file has or may have.
type size struct{ bytes, lines int }

// room is what a file's moves may come to, its end left out.
func (w *writer) room() size {
	out := size{math.MaxInt, math.MaxInt}
	end := size{len("G0 Z-10000.0000\nM5\nM2\n") + len(goesOn) + len(w.p.Name) + 10, 4 + len(w.m.Last)}
	for _, l := range w.m.Last {
		end.bytes += len(l) + 1
	}
	if w.m.MostBytes > 0 {
		out.bytes = w.m.MostBytes - end.bytes
	}
	if w.m.MostLines > 0 {
		out.lines = w.m.MostLines - end.lines
	}
	return out
}

// largest says how large files may be.
func (m Machine) largest() string {
	switch {
	case m.MostLines == 0:
		return phrase.Count(m.MostBytes, "byte")
	case m.MostBytes == 0:
		return phrase.Count(m.MostLines, "line")
	}
	return phrase.Count(m.MostBytes, "byte") + ", " + phrase.Count(m.MostLines, "line")
}

// goesOn begins the line of a part that names the next one.
const goesOn = "(It goes on in "

// GoesOn is the file that a part says it goes on in, "" where it is the last or the only one.
func GoesOn(text []byte) string {
	_, rest, ok := bytes.Cut(text, []byte("\n"+goesOn))
	if !ok {
		return ""
	}
	name, _, _ := bytes.Cut(rest, []byte{')'})
	return string(name)
}
