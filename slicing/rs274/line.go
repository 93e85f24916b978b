package rs274

import (
	"fmt"
	"math"
)

// A motion is how a place is gone to.
type motion uint8

const (
	noMotion         motion = iota
	rapid                   // G0
	cutting                 // G1
	clockwise               // G2
	counterClockwise        // G3
)

// A word is a letter of a block that is followed by a figure of its own.
type word int

const (
	wordX word = iota
	wordY
	wordZ
	wordI
	wordJ
	wordF
	wordS
	words
)

// A block is what one line says.
type block struct {
	has     [words]bool
	value   [words]float64
	motion  motion
	forgets bool // the kind of motion (G80)
	units   int  // 20 or 21, 0 for none
	plane   bool // G17
	places  bool // G90
	minutes bool // G94
	spindle int  // 3 or 5, 0 for none
	stop    int  // 0, 2 or 30, noStop
	groups  uint16
}

const noStop = -1

// The modal groups of the standard, of each of which a line may have one word.
const (
	ofMotion = 1 << iota
	ofPlane
	ofDistance
	ofFeed
	ofUnits
	ofRadius
	ofLength
	ofPlaces
	ofPath
	ofStop
	ofSpindle
	ofCooling
)

// A scanner goes along one line.
type scanner struct {
	text []byte
	at   int
}

// skip passes over spaces and tabs, which mean nothing outside comments, not even within a number.
func (s *scanner) skip() {
	for s.at < len(s.text) && (s.text[s.at] == ' ' || s.text[s.at] == '\t') {
		s.at++
	}
}

// parse reads a line; fault says what is wrong with it.
func (b *block) parse(text []byte) (fault string) {
	*b = block{stop: noStop}
	if len(text) > longestLine {
		return fmt.Sprintf("it is longer than %d signs", longestLine)
	}
	s := scanner{text: text}
	for first := true; ; first = false {
		s.skip()
		if s.at >= len(s.text) {
			return ""
		}
		c := s.text[s.at]
		s.at++
		if c >= 'a' && c <= 'z' {
			c -= 'a' - 'A'
		}
		switch {
		case c == '(':
			fault = s.comment()
		case c == 'N' && first:
			fault = s.lineNumber()
		case c >= 'A' && c <= 'Z':
			fault = b.take(c, &s)
		default:
			fault = fmt.Sprintf("the sign %q means nothing here", c)
		}
		if fault != "" {
			return fault
		}
	}
}

// comment passes over a comment that has been opened.
func (s *scanner) comment() string {
	for ; s.at < len(s.text); s.at++ {
		switch c := s.text[s.at]; {
		case c == ')':
			s.at++
			return ""
		case c == '(':
			return "there is a parenthesis within a comment"
		case c != '\t' && (c < ' ' || c > '~'):
			return "its comment has a sign that is not plain"
		}
	}
	return "its comment has no end"
}

// lineNumber passes over a line's number: up to five digits without a sign.
func (s *scanner) lineNumber() string {
	s.skip()
	from := s.at
	for s.at < len(s.text) && s.text[s.at] >= '0' && s.text[s.at] <= '9' {
		s.at++
	}
	if n := s.at - from; n < 1 || n > 5 {
		return "its number is not one of one to five digits"
	}
	return ""
}

// mostDigits is how many digits a number may have: more than any machine resolves.
const mostDigits = 12

// number reads a sign, digits, and digits after a point. Unlike the standard it refuses one that ends in its point, which may
// have been cut off.
func (s *scanner) number(letter byte) (v float64, fault string) {
	s.skip()
	negative := false
	if s.at < len(s.text) && (s.text[s.at] == '-' || s.text[s.at] == '+') {
		negative = s.text[s.at] == '-'
		s.at++
	}
	n, digits, after, pointed := int64(0), 0, 0, false
	for ; ; s.at++ {
		s.skip()
		if s.at >= len(s.text) {
			break
		}
		c := s.text[s.at]
		if c == '.' && !pointed {
			pointed = true
			continue
		}
		if c < '0' || c > '9' {
			break
		}
		n = 10*n + int64(c-'0')
		if digits++; digits > mostDigits {
			return 0, fmt.Sprintf("the number after %c has more than %d digits", letter, mostDigits)
		}
		if pointed {
			after++
		}
	}
	switch {
	case digits == 0:
		return 0, fmt.Sprintf("there is no number after %c", letter)
	case pointed && after == 0:
		return 0, fmt.Sprintf("the number after %c ends in its point: it may have been cut off", letter)
	}
	v = float64(n) / tens[after]
	if negative {
		v = -v
	}
	return v, ""
}

var tens = [mostDigits + 1]float64{1, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12}

// take takes a word.
func (b *block) take(letter byte, s *scanner) string {
	w := words
	switch letter {
	case 'X', 'Y', 'Z':
		w = word(letter - 'X')
	case 'I', 'J':
		w = wordI + word(letter-'I')
	case 'F':
		w = wordF
	case 'S':
		w = wordS
	case 'G', 'M':
	default:
		return fmt.Sprintf("the word %c is none that it may use", letter)
	}
	v, fault := s.number(letter)
	switch {
	case fault != "":
		return fault
	case w == words:
		if v != math.Trunc(v) {
			return fmt.Sprintf("%c%g is none that it may use", letter, v)
		}
		if letter == 'G' {
			return b.general(int(v))
		}
		return b.other(int(v))
	case b.has[w]:
		return fmt.Sprintf("it has the word %c twice", letter)
	}
	b.has[w], b.value[w] = true, v
	return ""
}

// once notes a group's word.
func (b *block) once(group uint16, letter byte, n int) string {
	if b.groups&group != 0 {
		return fmt.Sprintf("%c%d stands beside another word of its kind", letter, n)
	}
	b.groups |= group
	return ""
}

// general takes a G word.
func (b *block) general(n int) string {
	group := uint16(0)
	switch n {
	case 0:
		group, b.motion = ofMotion, rapid
	case 1:
		group, b.motion = ofMotion, cutting
	case 2:
		group, b.motion = ofMotion, clockwise
	case 3:
		group, b.motion = ofMotion, counterClockwise
	case 80:
		group, b.forgets = ofMotion, true
	case 17:
		group, b.plane = ofPlane, true
	case 90:
		group, b.places = ofDistance, true
	case 94:
		group, b.minutes = ofFeed, true
	case 20, 21:
		group, b.units = ofUnits, n
	case 40:
		group = ofRadius
	case 49:
		group = ofLength
	case 54:
		group = ofPlaces
	case 61, 64:
		group = ofPath
	default:
		return fmt.Sprintf("G%d is none that it may use", n)
	}
	return b.once(group, 'G', n)
}

// other takes an M word.
func (b *block) other(n int) string {
	group := uint16(0)
	switch n {
	case 0, 2, 30:
		group, b.stop = ofStop, n
	case 3, 5:
		group, b.spindle = ofSpindle, n
	case 7, 8, 9:
		group = ofCooling
	default:
		return fmt.Sprintf("M%d is none that it may use", n)
	}
	return b.once(group, 'M', n)
}
