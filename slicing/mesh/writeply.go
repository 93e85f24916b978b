package mesh

import (
	"bufio"
	"encoding/binary"
	"fmt"
	"io"
	"math"
)

// WritePLY writes m as binary PLY (G. Turk, The PLY Polygon File Format, 1994), in file units. guessed is nil or says for each triangle
// whether nobody saw it; it then goes into a column of its own, which readers that don't know it skip.
func WritePLY(w io.Writer, m *Mesh, guessed []bool) error {
	out := bufio.NewWriterSize(w, 1<<16)
	column := ""
	if guessed != nil {
		column = "property uchar guessed\n"
	}
	fmt.Fprintf(out, "ply\nformat binary_little_endian 1.0\ncomment made by grainstack\nelement vertex %d\nproperty float x\nproperty float y\nproperty float z\n"+
		"element face %d\nproperty list uchar int vertex_indices\n%send_header\n", len(m.Points), len(m.Triangles), column)
	var row [14]byte
	for _, p := range m.Points {
		for k, v := range p {
			binary.LittleEndian.PutUint32(row[4*k:], math.Float32bits(v))
		}
		out.Write(row[:12]) // the writer keeps its first error
	}
	for i, t := range m.Triangles {
		row[0] = 3
		for k, v := range t {
			binary.LittleEndian.PutUint32(row[1+4*k:], uint32(v))
		}
		n := 13
		if guessed != nil {
			row[13] = 0
			if guessed[i] {
				row[13] = 1
			}
			n = 14
		}
		out.Write(row[:n])
	}
	return out.Flush()
}
