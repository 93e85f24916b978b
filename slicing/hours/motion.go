package hours

import (
	"math"

	"grainstack/slicing/stock"
)

// A place is where the tip is: x and y on the panel, z above its far face; or a way from one place to another.
type place struct{ x, y, z float64 }

func (p place) less(q place) place { return place{p.x - q.x, p.y - q.y, p.z - q.z} }

// A limit is what the machine and the cutter allow, in mm, mm/s and mm/s².
type limit struct {
	feed          float64 // asked for along the path
	feedXY, feedZ float64 // most along the panel and up
	plunge        float64 // most down
	rapid, rapidZ float64
	accel, accelZ float64
	junction      float64
	safe          float64 // height for moves between cuts
}

func (s Setup) limit(c stock.Cutter, safe float64) limit {
	m := s.Machine
	l := limit{
		feed: min(c.FeedMmMin, m.FeedMmMin) / 60, feedXY: m.FeedMmMin / 60, feedZ: m.FeedZMmMin / 60,
		plunge: min(c.PlungeMmMin, m.FeedZMmMin) / 60,
		rapid:  m.RapidMmMin / 60, rapidZ: m.RapidZMmMin / 60,
		accel: m.AccelMmS2, accelZ: m.AccelZMmS2, junction: m.Junction, safe: safe,
	}
	if !(l.accelZ > 0) {
		l.accelZ = l.accel
	}
	return l
}

// A stretch is one straight piece of a path.
type stretch struct {
	length float64
	cruise float64 // most speed that the way it points allows
	accel  float64 // along it
	enter  float64 // square of the most speed at its start
}

// A motion sums up the time of a cutter's path. Cuts are one unbroken motion until the cutter is lifted: speed follows a
// trapezoidal profile on each straight stretch, and no corner is taken faster than its stretches can be braked for. The
// speed through a corner is v² = a·δ·s/(1-s), s = sin(θ/2), θ the angle between the two stretches (180° straight on), δ the
// junction deviation (Jeon, technical note on cornering, 2011; from memory).
type motion struct {
	limit
	at       place
	way      place // unit vector of the last stretch
	path     []stretch
	mm, s    float64 // cut, and all time
	fast     float64 // mm that no wood is cut on
	retracts int
	cuts     func(from, to place)          // told every move through wood; may be nil
	put      func(to place, speed float64) // told every move, mm/s; 0 for one that goes as fast as the machine can. May be nil
}

// to cuts straight on to p.
func (m *motion) to(p place) {
	d := p.less(m.at)
	flat := d.x*d.x + d.y*d.y
	length := math.Sqrt(flat + d.z*d.z)
	if !(length > 0) {
		return
	}
	if m.cuts != nil {
		m.cuts(m.at, p)
	}
	m.at = p
	way := place{d.x / length, d.y / length, d.z / length}
	cruise, accel := m.feed, m.accel
	if way.z != 0 {
		cruise, accel = m.slanting(way, math.Sqrt(flat)/length)
	}
	st := stretch{length: length, cruise: cruise, accel: accel}
	if n := len(m.path); n > 0 {
		last := &m.path[n-1]
		st.enter = m.corner(way, min(accel, last.accel), min(cruise, last.cruise))
	}
	m.way = way
	m.path = append(m.path, st)
	if m.put != nil {
		if way.z > 0 {
			cruise = m.feed // the machine keeps to its own limits
		}
		m.put(p, cruise)
	}
}

// slanting is the speed and the acceleration that a way up or down leaves; flat is its share along the panel.
func (m *motion) slanting(way place, flat float64) (cruise, accel float64) {
	rise, most := way.z, m.feedZ
	if rise < 0 {
		rise, most = -rise, m.plunge
	}
	cruise, accel = min(m.feed, most/rise), m.accelZ/rise
	if flat > 0 {
		cruise, accel = min(cruise, m.feedXY/flat), min(accel, m.accel/flat)
	}
	return cruise, accel
}

// corner is the square of the most speed from the way at hand into another.
func (m *motion) corner(way place, accel, cruise float64) float64 {
	most := cruise * cruise
	cos := m.way.x*way.x + m.way.y*way.y + m.way.z*way.z // 1 is straight on
	if cos > 1-1e-9 {
		return most
	}
	s := math.Sqrt(max(0.5*(1+cos), 0))
	return min(most, accel*m.junction*s/(1-s))
}

// stop ends the unbroken motion: the cutter stands still.
func (m *motion) stop() {
	next := 0.0
	for i := len(m.path) - 1; i >= 0; i-- {
		st := &m.path[i]
		st.enter = min(st.enter, next+2*st.accel*st.length)
		next = st.enter
	}
	v, v2 := 0.0, 0.0
	for i := range m.path {
		st := &m.path[i]
		out, out2 := 0.0, 0.0
		if i+1 < len(m.path) {
			out2 = min(m.path[i+1].enter, v2+2*st.accel*st.length)
			out = math.Sqrt(out2)
		}
		m.s += st.seconds(v, v2, out, out2)
		m.mm += st.length
		v, v2 = out, out2
	}
	m.path = m.path[:0]
}

// seconds is the time of a stretch entered at speed v and left at speed w, both reachable; v2 and w2 are their squares.
func (st *stretch) seconds(v, v2, w, w2 float64) float64 {
	c, a := st.cruise, st.accel
	if top := a*st.length + (v2+w2)/2; top < c*c {
		return (2*math.Sqrt(top) - v - w) / a
	}
	return (2*c-v-w)/a + (st.length-(2*c*c-v2-w2)/(2*a))/c
}

// hop lifts the cutter to the safe height, goes across at rapid, comes down at rapid to the height down and from there to p
// at the plunge feed.
func (m *motion) hop(p place, down float64) {
	m.lift()
	m.rapidTo(place{p.x, p.y, m.safe})
	m.rapidTo(place{p.x, p.y, min(max(down, p.z), m.safe)})
	deep := m.at.z - p.z
	m.s += Move(deep, m.plunge, m.accelZ)
	m.mm += deep
	if m.cuts != nil && deep > 0 {
		m.cuts(m.at, p)
	}
	if m.at = p; m.put != nil && deep > 0 {
		m.put(p, m.plunge)
	}
}

// rapidTo goes straight on without cutting, along the panel or up and down.
func (m *motion) rapidTo(p place) {
	d := p.less(m.at)
	flat := math.Hypot(d.x, d.y)
	m.s += Move(flat, m.rapid, m.accel) + Move(math.Abs(d.z), m.rapidZ, m.accelZ)
	m.fast += flat + math.Abs(d.z)
	if m.at = p; m.put != nil && d != (place{}) {
		m.put(p, 0)
	}
}

// lift takes the cutter to the safe height; it is counted where there is a way to go.
func (m *motion) lift() {
	m.stop()
	if m.at.z < m.safe {
		m.rapidTo(place{m.at.x, m.at.y, m.safe})
		m.retracts++
	}
}
