package look

import (
	"math"
)

// fibres is the figure of a veneer's face as a tile of streaks: rows run across the fibres, columns along. Each level halves
// the rows, for veneers seen from farther away. Values are about -1 to 1.
type fibres struct {
	levels [fibreLevels][]int8
}

const (
	fibreRows   = 512 // across
	fibreCols   = 128 // along
	fibreLevels = 6
	rowMM       = 0.16 // mm across per row of level 0
	colMM       = 5.0  // mm along per column
)

// newFibres lays streaks of several widths over each other: rotary-cut birch shows fine pores a few mm long and broad soft
// bands. Drawn by eye, no source.
func newFibres() *fibres {
	tile := make([]float32, fibreRows*fibreCols)
	for _, o := range []struct {
		rows, cols int
		weight     float32
	}{{4, 1, 0.40}, {10, 3, 0.34}, {28, 6, 0.30}, {3, 2, 0.16}} {
		addNoise(tile, o.rows, o.cols, o.weight)
	}
	f := &fibres{}
	rows := fibreRows
	for l := range f.levels {
		f.levels[l] = make([]int8, rows*fibreCols)
		for i := range f.levels[l] {
			f.levels[l][i] = int8(max(-127, min(127, 127*tile[i])))
		}
		rows /= 2
		for i := range rows {
			for j := range fibreCols {
				tile[i*fibreCols+j] = (tile[2*i*fibreCols+j] + tile[(2*i+1)*fibreCols+j]) / 2
			}
		}
	}
	return f
}

// addNoise adds value noise with waves of the given rows and columns, tiling without a seam as near as whole waves allow.
func addNoise(tile []float32, rows, cols int, weight float32) {
	nr, nc := fibreRows/rows, fibreCols/cols
	for i := range fibreRows {
		a, fa := wave(i, nr, fibreRows)
		for j := range fibreCols {
			b, fb := wave(j, nc, fibreCols)
			at := func(y, x int) float32 {
				return float32(signed(scramble(uint32((y%nr)*4099 + (x%nc)*17 + rows*7919))))
			}
			top := at(a, b) + fb*(at(a, b+1)-at(a, b))
			low := at(a+1, b) + fb*(at(a+1, b+1)-at(a+1, b))
			tile[i*fibreCols+j] += weight * (top + fa*(low-top))
		}
	}
}

// wave is the cell of n over size and the smooth share of the next one.
func wave(i, n, size int) (cell int, share float32) {
	x := float64(i) * float64(n) / float64(size)
	f := x - math.Floor(x)
	return int(x), float32(f * f * (3 - 2*f))
}

// fibreReader is the tile made ready for a picture of a given pixel size.
type fibreReader struct {
	tile       []int8
	rows       int32
	perRow     float32 // rows per mm
	strength   float32
	alongScale float32
}

func (f *fibres) reader(pixelMM float64, strength float32) fibreReader {
	l := 0
	for l < fibreLevels-1 && rowMM*float64(int(1)<<l) < 0.6*pixelMM {
		l++
	}
	return fibreReader{
		tile: f.levels[l], rows: fibreRows >> l, perRow: float32(1 / (rowMM * float64(int(1)<<l))),
		strength: strength / 127, alongScale: 1 / colMM,
	}
}

// at is the streak at u mm along the fibres and v mm across, smooth between the tile's points.
func (f *fibreReader) at(u, v float32) float32 {
	u, v = u*f.alongScale+fibreFar, v*f.perRow+fibreFar
	i, j := int32(v), int32(u)
	fv, fu := v-float32(i), u-float32(j)
	r0, r1 := (i&(f.rows-1))*fibreCols, ((i+1)&(f.rows-1))*fibreCols
	c0, c1 := j&(fibreCols-1), (j+1)&(fibreCols-1)
	a, b := float32(f.tile[r0+c0]), float32(f.tile[r0+c1])
	c, d := float32(f.tile[r1+c0]), float32(f.tile[r1+c1])
	top, low := a+fu*(b-a), c+fu*(d-c)
	return f.strength * (top + fv*(low-top))
}

// fibreFar keeps places positive before they are cut to whole rows; it is a multiple of every tile's size.
const fibreFar = 1 << 16
