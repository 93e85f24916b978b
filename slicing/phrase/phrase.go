// Package phrase helps sentences for a maker along: capitals, small letters, one or more.
package phrase

import (
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

// Plural is the word for n things: one of them, or any other number.
func Plural(n int, one, more string) string {
	if n == 1 {
		return one
	}
	return more
}
