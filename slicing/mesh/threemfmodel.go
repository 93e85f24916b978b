package mesh

import (
	"math"
	"strings"
)

// A model is one part: its objects, and what of them is to be built.
type model struct {
	path    string
	unitMM  float64
	objects map[string]*object
	items   []use
	prefix  string // of the core's own elements, with its colon
}

// An object is a surface or an assembly of other objects.
type object struct {
	id      string
	left    bool // a support or the like, not wood
	surface faces
	parts   []use
	state   objectState
	count   int64 // triangles with all parts, once counted
}

type objectState uint8

const (
	notCounted objectState = iota
	counting               // met again now, it would be part of itself
	counted
)

// A use is an object put somewhere.
type use struct {
	path, id string
	place    placement
}

// A placement carries a point (x y z 1) to its product with the 4 x 3 matrix, rows first.
type placement [12]float64

func inPlace() placement { return placement{1, 0, 0, 0, 1, 0, 0, 0, 1, 0, 0, 0} }

const (
	coreNamespace = "http://schemas.microsoft.com/3dmanufacturing/core/"
	remedyPlain   = "Export it again as a plain 3MF file or as binary STL."
)

// model reads the part at path, or gives it when it has been read.
func (p *packageFile) model(path string) (*model, error) {
	if m := p.models[path]; m != nil {
		return m, nil
	}
	f := p.parts[path]
	if f == nil {
		return nil, p.source.fault(0, 0, remedyAgain, "the part %s is missing", quoted([]byte(path)))
	}
	if len(p.models) >= mostParts {
		return nil, p.source.fault(0, 0, remedyPlain, "it is made of more than %d model parts", mostParts)
	}
	m := &model{path: path, objects: map[string]*object{}}
	p.models[path] = m
	r := &modelReader{model: m}
	err := p.walk(f, r.tag)
	switch {
	case err != nil:
		return nil, err
	case m.unitMM == 0:
		return nil, p.source.fault(0, 0, remedyAgain, "the model part holds no model")
	case !r.ended || r.object != nil:
		return nil, p.source.fault(0, 0, remedyAgain, "the model part ends before the model does")
	}
	return m, nil
}

// A modelReader puts a model together tag by tag.
type modelReader struct {
	model  *model
	object *object // the one being read
	ended  bool    // the model's end was met
}

func (r *modelReader) tag(x *tags) {
	m := r.model
	if m.unitMM == 0 {
		if x.opening && localName(x.name) == "model" {
			m.start(x)
		} else {
			x.fail("%s where the model should begin", quoted(x.name))
		}
		return
	}
	if len(x.name) <= len(m.prefix) || string(x.name[:len(m.prefix)]) != m.prefix {
		return
	}
	name := x.name[len(m.prefix):]
	if !x.opening {
		switch string(name) {
		case "object":
			r.end(x)
		case "model":
			r.ended = true
		}
		return
	}
	switch string(name) {
	case "vertex":
		r.vertex(x)
	case "triangle":
		r.triangle(x)
	case "object":
		r.begin(x)
	case "component":
		if r.object == nil {
			x.fail("a component outside of an object")
			return
		}
		r.object.parts = append(r.object.parts, m.use(x))
	case "item":
		m.items = append(m.items, m.use(x))
	}
}

// start reads the model's own tag.
func (m *model) start(x *tags) {
	unit, ok := x.attribute("unit")
	if !ok {
		unit = "millimeter"
	}
	if m.unitMM = unitsMM()[unit]; m.unitMM == 0 {
		x.fail("the unit %s is unknown", quoted([]byte(unit)))
		return
	}
	namespaces := map[string]string{}
	needed := ""
	for _, a := range x.attributes {
		switch name := string(a.name); {
		case name == "requiredextensions":
			needed = string(a.value)
		case strings.HasPrefix(name, "xmlns:"):
			namespaces[name[len("xmlns:"):]] = string(a.value)
			if strings.HasPrefix(string(a.value), coreNamespace) {
				m.prefix = name[len("xmlns:"):] + ":"
			}
		}
	}
	for _, a := range x.attributes {
		if string(a.name) == "xmlns" && strings.HasPrefix(string(a.value), coreNamespace) {
			m.prefix = ""
		}
	}
	for prefix := range strings.FieldsSeq(needed) {
		if !harmless(namespaces[prefix]) {
			x.refuse(remedyPlain, "its shape cannot be told without the extension %s", quoted([]byte(prefix)))
		}
	}
}

// unitsMM are the units of the core specification.
func unitsMM() map[string]float64 {
	return map[string]float64{
		"micron": 0.001, "millimeter": 1, "centimeter": 10, "inch": 25.4, "foot": 304.8, "meter": 1000,
	}
}

// harmless reports whether an extension leaves the meshes as they are: paths to parts, colours, ready-made slices.
func harmless(namespace string) bool {
	for _, kind := range []string{"/production/", "/material/", "/slice/"} {
		if strings.Contains(namespace, "3dmanufacturing"+kind) {
			return true
		}
	}
	return false
}

func (r *modelReader) begin(x *tags) {
	id, _ := x.attribute("id")
	kind, _ := x.attribute("type")
	o := &object{id: id, left: kind == "support" || kind == "solidsupport" || kind == "other"}
	if r.object != nil || r.model.objects[id] != nil {
		x.fail("object %s begins within an object or for the second time", quoted([]byte(id)))
		return
	}
	r.model.objects[id] = o
	if !x.closing {
		r.object = o
	}
}

func (r *modelReader) end(x *tags) {
	if r.object == nil {
		x.fail("an object ends that did not begin")
		return
	}
	n := int32(len(r.object.surface.points))
	for _, t := range r.object.surface.triangles {
		if max(t[0], t[1], t[2]) >= n {
			x.fail("object %s names corner %d, it has %d, from 0", quoted([]byte(r.object.id)), max(t[0], t[1], t[2]), n)
			return
		}
	}
	r.object = nil
}

func (r *modelReader) vertex(x *tags) {
	var p Point
	seen := 0
	for _, a := range x.attributes {
		if len(a.name) != 1 || a.name[0] < 'x' || a.name[0] > 'z' {
			continue
		}
		v, ok := number(a.value)
		if !ok {
			x.fail("%s where a coordinate should be", quoted(a.value))
			return
		}
		k := a.name[0] - 'x'
		if p[k], ok = coordinate(math.Float32bits(float32(v))); !ok {
			x.fail("the coordinate %s is no finite number", quoted(a.value))
			return
		}
		seen |= 1 << k
	}
	if seen != 7 || r.object == nil {
		x.fail("a vertex without x, y and z or outside of an object")
		return
	}
	if r.object.surface.points = append(r.object.surface.points, p); len(r.object.surface.points) > mostFacets {
		x.refuse(remedyTooBig, "there are more corners than can be read")
	}
}

func (r *modelReader) triangle(x *tags) {
	var t Triangle
	seen := 0
	for _, a := range x.attributes {
		if len(a.name) != 2 || a.name[0] != 'v' || a.name[1] < '1' || a.name[1] > '3' {
			continue
		}
		v, ok := whole(a.value)
		if !ok || v < 0 || v > mostFacets {
			x.fail("%s is no corner's number", quoted(a.value))
			return
		}
		t[a.name[1]-'1'] = int32(v)
		seen |= 1 << (a.name[1] - '1')
	}
	if seen != 7 || r.object == nil {
		x.fail("a triangle without v1, v2 and v3 or outside of an object")
		return
	}
	if r.object.surface.triangles = append(r.object.surface.triangles, t); len(r.object.surface.triangles) > mostFacets {
		x.refuse(remedyTooBig, "there are more triangles than can be read")
	}
}

// use reads an object's number and where it goes.
func (m *model) use(x *tags) use {
	u := use{path: m.path, place: inPlace()}
	u.id, _ = x.attribute("objectid")
	if path, ok := x.attribute("path"); ok {
		u.path = partName(path)
	}
	text, ok := x.attribute("transform")
	if !ok {
		return u
	}
	rest := []byte(text)
	for k := range u.place {
		var word []byte
		word, rest = field(rest)
		v, ok := number(word)
		if !ok || v-v != 0 {
			x.fail("%s where a number of the transform should be", quoted(word))
			return u
		}
		u.place[k] = v
	}
	return u
}
