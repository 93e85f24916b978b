package look

import (
	"math"

	"grainstack/render/tone"
)

// stripes is the look of the stack against height, over one period (one panel, or two where they alternate), at every
// fineness: level 0 holds it in bins of period/4096, each next level is smoothed by a bell twice as wide and holds half as
// many, the last is the mean of all. A pixel that spans many veneers takes its colour from a coarse level, and no moiré can
// come up however small the picture is.
type stripes struct {
	cells  []cell
	levels []stripeLevel
	period float64 // mm
	bottom float64 // mm
	panels int     // told apart by tint within a period; 0 where the cells hold the tint already
	joint  float64 // mm: the thickest line between panels
	made   Dress   // what it was made for: the woods and layers of it
}

type stripeLevel struct{ first, count int }

// A cell is the mean over a range of heights: linear light of long grain, what end grain adds for fibres along X and for
// fibres along Y, the share of veneers along X, and the share that is wood and not glue.
type cell [12]float32

const (
	cellX    = 3
	cellY    = 6
	cellRun  = 9
	cellWood = 10
)

const (
	finest = 4096 // bins of level 0 over one period; a mixed stack has more
	// sigma is the width (standard deviation) of each level's bell in its own bins. Two running means of 5 bins make it for
	// level 0, three of 7 bins widen one level's bell to twice its width: variances (25-1)/12·2 = 4, (49-1)/12·3 = 12 = 16-4.
	sigma = 2
	// softness is the bell's width in parts of the height that a pixel spans.
	softness = 0.5
)

// lead of the glue between veneers (a dark phenolic film, thin enough to let wood through) and between panels (brown where
// the joint was closed). Common practice, no source.
var (
	filmTone  = tone.Lab{46, 11, 20}
	jointTone = tone.Lab{40, 10, 17}
)

// build makes the table for a dress, into the memory that it has; the same woods again cost nothing.
func (s *stripes) build(d *Dress) {
	if s.cells != nil && s.made.sameWood(d) {
		return
	}
	s.made = d.woodOnly()
	if len(d.Layers) > 0 {
		s.buildMixed(&s.made)
		return
	}
	w := &d.Wood
	panel := w.panel()
	s.panels = 1
	if w.Alternate {
		s.panels = 2
	}
	s.period, s.bottom, s.joint = panel*float64(s.panels), w.Bottom, within(w.Joint, panel)
	s.layOut(finest)
	s.paint(w, panel)
	s.smooth()
}

// panel is the thickness of one panel in mm.
func (w *Wood) panel() float64 {
	panel := 0.0
	for _, v := range w.Veneers {
		panel += v.thick()
	}
	if !(panel > 0) {
		return 1
	}
	return panel
}

// layOut reserves the levels over so many bins and empties the finest.
func (s *stripes) layOut(bins int) {
	if len(s.levels) == 0 || s.levels[0].count != bins {
		s.levels = s.levels[:0]
		n := 0
		for count := bins; count >= 8; count /= 2 {
			s.levels = append(s.levels, stripeLevel{n, count})
			n += count
		}
		s.levels = append(s.levels, stripeLevel{n, 1})
		s.cells = sized(s.cells, n+1)
	}
	clear(s.cells[:bins])
}

// bin is the height of a bin of level 0 in mm.
func (s *stripes) bin() float64 { return s.period / float64(s.levels[0].count) }

// paint fills level 0, not yet smoothed.
func (s *stripes) paint(w *Wood, panel float64) {
	for p := range s.panels {
		z := panel * float64(p)
		turned := w.Turned != (p == 1)
		for i, v := range w.Veneers {
			s.lay(z, z+v.thick(), w.plyCell(p, i, v.Along != turned))
			z += v.thick()
		}
	}
	glue, gap := within(w.GlueLine, panel)/2, within(w.Joint, panel)/2
	film, joint := glueCell(filmTone, w.Coat), glueCell(jointTone, w.Coat)
	for p := range s.panels {
		z := panel * float64(p)
		s.lay(z-gap, z+gap, joint)
		for _, v := range w.Veneers[:max(0, len(w.Veneers)-1)] {
			z += v.thick()
			s.lay(z-glue, z+glue, film)
		}
	}
}

// thickest bounds what is believed of a veneer, in mm.
const thickest = 1000

// thick is the veneer's thickness, 0 for one that cannot be.
func (v Veneer) thick() float64 { return within(v.Thickness, thickest) }

// within is f, 0 where it is below 0 or no number, and at most top.
func within(f, top float64) float64 {
	if !(f > 0) {
		return 0
	}
	return min(f, top)
}

// lay paints heights from..to over what is there; a bin that is partly covered is mixed.
func (s *stripes) lay(from, to float64, c cell) {
	bin, bins := s.bin(), s.levels[0].count
	a, b := from/bin, min(to/bin, from/bin+float64(bins))
	for i := int(math.Floor(a)); float64(i) < b; i++ {
		share := float32(min(b, float64(i)+1) - max(a, float64(i)))
		at := &s.cells[((i%bins)+bins)%bins]
		if at[11] < 1 { // nothing solid here yet: add up
			for k := range at {
				at[k] += share * c[k]
			}
			at[11] += share
			if at[11] > 0.9999 {
				at[11] = 1
			}
			continue
		}
		for k := range 11 {
			at[k] += share * (c[k] - at[k])
		}
	}
}

// plyCell is the look of one veneer.
func (w *Wood) plyCell(panel, i int, alongX bool) cell {
	v := w.Veneers[i]
	long, end := w.chance(panel, i, v.Long), w.chance(panel, i, v.End)
	l, e := Coated(long, w.Coat).Light(), coatedEnd(end, w.Coat).Light()
	c := cell{l[0], l[1], l[2]}
	at := cellY
	if alongX {
		at = cellX
		c[cellRun] = 1
	}
	c[at], c[at+1], c[at+2] = e[0]-l[0], e[1]-l[1], e[2]-l[2]
	c[cellWood] = 1
	return c
}

func glueCell(t tone.Lab, coat float64) cell {
	l := Coated(t, coat).Light()
	return cell{l[0], l[1], l[2], 0, 0, 0, 0, 0, 0, 0.5}
}

// chance varies a tone as veneers of one tree vary: about 2 in Lab from one surface to another (Buchelt & Wagenführ 2011,
// doi 10.1007/s00107-011-0545-z), so 1 to either side of the mean.
func (w *Wood) chance(panel, veneer int, t tone.Lab) tone.Lab {
	if w.Seed == 0 {
		return t
	}
	h := scramble(w.Seed ^ uint32(panel)*0x9e3779b9 ^ uint32(veneer)*0x85ebca6b)
	return tone.Lab{t[0] + 1.3*signed(h), t[1] + 0.3*signed(h>>8), t[2] + 1.0*signed(h>>16)}
}

// signed makes -1 to 1 of the lowest byte.
func signed(h uint32) float64 { return float64(h&255)/127.5 - 1 }

// scramble spreads the bits of a number (a multiply and shift finaliser).
func scramble(h uint32) uint32 {
	h ^= h >> 16
	h *= 0x7feb352d
	h ^= h >> 15
	h *= 0x846ca68b
	return h ^ h>>16
}

// Coated is the tone under clear varnish, coat 0 (bare) to 1: darker, richer, and dark wood darkened more than light wood
// (Tashiro & Nakamura, J. Soc. Mater. Sci. Japan 62(4), 2013, for the direction; the size, 5 in lightness for birch, is from
// memory).
func Coated(t tone.Lab, coat float64) tone.Lab {
	return tone.Lab{t[0] - coat*(5+0.22*max(0, 82-t[0])), t[1]*(1+0.2*coat) + 0.5*coat, t[2]*(1+0.45*coat) + 2.5*coat}
}

// coatedEnd is end grain under varnish: open fibres drink it and darken more. The size, 3 in lightness, is from memory.
func coatedEnd(t tone.Lab, coat float64) tone.Lab {
	c := Coated(t, coat)
	c[0] -= 3 * coat
	return c
}

// smooth makes all levels from the painted bins.
func (s *stripes) smooth() {
	bins := s.levels[0].count
	base := s.cells[:bins]
	spare, wider := make([]cell, bins), make([]cell, bins)
	runningMean(spare, base, 2)
	runningMean(base, spare, 2)
	for i := 1; i < len(s.levels)-1; i++ {
		a, b := s.levels[i-1], s.levels[i]
		from, to := s.cells[a.first:a.first+a.count], s.cells[b.first:b.first+b.count]
		wide, wider := spare[:a.count], wider[:a.count]
		runningMean(wide, from, 3)
		runningMean(wider, wide, 3)
		runningMean(wide, wider, 3)
		for j := range to {
			for k := range to[j] {
				to[j][k] = (wide[2*j][k] + wide[2*j+1][k]) / 2
			}
		}
	}
	s.cells[len(s.cells)-1] = meanCell(base)
}

func meanCell(cells []cell) (c cell) {
	var sum [12]float64
	for i := range cells {
		for k := range sum {
			sum[k] += float64(cells[i][k])
		}
	}
	for k := range sum {
		c[k] = float32(sum[k] / float64(len(cells)))
	}
	return c
}

// runningMean averages each cell with its radius neighbours to either side, round the period.
func runningMean(to, from []cell, radius int) {
	n := len(from)
	var sum [12]float64
	for i := -radius; i <= radius; i++ {
		for k := range sum {
			sum[k] += float64(from[(i+2*n)%n][k])
		}
	}
	f := 1 / float64(2*radius+1)
	enter, leave := (radius+1)%n, (2*n-radius)%n
	for i := range to {
		in, out := &from[enter], &from[leave]
		for k := range sum {
			to[i][k] = float32(sum[k] * f)
			sum[k] += float64(in[k]) - float64(out[k])
		}
		if enter++; enter == n {
			enter = 0
		}
		if leave++; leave == n {
			leave = 0
		}
	}
}

// reader is the table made ready for one picture.
type reader struct {
	cells        []cell
	levels       []stripeLevel
	scale, shift float32 // height in mm to periods
	fineness     float32 // mm of a pixel's height span to bins of level 0
	last         int
}

// offset keeps heights positive before they are cut to whole periods.
const offset = 1 << 12

func (s *stripes) reader() reader {
	before := float64(offset)
	if s.panels == 0 { // a mixed stack lies within its one period, and would lose places of its heights
		before = 0
	}
	return reader{
		cells: s.cells, levels: s.levels, last: len(s.levels) - 1,
		scale: float32(1 / s.period), shift: float32(before - s.bottom/s.period),
		fineness: float32(softness / sigma / s.bin()),
	}
}

// at is the pair of cells for height h in mm on a pixel that spans foot mm of height, the share of the second, and which
// panel it is, counted within 2·offset.
func (r *reader) at(h, foot float32) (a, b *cell, share float32, turn float32) {
	t := h*r.scale + r.shift
	turn = t
	t -= float32(int32(t))
	if !(t >= 0 && t < 1) { // no number, or out of all bounds
		t = 0
	}
	m := max(foot*r.fineness, 1)
	bits := math.Float32bits(m)
	level := min(int(bits>>23)-127, r.last)
	share = float32(bits&(1<<23-1)) * (1.0 / (1 << 23))
	i, j := r.levels[level], r.levels[min(level+1, r.last)]
	return &r.cells[i.first+int(t*float32(i.count))], &r.cells[j.first+int(t*float32(j.count))], share, turn
}
