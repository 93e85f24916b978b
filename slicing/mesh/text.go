package mesh

import (
	"bytes"
	"math"
	"strconv"
)

// lines reads a text file line by line with one buffer that holds the longest line.
type lines struct {
	*source
	buf      []byte
	from, to int   // what is left in buf
	offset   int64 // of the file's part after buf
	ends     byte  // a line
	number   int   // of the line last given, from 1
	err      error // the first fault
}

// longestLine keeps a file without line ends from filling the memory.
const longestLine = 16 << 20

func (s *source) lines() *lines {
	l := &lines{source: s, buf: make([]byte, min(s.size, 1<<18)), ends: '\n'}
	if head, err := s.head(); err == nil { // what is wrong with reading is told where it is read
		l.ends = lineEnd(head)
	}
	return l
}

// next gives the next line without its end; it is valid until the next call. ok is false at the end and after a fault.
func (l *lines) next() (line []byte, ok bool) {
	seen := l.from
	for l.err == nil {
		if i := bytes.IndexByte(l.buf[seen:l.to], l.ends); i >= 0 {
			line, l.from = l.buf[l.from:seen+i], seen+i+1
			l.number++
			return line, true
		}
		if l.offset == l.size {
			line, l.from = l.buf[l.from:l.to], l.to
			l.number++
			return line, len(line) > 0
		}
		seen = l.to - l.from
		l.fill()
	}
	return nil, false
}

// fill moves what is left to the front and reads on.
func (l *lines) fill() {
	left := copy(l.buf, l.buf[l.from:l.to])
	l.from, l.to = 0, left
	if left == len(l.buf) {
		if left >= longestLine {
			l.number++
			l.fail(remedyAgain, "the line does not end")
			return
		}
		l.buf = append(l.buf, make([]byte, min(int64(left), l.size-l.offset))...)
	}
	n := int(min(int64(len(l.buf)-left), l.size-l.offset))
	if err := l.readAt(l.buf[left:left+n], l.offset); err != nil {
		l.err = err
		return
	}
	l.to += n
	l.offset += int64(n)
}

// row is next for formats where a line that is empty or begins with '#' says nothing; a comment at a line's end is cut off.
func (l *lines) row() (line []byte, ok bool) {
	for {
		line, ok = l.next()
		if !ok {
			return nil, false
		}
		if i := bytes.IndexByte(line, '#'); i >= 0 {
			line = line[:i]
		}
		if word, _ := field(line); len(word) > 0 {
			return line, true
		}
	}
}

// left is how many bytes have not been given yet.
func (l *lines) left() int64 { return l.size - l.offset + int64(l.to-l.from) }

// fail keeps the first fault, at the line last given.
func (l *lines) fail(remedy, fault string, args ...any) {
	if l.err == nil {
		l.err = l.fault(max(1, l.number), 0, remedy, fault, args...)
	}
}

// point reads three coordinates and gives what follows them.
func (l *lines) point(line []byte) (p Point, rest []byte) {
	var word []byte
	rest = line
	for k := range p {
		word, rest = field(rest)
		v, ok := number(word)
		if !ok {
			l.fail(remedyNumber, "%s where a coordinate should be", quoted(word))
			return p, nil
		}
		if p[k], ok = coordinate(math.Float32bits(float32(v))); !ok {
			l.fail(remedyNumber, "the coordinate %s is no finite number", quoted(word))
			return p, nil
		}
	}
	return p, rest
}

// field splits off the next word; it is empty at the end of the line.
func field(line []byte) (word, rest []byte) {
	i := 0
	for i < len(line) && blank(line[i]) {
		i++
	}
	j := i
	for j < len(line) && !blank(line[j]) {
		j++
	}
	return line[i:j], line[j:]
}

func blank(c byte) bool {
	return c == ' ' || c == '\t' || c == '\r' || c == '\n' || c == '\f' || c == '\v'
}

// is compares a word with one in lower case, whatever the word's case.
func is(word []byte, lower string) bool {
	if len(word) != len(lower) {
		return false
	}
	for i, c := range word {
		if 'A' <= c && c <= 'Z' {
			c |= 0x20
		}
		if c != lower[i] {
			return false
		}
	}
	return true
}

// quoted is a word of the file fit for a message.
func quoted(word []byte) string {
	if len(word) == 0 {
		return "nothing"
	}
	if len(word) > 24 {
		return strconv.QuoteToASCII(string(word[:24])) + "..."
	}
	return strconv.QuoteToASCII(string(word))
}

// number reads a decimal number. Up to 18 digits with a power of ten within ±22 are done by one exact multiplication or
// division where the digits fit 53 bits (W. D. Clinger, How to Read Floating Point Numbers Accurately, PLDI 1990); the rest
// goes to strconv. "nan" and "inf" are numbers here: the caller says what is wrong with them.
func number(word []byte) (v float64, ok bool) {
	digits, exp, fits := decimal(word)
	if !fits {
		v, err := strconv.ParseFloat(string(word), 64)
		return v, err == nil || math.IsInf(v, 0)
	}
	v = float64(digits)
	if word[0] == '-' {
		v = -v
	}
	if exp < 0 {
		return v / tens[-exp], true
	}
	return v * tens[exp], true
}

// decimal takes a word apart: its digits as one whole number and the power of ten. fits is false where that is not exact
// or the word is no plain number.
func decimal(word []byte) (digits uint64, exp int, fits bool) {
	i := 0
	if len(word) > 0 && (word[0] == '-' || word[0] == '+') {
		i++
	}
	seen, dot := 0, false
	for ; i < len(word); i++ {
		c := word[i]
		if c == '.' && !dot {
			dot = true
			continue
		}
		if c < '0' || c > '9' {
			break
		}
		seen++
		digits = digits*10 + uint64(c-'0')
		if dot {
			exp--
		}
	}
	if seen == 0 || seen > 18 || digits >= 1<<53 {
		return 0, 0, false
	}
	if i < len(word) {
		if word[i] != 'e' && word[i] != 'E' || len(word)-i > 4 {
			return 0, 0, false
		}
		e, err := strconv.Atoi(string(word[i+1:]))
		if err != nil {
			return 0, 0, false
		}
		exp += e
	}
	return digits, exp, -22 <= exp && exp <= 22
}

// tens are the powers of ten that a float64 holds exactly.
var tens = [...]float64{
	1e0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15, 1e16, 1e17, 1e18, 1e19, 1e20, 1e21,
	1e22,
}

// whole reads a whole number that fits 32 bits.
func whole(word []byte) (int64, bool) {
	i, negative := 0, false
	if len(word) > 0 && (word[0] == '-' || word[0] == '+') {
		negative, i = word[0] == '-', 1
	}
	if i == len(word) || len(word) > 11 {
		return 0, false
	}
	v := int64(0)
	for _, c := range word[i:] {
		if c < '0' || c > '9' {
			return 0, false
		}
		v = v*10 + int64(c-'0')
	}
	if negative {
		v = -v
	}
	return v, true
}
