package mesh

import (
	"bytes"
	"iter"
	"unicode/utf8"

	"grainstack/slicing/disk"
)

// A kind is a sort of file that is known but not read.
type kind struct {
	at          int    // where the mark stands; -1: anywhere in the head
	mark        string // in lower case
	looks, what string
}

const (
	asMesh   = "Open it in the program that made it and export the solid as STL, OBJ or PLY."
	asScan   = "Make a closed surface of the points in the scanner's program, then export it as STL, OBJ or PLY."
	asUnpack = "Unpack it first, then open the STL, OBJ, PLY or OFF file that is inside."
)

// kinds are tried in order, so that the narrower mark stands before the wider.
func kinds() []kind {
	return []kind{
		{0, "7z\xbc\xaf\x27\x1c", "a 7-Zip archive", asUnpack},
		{0, "rar!", "a RAR archive", asUnpack},
		{0, "gltf", "a glTF scene", asMesh},
		{0, "iso-10303-21", "a STEP drawing", asMesh},
		{0, "kaydara fbx", "an FBX scene", asMesh},
		{0, "blender", "a Blender scene", asMesh},
		{0, "3d geometry file format", "a Rhino drawing", asMesh},
		{0, "ac10", "a DWG drawing", asMesh},
		{0, "#vrml", "a VRML scene", asMesh},
		{0, "lasf", "a cloud of scanned points (LAS)", asScan},
		{0, "astm-e57", "a cloud of scanned points (E57)", asScan},
		{0, "%pdf", "a PDF document", "Choose the solid itself, an STL, OBJ, PLY or OFF file."},
		{0, "\x89png", "a picture", "Choose a solid; a picture has no depth."},
		{0, "\xff\xd8\xff", "a picture", "Choose a solid; a picture has no depth."},
		{-1, "<collada", "a COLLADA scene", asMesh},
		{-1, "<amf", "an AMF file", asMesh},
		{-1, "<x3d", "an X3D scene", asMesh},
		{-1, "<svg", "a flat drawing (SVG)", "Choose a solid; a flat drawing has no depth."},
		{-1, "start section", "an IGES drawing", asMesh},
		{-1, "\nsection", "a DXF drawing", asMesh},
	}
}

// kindOf finds the kind whose mark is in the head.
func kindOf(head []byte) (kind, bool) {
	low := lower(bytes.TrimPrefix(head[:min(len(head), 4096)], byteOrderMark()))
	for _, k := range kinds() {
		at := bytes.Index(low, []byte(k.mark))
		if at == 0 || at > 0 && k.at < 0 {
			return k, true
		}
	}
	if t := bytes.TrimSpace(low); bytes.HasPrefix(t, []byte("{")) && bytes.Contains(t, []byte(`"asset"`)) {
		return kind{looks: "a glTF scene", what: asMesh}, true
	}
	return kind{}, false
}

// lower is b with ASCII capitals made small; other bytes need not be text and stay as they are.
func lower(b []byte) []byte {
	out := bytes.Clone(b)
	for i, c := range out {
		if 'A' <= c && c <= 'Z' {
			out[i] |= 0x20
		}
	}
	return out
}

// foreign is the news about a file that no reader takes: a known kind, plain text, or unknown.
func foreign(head []byte, name string) error {
	if k, ok := kindOf(head); ok {
		return &UnsupportedError{File: name, Looks: k.looks, Remedy: k.what}
	}
	fault := "the contents are of no known kind"
	if isText(head) {
		fault = "this is plain text, not a solid"
	}
	return &FormatError{File: name, Fault: fault, Remedy: "Choose an STL, OBJ, PLY or OFF file."}
}

// isText reports whether the head has no control characters but the usual ones and few beyond ASCII.
func isText(head []byte) bool {
	odd := 0
	for _, c := range head {
		if c < ' ' && !blank(c) {
			return false
		}
		if c > '~' {
			odd++
		}
	}
	return odd <= len(head)/4 || utf8.Valid(head)
}

// byteOrderMark is what some editors put before UTF-8 text.
func byteOrderMark() []byte { return []byte(disk.Mark) }

// lineEnd is what the lines of a text end with: a line feed, or a carriage return where there is no line feed at all.
func lineEnd(head []byte) byte {
	if bytes.IndexByte(head, '\n') < 0 && bytes.IndexByte(head, '\r') >= 0 {
		return '\r'
	}
	return '\n'
}

// headLines are the lines of a text's head.
func headLines(head []byte) iter.Seq[[]byte] {
	return bytes.SplitSeq(bytes.TrimPrefix(head, byteOrderMark()), []byte{lineEnd(head)})
}
