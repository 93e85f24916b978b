package look

import (
	"context"
	"math"

	"grainstack/render/tone"
	"grainstack/slicing/par"
)

// stripes is the look of the stack against height at every fineness: level 0 holds it in thin bins, each next level is
// smoothed by a bell twice as wide and holds half as many, the last is the mean of all. A pixel that spans many veneers takes
// its colour from a coarse level, and no moiré can come up however small the picture is.
type stripes struct {
	cells  []cell
	levels []stripeLevel
	high   float64 // mm that the table spans
	bottom float64 // mm
	joint  float64 // mm: the thickest line between panels
	made   Dress   // what it was made for: the woods and layers of it
	reach  float64 // and how high they had to go
	spare  [2][]cell
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
	// finest is how many bins of level 0 two panels have, or as many times fewer as mostBins asks for: 1.5 MB.
	finest   = 4096
	mostBins = 1 << 15
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

// build makes the table for a dress on a piece so high, into the memory that it has; the same woods again cost nothing.
func (s *stripes) build(d *Dress, height float64) {
	height = within(height, farthest)
	if s.cells != nil && s.reach == height && s.made.sameWood(d) {
		return
	}
	s.made, s.reach = d.woodOnly(), height
	layers := d.stacked(height)
	s.layOut(d, layers)
	s.stack(d, layers)
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

// layOut chooses the bins and reserves the levels. At least one more panel at either end keeps the coarse levels, which close
// in a ring, from mixing top and bottom. A bin is finest's part of two panels of the usual wood, or so many doublings of it,
// and lies where the wood begins: what the sliders move keeps its softness.
func (s *stripes) layOut(d *Dress, layers []Layer) {
	first, last := &layers[0], &layers[len(layers)-1]
	s.joint = 0
	for i := range layers {
		w := d.wood(&layers[i])
		s.joint = max(s.joint, within(w.Joint, w.panel()))
	}
	room := max(d.wood(first).panel(), d.wood(last).panel())
	tall := last.Bottom + d.wood(last).panel() - first.Bottom
	usual := 2 * d.Wood.panel()
	bin, bins := usual/finest, finest
	for least := tall + 2*room + usual; bin*float64(bins) < least; {
		if bins < mostBins {
			bins *= 2
		} else {
			bin *= 2
		}
	}
	s.high = bin * float64(bins)
	low := first.Bottom - (s.high-usual-tall)/2
	from := d.Wood.bottom()
	s.bottom = from - usual*math.Ceil((from-low)/usual)
	s.reserve(bins)
}

// reserve makes the levels over so many bins and empties the finest.
func (s *stripes) reserve(bins int) {
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
func (s *stripes) bin() float64 { return s.high / float64(s.levels[0].count) }

// thickest bounds what is believed of a veneer, in mm.
const thickest = 1000

// thick is the veneer's thickness, 0 for one that cannot be.
func (v Veneer) thick() float64 { return within(v.Thickness, thickest) }

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
	l, e := w.Finish.over(long, w.Finish.Shift).Light(), w.Finish.over(end, w.Finish.EndShift).Light()
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

func (w *Wood) glueCell(t tone.Lab) cell {
	l := w.Finish.over(t, w.Finish.Shift).Light()
	return cell{l[0], l[1], l[2], 0, 0, 0, 0, 0, 0, 0, 0.5}
}

// chance varies a tone as veneers of one tree vary: about 2 in Lab from one surface to another (Buchelt & Wagenführ 2011,
// doi 10.1007/s00107-011-0545-z), so 1 to either side of the mean. A panel's veneers come from one log and share half of it.
func (w *Wood) chance(panel, veneer int, t tone.Lab) tone.Lab {
	if w.Seed == 0 {
		return t
	}
	log := scramble(w.Seed ^ uint32(panel)*0x9e3779b9 ^ 0x51ed270b)
	own := scramble(w.Seed ^ uint32(panel)*0x9e3779b9 ^ uint32(veneer)*0x85ebca6b)
	vary := func(size float64, shift int) float64 { return size * (0.4*signed(log>>shift) + 0.6*signed(own>>shift)) }
	return tone.Lab{t[0] + vary(1.7, 0), t[1] + vary(0.35, 8), t[2] + vary(1.0, 16)}
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

// smooth makes all levels from the painted bins.
func (s *stripes) smooth() {
	bins := s.levels[0].count
	base := s.cells[:bins]
	s.spare[0], s.spare[1] = sized(s.spare[0], bins), sized(s.spare[1], bins)
	spare, wider := s.spare[0], s.spare[1]
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

// meanSpan is how many bins are averaged in one go. It is fixed, so that the sums round alike on every machine.
const meanSpan = 1 << 12

// runningMean averages each cell with its radius neighbours to either side, round the ring.
func runningMean(to, from []cell, radius int) {
	_ = par.Spans(context.Background(), len(from), meanSpan, func(a, b int) { meanOf(to, from, radius, a, b) })
}

func meanOf(to, from []cell, radius, a, b int) {
	n := len(from)
	var sum [11]float64
	for i := a - radius; i <= a+radius; i++ {
		for k := range sum {
			sum[k] += float64(from[(i+2*n)%n][k])
		}
	}
	f := 1 / float64(2*radius+1)
	enter, leave := (a+radius+1)%n, (2*n+a-radius)%n
	for i := a; i < b; i++ {
		in, out, at := &from[enter], &from[leave], &to[i]
		for k := range sum {
			at[k] = float32(sum[k] * f)
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
	scale, shift float32 // height in mm to parts of the table
	fineness     float32 // mm of a pixel's height span to bins of level 0
	last         int
}

func (s *stripes) reader() reader {
	return reader{
		cells: s.cells, levels: s.levels, last: len(s.levels) - 1,
		scale: float32(1 / s.high), shift: float32(-s.bottom / s.high),
		fineness: float32(softness / sigma / s.bin()),
	}
}

// at is the pair of cells for height h in mm on a pixel that spans foot mm of height, and the share of the second.
func (r *reader) at(h, foot float32) (a, b *cell, share float32) {
	t := h*r.scale + r.shift
	if !(t >= 0 && t < 1) { // no number, or out of all bounds
		t = 0
	}
	m := max(foot*r.fineness, 1)
	bits := math.Float32bits(m)
	level := min(int(bits>>23)-127, r.last)
	share = float32(bits&(1<<23-1)) * (1.0 / (1 << 23))
	i, j := r.levels[level], r.levels[min(level+1, r.last)]
	return &r.cells[i.first+int(t*float32(i.count))], &r.cells[j.first+int(t*float32(j.count))], share
}
