package fieldtest

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"math"
	"os"
	"strconv"
	"strings"
)

// A place is a point of a drawing, mm.
type place struct{ x, y float64 }

func (p place) minus(q place) place   { return place{p.x - q.x, p.y - q.y} }
func (p place) plus(q place) place    { return place{p.x + q.x, p.y + q.y} }
func (p place) times(f float64) place { return place{p.x * f, p.y * f} }
func (p place) long() float64         { return math.Hypot(p.x, p.y) }
func (p place) beside(r float64, a float64) place {
	return place{p.x + r*math.Cos(a), p.y + r*math.Sin(a)}
}

// A drawing is what was read back of a DXF: by layer.
type drawing struct {
	lines   map[string][][]place
	circles map[string][]circle
	texts   map[string][]label
}

type circle struct {
	at     place
	radius float64
}

type label struct {
	at   place
	text string
}

// readDXF reads polylines, circles and texts of a DXF in ASCII.
func readDXF(path string) (*drawing, error) {
	data, err := os.ReadFile(path)
	if err != nil {
		return nil, err
	}
	d := &drawing{map[string][][]place{}, map[string][]circle{}, map[string][]label{}}
	lines := strings.Split(strings.ReplaceAll(string(data), "\r\n", "\n"), "\n")
	var kind, layer, text string
	var at place
	var size float64
	var line []place
	done := func() {
		switch kind {
		case "VERTEX":
			line = append(line, at)
		case "SEQEND":
			d.lines[layer] = append(d.lines[layer], line)
			line = nil
		case "CIRCLE":
			d.circles[layer] = append(d.circles[layer], circle{at, size})
		case "TEXT":
			d.texts[layer] = append(d.texts[layer], label{at, text})
		}
	}
	for i := 0; i+1 < len(lines); i += 2 {
		code, value := strings.TrimSpace(lines[i]), strings.TrimSpace(lines[i+1])
		number := func() float64 {
			v, e := strconv.ParseFloat(value, 64)
			if e != nil || math.IsNaN(v) || math.IsInf(v, 0) {
				err = fmt.Errorf("%s: %q is no figure", path, value)
			}
			return v
		}
		switch code {
		case "0":
			done()
			kind = value
		case "8":
			layer = value
		case "10":
			at.x = number()
		case "20":
			at.y = number()
		case "40":
			size = number()
		case "1":
			text = value
		}
	}
	return d, err
}

// inside reports whether a place lies in closed lines, by counting crossings.
func inside(lines [][]place, p place) bool {
	in := false
	for _, l := range lines {
		for i, a := range l {
			b := l[(i+1)%len(l)]
			if (a.y > p.y) != (b.y > p.y) && p.x < a.x+(b.x-a.x)*(p.y-a.y)/(b.y-a.y) {
				in = !in
			}
		}
	}
	return in
}

// A table is a list that was read back, row by row, by the names of its columns.
type table []map[string]string

func readCSV(path string) (table, error) {
	text, err := os.ReadFile(path)
	if err != nil {
		return nil, err
	}
	r := csv.NewReader(bytes.NewReader(bytes.TrimPrefix(text, []byte("\uFEFF"))))
	r.FieldsPerRecord = -1
	rows, err := r.ReadAll()
	if err != nil || len(rows) == 0 {
		return nil, fmt.Errorf("%s can't be read: %w", path, err)
	}
	var t table
	for _, row := range rows[1:] {
		one := map[string]string{}
		for i, v := range row {
			if i < len(rows[0]) {
				one[rows[0][i]] = v
			}
		}
		t = append(t, one)
	}
	return t, nil
}

// figure is a cell as a number; NaN where it holds none.
func figure(s string) float64 {
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		return math.NaN()
	}
	return v
}
