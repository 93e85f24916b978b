package export

// clearLoose takes away what of the panel's frame has come loose between the gaps round the parts: nothing holds it, so that
// the cutter would throw it. What belongs to a part, by whose, stays; so does the largest body.
func (m *PanelModel) clearLoose(whose []int16) {
	cells := m.cells()
	body, sizes, held := m.bodies(cells, whose)
	if len(sizes) < 2 {
		return
	}
	largest := 0
	for b, n := range sizes {
		if n > sizes[largest] {
			largest = b
		}
	}
	keep := make([]bool, len(cells)) // columns
	for n, c := range cells {
		if b := body[n]; c && (held[b] || int(b) == largest) {
			keep[n], keep[n+1], keep[n+m.nx], keep[n+m.nx+1] = true, true, true, true
		}
	}
	for n, c := range cells {
		if b := body[n]; !c || held[b] || int(b) == largest {
			continue
		}
		for _, k := range [4]int{n, n + 1, n + m.nx, n + m.nx + 1} {
			if !keep[k] {
				m.top[k], m.bottom[k] = none, -none
			}
		}
	}
}

// bodies numbers the cells that hang together over their sides, and says of each body how many cells it has and whether a
// part has a share in it.
func (m *PanelModel) bodies(cells []bool, whose []int16) (body []int32, sizes []int, held []bool) {
	body = make([]int32, len(cells))
	for n := range body {
		body[n] = -1
	}
	var todo []int32
	for start, c := range cells {
		if !c || body[start] >= 0 {
			continue
		}
		b := int32(len(sizes))
		sizes, held = append(sizes, 0), append(held, false)
		body[start] = b
		todo = append(todo[:0], int32(start))
		for len(todo) > 0 {
			n := int(todo[len(todo)-1])
			todo = todo[:len(todo)-1]
			sizes[b]++
			held[b] = held[b] || whose[n] > 0 || whose[n+1] > 0 || whose[n+m.nx] > 0 || whose[n+m.nx+1] > 0
			for _, k := range [4]int{n - 1, n + 1, n - m.nx, n + m.nx} { // the last of a row and the last row are no cells
				if k >= 0 && k < len(cells) && cells[k] && body[k] < 0 {
					body[k] = b
					todo = append(todo, int32(k))
				}
			}
		}
	}
	return body, sizes, held
}
