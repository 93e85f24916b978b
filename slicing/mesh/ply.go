package mesh

import (
	"bytes"
	"math"
	"slices"
)

func looksLikePLY(head []byte, _ int64) bool {
	return bytes.HasPrefix(head, []byte("ply\n")) || bytes.HasPrefix(head, []byte("ply\r\n"))
}

// A plyElement is a table of the file: so many rows of properties.
type plyElement struct {
	name       string
	rows       int64
	properties []plyProperty
}

// A plyProperty is a column: one value a row, or a list of values with its length before it.
type plyProperty struct {
	name   string
	value  plyType
	length plyType // noType for a single value
}

// find is the column with one of the names, -1 where there is none.
func (e plyElement) find(list bool, names ...string) int {
	return slices.IndexFunc(e.properties, func(p plyProperty) bool {
		return slices.Contains(names, p.name) && (p.length != noType) == list
	})
}

// A plyBody gives the values after the header, row by row; its fault is the first one met, after which all values are 0.
type plyBody interface {
	row() bool
	value(t plyType) float64
	skip(e plyElement)
	fail(remedy, fault string, args ...any)
	fault() error
}

// readPLY reads the corners' x, y, z and the faces' corners; all other tables and columns are skipped.
func readPLY(s *source) ([]facet, error) {
	elements, body, err := s.plyHeader()
	if err != nil {
		return nil, err
	}
	vertex := slices.IndexFunc(elements, func(e plyElement) bool { return e.name == "vertex" })
	face := slices.IndexFunc(elements, func(e plyElement) bool { return e.name == "face" })
	switch {
	case vertex < 0 || elements[vertex].rows == 0:
		return nil, s.fault(1, 0, remedySurface, "the header names no vertices")
	case face < 0 && slices.ContainsFunc(elements, func(e plyElement) bool { return e.name == "tristrips" }):
		return nil, &UnsupportedError{File: s.name, Looks: "a PLY file of triangle strips", Remedy: asMesh}
	case (face < 0 || elements[face].rows == 0) && s.takesPoints:
		return nil, s.readBare(elements, body, vertex)
	case face < 0 || elements[face].rows == 0:
		return nil, &UnsupportedError{File: s.name, Looks: "a PLY file of points without faces", Remedy: asScan}
	case max(elements[vertex].rows, elements[face].rows) > mostFacets:
		return nil, s.fault(1, 0, remedyTooBig, "there are more triangles than can be read")
	}
	var f faces
	for i, e := range elements {
		switch i {
		case vertex:
			s.colours = f.readVertices(body, e, nil)
		case face:
			f.readFaces(body, e, elements[vertex].rows)
		default:
			body.skip(e)
		}
		if err := body.fault(); err != nil {
			return nil, err
		}
	}
	return f.facets(), nil
}

// readBare reads a file of points without faces: their places, and normals and colours where these are there.
func (s *source) readBare(elements []plyElement, body plyBody, vertex int) error {
	for _, e := range elements[:vertex] {
		body.skip(e)
	}
	e := elements[vertex]
	if e.rows > mostFacets {
		return s.fault(1, 0, remedyTooBig, "there are more points than can be read")
	}
	var f faces
	s.bare = &Points{}
	if e.find(false, "nx") >= 0 && e.find(false, "ny") >= 0 && e.find(false, "nz") >= 0 {
		s.bare.Normals = make([]Point, e.rows)
	}
	s.colours = f.readVertices(body, e, s.bare.Normals)
	s.bare.At = f.points
	return body.fault()
}

// readVertices reads the places and, where all three are there, the colours; normals, where there is room for them, at length 1, and as
// nothing where the file's have no length.
func (f *faces) readVertices(b plyBody, e plyElement, normals []Point) *Colours {
	var axis, tint, lean [3]int
	for k, name := range []string{"nx", "ny", "nz"} {
		lean[k] = e.find(false, name)
	}
	for k, name := range []string{"x", "y", "z"} {
		if axis[k] = e.find(false, name); axis[k] < 0 {
			b.fail(remedyAgain, "the vertices have no %s", name)
			return nil
		}
	}
	coloured := true
	for k, name := range []string{"red", "green", "blue"} {
		tint[k] = e.find(false, name, "diffuse_"+name)
		coloured = coloured && tint[k] >= 0
	}
	var seen *Colours
	if coloured {
		seen = &Colours{Points: make([]Point, 0, e.rows), RGB: make([][3]uint8, 0, e.rows)}
	}
	f.points = make([]Point, e.rows)
	for i := range f.points {
		if !b.row() {
			return nil
		}
		p := &f.points[i]
		var parts, normal [3]float64
		for j, c := range e.properties {
			if c.length != noType {
				skipList(b, c)
				continue
			}
			v := b.value(c.value)
			for k := range axis {
				if axis[k] == j {
					p[k] = finite(b, i, v)
				}
				if coloured && tint[k] == j {
					parts[k] = v / c.value.full()
				}
				if lean[k] == j {
					normal[k] = v
				}
			}
		}
		if normals != nil {
			normals[i] = direction(normal)
		}
		if coloured {
			seen.add(*p, parts)
		}
	}
	return seen
}

// direction is a normal at length 1, nothing where it has no length or is no number.
func direction(v [3]float64) Point {
	n := math.Sqrt(v[0]*v[0] + v[1]*v[1] + v[2]*v[2])
	if !(n > 0 && n <= math.MaxFloat64) {
		return Point{}
	}
	return Point{float32(v[0] / n), float32(v[1] / n), float32(v[2] / n)}
}

// finite is v as a coordinate of vertex i.
func finite(b plyBody, i int, v float64) float32 {
	c := float32(v)
	if c-c != 0 {
		b.fail(remedyNumber, "vertex %d lies at no finite place", i+1)
		return 0
	}
	return c + 0 // makes -0 a 0
}

func (f *faces) readFaces(b plyBody, e plyElement, vertices int64) {
	list := e.find(true, "vertex_indices", "vertex_index")
	if list < 0 {
		b.fail(remedyAgain, "the faces have no list named vertex_indices")
		return
	}
	if e.properties[list].value.isFloat() {
		b.fail(remedyAgain, "the faces' corners are numbered with fractions")
		return
	}
	f.triangles = make([]Triangle, 0, e.rows)
	for range e.rows {
		if !b.row() {
			return
		}
		for j, c := range e.properties {
			switch {
			case j == list:
				f.readCorners(b, c, vertices)
			case c.length != noType:
				skipList(b, c)
			default:
				b.value(c.value)
			}
		}
		if len(f.triangles) > mostFacets {
			b.fail(remedyTooBig, "there are more triangles than can be read")
		}
	}
}

func (f *faces) readCorners(b plyBody, c plyProperty, vertices int64) {
	for n := b.value(c.length); n > 0; n-- {
		v := b.value(c.value)
		if b.fault() != nil {
			return
		}
		if v < 0 || v >= float64(vertices) {
			b.fail(remedyAgain, "the face names corner %.0f, the file has %d, from 0", v, vertices)
			return
		}
		f.corner(int32(v))
	}
	f.end()
}

func skipList(b plyBody, c plyProperty) {
	for n := b.value(c.length); n > 0 && b.fault() == nil; n-- {
		b.value(c.value)
	}
}
