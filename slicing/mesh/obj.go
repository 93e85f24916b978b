package mesh

import "bytes"

// looksLikeOBJ wants text whose first line with a meaning has a key word of the format and, where that word is also a
// letter of plain English, a line with a corner in sight.
func looksLikeOBJ(head []byte, _ int64) bool {
	if !isText(head) {
		return false
	}
	first := true
	for line := range headLines(head) {
		word, rest := field(line)
		if len(word) == 0 || word[0] == '#' {
			continue
		}
		switch string(word) {
		case "mtllib", "usemtl", "vn", "vt":
			return true
		case "v":
			next, _ := field(rest)
			if _, ok := number(next); ok {
				return true
			}
		case "o", "g", "s", "f", "l", "p":
		default:
			if first {
				return false
			}
		}
		first = false
	}
	return false
}

// An obj is a Wavefront OBJ half read.
type obj struct {
	*lines
	faces
	highest     int32 // corner number named so far, from 0
	highestLine int
	seen        *Colours
}

// readOBJ reads corners and faces; materials, groups, textures and normals say nothing about the solid's shape.
func readOBJ(s *source) ([]facet, error) {
	o := &obj{lines: s.lines(), highest: -1}
	for line, ok := o.next(); ok && o.err == nil; line, ok = o.next() {
		if o.number == 1 {
			line = bytes.TrimPrefix(line, byteOrderMark())
		}
		line = o.whole(line)
		switch word, rest := field(line); string(word) {
		case "v":
			p, more := o.point(rest)
			o.points = append(o.points, p)
			o.colour(p, more)
		case "f", "fo":
			o.face(rest)
		}
		if len(o.triangles) > mostFacets || len(o.points) > mostFacets {
			o.fail(remedyTooBig, "there are more triangles than can be read")
		}
	}
	if o.err == nil && int(o.highest) >= len(o.points) {
		return nil, s.fault(o.highestLine, 0, remedyAgain,
			"the face names corner %d, the file has %d", o.highest+1, len(o.points))
	}
	if o.err != nil {
		return nil, o.err
	}
	s.colours = o.seen
	return o.facets(), nil
}

// colour takes the three parts from 0 to 1 that scanners write after a corner's place; one number there is a weight.
func (o *obj) colour(p Point, rest []byte) {
	var parts [3]float64
	for k := range parts {
		var word []byte
		word, rest = field(rest)
		if len(word) == 0 {
			return
		}
		v, ok := number(word)
		if !ok {
			return
		}
		parts[k] = v
	}
	if o.seen == nil {
		o.seen = &Colours{}
	}
	o.seen.add(p, parts)
}

// whole joins a line that ends in a backslash with those after it.
func (o *obj) whole(line []byte) []byte {
	trimmed := bytes.TrimRight(line, " \t\r")
	if !bytes.HasSuffix(trimmed, []byte{'\\'}) {
		return line
	}
	all := append([]byte(nil), trimmed[:len(trimmed)-1]...)
	for {
		next, ok := o.next()
		if !ok {
			return all
		}
		if len(all)+len(next) > longestLine {
			o.fail(remedyAgain, "the line does not end")
			return nil
		}
		trimmed = bytes.TrimRight(next, " \t\r")
		if !bytes.HasSuffix(trimmed, []byte{'\\'}) {
			return append(append(all, ' '), next...)
		}
		all = append(append(all, ' '), trimmed[:len(trimmed)-1]...)
	}
}

// face reads "7", "7/1", "7//3" or "7/1/3" for each corner; negative numbers count back from the last corner read.
func (o *obj) face(rest []byte) {
	for word, rest := field(rest); len(word) > 0 && word[0] != '#'; word, rest = field(rest) {
		corner := word
		if before, _, ok := bytes.Cut(word, []byte{'/'}); ok {
			corner = before
		}
		v, ok := whole(corner)
		if v < 0 {
			v += int64(len(o.points)) + 1
		}
		if !ok || v < 1 || v > mostFacets {
			o.fail(remedyAgain, "%s is no corner's number", quoted(word))
			return
		}
		if i := int32(v - 1); i > o.highest {
			o.highest, o.highestLine = i, o.number
		}
		o.corner(int32(v - 1))
	}
	if o.corners < 3 && o.left() == 0 {
		o.fail(remedyAgain, "the file ends within a face")
	}
	o.end()
}
