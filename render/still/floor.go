package still

import (
	"grainstack/render/look"
	"grainstack/slicing/geom"
)

// floor is how much of its full light each cell of the floor has, and so throws back.
type floor struct {
	low  geom.Vec2 // corner
	side float64   // mm of a cell
	z    float64   // mm: its height
	lit  []float32 // 0 to 1; outside the floor is fully lit
}

// floorSide is the cells a side of the floor's grid, floorReach half its side in parts of the piece's radius.
const (
	floorSide  = 96
	floorReach = 2.2
)

// lightFloor reckons the floor, or the plinth's top and the floor round it as one, under the directions of the present look.
func (w *work) lightFloor() floor {
	at := w.scene.View.Placement
	radius := w.scene.Body.Radius() * at.Scale
	mid := at.Apply(w.scene.Body.Centre())
	f := floor{
		side: 2 * floorReach * radius / floorSide,
		low:  geom.Vec2{X: mid.X - floorReach*radius, Y: mid.Y - floorReach*radius},
		lit:  make([]float32, floorSide*floorSide),
	}
	places := make([]look.Place, floorSide*floorSide+1)
	for i := range f.lit {
		x, y := float64(i%floorSide)+0.5, float64(i/floorSide)+0.5
		places[i] = look.Place{X: float32(f.low.X + x*f.side), Y: float32(f.low.Y + y*f.side), NZ: 1, Ground: true}
	}
	const away = 1e7
	places[len(f.lit)] = look.Place{X: away, NZ: 1, Ground: true}
	out := make([]look.Lit, len(places))
	w.from(places, out, false)
	full := max(out[len(f.lit)].Green, 1e-6)
	for i := range f.lit {
		f.lit[i] = min(1, out[i].Green/full)
	}
	return f
}

// weigh takes from weights what the floor does not throw back along a ray that comes from it.
func (f *floor) weigh(places []look.Place, r *ray, s *weights) {
	k := float32(1 / f.side)
	dx, dy := float32(r.towards.X/-r.towards.Z), float32(r.towards.Y/-r.towards.Z)
	lx, ly := float32(f.low.X), float32(f.low.Y)
	for j := range places {
		p := &places[j]
		if s.w[j] <= 0 {
			continue
		}
		h := max(p.Z, 0)
		x, y := (p.X+h*dx-lx)*k, (p.Y+h*dy-ly)*k
		if x >= 0 && y >= 0 && x < floorSide && y < floorSide {
			s.w[j] *= f.lit[int(y)*floorSide+int(x)]
		}
	}
}
