package panel

import (
	"math"
	"math/rand/v2"

	"grainstack/slicing/geom"
)

// rect is a rectangle with its corner at the origin.
func rect(x, y float64) geom.Region {
	return geom.Region{{{X: 0, Y: 0}, {X: x, Y: 0}, {X: x, Y: y}, {X: 0, Y: y}}}
}

// wavy is a ring of about the given radii: what a body cut across looks like.
func wavy(r *rand.Rand, a, b float64, points int) geom.Ring {
	out := make(geom.Ring, points)
	p2, p3, p5 := r.Float64()*6, r.Float64()*6, r.Float64()*6
	for i := range out {
		t := 2 * math.Pi * float64(i) / float64(points)
		f := 1 + 0.12*math.Sin(2*t+p2) + 0.1*math.Sin(3*t+p3) + 0.05*math.Sin(5*t+p5)
		out[i] = geom.Vec2{X: a * f * math.Cos(t), Y: b * f * math.Sin(t)}
	}
	return out
}

func backwards(r geom.Ring) geom.Ring {
	out := make(geom.Ring, len(r))
	for i, p := range r {
		out[len(r)-1-i] = p
	}
	return out
}

func scaled(r geom.Ring, f float64) geom.Ring {
	out := make(geom.Ring, len(r))
	for i, p := range r {
		out[i] = p.Scale(f)
	}
	return out
}

// statue is the parts of a hollow body of so many layers, every second one turned, about twice as many parts: one ring a
// layer, and arms or legs beside it.
func statue(seed uint64, layers, points int) (parts []Part) {
	r := rand.New(rand.NewPCG(seed, 1))
	for l := range layers {
		h := float64(l)/float64(layers)*2 - 1
		size := 110 * math.Sqrt(1.1-h*h)
		ring := wavy(r, size, size*0.7, points)
		body := geom.Region{ring}
		if l > 0 && l < layers-1 {
			body = append(body, backwards(scaled(ring, 0.7)))
		}
		parts = append(parts, Part{ID{l + 1, 0}, body, l%2 == 1, ""})
		parts = append(parts, Part{ID{l + 1, 1}, geom.Region{wavy(r, 20+25*r.Float64(), 15+15*r.Float64(), points/4)}, l%2 == 1, ""})
	}
	return parts
}
