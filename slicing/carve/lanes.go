package carve

import (
	"encoding/binary"
	"math"

	"grainstack/slicing/stock"
)

// Heights are closed as whole numbers of 15 bits, four in one machine word: the top bit of each lane is kept free, so that
// one subtraction compares four lanes at once (the trick is in Warren, "Hacker's Delight", 2nd ed. 2012, ch. 2). The grid of
// numbers is chosen for each layer so that height and cutter together just fit: a layer of 16 mm under a 6.35 mm ball is
// told to 0.6 µm.
const (
	laneMax  = 1<<15 - 1
	lanes    = 4
	laneSize = 2                  // bytes
	guards   = 0x8000800080008000 // the free bits
)

// spread is one number in all four lanes.
func spread(v uint16) uint64 { return uint64(v) * 0x0001000100010001 }

// maxLanes is the larger number of each lane.
func maxLanes(a, b uint64) uint64 {
	d := (a | guards) - b
	g := d & guards // set where a >= b
	return b + (d & (g - g>>15))
}

// A raster is such numbers on a grid. Rows are whole words with some to spare.
type raster struct {
	w, h, stride int // in lanes
	bytes        []byte
}

// shape makes the raster fit w x h numbers, all zero; memory is used again.
func (p *raster) shape(w, h int) {
	p.w, p.h = w, h
	p.stride = (w+lanes-1)/lanes*lanes + lanes
	n := p.stride * h * laneSize
	if cap(p.bytes) < n {
		p.bytes = make([]byte, n)
		return
	}
	p.bytes = p.bytes[:n]
	clear(p.bytes)
}

func (p *raster) row(j int) []byte { return p.bytes[j*p.stride*laneSize:][:p.stride*laneSize] }

func (p *raster) set(i, j int, v uint16) {
	binary.LittleEndian.PutUint16(p.bytes[(j*p.stride+i)*laneSize:], v)
}

func (p *raster) at(i, j int) uint16 {
	return binary.LittleEndian.Uint16(p.bytes[(j*p.stride+i)*laneSize:])
}

// turnOver makes p the numbers of src subtracted from m; what lies beside the raster is zero.
func (p *raster) turnOver(src *raster, m uint16) {
	p.shape(src.w, src.h)
	full := src.w / lanes
	for j := range src.h {
		in, out := src.row(j), p.row(j)
		for w := range full {
			binary.LittleEndian.PutUint64(out[w*8:], spread(m)-binary.LittleEndian.Uint64(in[w*8:]))
		}
		for i := full * lanes; i < src.w; i++ {
			p.set(i, j, m-src.at(i, j))
		}
	}
}

// A disc is a cutter on the columns' grid: for each distance in rows and columns from the axis how far its edge lies below
// the highest place of the edge that matters, in lanes.
type disc struct {
	radius int        // in columns
	rows   [][]uint64 // by |dy|, |dx|
}

// newDisc takes a cutter on a grid; edge that lies higher than limit above the tip meets no wood and is left out. per is
// lanes' steps per mm, and the tip gets the figure tip.
func newDisc(c stock.Cutter, step, limit, per float64, tip uint16) disc {
	var d disc
	for dy := 0; ; dy++ {
		var row []uint64
		for dx := 0; ; dx++ {
			e, ok := c.Profile(step * math.Hypot(float64(dx), float64(dy)))
			if !ok || e > limit {
				break
			}
			row = append(row, spread(tip-uint16(min(e*per+0.5, float64(tip)))))
			d.radius = max(d.radius, dx)
		}
		if row == nil {
			break
		}
		d.rows = append(d.rows, row)
	}
	return d
}

// dilate fills dst with the upper envelope of the disc turned over at every place of src. src is larger than dst by the
// disc's radius on every side. row is scratch. It stops early, leaving dst unfinished, once stop says so.
func (d *disc) dilate(dst, src *raster, row []byte, stop func() bool) []byte {
	r := d.radius
	n := dst.w + 2*r + lanes
	if cap(row) < n*laneSize+8 {
		row = make([]byte, n*laneSize+8)
	}
	row = row[:n*laneSize+8]
	clear(row)
	for y := range dst.h {
		if y%stopRows == 0 && stop() {
			break
		}
		out := dst.row(y)
		clear(out)
		for dy, rise := range d.rows {
			wider(row, src.row(y+r-dy), src.row(y+r+dy))
			raise(out, row, rise, r, (dst.w+lanes-1)/lanes)
		}
	}
	return row
}

// stopRows is how many rows are done between two looks at whether to go on.
const stopRows = 32

// wider is the larger of two rows, place by place.
func wider(out, a, b []byte) {
	n := min(len(a), len(b), len(out)) &^ 7
	a, b, out = a[:n], b[:n], out[:n]
	for i := 0; i+8 <= n; i += 8 {
		v := maxLanes(binary.LittleEndian.Uint64(a[i:]), binary.LittleEndian.Uint64(b[i:]))
		binary.LittleEndian.PutUint64(out[i:], v)
	}
}

// raise lifts out to the row with rise added, for each distance either way.
func raise(out, row []byte, rise []uint64, r, words int) {
	for w := range words {
		at := (w*lanes + r) * laneSize
		v := binary.LittleEndian.Uint64(out[w*8:])
		v = maxLanes(v, binary.LittleEndian.Uint64(row[at:])+rise[0])
		lo, hi := at, at
		for _, c := range rise[1:] {
			lo -= laneSize
			hi += laneSize
			m := maxLanes(binary.LittleEndian.Uint64(row[lo:]), binary.LittleEndian.Uint64(row[hi:]))
			v = maxLanes(v, m+c)
		}
		binary.LittleEndian.PutUint64(out[w*8:], v)
	}
}
