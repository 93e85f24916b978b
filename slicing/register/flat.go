package register

import (
	"math"
	"math/rand"

	"grainstack/slicing/cloud"
	"grainstack/slicing/geom"

	"gonum.org/v1/gonum/mat"
)

const (
	// flatShare is the share of a scan's area from which on what lies in one plane is taken for a floor or a wall: it lies on any other
	// one, so it says nothing of where the piece is.
	flatShare = 0.12
	// mostFlats is how many planes are left aside.
	mostFlats = 4
	// flatThick is how far from its plane, by the reach, a place of it may lie.
	flatThick = 0.02
	// inFront is the share of the rest that has to lie in front of a floor.
	inFront = 0.9
	// flatTries is how many places are tried.
	flatTries = 300
)

// A Flat is a plane that much of a scan lies in, in the scan's own units: a floor, a table, a wall, a flat face of the piece.
type Flat struct {
	Normal geom.Vec // as the scan faces there, length 1
	D      float64  // Normal·p of its places
	Share  float64  // of the scan's area
	Floor  bool     // nearly all of the rest lies in front of it
}

// has reports whether a place lies in the plane and faces as it does.
func (f Flat) has(p, n geom.Vec, thick float64) bool {
	return math.Abs(f.Normal.Dot(p)-f.D) < thick && f.Normal.Dot(n) > 0.9
}

// withoutFlats is a cloud without the planes that much of it lies in, and these. A cloud that is planes and little else stays whole.
func withoutFlats(c *cloud.Cloud) (*cloud.Cloud, []Flat) {
	var flats []Flat
	whole := c.Area()
	rest := c
	for len(flats) < mostFlats {
		_, reach := rest.Middle()
		f := flattest(rest, flatThick*reach, whole)
		if f.Share < flatShare {
			break
		}
		next := rest.Keeping(func(i int) bool { return !f.has(rest.Points[i].Vec(), rest.Normals[i].Vec(), flatThick*reach) })
		if next.Area() < flatShare*whole || !bent(next) {
			break
		}
		flats, rest = append(flats, f), next
	}
	for i := range flats {
		front := rest.Keeping(func(k int) bool { return flats[i].Normal.Dot(rest.Points[k].Vec()) > flats[i].D })
		flats[i].Floor = front.Area() > inFront*rest.Area()
	}
	return rest, flats
}

// flattest is the plane with the most area, as far as some places tell.
func flattest(c *cloud.Cloud, thick, whole float64) (best Flat) {
	rnd := rand.New(rand.NewSource(4))
	for range min(flatTries, len(c.Points)) {
		k := rnd.Intn(len(c.Points))
		f := Flat{Normal: c.Normals[k].Vec()}
		f.D = f.Normal.Dot(c.Points[k].Vec())
		for range 2 { // once more with the mean of those that lie in it
			var n geom.Vec
			d, area := 0.0, 0.0
			for i, p := range c.Points {
				if f.has(p.Vec(), c.Normals[i].Vec(), thick/2) {
					w := float64(c.Areas[i])
					n, d, area = n.Add(c.Normals[i].Vec().Scale(w)), d+w*f.Normal.Dot(p.Vec()), area+w
				}
			}
			if f.Share = area / whole; area == 0 || f.Share < flatShare/2 {
				break
			}
			f.Normal, f.D = n.Unit(), d/area
		}
		if f.Share > best.Share {
			best = f
		}
	}
	return best
}

// leastBent is the share of its area that a surface must have across the direction to which it faces least, to say where it is.
const leastBent = 0.03

// bent reports whether a surface faces all ways enough to say where it is.
func bent(c *cloud.Cloud) bool {
	m := mat.NewSymDense(3, nil)
	for i, n := range c.Normals {
		m.SymRankOne(m, float64(c.Areas[i]), mat.NewVecDense(3, []float64{float64(n[0]), float64(n[1]), float64(n[2])}))
	}
	var e mat.EigenSym
	return e.Factorize(m, false) && e.Values(nil)[0] > leastBent*c.Area()
}
