package picture

import "grainstack/render/look"

// A Named is a choice as commands name it and as it is written for the maker.
type Named struct{ Key, Words string }

// Lights are the lights on the finished piece, in the order of look.Light.
func Lights() []Named {
	return []Named{{"window", "daylight from a window"}, {"spot", "gallery spot"}, {"overcast", "evenly overcast"}}
}

// Grounds are what the piece can stand on, in the order of look.Ground.
func Grounds() []Named {
	return []Named{{"paper", "paper"}, {"floor", "floor"}, {"plinth", "plinth"}}
}

// LightOf is the light of a key; ok is false where there is none.
func LightOf(key string) (l look.Light, ok bool) {
	i, ok := place(Lights(), key)
	return look.Light(i), ok
}

// GroundOf is the ground of a key; ok is false where there is none.
func GroundOf(key string) (g look.Ground, ok bool) {
	i, ok := place(Grounds(), key)
	return look.Ground(i), ok
}

func place(all []Named, key string) (i uint8, ok bool) {
	for i, n := range all {
		if n.Key == key {
			return uint8(i), true
		}
	}
	return 0, false
}
