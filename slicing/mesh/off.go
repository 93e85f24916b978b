package mesh

import (
	"bytes"
	"strings"
)

// looksLikeOFF goes by the first word: OFF, with letters before it that say what else stands in a corner's row.
func looksLikeOFF(head []byte, _ int64) bool {
	for line := range headLines(head) {
		word, _ := field(line)
		if len(word) == 0 || word[0] == '#' {
			continue
		}
		_, ok := offPrefix(word)
		return ok
	}
	return false
}

// offPrefix is what stands before OFF: ST, C, N, 4, n in this order.
func offPrefix(word []byte) (prefix string, ok bool) {
	prefix, ok = strings.CutSuffix(string(word[:min(len(word), 16)]), "OFF")
	left := strings.TrimPrefix(prefix, "ST")
	for _, letter := range []string{"C", "N", "4", "n"} {
		left = strings.TrimPrefix(left, letter)
	}
	return prefix, ok && left == ""
}

// An off is an OFF file half read.
type off struct {
	*lines
	faces
}

// readOFF reads the corners' first three numbers and the faces' corners; normals, colours and texture places are left out.
func readOFF(s *source) ([]facet, error) {
	o := &off{lines: s.lines()}
	corners, faces, err := o.counts()
	if err != nil {
		return nil, err
	}
	o.points = make([]Point, 0, corners)
	for range corners {
		line, ok := o.row()
		if !ok {
			break
		}
		p, _ := o.point(line)
		o.points = append(o.points, p)
		if o.err != nil {
			break
		}
	}
	if o.err == nil && int64(len(o.points)) < corners {
		o.fail(remedyAgain, "the file ends after %d of %d corners", len(o.points), corners)
	}
	o.triangles = make([]Triangle, 0, faces)
	for i := range faces {
		line, ok := o.row()
		if !ok {
			o.fail(remedyAgain, "the file ends after %d of %d faces", i, faces)
		}
		if o.err != nil {
			break
		}
		o.face(line)
	}
	if o.err != nil {
		return nil, o.err
	}
	return o.facets(), nil
}

// counts reads the first word and the numbers of corners and faces, on the same line or the next; they are believed only
// as far as the file has room.
func (o *off) counts() (corners, faces int64, err error) {
	line, _ := o.row()
	word, rest := field(bytes.TrimPrefix(line, byteOrderMark()))
	prefix, _ := offPrefix(word)
	first, _ := field(rest)
	if strings.ContainsAny(prefix, "4n") || is(first, "binary") {
		return 0, 0, &UnsupportedError{File: o.name, Looks: "a binary or many-dimensional OFF file", Remedy: asMesh}
	}
	if len(first) == 0 {
		rest, _ = o.row()
	}
	word, rest = field(rest)
	corners, okCorners := whole(word)
	word, _ = field(rest)
	faces, okFaces := whole(word)
	switch {
	case o.err != nil:
		return 0, 0, o.err
	case !okCorners || !okFaces || corners < 0 || faces < 0:
		o.fail(remedyAgain, "the numbers of corners and faces are missing")
	case corners > (o.left()+1)/len64("0 0 0\n"):
		o.fail(remedyAgain, "the header promises %d corners, the file holds %d at the most", corners, (o.left()+1)/6)
	case faces > (o.left()+1)/len64("0\n"):
		o.fail(remedyAgain, "the header promises %d faces, the file holds %d at the most", faces, (o.left()+1)/2)
	case corners > mostFacets || faces > mostFacets:
		o.fail(remedyTooBig, "there are more triangles than can be read")
	}
	return corners, faces, o.err
}

func len64(s string) int64 { return int64(len(s)) }

// face reads the number of corners, then the corners, numbered from 0.
func (o *off) face(line []byte) {
	word, rest := field(line)
	n, ok := whole(word)
	if !ok || n < 0 {
		o.fail(remedyAgain, "%s where a face's number of corners should be", quoted(word))
		return
	}
	for range n {
		word, rest = field(rest)
		i, ok := whole(word)
		if !ok || i < 0 || i >= int64(len(o.points)) {
			o.fail(remedyAgain, "the face names corner %s, the file has %d, from 0", quoted(word), len(o.points))
			return
		}
		o.corner(int32(i))
	}
	o.end()
}
