package look

import "grainstack/slicing/geom"

// shadow is the soft shade on the floor round the piece: its points thrown down on a coarse grid in three bands of height,
// each blurred the more the higher it is, as a wide window does.
type shadow struct {
	dark  [shadowSide * shadowSide]float32 // 0 to 1
	side  float64                          // mm of a cell
	low   geom.Vec2                        // corner of the grid
	on    bool
	fresh bool  // it belongs to the last Raster
	light Light // that throws it
}

const shadowSide = 128

// A fall is how a light throws the shadow: level steps to the viewer's right and away from the viewer for each step of height,
// and three bands of the piece's height.
type fall struct {
	right, back float64
	bands       [3]band
}

// A band of the piece's height: its upper bound, how far the shade is carried sideways in parts of height, blur in cells,
// depth.
type band struct {
	top, carry float64
	blur       int
	depth      float32
}

func (l Light) fall() fall {
	switch l {
	case Spot:
		return fall{-0.62, 0.62, [3]band{{0.10, 0.45, 1, 0.62}, {0.40, 0.62, 2, 0.52}, {1, 0.66, 4, 0.46}}}
	case Overcast:
		return fall{0, 0, [3]band{{0.10, 0, 3, 0.46}, {0.40, 0, 9, 0.30}, {1, 0, 14, 0.18}}}
	}
	return fall{0.9, 0.45, [3]band{{0.10, 0.25, 2, 0.50}, {0.40, 0.32, 6, 0.38}, {1, 0.36, 11, 0.26}}}
}

// blurRows is the running mean along rows, written turned over, so that a second call blurs the columns.
func blurRows(to, from []float32, radius int) {
	f := 1 / float32(2*radius+1)
	for y := range shadowSide {
		row := from[y*shadowSide : (y+1)*shadowSide]
		sum := float32(0)
		for i := range min(radius, shadowSide) {
			sum += row[i]
		}
		for x := range shadowSide {
			if x+radius < shadowSide {
				sum += row[x+radius]
			}
			to[x*shadowSide+y] = sum * f
			if x >= radius {
				sum -= row[x-radius]
			}
		}
	}
}

// at is the darkness at a place on the grid, in cells, smooth between them.
func (s *shadow) at(x, y float32) float32 {
	if !(x >= 0 && y >= 0 && x < shadowSide-1 && y < shadowSide-1) {
		return 0
	}
	i, j := int(x), int(y)
	fx, fy := x-float32(i), y-float32(j)
	d := s.dark[j*shadowSide+i : j*shadowSide+i+shadowSide+2]
	top := d[0] + fx*(d[1]-d[0])
	low := d[shadowSide] + fx*(d[shadowSide+1]-d[shadowSide])
	return top + fy*(low-top)
}
