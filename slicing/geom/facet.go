package geom

// A Facet is a triangle that lines run through: upward, at whole X, their columns, and whole Y, their rows.
//
// A corner on a row counts as before it and a line on the end of a row's span as past it, and two facets that share a side
// take its crossing from the same sums in the same order; so a line through a side or a corner is counted neither twice nor
// never.
type Facet [3]Vec

// A Span is the lines of one row that pass through a facet: the columns from First up to but without End.
type Span struct {
	First, End int
	Enters     bool // what the facet bounds, going up; else they leave it
	left       Vec
	slope      float64
}

// Z is where the line of column i meets the facet.
func (s *Span) Z(i int) float64 { return s.left.Z + s.slope*(float64(i)-s.left.X) }

// Rows are the rows that a facet lies in, from first up to but without end. Its corners have to fit an int.
func (f *Facet) Rows() (first, end int) {
	return Ceil(min(f[0].Y, f[1].Y, f[2].Y)), Ceil(max(f[0].Y, f[1].Y, f[2].Y))
}

// Row is the lines of row j, one of Rows, with columns from 0 up to but without n.
func (f *Facet) Row(j, n int) (s Span) {
	var up, down Vec
	y := float64(j)
	side(&f[0], &f[1], y, &up, &down)
	side(&f[1], &f[2], y, &up, &down)
	side(&f[2], &f[0], y, &up, &down)
	right := &up // of the falling side: the facet faces up
	if s.left = down; up.X < down.X {
		s.Enters, s.left, right = true, up, &down
	}
	if s.First, s.End = max(Ceil(s.left.X), 0), min(Ceil(right.X), n); s.First < s.End {
		s.slope = (right.Z - s.left.Z) / (right.X - s.left.X)
	}
	return s
}

// side finds where a side of a facet meets a row: up where it rises, down where it falls.
func side(a, b *Vec, y float64, up, down *Vec) {
	if before := a.Y <= y; before == (b.Y <= y) {
		return
	} else if before {
		*up = meet(a, b, y)
	} else {
		*down = meet(b, a, y)
	}
}

// meet is where the side from lo up to hi meets a row.
func meet(lo, hi *Vec, y float64) Vec {
	t := (y - lo.Y) / (hi.Y - lo.Y)
	return Vec{lo.X + t*(hi.X-lo.X), y, lo.Z + t*(hi.Z-lo.Z)}
}

// Ceil is the lowest whole number that is not less than v, for v that fits an int.
func Ceil(v float64) int {
	i := int(v)
	if float64(i) < v {
		i++
	}
	return i
}
