package mesh_test

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"math"
	"runtime"
	"strings"
	"testing"

	"grainstack/slicing/mesh"
	"grainstack/slicing/solidtest"
)

// header is the first 84 bytes of a binary STL.
func header(text string, count uint32) []byte {
	h := make([]byte, 84)
	copy(h, text)
	binary.LittleEndian.PutUint32(h[80:], count)
	return h
}

// with is file with the four bytes at offset replaced.
func with(file []byte, offset int, v uint32) []byte {
	file = bytes.Clone(file)
	binary.LittleEndian.PutUint32(file[offset:], v)
	return file
}

const plyStart = "ply\nformat ascii 1.0\nelement vertex 3\nproperty float x\nproperty float y\nproperty float z\n" +
	"element face 1\nproperty list uchar int vertex_indices\nend_header\n"

func TestBrokenFiles(t *testing.T) {
	box := binarySTL(t, solidtest.Box(1, 1, 1))
	text := string(textSTL(t, solidtest.Box(1, 1, 1)))
	bigCount := strings.Replace(plyStart, "vertex 3", "vertex 4000000000", 1)
	bigPly := plyBinary(solidtest.Box(1, 1, 1), binary.BigEndian)
	for _, tt := range []struct {
		name string
		file []byte
		want string // in this order
	}{
		{"empty", nil, "piece: the file is empty"},
		{"plain text", []byte("Dear Ann, the boards have come.\nYours, Bob"), "plain text, not a solid"},
		{"noise", bytes.Repeat([]byte{0x9d, 0xe1, 0x07, 0xff}, 100), "no known kind"},
		{"one byte", []byte{7}, "no known kind"},

		{"stl cut short", box[:400], "binary STL, byte 80: the header promises 12 facets, the file holds 6. It was probably cut short"},
		{"stl without facets", header("", 0), "binary STL, byte 0: the file holds no triangles"},
		{"stl that promises 4 GiB", header("", math.MaxUint32), "byte 80: the header promises 4294967295 facets, the file holds 0"},
		{"same with a text header", header(strings.Repeat("solid ", 14), math.MaxUint32), "promises 4294967295 facets"},
		{"stl that promises none", with(box, 80, 0), "the header promises no facets, the file has room for 12"},
		{"stl with no number", with(box, 84+50*3+12, 0x7fc00000), "byte 234: facet 4 has a corner at no finite place"},
		{"stl with infinity", with(box, 84+50*11+44, 0xff800000), "byte 634: facet 12 has a corner at no finite place"},
		{"stl of points", header("", 1), "the header promises 1 facets, the file holds 0"},
		{"stl without area", append(header("", 1), make([]byte, 50)...), "all 1 triangles are without area"},

		{"text stl cut short", []byte(text[:len(text)/2]), "ASCII STL, line "},
		{"text stl without its end", []byte(text[:strings.LastIndex(text, "endsolid")]), "ends before endsolid"},
		{"text stl, no number", []byte(strings.Replace(text, "vertex 1 ", "vertex nan ", 1)), "the coordinate \"nan\" is no finite number"},
		{"text stl, too far", []byte(strings.Replace(text, "vertex 1 ", "vertex 1e39 ", 1)), "\"1e39\" is no finite number"},
		{"text stl, words", []byte(strings.Replace(text, "vertex 1 ", "vertex one ", 1)), "\"one\" where a coordinate should be"},
		{"text stl, two corners", []byte("solid\nfacet normal 0 0 1\nouter loop\nvertex 0 0 0\nvertex 1 0 0\nendloop\nendfacet\nendsolid\n"),
			"line 7: facet 1 has 2 corners, wants 3"},
		{"text stl, four corners", []byte("solid\nfacet\nouter loop\nvertex 0 0 0\nvertex 1 0 0\nvertex 1 1 0\nvertex 0 1 0\n"), "line 7: a corner that belongs to no facet"},
		{"text stl, loose corner", []byte("solid facet\nvertex 0 0 0\n"), "line 2: a corner that belongs to no facet"},
		{"text stl, odd word", []byte("solid x\nfacet normal 0 0 1\nbanana\n"), "line 3: \"banana\" where a key word should be"},
		{"text stl, empty", []byte("solid x\nendsolid x\n"), "the file holds no triangles"},

		{"obj, corner too high", []byte("v 0 0 0\nv 1 0 0\nv 0 1 0\nf 1 2 4\n"), "OBJ, line 4: the face names corner 4, the file has 3"},
		{"obj, corner nought", []byte("v 0 0 0\nv 1 0 0\nv 0 1 0\nf 0 1 2\n"), "line 4: \"0\" is no corner's number"},
		{"obj, too far back", []byte("v 0 0 0\nv 1 0 0\nv 0 1 0\nf -4 1 2\n"), "line 4: \"-4\" is no corner's number"},
		{"obj, words", []byte("v 0 0 0\nv 1 0 0\nv 0 1 0\nf a b c\n"), "line 4: \"a\" is no corner's number"},
		{"obj, no number", []byte("v 0 0 0\nv 1 inf 0\nf 1 2 1\n"), "line 2: the coordinate \"inf\" is no finite number"},
		{"obj, two coordinates", []byte("v 0 0 0\nv 1 1\n"), "line 2: nothing where a coordinate should be"},
		{"obj, no faces", []byte("v 0 0 0\nv 1 0 0\nv 0 1 0\n"), "the file holds no triangles"},
		{"obj, cut within a face", []byte("v 0 0 0\nv 1 0 0\nv 0 1 0\nf 1 2 3\nf 1 2"), "line 5: the file ends within a face"},

		{"ply without end", []byte("ply\nformat ascii 1.0\nelement vertex 3\n"), "PLY, line 4: the file ends before end_header"},
		{"ply without format", []byte("ply\nelement vertex 3\nend_header\n"), "the header has no format line"},
		{"ply, odd encoding", []byte("ply\nformat morse 1.0\n"), "line 2: the encoding \"morse\" is unknown"},
		{"ply, odd type", []byte("ply\nformat ascii 1.0\nelement vertex 3\nproperty banana x\n"), "line 4: the type \"banana\" is unknown"},
		{"ply, odd list", []byte("ply\nformat ascii 1.0\nelement face 3\nproperty list float int vertex_index\n"), "\"float\" is no type for a list's length"},
		{"ply, no rows", []byte("ply\nformat ascii 1.0\nelement vertex many\n"), "line 3: \"many\" where the number of rows"},
		{"ply, negative rows", []byte("ply\nformat ascii 1.0\nelement vertex -3\n"), "\"-3\" where the number of rows"},
		{"ply, lying count", []byte(bigCount + "0 0 0\n"), "line 9: the header promises 4000000000 rows of \"vertex\", the file holds 1 at the most"},
		{"ply, lying binary count", []byte(strings.Replace(strings.Replace(plyStart, "ascii", "binary_little_endian", 1), "vertex 3", "vertex 4000000000", 1)), "promises 4000000000 rows"},
		{"ply, property first", []byte("ply\nformat ascii 1.0\nproperty float x\n"), "a property stands before the first element"},
		{"ply, two tables", []byte("ply\nelement vertex 1\nelement vertex 2\n"), "two tables named \"vertex\""},
		{"ply, no z", []byte("ply\nformat ascii 1.0\nelement vertex 1\nproperty float x\nproperty float y\nelement face 1\nproperty list int int vertex_index\nend_header\n0 0\n1 0\n"), "the vertices have no z"},
		{"ply, fractions for corners", []byte(strings.Replace(plyStart, "uchar int", "uchar float", 1) + "0 0 0\n1 0 0\n0 1 0\n3 0 1 2\n"), "numbered with fractions"},
		{"ply, corner too high", []byte(plyStart + "0 0 0\n1 0 0\n0 1 0\n3 0 1 3\n"), "line 13: the face names corner 3, the file has 3, from 0"},
		{"ply, corner below nought", []byte(plyStart + "0 0 0\n1 0 0\n0 1 0\n3 0 -1 2\n"), "line 13: the face names corner -1"},
		{"ply, endless list", []byte(plyStart + "0 0 0\n1 0 0\n0 1 0\n4000000000 0 1 2\n"), "line 13: nothing where a number should be"},
		{"ply, no number", []byte(plyStart + "0 0 0\n1 nan 0\n0 1 0\n3 0 1 2\n"), "line 11: vertex 2 lies at no finite place"},
		{"ply cut short", []byte(plyStart + "0 0 0\n1 0 0\n0 1 0 0 0 0\n"), "the file ends before its last row"},
		{"ply binary cut short", bigPly[:len(bigPly)-5], "the file ends before its last row"},

		{"off without counts", []byte("OFF\nvertices\n"), "OFF, line 2: the numbers of corners and faces are missing"},
		{"off, lying corners", []byte("OFF 4000000000 1 0\n0 0 0\n"), "promises 4000000000 corners, the file holds 1 at the most"},
		{"off, lying faces", []byte("OFF 1 4000000000 0\n0 0 0\n"), "promises 4000000000 faces"},
		{"off, corner too high", []byte("OFF 3 1 0\n0 0 0\n1 0 0\n0 1 0\n3 0 1 3\n"), "line 5: the face names corner \"3\", the file has 3"},
		{"off, cut within a face", []byte("OFF 3 1 0\n0 0 0\n1 0 0\n0 1 0\n3 0 1"), "line 5: the face names corner nothing"},
		{"off, cut within the corners", []byte("OFF 3 0 0\n0 0 0\n1.123456 0.123456 0\n"), "ends after 2 of 3 corners"},
		{"off, no number", []byte("OFF 3 1 0\n0 0 0\n1 0 nan\n0 1 0\n3 0 1 2\n"), "line 3: the coordinate \"nan\""},
		{"off, faces cut off", []byte("OFF 3 2 0\n0 0 0\n1 0 0\n0 1 0\n3 0 1 2\n"), "ends after 1 of 2 faces"},
	} {
		_, _, err := read(tt.file)
		var fault *mesh.FormatError
		if !errors.As(err, &fault) {
			t.Errorf("%s: got %v, want a format error", tt.name, err)
			continue
		}
		if !strings.Contains(err.Error(), tt.want) {
			t.Errorf("%s:\n got %v\nwant %s", tt.name, err, tt.want)
		}
		if fault.File != "piece" || fault.Remedy == "" || !strings.HasSuffix(fault.Remedy, ".") {
			t.Errorf("%s: file %q, remedy %q", tt.name, fault.File, fault.Remedy)
		}
	}
}

func TestOtherKinds(t *testing.T) {
	for _, tt := range []struct{ file, want string }{
		{"glTF\x02\x00\x00\x00", "a glTF scene"},
		{`{ "scenes": [], "asset": {"version": "2.0"} }`, "a glTF scene"},
		{"ISO-10303-21;\nHEADER;\n", "a STEP drawing"},
		{"  0\nSECTION\n  2\nHEADER\n", "a DXF drawing"},
		{"<?xml version=\"1.0\"?>\n<COLLADA>", "a COLLADA scene"},
		{"%PDF-1.7\n", "a PDF document"},
		{"\x89PNG\r\n\x1a\n", "a picture"},
		{"LASF" + strings.Repeat("\x00", 300), "a cloud of scanned points"},
		{"ply\nformat ascii 1.0\nelement vertex 1\nproperty float x\nproperty float y\nproperty float z\nend_header\n0 0 0\n", "points without faces"},
		{"ply\nformat ascii 1.0\nelement vertex 1\nproperty float x\nelement tristrips 1\nproperty list int int vertex_indices\nend_header\n0\n1 0\n", "triangle strips"},
		{"4OFF 1 1 0\n0 0 0 0\n1 0\n", "many-dimensional"},
		{"OFF BINARY\n\x00\x00\x00\x01", "a binary or many-dimensional OFF"},
	} {
		_, _, err := read([]byte(tt.file))
		var unsupported *mesh.UnsupportedError
		if !errors.As(err, &unsupported) {
			t.Errorf("%.20q: got %v, want an unsupported kind", tt.file, err)
			continue
		}
		if !strings.Contains(err.Error(), tt.want) || unsupported.Remedy == "" {
			t.Errorf("%.20q: got %v, want %s", tt.file, err, tt.want)
		}
	}
}

// Files of a few bytes that promise billions must not cost more memory than the reader's buffers.
func TestPromisesAreNotBelieved(t *testing.T) {
	for _, file := range [][]byte{
		header("", math.MaxUint32),
		[]byte(strings.Replace(plyStart, "vertex 3", "vertex 4000000000", 1)),
		[]byte(strings.Replace(plyStart, "face 1", "face 4000000000", 1)),
		[]byte("OFF 4000000000 4000000000 0\n"),
		[]byte("v 0 0 0\nf 4000000000 -4000000000 1\n"),
		[]byte(plyStart + "0 0 0\n1 0 0\n0 1 0\n4000000000 0 1 2\n"),
	} {
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		if _, _, err := read(file); err == nil {
			t.Errorf("%.40q was read", file)
		}
		runtime.ReadMemStats(&after)
		if got := after.TotalAlloc - before.TotalAlloc; got > 64<<10 {
			t.Errorf("%.40q: %d bytes taken", file, got)
		}
	}
}

// A reader that fails is not a broken file.
func TestReaderFault(t *testing.T) {
	_, _, err := mesh.Read(failing{}, 1000, "piece")
	var fault *mesh.FormatError
	if !errors.Is(err, errDisk) || errors.As(err, &fault) {
		t.Errorf("got %v", err)
	}
}

var errDisk = fmt.Errorf("the disk is gone")

type failing struct{}

func (failing) ReadAt([]byte, int64) (int, error) { return 0, errDisk }
