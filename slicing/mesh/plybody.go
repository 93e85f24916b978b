package mesh

import (
	"encoding/binary"
	"math"
)

// A plyText is a text body: a row is a line.
type plyText struct {
	*lines
	rest []byte
}

func (t *plyText) row() bool {
	for t.err == nil {
		line, ok := t.next()
		if !ok {
			t.fail(remedyAgain, "the file ends before its last row")
			return false
		}
		if word, _ := field(line); len(word) > 0 {
			t.rest = line
			return true
		}
	}
	return false
}

func (t *plyText) value(kind plyType) float64 {
	word, rest := field(t.rest)
	t.rest = rest
	v, ok := number(word)
	if !ok || !kind.isFloat() && v != math.Trunc(v) {
		t.fail(remedyNumber, "%s where a number should be", quoted(word))
		return 0
	}
	return v
}

func (t *plyText) skip(e plyElement) {
	if len(e.properties) == 0 {
		return
	}
	for range e.rows {
		if !t.row() {
			return
		}
	}
}

func (t *plyText) fault() error { return t.err }

// A plyBytes is a binary body.
type plyBytes struct {
	source   *source
	buf      []byte
	from, to int   // what is left in buf
	offset   int64 // of the file's part after buf
	big      bool  // most significant byte first
	err      error
}

func newPlyBytes(s *source, offset int64, big bool) *plyBytes {
	return &plyBytes{source: s, buf: make([]byte, min(1<<18, max(8, s.size-offset))), offset: offset, big: big}
}

func (b *plyBytes) row() bool { return b.err == nil }

func (b *plyBytes) value(t plyType) float64 {
	v := b.take(t.size())
	if v == nil {
		return 0
	}
	var order binary.ByteOrder = binary.LittleEndian
	if b.big {
		order = binary.BigEndian
	}
	switch t {
	case int8Type:
		return float64(int8(v[0]))
	case uint8Type:
		return float64(v[0])
	case int16Type:
		return float64(int16(order.Uint16(v)))
	case uint16Type:
		return float64(order.Uint16(v))
	case int32Type:
		return float64(int32(order.Uint32(v)))
	case uint32Type:
		return float64(order.Uint32(v))
	case float32Type:
		return float64(math.Float32frombits(order.Uint32(v)))
	}
	return math.Float64frombits(order.Uint64(v))
}

// take is the next n bytes, nil at a fault.
func (b *plyBytes) take(n int) []byte {
	if b.to-b.from < n && !b.fill(n) {
		return nil
	}
	v := b.buf[b.from : b.from+n : b.from+n]
	b.from += n
	return v
}

// fill reads on until at least n bytes are there.
func (b *plyBytes) fill(n int) bool {
	if b.err != nil {
		return false
	}
	b.to = copy(b.buf, b.buf[b.from:b.to])
	b.from = 0
	more := int(min(int64(len(b.buf)-b.to), b.source.size-b.offset))
	if b.to+more < n {
		b.fail(remedyAgain, "the file ends before its last row")
		return false
	}
	if b.err = b.source.readAt(b.buf[b.to:b.to+more], b.offset); b.err != nil {
		return false
	}
	b.to += more
	b.offset += int64(more)
	return true
}

// skip jumps over tables without lists and walks through the others.
func (b *plyBytes) skip(e plyElement) {
	stride := int64(0)
	for _, p := range e.properties {
		if p.length != noType {
			b.walk(e)
			return
		}
		stride += int64(p.value.size())
	}
	jump := e.rows * stride
	if in := int64(b.to - b.from); jump > in {
		b.offset += jump - in
		b.from, b.to = 0, 0
		if b.offset > b.source.size {
			b.offset = b.source.size
			b.fail(remedyAgain, "the file ends before its last row")
		}
		return
	}
	b.from += int(jump)
}

func (b *plyBytes) walk(e plyElement) {
	for range e.rows {
		for _, p := range e.properties {
			if p.length != noType {
				skipList(b, p)
				continue
			}
			b.value(p.value)
		}
		if b.err != nil {
			return
		}
	}
}

// fail keeps the first fault, at the value last given.
func (b *plyBytes) fail(remedy, fault string, args ...any) {
	if b.err == nil {
		b.err = b.source.fault(0, b.offset-int64(b.to-b.from), remedy, fault, args...)
	}
}

func (b *plyBytes) fault() error { return b.err }
