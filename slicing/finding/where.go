package finding

import "grainstack/slicing/geom"

// A Where is on which third of the piece a place lies, seen from the front: -1 left or front, 1 right or back.
type Where struct{ X, Y int8 }

// Whereabouts is where a place lies on a piece of a size that stands in the middle of the stand.
func Whereabouts(at, size geom.Vec) Where {
	third := func(v, whole float64) int8 {
		switch {
		case v < -whole/6:
			return -1
		case v > whole/6:
			return 1
		}
		return 0
	}
	return Where{third(at.X, size.X), third(at.Y, size.Y)}
}

// String is the place in words: "at the front left".
func (w Where) String() string {
	side, deep := [3]string{"left", "", "right"}[w.X+1], [3]string{"front", "", "back"}[w.Y+1]
	switch {
	case deep == "" && side == "":
		return "in the middle"
	case deep == "":
		return "on the " + side
	case side == "":
		return "at the " + deep
	}
	return "at the " + deep + " " + side
}
