package mesh_test

import (
	"bytes"
	"compress/gzip"
	"encoding/binary"
	"errors"
	"reflect"
	"runtime"
	"strings"
	"testing"

	"grainstack/slicing/mesh"
	"grainstack/slicing/solidtest"
)

func packed(t testing.TB, file []byte) []byte {
	t.Helper()
	var out bytes.Buffer
	z := gzip.NewWriter(&out)
	if _, err := z.Write(file); err != nil {
		t.Fatal(err)
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

// A packed file gives the very mesh that it gives unpacked; 20,000 facets take several pieces of memory.
func TestPackedFiles(t *testing.T) {
	m := solidtest.Bumpy(80, 20_000)
	for _, tt := range []struct {
		name string
		file []byte
	}{
		{"binary stl", binarySTL(t, m)},
		{"ascii stl", textSTL(t, m)},
		{"obj", objText(m, "%[1]d/1", true)},
		{"off", offText(m, "OFF\n", "")},
		{"ply text", plyText(m)},
		{"ply big", plyBinary(m, binary.BigEndian)},
	} {
		want, wantRaw, err := read(tt.file)
		if err != nil {
			t.Fatal(err)
		}
		got, raw, err := read(packed(t, tt.file))
		if err != nil || raw != wantRaw || !reflect.DeepEqual(got, want) {
			t.Errorf("%s: %+v, %v, want %+v", tt.name, raw, err, wantRaw)
		}
	}
	half := binarySTL(t, m)
	cut := len(half) / 3
	if got, _, err := read(append(packed(t, half[:cut]), packed(t, half[cut:])...)); err != nil || len(got.Triangles) != len(m.Triangles) {
		t.Errorf("packed in two runs: %v", err)
	}
}

func TestBrokenPackedFiles(t *testing.T) {
	box := binarySTL(t, solidtest.Bumpy(80, 3000))
	good := packed(t, box)
	flipped := bytes.Clone(good)
	flipped[len(flipped)-6] ^= 1
	for _, tt := range []struct {
		name string
		file []byte
		want string
	}{
		{"cut short", good[:len(good)/2], "the packed contents end too early"},
		{"cut within its head", good[:5], "the packed contents end too early"},
		{"wrong check sum", flipped, "their check sum does not fit"},
		{"noise after it", append(bytes.Clone(good), "trailing"...), "packed contents"},
		{"no contents", append([]byte("\x1f\x8b\x08"), make([]byte, 200)...), "the packed contents are damaged"},
		{"empty contents", packed(t, nil), "nothing is packed in it"},
		{"packed twice", packed(t, good), "packed within an archive"},
		{"a letter", packed(t, []byte("Dear Ann, the boards have come.\n")), "plain text, not a solid"},
		{"a drawing", packed(t, []byte("ISO-10303-21;\nHEADER;\n")), "a STEP drawing"},
		{"cut solid", packed(t, box[:400]), "the header promises"},
		{"300 MB of nothing", packed(t, make([]byte, 300<<20)), "unpacks to more than"},
		{"300 MB of text", packed(t, append([]byte("solid x\n"), bytes.Repeat([]byte(" "), 300<<20)...)), "unpacks to more than"},
	} {
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		m, _, err := read(tt.file)
		runtime.ReadMemStats(&after)
		var fault *mesh.FormatError
		var kind *mesh.UnsupportedError
		if m != nil || !errors.As(err, &fault) && !errors.As(err, &kind) {
			t.Errorf("%s: got %v", tt.name, err)
			continue
		}
		if !strings.Contains(err.Error(), tt.want) {
			t.Errorf("%s:\n got %v\nwant %s", tt.name, err, tt.want)
		}
		if got, most := after.TotalAlloc-before.TotalAlloc, uint64(4<<20+260*len(tt.file)); got > most {
			t.Errorf("%s: %d bytes taken for a file of %d", tt.name, got, len(tt.file))
		}
	}
}

// checkPacked is checkRead for packed files: memory goes with what may be inside.
func checkPacked(t *testing.T, file []byte) {
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	m, raw, err := read(file)
	runtime.ReadMemStats(&after)
	if got, most := after.TotalAlloc-before.TotalAlloc, uint64(16<<20+250*60*len(file)); got > most {
		t.Errorf("%d bytes taken for a file of %d", got, len(file))
	}
	if err != nil {
		var fault *mesh.FormatError
		var kind *mesh.UnsupportedError
		if !errors.As(err, &fault) && !errors.As(err, &kind) || m != nil {
			t.Errorf("got %v with mesh %v", err, m)
		}
		return
	}
	if len(m.Triangles) == 0 || raw.Facets != len(m.Triangles)+raw.ZeroArea {
		t.Errorf("%d triangles, %+v", len(m.Triangles), raw)
	}
	checkRead(t, binarySTL(t, m)) // what was read holds together
}

func FuzzGzip(f *testing.F) {
	box := solidtest.Box(1, 2, 3)
	f.Add(packed(f, binarySTL(f, box)))
	f.Add(packed(f, textSTL(f, box)))
	f.Add(packed(f, objText(box, "%[1]d", false)))
	f.Add(packed(f, make([]byte, 4<<20)))
	f.Fuzz(checkPacked)
}

func BenchmarkLoadGzip(b *testing.B) {
	file := packed(b, million(b))
	b.SetBytes(int64(len(file)))
	for b.Loop() {
		if _, _, err := read(file); err != nil {
			b.Fatal(err)
		}
	}
}
