package hours

import (
	"math"
	"math/rand/v2"
	"testing"

	"grainstack/slicing/plane"
)

// machine is 40 mm/s with 400 mm/s² along the panel, 20 mm/s up, 10 mm/s down with 200 mm/s².
func machine() limit {
	return limit{feed: 40, feedXY: 60, feedZ: 20, plunge: 10, rapid: 100, rapidZ: 50, accel: 400, accelZ: 200, junction: 0.01, safe: 25}
}

func along(l limit, places ...place) *motion {
	m := &motion{limit: l, at: places[0]}
	for _, p := range places[1:] {
		m.to(p)
	}
	m.stop()
	return m
}

func close(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s: got %.6f, want %.6f", what, got, want)
	}
}

// Straight moves against the trapezoidal profile: 100 mm at 40 mm/s and 400 mm/s² take L/v + v/a = 2.60 s, 1 mm 2√(L/a) = 0.10 s
// (standard kinematics); cut into pieces they take as long.
func TestStraight(t *testing.T) {
	l := machine()
	close(t, "100 mm", along(l, place{}, place{x: 100}).s, 2.60, 1e-9)
	close(t, "1 mm", along(l, place{}, place{y: 1}).s, 0.10, 1e-9)
	close(t, "10 mm up", along(l, place{}, place{z: 10}).s, Move(10, 20, 200), 1e-9)
	close(t, "10 mm down", along(l, place{z: 10}, place{}).s, Move(10, 10, 200), 1e-9)
	pieces := []place{{}}
	for i := range 40 {
		pieces = append(pieces, place{x: 2.5 * float64(i+1)})
	}
	close(t, "100 mm in pieces", along(l, pieces...).s, 2.60, 1e-9)
	// A slope of 45°: speed and acceleration upwards are those of Z over sin 45°, capped by the feed.
	close(t, "slope up", along(l, place{}, place{x: 50, z: 50}).s, Move(50*math.Sqrt2, 20*math.Sqrt2, 200*math.Sqrt2), 1e-9)
}

// A square corner at δ = 0.01 mm and 400 mm/s² is taken at √(a·δ·s/(1-s)), s = sin 45°: 3.11 mm/s (worked out by hand).
func TestCorner(t *testing.T) {
	l := machine()
	s := math.Sqrt(0.5)
	v := math.Sqrt(400 * 0.01 * s / (1 - s))
	close(t, "corner speed", v, 3.11, 0.005)
	// Each leg of 50 mm: from rest to full speed and down to the corner's.
	leg := 40.0/400 + (40-v)/400 + (50-(40*40.0/800+(40*40-v*v)/800))/40
	close(t, "two legs", along(l, place{}, place{x: 50}, place{x: 50, y: 50}).s, 2*leg, 1e-9)
	// Straight back: the cutter stands still.
	close(t, "there and back", along(l, place{}, place{x: 50}, place{}).s, 2*Move(50, 40, 400), 1e-9)
}

// Zigzags of 60° legs too short for full speed: from corner speed to corner speed at full acceleration.
func TestZigzag(t *testing.T) {
	l := machine()
	places := []place{{}}
	const legs, d = 21, 0.5
	for i := range legs {
		p := places[i]
		places = append(places, place{p.x + d/2, p.y + d*math.Sqrt(3)/2*float64(1-2*(i%2)), 0})
	}
	s := math.Sin(math.Pi / 6) // legs meet at 60°
	v := math.Sqrt(400 * 0.01 * s / (1 - s))
	inner := 2 * (math.Sqrt(400*d+v*v) - v) / 400
	outer := (2*math.Sqrt((2*400*d+v*v)/2) - v) / 400
	close(t, "zigzag", along(l, places...).s, (legs-2)*inner+2*outer, 1e-9)
}

// twin is the time of a path walked in tiny steps, each as fast as braking for all that is ahead allows.
func twin(l limit, places []place, h float64) float64 {
	var limits, accel []float64 // squares of the most speed at each knot
	m := motion{limit: l, at: places[0]}
	for _, p := range places[1:] {
		m.to(p)
	}
	var cruise []float64
	for _, st := range m.path {
		n := int(math.Ceil(st.length / h))
		for k := range n {
			most := st.cruise * st.cruise
			if k == 0 {
				most = st.enter
			}
			limits, accel, cruise = append(limits, most), append(accel, st.accel*st.length/float64(n)), append(cruise, st.length/float64(n))
		}
	}
	limits = append(limits, 0)
	for i := len(accel) - 1; i >= 0; i-- {
		limits[i] = min(limits[i], limits[i+1]+2*accel[i])
	}
	s := 0.0
	for i := range accel {
		limits[i+1] = min(limits[i+1], limits[i]+2*accel[i])
		s += 2 * cruise[i] / (math.Sqrt(limits[i]) + math.Sqrt(limits[i+1]))
	}
	return s
}

func wander(rnd *rand.Rand, n int) []place {
	places := []place{{}}
	for range n {
		p := places[len(places)-1]
		d := math.Exp(rnd.NormFloat64())
		places = append(places, place{p.x + d*rnd.NormFloat64(), p.y + d*rnd.NormFloat64(), p.z + 0.5*d*rnd.NormFloat64()})
	}
	return places
}

// Stretches at once against the same path in tiny steps.
func TestAgainstTwin(t *testing.T) {
	rnd := rand.New(rand.NewPCG(3, 5))
	for range 20 {
		places := wander(rnd, 60)
		got, want := along(machine(), places...).s, twin(machine(), places, 1e-3)
		if math.Abs(got/want-1) > 2e-3 {
			t.Errorf("got %.5f s, walked in steps %.5f s", got, want)
		}
	}
}

// Backwards, with the same limits up and down, a path takes as long.
func TestBackwards(t *testing.T) {
	rnd := rand.New(rand.NewPCG(8, 13))
	l := machine()
	l.plunge = l.feedZ
	for range 20 {
		places := wander(rnd, 50)
		back := make([]place, len(places))
		for i, p := range places {
			back[len(places)-1-i] = p
		}
		close(t, "backwards", along(l, back...).s, along(l, places...).s, 1e-6)
	}
}

// More of anything that the machine can do never makes a path slower.
func TestMotionNeverSlower(t *testing.T) {
	rnd := rand.New(rand.NewPCG(21, 34))
	more := map[string]func(*limit, float64){
		"feed": func(l *limit, k float64) { l.feed *= k }, "most feed": func(l *limit, k float64) { l.feedXY *= k },
		"feed up": func(l *limit, k float64) { l.feedZ *= k }, "plunge": func(l *limit, k float64) { l.plunge *= k },
		"acceleration": func(l *limit, k float64) { l.accel *= k }, "acceleration up": func(l *limit, k float64) { l.accelZ *= k },
		"junction": func(l *limit, k float64) { l.junction *= k },
	}
	for range 50 {
		places := wander(rnd, 80)
		before := along(machine(), places...).s
		for name, change := range more {
			l := machine()
			change(&l, 1+2*rnd.Float64())
			if after := along(l, places...).s; after > before*(1+1e-12) {
				t.Errorf("more %s: %.6f s becomes %.6f s", name, before, after)
			}
		}
	}
}

// plate is a ground of so many steps with given tip heights, both cutters free to go everywhere.
func plate(w, h int, step float64, z func(x, y float64) float64) *Ground {
	g := &Ground{Step: step, W: w, H: h, Thickness: 20, Rough: make([]float32, w*h), Finish: make([]float32, w*h)}
	for j := range h {
		for i := range w {
			g.Finish[j*w+i] = float32(z(float64(i)*step, float64(j)*step))
			g.Rough[j*w+i] = g.Finish[j*w+i]
		}
	}
	var none plane.Mask
	none.Reset(w, h)
	g.mayFinish.Complement(&none)
	g.mayRough.Complement(&none)
	return g
}

// finished is the path and time of the finish rows over a ground.
func finished(t *testing.T, g *Ground, over float64) *worker {
	t.Helper()
	var w worker
	w.ready(t.Context(), g, Setup{})
	w.setup.Finish.Stepover, w.setup.Rough.Stepdown = over, 3
	w.begin(machine(), w.middle())
	w.finish()
	w.stop()
	return &w
}

// landed is how far the first plunge goes at the plunge feed, where the rough pass may have left a stepdown.
func landed(g *Ground, z float64) float64 { return min(z+3, g.Thickness) + landing - z }

// A flat rectangle: n rows of length L and n-1 steps between them; every corner is square.
func TestFlatRectangle(t *testing.T) {
	const over, step, length, rows = 0.4, 0.5, 100.0, 125
	g := plate(201, 101, step, func(x, y float64) float64 { return 20 })
	w := finished(t, g, over)
	close(t, "way", w.mm, rows*length+(rows-1)*over+landed(g, 20), 1e-6)
	s := math.Sqrt(0.5)
	v := math.Sqrt(400 * 0.01 * s / (1 - s))
	row := 2*(40-v)/400 + (length-(40*40-v*v)/400)/40
	between := 2 * (math.Sqrt(400*over+v*v) - v) / 400
	ends := 2 * (v/400 - v*v/800/40) // the path begins and ends at rest: v/a more, less what is gone meanwhile
	first := Move(landing, 10, 200) + Move(25-21, 50, 200) + Move(math.Hypot(100-201*0.25, 124.5*over-101*0.25), 100, 400)
	close(t, "time", w.s, rows*row+(rows-1)*between+ends+first, 1e-3)
	if w.retracts != 0 {
		t.Errorf("lifted %d times", w.retracts)
	}
}

// A ramp of 30° along the rows: each row is longer by 1/cos 30°, and cut no faster than plunge or rise allow.
func TestRamp(t *testing.T) {
	const over, step, length, rows = 0.4, 0.5, 100.0, 125
	tan := math.Tan(math.Pi / 6)
	g := plate(201, 101, step, func(x, y float64) float64 { return 20 - (length-x)*tan })
	w := finished(t, g, over)
	way := length / math.Cos(math.Pi/6)
	close(t, "way", w.mm, rows*way+(rows-1)*over+landed(g, 20), 0.01)
	// sin 30° = 0.5: down at 20 mm/s, up at 40 mm/s; acceleration the less of 400/cos 30° and 200/sin 30°.
	want := rows/2*(Move(way, 20, 400)+Move(way, 40, 400)) + (rows-1)*Move(over, 40, 400)
	if math.Abs(w.s/want-1) > 0.01 { // corners are not quite rests, and the cutter has to come down first
		t.Errorf("time: got %.1f s, want about %.1f s", w.s, want)
	}
}

// A half sphere of radius R under a tip that touches it only from above: rows over it have the length Σ πρ, ρ² = R² - y², in the
// limit π²R²/2 over the stepover; the flat round it adds what rows leave.
func TestHalfSphere(t *testing.T) {
	const over, step, radius, wide = 0.4, 0.25, 40.0, 100.0
	g := plate(401, 401, step, func(x, y float64) float64 {
		return math.Sqrt(max(radius*radius-(x-wide/2)*(x-wide/2)-(y-wide/2)*(y-wide/2), 0))
	})
	g.Thickness = radius
	l := machine()
	l.safe = radius + 5
	w := finished(t, g, over)
	want := (math.Pi*math.Pi*radius*radius/2 + wide*wide - math.Pi*radius*radius) / over
	if off := w.mm/want - 1; math.Abs(off) > 0.005 {
		t.Errorf("way: got %.0f mm, want %.0f mm", w.mm, want)
	} else {
		t.Logf("way: %.0f mm, off by %.3f %%", w.mm, off*100)
	}
}
