package export

import (
	"archive/zip"
	"bufio"
	"compress/flate"
	"fmt"
	"io"
	"strconv"

	"grainstack/slicing/mesh"
)

// An Object is a solid with a name.
type Object struct {
	Name string
	Mesh *mesh.Mesh
}

// Write3MF writes solids as one 3MF package after the core specification, in millimetres, an object each, all where they
// are. A zip holds it, quickly packed.
func Write3MF(w io.Writer, title string, objects []Object) error {
	z := zip.NewWriter(w)
	z.RegisterCompressor(zip.Deflate, func(out io.Writer) (io.WriteCloser, error) {
		return flate.NewWriter(out, flate.BestSpeed)
	})
	for _, part := range []struct{ name, text string }{
		{"[Content_Types].xml", `<?xml version="1.0" encoding="UTF-8"?>
<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types"><Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/><Default Extension="model" ContentType="application/vnd.ms-package.3dmanufacturing-3dmodel+xml"/></Types>
`},
		{"_rels/.rels", `<?xml version="1.0" encoding="UTF-8"?>
<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Target="/3D/3dmodel.model" Id="rel0" Type="http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel"/></Relationships>
`},
	} {
		out, err := z.Create(part.name)
		if err != nil {
			return err
		}
		if _, err := io.WriteString(out, part.text); err != nil {
			return err
		}
	}
	out, err := z.Create("3D/3dmodel.model")
	if err != nil {
		return err
	}
	if err := writeModel(out, title, objects); err != nil {
		return err
	}
	return z.Close()
}

func writeModel(w io.Writer, title string, objects []Object) error {
	out := bufio.NewWriterSize(w, 1<<16)
	fmt.Fprintf(out, `<?xml version="1.0" encoding="UTF-8"?>
<model unit="millimeter" xml:lang="en" xmlns="http://schemas.microsoft.com/3dmanufacturing/core/2015/02">
<metadata name="Title">%s</metadata>
<metadata name="Application">Grainstack</metadata>
<resources>
`, escaped(title))
	for i, o := range objects {
		fmt.Fprintf(out, "<object id=\"%d\" type=\"model\" name=\"%s\"><mesh><vertices>\n", i+1, escaped(o.Name))
		writePoints(out, o.Mesh.Points)
		out.WriteString("</vertices><triangles>\n")
		writeTriangles(out, o.Mesh.Triangles)
		out.WriteString("</triangles></mesh></object>\n")
	}
	out.WriteString("</resources>\n<build>\n")
	for i := range objects {
		fmt.Fprintf(out, "<item objectid=\"%d\"/>\n", i+1)
	}
	out.WriteString("</build>\n</model>\n")
	return out.Flush() // a bufio.Writer keeps its first error
}

func writePoints(out *bufio.Writer, points []mesh.Point) {
	var line []byte
	for _, p := range points {
		line = append(line[:0], `<vertex x="`...)
		line = strconv.AppendFloat(line, float64(p[0]), 'f', -1, 32)
		line = append(line, `" y="`...)
		line = strconv.AppendFloat(line, float64(p[1]), 'f', -1, 32)
		line = append(line, `" z="`...)
		line = strconv.AppendFloat(line, float64(p[2]), 'f', -1, 32)
		line = append(line, "\"/>\n"...)
		out.Write(line)
	}
}

func writeTriangles(out *bufio.Writer, triangles []mesh.Triangle) {
	var line []byte
	for _, t := range triangles {
		line = append(line[:0], `<triangle v1="`...)
		line = strconv.AppendInt(line, int64(t[0]), 10)
		line = append(line, `" v2="`...)
		line = strconv.AppendInt(line, int64(t[1]), 10)
		line = append(line, `" v3="`...)
		line = strconv.AppendInt(line, int64(t[2]), 10)
		line = append(line, "\"/>\n"...)
		out.Write(line)
	}
}
