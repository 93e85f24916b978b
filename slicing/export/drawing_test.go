package export

import (
	"bufio"
	"bytes"
	"encoding/xml"
	"io"
	"math"
	"strconv"
	"strings"
	"testing"

	"grainstack/slicing/geom"
)

// sheet is a panel with a line of 100 mm, an outline, a dowel and a text that needs care.
func sheet() Sheet {
	return Sheet{Name: "Panel 3, side A <&>", W: 600, H: 400, Layers: []DrawingLayer{
		{Name: "Check line", Lines: []Line{{Points: []geom.Vec2{{X: 10, Y: 20}, {X: 110, Y: 20}}}}},
		{Name: "Outlines", Lines: RegionLines(geom.Region{
			{{X: 100, Y: 100}, {X: 300, Y: 100}, {X: 300, Y: 250.12345}, {X: 100, Y: 250}},
			{{X: 150, Y: 150}, {X: 150, Y: 160}, {X: 160, Y: 150}},
		})},
		{Name: "outlines", Circles: []Circle{{At: geom.Vec2{X: 20, Y: 200}, Diameter: 10}}},
		{Name: "9 notes°", Texts: []Text{{At: geom.Vec2{X: 30, Y: 50}, Height: 4, Text: "90° & <two>\nlines × 5 %"}}},
	}}
}

// An svgFile is what the test's own reader, encoding/xml, finds in an SVG.
type svgFile struct {
	Width   string `xml:"width,attr"`
	Height  string `xml:"height,attr"`
	ViewBox string `xml:"viewBox,attr"`
	Title   string `xml:"title"`
	Groups  []struct {
		ID    string `xml:"id,attr"`
		Title string `xml:"title"`
		Paths []struct {
			D string `xml:"d,attr"`
		} `xml:"path"`
		Circles []struct {
			X float64 `xml:"cx,attr"`
			Y float64 `xml:"cy,attr"`
			R float64 `xml:"r,attr"`
		} `xml:"circle"`
		Texts []string `xml:"text"`
	} `xml:"g"`
}

// length is how long the polyline of a path is in user units.
func length(t *testing.T, d string) float64 {
	t.Helper()
	closed := strings.HasSuffix(d, "Z")
	var points []geom.Vec2
	for _, pair := range strings.Split(strings.TrimSuffix(strings.TrimPrefix(d, "M"), "Z"), "L") {
		x, y, _ := strings.Cut(pair, " ")
		points = append(points, geom.Vec2{X: number(t, x), Y: number(t, y)})
	}
	sum := 0.0
	for i := 1; i < len(points); i++ {
		sum += points[i].Sub(points[i-1]).Len()
	}
	if closed {
		sum += points[0].Sub(points[len(points)-1]).Len()
	}
	return sum
}

func number(t *testing.T, s string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(strings.TrimSpace(s), 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// TestSVGIsTrueSize: read by encoding/xml, a 100 mm line is 100 mm: user units are the mm that width and height are given
// in (CSS: 1 in = 25.4 mm = 96 px, so 100 mm are 377.95 px).
func TestSVGIsTrueSize(t *testing.T) {
	var b bytes.Buffer
	s := sheet()
	if err := WriteSVG(&b, s); err != nil {
		t.Fatal(err)
	}
	var f svgFile
	if err := xml.Unmarshal(b.Bytes(), &f); err != nil {
		t.Fatal(err)
	}
	box := strings.Fields(f.ViewBox)
	if f.Width != "600mm" || f.Height != "400mm" || len(box) != 4 || f.Title != s.Name {
		t.Fatalf("size %q %q, viewBox %q, title %q", f.Width, f.Height, f.ViewBox, f.Title)
	}
	perUnit := number(t, strings.TrimSuffix(f.Width, "mm")) / number(t, box[2])
	if got := length(t, f.Groups[0].Paths[0].D) * perUnit; math.Abs(got-100) > 1e-9 {
		t.Errorf("the check line is %.6f mm", got)
	}
	if got := perUnit * 100 / 25.4 * 96; math.Abs(got-377.952755) > 1e-4 {
		t.Errorf("100 mm are %.4f px", got)
	}
	want := 200 + 150.12345 + math.Hypot(200, 0.12345) + 150
	if got := length(t, f.Groups[1].Paths[0].D); math.Abs(got-want) > 1e-3 {
		t.Errorf("the outline is %.4f mm round, want %.4f", got, want)
	}
	if c := f.Groups[2].Circles[0]; c.X != 20 || c.Y != 400-200 || c.R != 5 {
		t.Errorf("the dowel is at %v", c)
	}
	ids := map[string]bool{}
	for i, g := range f.Groups {
		if g.Title != s.Layers[i].Name || ids[g.ID] {
			t.Errorf("layer %d is called %q, id %q", i, g.Title, g.ID)
		}
		ids[g.ID] = true
	}
	if got := f.Groups[3].Texts[0]; got != s.Layers[3].Texts[0].Text {
		t.Errorf("text %q", got)
	}
}

// A dxfItem is what the test's own DXF reader finds: an entity, with the values of its codes, vertices in Vertices.
type dxfItem struct {
	kind     string
	codes    map[int]string
	vertices []geom.Vec2
}

// readDXF reads pairs of lines: every group code a number, sections closed, the file ended.
func readDXF(t *testing.T, r io.Reader) (header map[string]string, layers []string, items []dxfItem) {
	t.Helper()
	header = map[string]string{}
	in := bufio.NewScanner(r)
	section, table, variable, ended := "", "", "", false
	var last *dxfItem
	for in.Scan() {
		code := int(number(t, in.Text()))
		if !in.Scan() {
			t.Fatal("a group code without a value")
		}
		value := strings.TrimRight(in.Text(), "\r")
		switch {
		case code == 999:
		case code == 0 && value == "EOF":
			ended = true
		case code == 0 && value == "ENDSEC":
			section, table = "", ""
		case code == 0 && value == "SECTION", code == 0 && (value == "TABLE" || value == "ENDTAB"):
			table = ""
		case code == 2 && section == "":
			section = value
		case section == "HEADER" && code == 9:
			variable = value
		case section == "HEADER":
			header[variable] = value
		case section == "TABLES" && code == 2 && table == "":
			table = value
		case section == "TABLES" && code == 2 && table == "LAYER":
			layers = append(layers, value)
		case section == "ENTITIES" && code == 0:
			items = append(items, dxfItem{kind: value, codes: map[int]string{}})
			last = &items[len(items)-1]
		case section == "ENTITIES":
			last.codes[code] = value
		}
	}
	if !ended || section != "" {
		t.Fatal("the file does not end")
	}
	return header, layers, gather(t, items)
}

// gather puts vertices into their polylines.
func gather(t *testing.T, items []dxfItem) (out []dxfItem) {
	t.Helper()
	open := false
	for _, it := range items {
		switch it.kind {
		case "POLYLINE":
			if it.codes[66] != "1" {
				t.Error("a polyline does not say that vertices follow")
			}
			open, out = true, append(out, it)
		case "VERTEX":
			if !open {
				t.Fatal("a vertex outside of a polyline")
			}
			p := &out[len(out)-1]
			p.vertices = append(p.vertices, geom.Vec2{X: number(t, it.codes[10]), Y: number(t, it.codes[20])})
		case "SEQEND":
			open = false
		default:
			out = append(out, it)
		}
	}
	return out
}

// TestDXFIsTrueSize: read by another reader, a 100 mm line is 100 long, on its layer; mm are said in a text, since Release
// 12 has no unit.
func TestDXFIsTrueSize(t *testing.T) {
	var b bytes.Buffer
	if err := WriteDXF(&b, sheet()); err != nil {
		t.Fatal(err)
	}
	for _, c := range b.Bytes() {
		if c > 126 {
			t.Fatalf("byte %d is not ASCII", c)
		}
	}
	header, layers, items := readDXF(t, &b)
	if header["$ACADVER"] != "AC1009" {
		t.Errorf("version %q", header["$ACADVER"])
	}
	if want := "CHECK_LINE OUTLINES OUTLINES-2 L_9_NOTES_ NOTE"; strings.Join(layers, " ") != want {
		t.Errorf("layers %v, want %s", layers, want)
	}
	kinds := ""
	for _, it := range items {
		kinds += it.kind + " "
	}
	if kinds != "POLYLINE POLYLINE POLYLINE CIRCLE TEXT TEXT " {
		t.Fatal(kinds)
	}
	if v := items[0].vertices; len(v) != 2 || v[1].Sub(v[0]).Len() != 100 || items[0].codes[8] != layers[0] || items[0].codes[70] != "0" {
		t.Errorf("the check line is %+v", items[0])
	}
	if len(items[1].vertices) != 4 || items[1].codes[70] != "1" || items[1].codes[8] != layers[1] {
		t.Errorf("the outline is %+v", items[1])
	}
	if c := items[3].codes; number(t, c[10]) != 20 || number(t, c[20]) != 200 || number(t, c[40]) != 5 || c[8] != layers[2] {
		t.Errorf("the dowel is %v", c)
	}
	if got := items[4].codes[1]; got != "90%%d & <two> lines x 5 %%%" {
		t.Errorf("text %q", got)
	}
	if got := items[5].codes[1]; got != unitNote {
		t.Errorf("the note says %q", got)
	}
}

func TestDrawingsRefuse(t *testing.T) {
	for name, s := range map[string]Sheet{
		"no size": {W: 0, H: 10},
		"nowhere": {W: 10, H: 10, Layers: []DrawingLayer{{Lines: []Line{{Points: []geom.Vec2{{X: math.NaN()}}}}}}},
		"far":     {W: 10, H: 10, Layers: []DrawingLayer{{Circles: []Circle{{Diameter: math.Inf(1)}}}}},
	} {
		if err := WriteSVG(io.Discard, s); err == nil {
			t.Errorf("%s: SVG takes it", name)
		}
		if err := WriteDXF(io.Discard, s); err == nil {
			t.Errorf("%s: DXF takes it", name)
		}
	}
}

// stuck is a disk that takes a number of bytes and no more.
type stuck struct{ left int }

func (s *stuck) Write(b []byte) (int, error) {
	if len(b) > s.left {
		n := s.left
		s.left = 0
		return n, io.ErrShortWrite
	}
	s.left -= len(b)
	return len(b), nil
}

// TestWritersReportFullDisk: wherever the disk ends, the writer says so.
func TestWritersReportFullDisk(t *testing.T) {
	objects := []Object{{"a", sample3MF()}}
	for name, write := range map[string]func(io.Writer) error{
		"svg": func(w io.Writer) error { return WriteSVG(w, sheet()) },
		"dxf": func(w io.Writer) error { return WriteDXF(w, sheet()) },
		"3mf": func(w io.Writer) error { return Write3MF(w, "t", objects) },
		"csv": func(w io.Writer) error { return WriteCSV(w, Table{[]string{"a"}, [][]string{{"b"}}}) },
	} {
		var b bytes.Buffer
		if err := write(&b); err != nil {
			t.Fatal(err)
		}
		for n := 0; n < b.Len(); n += 1 + b.Len()/50 {
			if err := write(&stuck{n}); err == nil {
				t.Errorf("%s: no word of a disk that is full after %d of %d bytes", name, n, b.Len())
			}
		}
	}
}
