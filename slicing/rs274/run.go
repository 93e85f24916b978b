package rs274

import (
	"bytes"
	"errors"
	"fmt"
	"math"
	"slices"

	"grainstack/slicing/geom"
)

// A Move is one straight move of the machine; an arc comes as several of one line, no more than 0.001 mm off it.
type Move struct {
	Line     int // of the file, from 1
	From, To geom.Vec
	Feed     float64 // mm/min; 0 for a rapid
	Turning  bool    // the spindle turns
}

// A Run is what a program makes a machine do.
type Run struct {
	Moves   []Move
	Lines   int
	RPM     float64 // the fastest that the spindle is told to turn, 0 where it isn't
	Slowest float64 // that it turns while the cutter is fed: 0 too where it stands or has no speed by then, +Inf where nothing is fed
	Starts  int     // how often the spindle is started
	Pauses  int
	Passed  int // lines of the maker's own that are not understood
}

// A LineError is what is wrong with one line.
type LineError struct {
	Line  int // from 1
	Fault string
}

func (e *LineError) Error() string { return fmt.Sprintf("line %d: %s", e.Line, e.Fault) }

// The most that is read: a longer line, or a larger file, is none that a controller of this kind takes. 256 signs are the most
// of NIST RS274/NGC.
const (
	longestLine = 256
	mostBytes   = 1 << 27
)

// Read reads a program. start is where the cutter stands before it. The first move has to lift it straight up (Z alone), since
// where it stands is only as sure as the maker's zero. The error is a *LineError for a line that is not in the subset. Lines that
// are just as one of own are passed over where they are not: after one, nobody knows again where the cutter stands.
func Read(text []byte, start geom.Vec, own ...string) (*Run, error) {
	if len(text) > mostBytes {
		return nil, errors.New("the program is larger than any controller takes")
	}
	var b block
	m := machine{at: start, run: &Run{Moves: make([]Move, 0, len(text)/16), Slowest: math.Inf(1)}}
	for len(text) > 0 && !m.ended {
		line, rest, _ := bytes.Cut(text, []byte{'\n'})
		text = rest
		m.run.Lines++
		line = bytes.TrimSuffix(line, []byte{'\r'})
		fault := b.parse(line)
		if fault != "" && slices.Contains(own, string(line)) {
			m.run.Passed++
			m.lifted = false
			continue
		}
		if fault == "" {
			fault = m.do(&b)
		}
		if fault != "" {
			return nil, &LineError{m.run.Lines, fault}
		}
	}
	if !m.ended {
		return nil, &LineError{m.run.Lines, "the program ends without M2 or M30: it may have been cut off"}
	}
	if rest := bytes.TrimSpace(text); len(rest) > 0 {
		return nil, &LineError{m.run.Lines + 1, "there is more after the end of the program, which no machine reads"}
	}
	if m.turning { // M2 would stop it, but a maker's hand is near by then
		return nil, &LineError{m.run.Lines, "the program ends with the spindle turning"}
	}
	return m.run, nil
}

// Knows reports whether a line is of the subset by itself.
func Knows(line string) bool {
	var b block
	return b.parse([]byte(line)) == ""
}

// A machine is what a controller keeps from line to line.
type machine struct {
	run *Run
	at  geom.Vec

	unit    float64 // of lengths, mm; 0 while neither G20 nor G21 was given
	plane   bool    // G17 was given
	places  bool    // G90 was given
	minutes bool    // G94 was given
	motion  motion
	feed    float64 // mm/min, 0 for none yet
	rpm     float64
	turning bool
	lifted  bool // the first move was made
	chords  int  // of arcs
	ended   bool
}

// do carries out a line in the standard's order (NISTIR 6556, section 3.8, table 8): feed, spindle speed, spindle, what holds from
// here on, motion, stop. A feed beside its units is refused, so that what holds may be taken over first.
func (m *machine) do(b *block) string {
	if b.units != 0 && b.has[wordF] {
		return "it gives the units and a feed at once: a machine takes the feed in those that it held before"
	}
	was := m.unit
	m.hold(b)
	if was != 0 && m.unit != was && len(m.run.Moves) > 0 {
		return "the units change under way: give them once, at the start"
	}
	if fault := m.speeds(b); fault != "" {
		return fault
	}
	if b.has[wordX] || b.has[wordY] || b.has[wordZ] {
		if fault := m.move(b); fault != "" {
			return fault
		}
	} else if b.motion != noMotion || b.has[wordI] || b.has[wordJ] {
		return "it says how to go without saying where to"
	}
	switch b.stop {
	case 0:
		m.run.Pauses++
	case 2, 30:
		m.ended = true
	}
	return ""
}

// hold takes over what holds from here on.
func (m *machine) hold(b *block) {
	switch b.units {
	case 20:
		m.unit = 25.4
	case 21:
		m.unit = 1
	}
	m.plane = m.plane || b.plane
	m.places = m.places || b.places
	m.minutes = m.minutes || b.minutes
	if b.motion != noMotion || b.forgets {
		m.motion = b.motion
	}
}

// speeds are those of the cutter along its way and about its axis.
func (m *machine) speeds(b *block) string {
	if b.has[wordF] {
		if m.unit == 0 || !m.minutes {
			return "there is a feed before its units are given (G20 or G21, and G94)"
		}
		if m.feed = b.value[wordF] * m.unit; !(m.feed > 0) {
			return fmt.Sprintf("the feed is %g: a cutter that stands still cuts nothing", b.value[wordF])
		}
	}
	if b.has[wordS] {
		if m.rpm = b.value[wordS]; m.rpm < 0 {
			return "the spindle's speed is negative"
		}
		m.run.RPM = max(m.run.RPM, m.rpm)
	}
	switch b.spindle {
	case 3:
		m.turning = true
		m.run.Starts++
	case 5:
		m.turning = false
	}
	return ""
}

func (m *machine) move(b *block) string {
	switch {
	case m.unit == 0:
		return "it moves before the units are given (G20 or G21)"
	case !m.plane || !m.places || !m.minutes:
		return "it moves before G17, G90 and G94 are given: a machine may still hold others"
	case m.motion == noMotion:
		return "it names a place without saying how to go there (G0 or G1)"
	case m.motion < clockwise && (b.has[wordI] || b.has[wordJ]):
		return "it has the middle of an arc (I or J) without being one"
	}
	move := Move{Line: m.run.Lines, From: m.at, To: m.at, Turning: m.turning}
	for w, to := range [3]*float64{&move.To.X, &move.To.Y, &move.To.Z} {
		if b.has[w] {
			*to = b.value[w] * m.unit
		}
	}
	if m.motion >= cutting {
		if move.Feed = m.feed; m.feed == 0 {
			return "it cuts before a feed was given (F)"
		}
	}
	if !m.lifted {
		if b.has[wordX] || b.has[wordY] || m.motion >= cutting {
			return "the first move is not a rapid of Z alone: nobody knows where the cutter stands before it"
		}
		m.lifted = true
		move.From.Z = move.To.Z
	}
	if !(math.Abs(move.To.X) < farthest && math.Abs(move.To.Y) < farthest && math.Abs(move.To.Z) < farthest) {
		return "it goes to a place that is on no machine"
	}
	if m.motion >= clockwise {
		return m.arc(b, move)
	}
	m.goes(move)
	return ""
}

// goes makes a straight move.
func (m *machine) goes(move Move) {
	m.at = move.To
	if move.Feed > 0 {
		turns := m.rpm
		if !m.turning {
			turns = 0
		}
		m.run.Slowest = min(m.run.Slowest, turns)
	}
	m.run.Moves = append(m.run.Moves, move)
}

// farthest is beyond any router, mm.
const farthest = 1e5
