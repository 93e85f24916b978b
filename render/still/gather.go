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
	blocked  bool // there is a plinth
	floor    floor
	bounce   [3]float32 // what the piece throws back of the room's light, where it hides the room
	scratch  sync.Pool  // of *weights
	progress func(float64)
	done     float64
	all      float64
}

type weights struct{ w, keyAll, skySeen, skyAll []float32 }

// stripWeight is the time that a strip takes in parts of that of one direction of light, roughly.
const stripWeight = 6

// liftCells is how far places are lifted off the surface, in cells of what a light sees: with less, the surface shades itself
// in bands.
const liftCells = 1.5

// bounced is how bright the piece is where it hides the room, against the room, apart from its colour: walls of a corner lie
// in half shadow themselves. underside is the part of it that the ground sees. Both by eye.
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
	w.all = float64(c.Looks) * float64(len(w.depths)+strips*stripWeight)
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
	w.floor = w.lightFloor()
	return nil
}

// gather adds up the light of all directions on places.
func (w *work) gather(places []look.Place, out []look.Lit) { w.from(places, out, true) }

// from is gather, with or without what the floor throws back.
func (w *work) from(places []look.Place, out []look.Lit, floor bool) {
	s := w.scratch.Get().(*weights)
	defer w.scratch.Put(s)
	s.empty(len(places))
	clear(out)
	for i := range w.rays {
		r := &w.rays[i]
		if r.part == below && !floor {
			continue
		}
		w.depths[i].Weigh(places, r.towards, w.lift, s.w)
		if w.blocked && r.part != below {
			w.shadePlinth(places, r, s.w)
		}
		switch r.part {
		case below:
			tally(s.skySeen, s.skyAll, s.w)
			w.throwBack(places, out, s.w, r)
			w.floor.weigh(places, r, s)
			add(out, s.w, r)
		case above:
			tally(s.skySeen, s.skyAll, s.w)
			w.throwBack(places, out, s.w, r)
			add(out, s.w, r)
		case key:
			for j, v := range s.w {
				if v > 0 {
					out[j].Key += v
					out[j].Clear += v
				}
				s.keyAll[j] += max(v, -v)
			}
			add(out, s.w, r)
		default:
			add(out, s.w, r)
		}
	}
	for j := range out {
		l := &out[j]
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
}

// add adds a direction's light where it gets through.
func add(out []look.Lit, weights []float32, r *ray) {
	for j, v := range weights {
		if v > 0 {
			out[j].Red += v * r.colour[0]
			out[j].Green += v * r.colour[1]
			out[j].Blue += v * r.colour[2]
		}
	}
}

// throwBack adds what comes from the piece itself where it hides the room.
// The ground gets less of it: what it sees are the dark undersides.
func (w *work) throwBack(places []look.Place, out []look.Lit, weights []float32, r *ray) {
	red, green, blue := r.colour[0]*w.bounce[0], r.colour[1]*w.bounce[1], r.colour[2]*w.bounce[2]
	for j, v := range weights {
		if v < 0 {
			if places[j].Ground {
				v *= underside
			}
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

// shadePlinth takes the light from the floor's places that the plinth hides it from.
func (w *work) shadePlinth(places []look.Place, r *ray, weights []float32) {
	b := &w.block
	if r.towards.Z <= 0 {
		return
	}
	for j := range places {
		p := &places[j]
		if weights[j] <= 0 || !p.Ground || p.NZ < 0.5 || float64(p.Z) > b.Min.Z+1e-3 {
			continue
		}
		if through(b, float64(p.X), float64(p.Y), r.towards) {
			weights[j] = -weights[j]
		}
	}
}

// through reports whether a ray from the floor beside the block passes through it.
func through(b *geom.Box, x, y float64, d geom.Vec) bool {
	from, to := 1e-9, (b.Max.Z-b.Min.Z)/d.Z
	for _, a := range [2][4]float64{{x, d.X, b.Min.X, b.Max.X}, {y, d.Y, b.Min.Y, b.Max.Y}} {
		at, step, low, high := a[0], a[1], a[2], a[3]
		if step > -1e-12 && step < 1e-12 {
			if at < low || at > high {
				return false
			}
			continue
		}
		t0, t1 := (low-at)/step, (high-at)/step
		from, to = max(from, min(t0, t1)), min(to, max(t0, t1))
	}
	return from < to
}
