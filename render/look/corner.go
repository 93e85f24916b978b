package look

// A corner is a point of the surface on the picture: x and y in 1/256 pixel, z its depth in whole steps of the depth key,
// h its height in mm.
type corner struct {
	x, y int32
	z, h float32
}

const (
	subPixel  = 256
	half      = subPixel / 2
	subShift  = 8
	depthBits = 24
	depthMax  = 1<<depthBits - 1
)

// A window is a rectangle of pixels, upper bounds not included.
type window struct{ x0, y0, x1, y1 int }

func (w window) has(x, y int) bool { return x >= w.x0 && x < w.x1 && y >= w.y0 && y < w.y1 }

// clear empties the window's part of a depth buffer for pictures of the given width.
func (w window) clear(keys []uint64, width int) {
	for y := w.y0; y < w.y1; y++ {
		row := keys[y*width+w.x0 : y*width+w.x1]
		for i := range row {
			row[i] = nothing
		}
	}
}
