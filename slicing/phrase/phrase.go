// Package phrase helps sentences for a maker along: capitals, small letters, one or more.
package phrase

import (
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Capital is s with its first letter large, as a sentence begins.
func Capital(s string) string { return first(s, unicode.ToUpper) }

// Inside is a name as it stands inside a sentence: its first letter small, unless it is a word of capitals, as in MDF.
func Inside(s string) string {
	_, size := utf8.DecodeRuneInString(s)
	if next, _ := utf8.DecodeRuneInString(s[size:]); unicode.IsUpper(next) {
		return s
	}
	return first(s, unicode.ToLower)
}

func first(s string, change func(rune) rune) string {
	if s == "" {
		return s
	}
	r, size := utf8.DecodeRuneInString(s)
	return string(change(r)) + s[size:]
}

// Name is a name from outside as it can be told: what would move the cursor, turn the writing round or end the line is written
// as an escape, as Go writes it, and so are bytes that are no letters.
func Name(s string) string {
	var b strings.Builder
	for i, r := range s {
		_, size := utf8.DecodeRuneInString(s[i:])
		letters := s[i : i+size]
		if r == utf8.RuneError && size == 1 || unicode.IsControl(r) || unicode.In(r, unicode.Bidi_Control, unicode.Zl, unicode.Zp) {
			letters = strconv.QuoteToASCII(letters)
			letters = letters[1 : len(letters)-1]
		}
		b.WriteString(letters)
	}
	return b.String()
}

// Count is a number with what is counted, whose plural ends in an s: "1 panel", "3 panels".
func Count(n int, one string) string { return strconv.Itoa(n) + " " + Plural(n, one, one+"s") }

// Plural is the word for n things: one of them, or any other number.
func Plural(n int, one, more string) string {
	if n == 1 {
		return one
	}
	return more
}

// Plain reports whether a text is of printable ASCII signs alone.
func Plain(s string) bool {
	for i := range len(s) {
		if s[i] < ' ' || s[i] > '~' {
			return false
		}
	}
	return true
}
