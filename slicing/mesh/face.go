package mesh

// A faces list is a file's points and its faces, cut into triangles, before welding.
type faces struct {
	points    []Point
	triangles []Triangle
	first     int32 // corner of the face being read
	last      int32
	corners   int
}

// corner adds one corner to the face being read; a face of more than three corners becomes a fan about its first.
func (f *faces) corner(i int32) {
	switch f.corners {
	case 0:
		f.first = i
	case 1:
	default:
		f.triangles = append(f.triangles, Triangle{f.first, f.last, i})
	}
	f.last = i
	f.corners++
}

// end closes the face; one of one or two corners counts as a triangle without area.
func (f *faces) end() {
	if f.corners == 1 || f.corners == 2 {
		f.triangles = append(f.triangles, Triangle{f.first, f.last, f.last})
	}
	f.corners = 0
}

// facets are the triangles with their points; all numbers have been checked.
func (f *faces) facets() []facet {
	out := make([]facet, len(f.triangles))
	run(len(out), span, func(from, to int) {
		for i := from; i < to; i++ {
			t := f.triangles[i]
			out[i] = facet{f.points[t[0]], f.points[t[1]], f.points[t[2]]}
		}
	})
	return out
}
