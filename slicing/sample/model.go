package sample

import "grainstack/slicing/geom"

// hare is the resting hare: hindquarters and chest, legs and feet, neck and head, ears.
func hare() figure {
	var f figure
	f = append(f, trunk()...)
	f = append(f, legs()...)
	f = append(f, head()...)
	return f
}

func at(x, y, z float64) geom.Vec { return geom.Vec{X: x, Y: y, Z: z} }

// pair is the lump and its mirror image.
func pair(l lump) []lump { return []lump{l, l.mirrored()} }

// round is the flattening direction of a limb that is not flattened.
var round = geom.Vec{X: 0.1, Y: 1, Z: 0.1}

// trunk is hindquarters, loin, chest, neck and scut.
func trunk() []lump {
	return []lump{
		egg(at(-84, 0, 101), at(114, 74, 81), -3, 0, 1),
		egg(at(0, 0, 98), at(110, 66, 64), 6, 0, 50),
		egg(at(80, 0, 96), at(64, 62, 66), 0, 0, 40),
		limb(at(66, 0, 122), at(96, 0, 174), 58, 45, round, 1, 44),
		egg(at(-194, 0, 112), at(21, 20, 27), -24, 0, 10),
	}
}

// legs are haunches, shoulders, hind feet, forelegs and fore paws with their toes.
func legs() []lump {
	var f []lump
	f = append(f, pair(egg(at(-68, 57, 87), at(88, 48, 80), 12, 3, 16))...)
	f = append(f, pair(egg(at(68, 40, 104), at(46, 32, 58), 24, 0, 16))...)
	f = append(f, pair(limb(at(-92, 68, 6), at(50, 82, 5), 24, 22, at(0, 0, 1), 0.9, 26))...)
	f = append(f, pair(limb(at(82, 44, 84), at(106, 46, 24), 36, 22, round, 1, 24))...)
	f = append(f, pair(limb(at(98, 47, 6), at(164, 43, 5), 25, 21, at(0, 0, 1), 0.95, 26))...)
	for _, side := range [2]float64{-7, 7} {
		f = append(f, pair(limb(at(166, 43+side, 28), at(192, 43+1.2*side, 4), 4.5, 4.5, round, 1, 6).away())...)
		f = append(f, pair(limb(at(52, 82+side, 28), at(80, 82+1.2*side, 4), 4.5, 4.5, round, 1, 6).away())...)
	}
	return f
}

// head is modelled looking along X and then turned a little to the hare's left, the ears not quite alike.
func head() []lump {
	f := []lump{
		egg(at(116, 0, 184), at(60, 42, 44), 20, 0, 22),
		limb(at(146, 0, 176), at(181, 0, 158), 34, 24, round, 1, 28),
		egg(at(168, 0, 141), at(20, 15, 13), 20, 0, 14), // chin
	}
	f = append(f, pair(egg(at(134, 24, 168), at(36, 22, 29), 22, -8, 12))...) // cheek
	f = append(f, pair(egg(at(183, 9, 150), at(20, 13, 17), 24, 0, 14))...)   // lip
	f = append(f, pair(egg(at(146, 42, 193), at(20, 8, 13), 20, -16, 8).away())...)
	f = append(f, pair(egg(at(145, 31, 192), at(16, 9, 11), 20, -16, 4))...) // eye
	f = append(f, ear(0)...)
	for _, l := range ear(8) {
		f = append(f, l.mirrored())
	}
	turned := make([]lump, len(f))
	for i, l := range f {
		turned[i] = l.turned(geom.TurnXYZ(0, 0, 14), at(90, 0, 170))
	}
	return turned
}

// ear is the hare's left ear, lowered by so many degrees: a leaf with a thick tip, hollow to the side.
func ear(lower float64) []lump {
	root, face := at(92, 21, 212), at(0.25, 0.85, 0.4).Unit()
	along := at(-0.70, 0.29, 0.70)
	along = along.Sub(face.Scale(along.Dot(face))).Unit()
	across := face.Cross(along)
	leaf := func(u, v, out float64) geom.Vec {
		return root.Add(along.Scale(u)).Add(across.Scale(v)).Add(face.Scale(out))
	}
	f := []lump{
		limb(leaf(0, 0, 0), leaf(50, 2, 0), 14, 18, face, 0.55, 16),
		plate(leaf(76, 3, 0), along, face, at(68, 24, 11), 10),
		limb(leaf(84, 2, 0), leaf(140, -2, 0), 17, 8.5, face, 0.55, 12),
		plate(leaf(76, 3, 13), along, face, at(58, 15.5, 11.5), 11).away(),
	}
	for i := range f {
		f[i] = f[i].turned(geom.TurnXYZ(0, -lower, 0), root)
	}
	return f
}
