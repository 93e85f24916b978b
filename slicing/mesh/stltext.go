package mesh

import (
	"bytes"
	"unicode/utf8"
)

// looksLikeTextSTL wants the word "solid" first and the next key word in sight; the shortest files are taken at their word.
func looksLikeTextSTL(head []byte, _ int64) bool {
	word, rest := field(bytes.TrimPrefix(head, byteOrderMark()))
	if !is(word, "solid") || !isText(head) {
		return false
	}
	rest = lower(rest)
	return bytes.Contains(rest, []byte("facet")) || bytes.Contains(rest, []byte("endsolid")) || len(head) < 256 && utf8.Valid(head)
}

// A textSTL is an ASCII STL half read.
type textSTL struct {
	*lines
	facets  []facet
	corners int  // of the facet being read
	inFacet bool // between facet and endfacet
	inSolid bool // between solid and endsolid
}

// readTextSTL reads one or several solids, one after another, as one. Normals are not looked at: the corners' order says
// which side is out.
func readTextSTL(s *source) ([]facet, error) {
	t := &textSTL{lines: s.lines()}
	for line, ok := t.next(); ok; line, ok = t.next() {
		if t.number == 1 {
			line = bytes.TrimPrefix(line, byteOrderMark())
		}
		for word, rest := field(line); len(word) > 0 && t.err == nil; word, rest = field(rest) {
			rest = t.word(word, rest)
		}
	}
	if t.err == nil && t.inSolid {
		t.fail(remedyAgain, "the file ends before endsolid")
	}
	return t.facets, t.err
}

// word takes one key word with what belongs to it and gives the rest of the line.
func (t *textSTL) word(word, rest []byte) []byte {
	switch {
	case is(word, "vertex"):
		return t.corner(rest)
	case is(word, "facet"):
		t.check(t.inSolid && !t.inFacet, word)
		t.inFacet, t.corners = true, 0
		t.facets = append(t.facets, facet{})
		t.check(len(t.facets) <= mostFacets, word)
		return normal(rest)
	case is(word, "outer"), is(word, "loop"), is(word, "endloop"):
		t.check(t.inFacet, word)
	case is(word, "endfacet"):
		t.check(t.inFacet, word)
		if t.corners != 3 {
			t.fail(remedyAgain, "facet %d has %d corners, wants 3", len(t.facets), t.corners)
		}
		t.inFacet = false
	case is(word, "solid"):
		t.check(!t.inSolid, word)
		t.inSolid = true
		return afterName(rest)
	case is(word, "endsolid"):
		t.check(t.inSolid && !t.inFacet, word)
		t.inSolid = false
		return nil
	default:
		t.fail(remedyAgain, "%s where a key word should be", quoted(word))
	}
	return rest
}

// afterName is what follows a solid's name, which ends with the line, or, in a file that has no lines, before the first facet.
func afterName(line []byte) []byte {
	for rest := line; len(rest) > 0; {
		word, after := field(rest)
		if next, numbers := field(after); is(word, "facet") && is(next, "normal") {
			if corner, _ := field(normal(after)); len(numbers) > 0 && is(corner, "outer") {
				return rest
			}
		}
		rest = after
	}
	return nil
}

// check faults a key word that stands where it must not.
func (t *textSTL) check(fits bool, word []byte) {
	if !fits {
		t.fail(remedyAgain, "%s stands where it does not belong", quoted(word))
	}
}

func (t *textSTL) corner(rest []byte) []byte {
	p, rest := t.point(rest)
	if !t.inFacet || t.corners == 3 {
		t.fail(remedyAgain, "a corner that belongs to no facet, or is its fourth")
		return nil
	}
	t.facets[len(t.facets)-1][t.corners] = p
	t.corners++
	return rest
}

// normal skips the word "normal" and three numbers.
func normal(line []byte) []byte {
	word, rest := field(line)
	if !is(word, "normal") {
		return line
	}
	for range 3 {
		_, rest = field(rest)
	}
	return rest
}
