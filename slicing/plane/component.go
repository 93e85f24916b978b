package plane

// Components numbers the connected places of a grid of w by h where in holds, from 1 in the order in which their first places
// come; 0 elsewhere. Places that touch at a side or a corner are connected.
func Components(w, h int, in func(i int) bool) (labels []int32, n int) {
	labels = make([]int32, w*h)
	var todo []int32
	for start := range labels {
		if labels[start] != 0 || !in(start) {
			continue
		}
		n++
		labels[start] = int32(n)
		todo = append(todo[:0], int32(start))
		for len(todo) > 0 {
			at := int(todo[len(todo)-1])
			todo = todo[:len(todo)-1]
			x, y := at%w, at/w
			for j := max(y-1, 0); j <= min(y+1, h-1); j++ {
				for i := max(x-1, 0); i <= min(x+1, w-1); i++ {
					if k := j*w + i; labels[k] == 0 && in(k) {
						labels[k] = int32(n)
						todo = append(todo, int32(k))
					}
				}
			}
		}
	}
	return labels, n
}
