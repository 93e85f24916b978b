package mesh_test

import (
	"reflect"
	"strings"
	"testing"
)

// onePyramid is a closed surface as text STL; its name is one that a reader of words could stumble over.
const onePyramid = `solid loop of a facet normal to nothing
facet normal 0 0 -1
 outer loop
  vertex 0 0 0
  vertex 0 1 0
  vertex 1 0 0
 endloop
endfacet
facet normal 0 -1 0
 outer loop
  vertex 0 0 0
  vertex 1 0 0
  vertex 0 0 1
 endloop
endfacet
facet normal -1 0 0
 outer loop
  vertex 0 0 0
  vertex 0 0 1
  vertex 0 1 0
 endloop
endfacet
facet normal 1 1 1
 outer loop
  vertex 1 0 0
  vertex 0 1 0
  vertex 0 0 1
 endloop
endfacet
endsolid loop of a facet
`

// TestLineEnds: text gives the same surface whatever its lines end with, and a text STL without any lines as well.
func TestLineEnds(t *testing.T) {
	texts := map[string]string{
		"STL": onePyramid,
		"OFF": "OFF\n4 4 0\n0 0 0\n1 0 0\n0 1 0\n0 0 1\n3 0 2 1\n3 0 1 3\n3 0 3 2\n3 1 2 3\n",
		"OBJ": "# pyramid\no one\nv 0 0 0\nv 1 0 0\nv 0 1 0\nv 0 0 1\nf 1 3 2\nf 1 2 4\nf 1 4 3\nf 2 3 4\n",
	}
	for format, text := range texts {
		want, _, err := read([]byte(text))
		if err != nil {
			t.Fatalf("%s: %v", format, err)
		}
		ends := []string{"\r\n", "\r"}
		if format == "STL" {
			ends = append(ends, " ", "\t")
		}
		for _, end := range ends {
			got, _, err := read([]byte(strings.ReplaceAll(text, "\n", end)))
			if err != nil || !reflect.DeepEqual(got, want) {
				t.Errorf("%s with lines that end with %q: %v", format, end, err)
			}
		}
	}
}
