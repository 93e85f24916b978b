package still

import (
	"context"
	"sync"

	"grainstack/render/look"
	"grainstack/slicing/geom"
)

// work is all that one still needs from look to look.
type work struct {
	scene    *Scene
	care     Care
	lamp     look.Lamp
	eye, sun *look.Renderer // the viewer's and the lights'
	rays     []ray
	depths   []*look.Depths
	lift     float32 // mm that places are lifted off the surface
	block    geom.Box
	blocked  bool       // there is a plinth
	grounds  []*ground  // the floor, or the plinth's top and the floor below
	bounce   [3]float32 // what the piece throws back of the room's light, where it hides the room
	scratch  sync.Pool  // of *weights
	progress func(float64)
	done     float64
	all      float64
}

type weights struct {
	w, keyAll, skySeen, skyAll []float32
	places                     []look.Place // those that the ground's grids do not know
	lights                     []look.Lit
	at                         []int
}

// stripWeight and groundWeight are the time that a strip and a ground take in parts of that of one direction of light,
// roughly.
const (
	stripWeight  = 6
	groundWeight = 20
)

// liftCells is how far places are lifted off the surface, in cells of what a light sees: with less, the surface shades itself
// in bands.
const liftCells = 1.5

// bounced is how bright the piece is where it hides the room, against the room, apart from its colour: walls of a corner lie
// in half shadow themselves. underside is the part of it that the ground sees, dark undersides. Both by eye.
const (
	bounced   = 0.55
	underside = 0.5
)

func newWork(s *Scene, c Care, progress func(float64), strips int) *work {
	w := &work{scene: s, care: c, lamp: s.Dress.Light.Lamp(s.Body, s.View), eye: look.NewRenderer(), sun: look.NewRenderer(), progress: progress}
	w.block, w.blocked = s.View.Plinth(s.Body)
	for i, c := range s.Dress.Wood.Mean() {
		w.bounce[i] = bounced * c
	}
	w.depths = make([]*look.Depths, c.Key+c.Above+c.Below+sideRays)
	w.grounds = append(w.grounds, newGround(s, 0, c.Side*7/8))
	if w.blocked {
		w.grounds = append(w.grounds, newGround(s, w.block.Min.Z, c.Side*7/8))
	}
	w.all = float64(c.Looks) * float64(len(w.depths)+strips*stripWeight+len(w.grounds)*groundWeight)
	w.scratch.New = func() any { return &weights{} }
	return w
}

// step tells how far the work has come.
func (w *work) step(by float64) {
	w.done += by
	if w.progress != nil {
		w.progress(min(1, w.done/w.all))
	}
}

// light looks at the piece from all lights of the k-th look.
func (w *work) light(ctx context.Context, k int) error {
	w.rays = rays(w.lamp, w.care, k)
	for i, r := range w.rays {
		d, err := w.sun.Depths(ctx, w.scene.Body, w.scene.View, r.towards, w.care.Side, w.depths[i])
		if err != nil {
			return err
		}
		w.depths[i] = d
		w.step(1)
	}
	w.lift = liftCells * w.depths[0].Cell()
	for _, g := range w.grounds {
		if err := w.lightGround(ctx, g); err != nil {
			return err
		}
		w.step(groundWeight)
	}
	return nil
}

// gather adds up the light of all directions on places.
func (w *work) gather(places []look.Place, out []look.Lit) {
	s := w.scratch.Get().(*weights)
	defer w.scratch.Put(s)
	s.places, s.at = s.places[:0], s.at[:0]
	for i := range places {
		if p := &places[i]; p.Ground && p.NZ > 0.5 {
			out[i] = w.groundAt(p)
			continue
		}
		s.places, s.at = append(s.places, places[i]), append(s.at, i)
	}
	w.add(s)
	for k, i := range s.at {
		out[i] = s.lights[k]
	}
}

// groundAt is the light on the ground.
func (w *work) groundAt(p *look.Place) look.Lit {
	g := w.grounds[0]
	if p.Z < -1e-3 && len(w.grounds) > 1 {
		g = w.grounds[1]
	}
	return g.at(p.X, p.Y)
}

// add adds up the light of all directions on the scratch's places.
func (w *work) add(s *weights) {
	s.empty(len(s.places))
	for i := range w.rays {
		r := &w.rays[i]
		w.depths[i].Weigh(s.places, r.towards, w.lift, s.w)
		switch r.part {
		case below:
			tally(s.skySeen, s.skyAll, s.w)
			w.throwBack(s.lights, s.w, r)
			w.grounds[0].weigh(s.places, r, s.w)
		case above:
			tally(s.skySeen, s.skyAll, s.w)
			w.throwBack(s.lights, s.w, r)
		case key:
			for j, v := range s.w {
				if v > 0 {
					s.lights[j].Key += v
					s.lights[j].Clear += v
				}
				s.keyAll[j] += max(v, -v)
			}
		}
		addRay(s.lights, s.w, r)
	}
	for j := range s.lights {
		l := &s.lights[j]
		l.Key /= float32(w.care.Key)
		l.Clear /= max(s.keyAll[j], 1e-6)
		l.Sky = s.skySeen[j] / max(s.skyAll[j], 1e-6)
	}
}

func (s *weights) empty(n int) {
	for _, p := range []*[]float32{&s.w, &s.keyAll, &s.skySeen, &s.skyAll} {
		if cap(*p) < n {
			*p = make([]float32, n)
		}
		*p = (*p)[:n]
		clear(*p)
	}
	if cap(s.lights) < n {
		s.lights = make([]look.Lit, n)
	}
	s.lights = s.lights[:n]
	clear(s.lights)
}

// addRay adds a direction's light where it gets through.
func addRay(out []look.Lit, weights []float32, r *ray) {
	for j, v := range weights {
		if v > 0 {
			out[j].Red += v * r.colour[0]
			out[j].Green += v * r.colour[1]
			out[j].Blue += v * r.colour[2]
		}
	}
}

// throwBack adds what comes from the piece itself where it hides the room.
func (w *work) throwBack(out []look.Lit, weights []float32, r *ray) {
	red, green, blue := r.colour[0]*w.bounce[0], r.colour[1]*w.bounce[1], r.colour[2]*w.bounce[2]
	for j, v := range weights {
		if v < 0 {
			out[j].Red -= v * red
			out[j].Green -= v * green
			out[j].Blue -= v * blue
		}
	}
}

// tally counts what could be seen of the room, and what is.
func tally(seen, all, weights []float32) {
	for j, v := range weights {
		seen[j] += max(v, 0)
		all[j] += max(v, -v)
	}
}

// through is how far along a ray from the floor beside the block the ray comes into it, 0 where it passes by.
func through(b *geom.Box, x, y float64, d geom.Vec) float32 {
	from, to := 1e-3, (b.Max.Z-b.Min.Z)/d.Z
	for _, a := range [2][4]float64{{x, d.X, b.Min.X, b.Max.X}, {y, d.Y, b.Min.Y, b.Max.Y}} {
		at, step, low, high := a[0], a[1], a[2], a[3]
		if step > -1e-12 && step < 1e-12 {
			if at < low || at > high {
				return 0
			}
			continue
		}
		t0, t1 := (low-at)/step, (high-at)/step
		from, to = max(from, min(t0, t1)), min(to, max(t0, t1))
	}
	if from >= to {
		return 0
	}
	return float32(from)
}
