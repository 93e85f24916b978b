package look

import "math"

// A tile is a pattern in the wood that repeats, at every fineness: each level has half the rows of the one before (and half
// the columns, where they are as fine), so that a pixel that spans much of it sees the mean. Its mean is zero and the last
// level holds nothing: grain fades out before it could flicker, and moves no tone.
type tile struct {
	levels []grainLevel
	rowMM  float64
}

type grainLevel struct {
	points         []int8
	rows, cols     int32 // less one: the sizes are powers of two
	width          int32
	perRow, perCol float32 // per mm
}

// grains are the patterns of wood that all pictures share.
type grains struct{ streaks, vessels, pores tile }

// newGrains draws the patterns. Rotary-cut birch shows soft bands and fine dark lines, the vessels cut lengthwise, a few mm
// long; cut across they are dots. Vessels 0.06 to 0.1 mm wide are from memory, the rest is drawn by eye.
func newGrains() *grains {
	const rows, cols = 512, 128
	soft := make([]float32, rows*cols)
	for _, o := range []struct {
		rows, cols int
		weight     float32
	}{{4, 1, 0.40}, {10, 3, 0.34}, {28, 6, 0.30}, {3, 2, 0.16}} {
		addNoise(soft, rows, cols, o.rows, o.cols, o.weight)
	}
	return &grains{
		streaks: newTile(soft, rows, cols, 0.16, 5, 7, false),
		vessels: newTile(dashes(1024, 128), 1024, 128, 0.045, 0.7, 4, false),
		pores:   newTile(dots(256), 256, 256, 0.035, 0.035, 4, true),
	}
}

// newTile makes so many levels of a pattern whose rows and columns are so many mm apart.
func newTile(points []float32, rows, cols int, rowMM, colMM float64, levels int, even bool) tile {
	mean := float32(0)
	for _, v := range points {
		mean += v / float32(len(points))
	}
	for i := range points {
		points[i] -= mean
	}
	t := tile{rowMM: rowMM}
	for range levels {
		l := grainLevel{rows: int32(rows - 1), cols: int32(cols - 1), width: int32(cols), perRow: float32(1 / rowMM), perCol: float32(1 / colMM)}
		l.points = make([]int8, rows*cols)
		for i := range l.points {
			l.points[i] = int8(math.Round(float64(max(-127, min(127, 127*points[i])))))
		}
		t.levels = append(t.levels, l)
		points = halved(points, rows, cols)
		rows, rowMM = rows/2, rowMM*2
		if even {
			points = halvedAcross(points, rows, cols)
			cols, colMM = cols/2, colMM*2
		}
	}
	clear(t.levels[levels-1].points)
	return t
}

func halved(points []float32, rows, cols int) []float32 {
	out := make([]float32, rows/2*cols)
	for i := range out {
		y, x := i/cols, i%cols
		out[i] = (points[2*y*cols+x] + points[(2*y+1)*cols+x]) / 2
	}
	return out
}

func halvedAcross(points []float32, rows, cols int) []float32 {
	out := make([]float32, rows*(cols/2))
	for i := range out {
		out[i] = (points[2*i] + points[2*i+1]) / 2
	}
	return out
}

// addNoise adds value noise with waves of the given rows and columns, tiling without a seam as near as whole waves allow.
func addNoise(tile []float32, rows, cols, waveRows, waveCols int, weight float32) {
	nr, nc := rows/waveRows, cols/waveCols
	at := func(y, x int) float32 {
		return float32(signed(scramble(uint32((y%nr)*4099 + (x%nc)*17 + waveRows*7919))))
	}
	for i := range rows {
		a, fa := wave(i, nr, rows)
		for j := range cols {
			b, fb := wave(j, nc, cols)
			top := at(a, b) + fb*(at(a, b+1)-at(a, b))
			low := at(a+1, b) + fb*(at(a+1, b+1)-at(a+1, b))
			tile[i*cols+j] += weight * (top + fa*(low-top))
		}
	}
}

// wave is the cell of n over size and the smooth share of the next one.
func wave(i, n, size int) (cell int, share float32) {
	x := float64(i) * float64(n) / float64(size)
	f := x - math.Floor(x)
	return int(x), float32(f * f * (3 - 2*f))
}

// dashes are vessels cut lengthwise: lines one or two rows wide, two to eight columns long, thin at the ends.
func dashes(rows, cols int) []float32 {
	out := make([]float32, rows*cols)
	h := uint32(1)
	draw := func(n uint32) int { h = scramble(h + 0x9e3779b9); return int(h % n) }
	for range rows * cols / 40 {
		y, x, long, wide := draw(uint32(rows)), draw(uint32(cols)), 2+draw(7), 1+draw(2)
		dark := 0.45 + 0.55*float32(draw(100))/100
		for j := range long {
			thin := float32(math.Sin(math.Pi * (float64(j) + 0.5) / float64(long)))
			for i := range wide {
				at := &out[(y+i)%rows*cols+(x+j)%cols]
				*at = min(*at, -dark*(0.4+0.6*thin))
			}
		}
	}
	return out
}

// dots are vessels cut across, alone or in twos and threes along a ray, strewn over a square tile.
func dots(side int) []float32 {
	out := make([]float32, side*side)
	h := uint32(77)
	draw := func(n uint32) int { h = scramble(h + 0x9e3779b9); return int(h % n) }
	for range side * side / 58 {
		y, x, size := draw(uint32(side)), draw(uint32(side)), 0.9+0.8*float64(draw(100))/100
		for range 1 + draw(5)/3 {
			dot(out, side, x, y, size)
			x += 3
		}
	}
	return out
}

// dot darkens a round spot with a soft edge.
func dot(out []float32, side, x, y int, radius float64) {
	for j := -3; j <= 3; j++ {
		for i := -3; i <= 3; i++ {
			k := float32(max(0, min(1, radius+0.5-math.Hypot(float64(i), float64(j)))))
			at := &out[(y+j+side)%side*side+(x+i+side)%side]
			*at = min(*at, -k)
		}
	}
}

// A grainReader is a tile made ready for one picture.
type grainReader struct {
	levels   []grainLevel
	fineness float32 // mm of a pixel's span to rows of level 0
	strength float32
	idle     bool // all of it is finer than any pixel
	blend    bool // levels are mixed; without, the nearer one is taken
}

// reader makes the tile ready for pixels that span pixelMM at least.
func (t *tile) reader(pixelMM float64, strength float32, blend bool) grainReader {
	r := grainReader{levels: t.levels, fineness: float32(1 / t.rowMM), strength: strength / 127, blend: blend}
	r.idle = pixelMM*float64(r.fineness) >= float64(int(1)<<(len(t.levels)-1))
	return r
}

// at is the pattern at u mm along and v mm across for a pixel that spans foot mm across.
func (r *grainReader) at(u, v, foot float32) float32 {
	bits := math.Float32bits(max(foot*r.fineness, 1))
	if !r.blend {
		bits += bits & (1 << 22) << 1 // past the middle of a level the next one is nearer
	}
	level := int(bits>>23) - 127
	if level >= len(r.levels)-1 {
		return 0
	}
	a := r.levels[level].at(u, v)
	if r.blend {
		share := float32(bits&(1<<23-1)) * (1.0 / (1 << 23))
		if level+2 == len(r.levels) {
			a *= 1 - share
		} else {
			a += share * (r.levels[level+1].at(u, v) - a)
		}
	}
	return r.strength * a
}

// at is the value between the level's points, in steps of 1/127.
func (l *grainLevel) at(u, v float32) float32 {
	u, v = u*l.perCol+grainFar, v*l.perRow+grainFar
	i, j := int32(v), int32(u)
	fv, fu := v-float32(i), u-float32(j)
	r0, r1 := (i&l.rows)*l.width, ((i+1)&l.rows)*l.width
	c0, c1 := j&l.cols, (j+1)&l.cols
	p := l.points
	a, b := float32(p[r0+c0]), float32(p[r0+c1])
	c, d := float32(p[r1+c0]), float32(p[r1+c1])
	top, low := a+fu*(b-a), c+fu*(d-c)
	return top + fv*(low-top)
}

// grainFar keeps places positive before they are cut to whole rows; it is a multiple of every tile's size.
const grainFar = 1 << 15
