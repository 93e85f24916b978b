package mesh

import (
	"bytes"
	"errors"
	"io"
)

// A tags reader walks through the tags of an XML document. It knows as much of XML as a 3MF model needs: elements, attributes,
// comments, instructions and quoted text. Document types, and with them all entities but the five that XML itself names, are
// refused, as the 3MF specification wants.
type tags struct {
	r        io.Reader
	buf      []byte
	from, to int
	ended    bool
	lines    int // before buf
	limit    int64
	err      error

	name       []byte // of the tag, valid until the next
	attributes []attribute
	closing    bool // </name> or <name/>; both for the latter
	opening    bool
	source     *source
}

// An attribute is a name and what stands between the quotes.
type attribute struct{ name, value []byte }

// longestTag keeps a document without tags' ends from filling the memory.
const longestTag = 1 << 20

func (s *source) tags(r io.Reader, limit int64) *tags {
	return &tags{r: r, buf: make([]byte, 1<<16), source: s, limit: limit}
}

// next goes to the next tag; false at the end and after a fault.
func (x *tags) next() bool {
	for x.err == nil {
		i := bytes.IndexByte(x.buf[x.from:x.to], '<')
		if i < 0 {
			x.from = x.to
			if !x.fill() {
				return false
			}
			continue
		}
		x.from += i
		if !x.have(2) {
			x.fail("the file ends within a tag")
			return false
		}
		switch x.buf[x.from+1] {
		case '!':
			x.skipMark()
		case '?':
			x.skipTo("?>")
		default:
			return x.tag()
		}
	}
	return false
}

// skipMark passes a comment or quoted text.
func (x *tags) skipMark() {
	switch {
	case x.have(4) && string(x.buf[x.from:x.from+4]) == "<!--":
		x.from += 4
		x.skipTo("-->")
	case x.have(9) && string(x.buf[x.from:x.from+9]) == "<![CDATA[":
		x.skipTo("]]>")
	default:
		x.fail("it declares a document type, which a 3MF file may not")
	}
}

// skipTo goes behind the next end.
func (x *tags) skipTo(end string) {
	for x.err == nil {
		if i := bytes.Index(x.buf[x.from:x.to], []byte(end)); i >= 0 {
			x.from += i + len(end)
			return
		}
		x.from = max(x.from, x.to-len(end)+1)
		if !x.fill() {
			x.fail("the file ends before %q", end)
		}
	}
}

// tag takes the tag at the front of buf apart.
func (x *tags) tag() bool {
	i := x.end()
	if i < 0 {
		return false
	}
	body := x.buf[x.from+1 : i]
	x.from = i + 1
	x.opening, x.closing = true, false
	if len(body) > 0 && body[0] == '/' {
		x.opening, x.closing, body = false, true, body[1:]
	} else if len(body) > 0 && body[len(body)-1] == '/' {
		x.closing, body = true, body[:len(body)-1]
	}
	x.name, body = field(body)
	x.attributes = x.attributes[:0]
	for {
		for len(body) > 0 && blank(body[0]) {
			body = body[1:]
		}
		if len(body) == 0 {
			return true
		}
		is := bytes.IndexByte(body, '=')
		if is < 0 {
			x.fail("%s where an attribute should be", quoted(body))
			return false
		}
		name := bytes.TrimRight(body[:is], " \t\r\n")
		if body = bytes.TrimLeft(body[is+1:], " \t\r\n"); len(body) == 0 || body[0] != '"' && body[0] != '\'' {
			x.fail("the value of %s has no quotes", quoted(name))
			return false
		}
		end := bytes.IndexByte(body[1:], body[0])
		if end < 0 {
			x.fail("the value of %s does not end", quoted(name))
			return false
		}
		x.attributes = append(x.attributes, attribute{name, body[1 : end+1]})
		body = body[end+2:]
	}
}

// end is where the tag at the front of buf ends, reading on where needed; -1 after a fault.
func (x *tags) end() int {
	quote := byte(0)
	for i := x.from + 1; ; i++ {
		if i == x.to {
			seen := i - x.from
			if seen > longestTag {
				x.fail("a tag does not end")
				return -1
			}
			if !x.fill() {
				x.fail("the file ends within a tag")
				return -1
			}
			i = x.from + seen
		}
		switch c := x.buf[i]; {
		case quote != 0:
			if c == quote {
				quote = 0
			}
		case c == '"' || c == '\'':
			quote = c
		case c == '>':
			return i
		}
	}
}

// have reports whether n bytes are there, reading on where needed.
func (x *tags) have(n int) bool {
	for x.to-x.from < n {
		if !x.fill() {
			return false
		}
	}
	return true
}

// fill moves what is left to the front and reads on; false at the end or a fault.
func (x *tags) fill() bool {
	if x.err != nil || x.ended {
		return false
	}
	x.lines += bytes.Count(x.buf[:x.from], []byte{'\n'})
	x.to = copy(x.buf, x.buf[x.from:x.to])
	x.from = 0
	if x.to == len(x.buf) {
		x.buf = append(x.buf, make([]byte, len(x.buf))...)
	}
	for {
		n, err := x.r.Read(x.buf[x.to:])
		x.to += n
		x.limit -= int64(n)
		switch {
		case x.limit < 0:
			x.refuse(remedyPacked, "it unpacks to far more than any solid packed into %d kB does", (x.source.size+1023)>>10)
			return false
		case errors.Is(err, io.EOF):
			x.ended = true
			return n > 0
		case err != nil:
			x.err = x.source.packedFault(err)
			return false
		case n > 0:
			return true
		}
	}
}

// fail keeps the first fault, at the present line.
func (x *tags) fail(fault string, args ...any) { x.refuse(remedyAgain, fault, args...) }

func (x *tags) refuse(remedy, fault string, args ...any) {
	if x.err == nil {
		line := x.lines + bytes.Count(x.buf[:x.from], []byte{'\n'}) + 1
		x.err = x.source.fault(line, 0, remedy, fault, args...)
	}
}
