package mesh

// A plyType is how one value is written.
type plyType uint8

const (
	noType plyType = iota
	int8Type
	uint8Type
	int16Type
	uint16Type
	int32Type
	uint32Type
	float32Type
	float64Type
)

// plyTypeOf knows the old and the new names.
func plyTypeOf(word []byte) plyType {
	switch string(word) {
	case "char", "int8":
		return int8Type
	case "uchar", "uint8":
		return uint8Type
	case "short", "int16":
		return int16Type
	case "ushort", "uint16":
		return uint16Type
	case "int", "int32":
		return int32Type
	case "uint", "uint32":
		return uint32Type
	case "float", "float32":
		return float32Type
	case "double", "float64":
		return float64Type
	}
	return noType
}

// size is the number of bytes of a value in a binary file.
func (t plyType) size() int {
	return [...]int{0, 1, 1, 2, 2, 4, 4, 4, 8}[t]
}

// full is the value of a colour's part at its brightest: 1 as a fraction, else all bits.
func (t plyType) full() float64 {
	switch t {
	case uint8Type, int8Type:
		return 255
	case uint16Type, int16Type:
		return 65535
	case float32Type, float64Type:
		return 1
	}
	return 255
}

func (t plyType) isFloat() bool { return t >= float32Type }

// A plyHead is a header half read.
type plyHead struct {
	*lines
	encoding string
	elements []plyElement
}

// plyHeader reads the header; promised rows are believed only as far as the file has room.
func (s *source) plyHeader() ([]plyElement, plyBody, error) {
	h := &plyHead{lines: s.lines()}
	ended := false
	for !ended && h.err == nil {
		line, ok := h.next()
		if !ok {
			h.fail(remedyAgain, "the file ends before end_header")
			break
		}
		ended = h.line(line)
	}
	if h.err == nil {
		h.checkRoom()
	}
	if h.err != nil {
		return nil, nil, h.err
	}
	if h.encoding == "ascii" {
		return h.elements, &plyText{lines: h.lines}, nil
	}
	return h.elements, newPlyBytes(s, s.size-h.left(), h.encoding == "binary_big_endian"), nil
}

// line takes one line of the header; ended is true at its last.
func (h *plyHead) line(line []byte) (ended bool) {
	word, rest := field(line)
	switch string(word) {
	case "", "comment", "obj_info":
	case "ply":
		if h.number != 1 {
			h.fail(remedyAgain, "\"ply\" stands where it does not belong")
		}
	case "format":
		word, _ = field(rest)
		switch h.encoding = string(word[:min(len(word), 32)]); h.encoding {
		case "ascii", "binary_little_endian", "binary_big_endian":
		default:
			h.fail(remedyAgain, "the encoding %s is unknown", quoted(word))
		}
	case "element":
		h.element(rest)
	case "property":
		h.property(rest)
	case "end_header":
		if h.encoding == "" {
			h.fail(remedyAgain, "the header has no format line")
		}
		return true
	default:
		h.fail(remedyAgain, "%s where a key word should be", quoted(word))
	}
	return false
}

func (h *plyHead) element(rest []byte) {
	name, rest := field(rest)
	word, _ := field(rest)
	rows, ok := whole(word)
	if !ok || rows < 0 {
		h.fail(remedyAgain, "%s where the number of rows should be", quoted(word))
		return
	}
	for _, e := range h.elements {
		if e.name == string(name) {
			h.fail(remedyAgain, "there are two tables named %s", quoted(name))
		}
	}
	h.elements = append(h.elements, plyElement{name: string(name), rows: rows})
}

func (h *plyHead) property(rest []byte) {
	if len(h.elements) == 0 {
		h.fail(remedyAgain, "a property stands before the first element")
		return
	}
	var p plyProperty
	word, rest := field(rest)
	if is(word, "list") {
		word, rest = field(rest)
		if p.length = plyTypeOf(word); p.length == noType || p.length.isFloat() {
			h.fail(remedyAgain, "%s is no type for a list's length", quoted(word))
		}
		word, rest = field(rest)
	}
	if p.value = plyTypeOf(word); p.value == noType {
		h.fail(remedyAgain, "the type %s is unknown", quoted(word))
	}
	word, _ = field(rest)
	p.name = string(word)
	e := &h.elements[len(h.elements)-1]
	e.properties = append(e.properties, p)
}

// checkRoom compares every promise with the bytes that are there: in text a value takes two at least, its digit and the
// gap; a list may be empty.
func (h *plyHead) checkRoom() {
	room := h.left()
	for _, e := range h.elements {
		row := int64(0)
		for _, p := range e.properties {
			switch {
			case h.encoding == "ascii":
				row += 2
			case p.length != noType:
				row += int64(p.length.size())
			default:
				row += int64(p.value.size())
			}
		}
		if row == 0 {
			continue
		}
		most := room / row
		if h.encoding == "ascii" {
			most = (room + 1) / row
		}
		if e.rows > most {
			h.fail(remedyAgain, "the header promises %d rows of %s, the file holds %d at the most", e.rows, quoted([]byte(e.name)), most)
			return
		}
		room -= e.rows * row
	}
}
