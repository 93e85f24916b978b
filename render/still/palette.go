package still

import (
	"cmp"
	"context"
	"image"
	"image/color"
	"math"
	"slices"

	"grainstack/slicing/par"
)

// A palette is up to 255 colours for all pictures of a film, with a table that finds the nearest.
type palette struct {
	colours []color.RGBA
	nearest [1 << (3 * cubeBits)]uint8
	spread  float32 // how far the ordered pattern moves a colour: about the gap between neighbours, in steps of a byte
}

// cubeBits is how many bits of each channel the palette tells apart.
const cubeBits = 6

// mostColours leaves one of 256 for what has not changed.
const mostColours = 255

// A census counts the colours of pictures.
type census [1 << (3 * cubeBits)]struct{ n, r, g, b uint64 }

func (c *census) add(img *image.RGBA) {
	for i := 0; i < len(img.Pix); i += 4 {
		p := img.Pix[i : i+3 : i+3]
		at := &c[cube(p[0], p[1], p[2])]
		at.n, at.r, at.g, at.b = at.n+1, at.r+uint64(p[0]), at.g+uint64(p[1]), at.b+uint64(p[2])
	}
}

func cube(r, g, b uint8) int {
	const off = 8 - cubeBits
	return int(r>>off)<<(2*cubeBits) | int(g>>off)<<cubeBits | int(b>>off)
}

// A hue is one colour of the census: its channels and how often it was met.
type hue struct {
	c [3]float64
	n float64
}

// palette chooses the colours by median cut: the box of colours that is worst served is halved at its median until there are
// enough.
func (c *census) palette() *palette {
	var all []hue
	for _, e := range c {
		if n := float64(e.n); n > 0 {
			all = append(all, hue{[3]float64{float64(e.r) / n, float64(e.g) / n, float64(e.b) / n}, n})
		}
	}
	boxes := []hueBox{newHueBox(all)}
	for len(boxes) < mostColours {
		worst := slices.MaxFunc(boxes, func(a, b hueBox) int { return cmp.Compare(a.cost, b.cost) })
		if worst.cost == 0 {
			break
		}
		i := slices.IndexFunc(boxes, func(b hueBox) bool { return b.cost == worst.cost })
		a, b := boxes[i].halves()
		boxes[i] = a
		boxes = append(boxes, b)
	}
	p := &palette{}
	for _, b := range boxes {
		if len(b.hues) > 0 {
			p.colours = append(p.colours, b.mean())
		}
	}
	p.tabulate()
	return p
}

// A hueBox is some of the colours.
type hueBox struct {
	hues  []hue
	along int     // the channel in which they differ most
	cost  float64 // of letting one colour stand for all, 0 for a single one
}

// eye weighs the channels by what they do to lightness, roughly.
var eye = [3]float64{0.75, 1, 0.55}

func newHueBox(hues []hue) hueBox {
	b := hueBox{hues: hues}
	if len(hues) < 2 {
		return b
	}
	low, high, n := hues[0].c, hues[0].c, 0.0
	for _, h := range hues {
		n += h.n
		for i, v := range h.c {
			low[i], high[i] = min(low[i], v), max(high[i], v)
		}
	}
	longest := 0.0
	for i := range low {
		if l := eye[i] * (high[i] - low[i]); l > longest {
			longest, b.along = l, i
		}
	}
	// The count's cube root: large even areas must not take all colours from a highlight or a joint.
	b.cost = longest * math.Cbrt(n)
	return b
}

func (b hueBox) halves() (hueBox, hueBox) {
	slices.SortFunc(b.hues, func(p, q hue) int {
		return cmp.Or(cmp.Compare(p.c[b.along], q.c[b.along]), slices.Compare(p.c[:], q.c[:]))
	})
	half := 0.0
	for _, h := range b.hues {
		half += h.n / 2
	}
	mid := 1
	for sum := b.hues[0].n; mid < len(b.hues)-1 && sum < half; mid++ {
		sum += b.hues[mid].n
	}
	return newHueBox(b.hues[:mid]), newHueBox(b.hues[mid:])
}

func (b hueBox) mean() color.RGBA {
	var sum [3]float64
	n := 0.0
	for _, h := range b.hues {
		n += h.n
		for i, v := range h.c {
			sum[i] += h.n * v
		}
	}
	at := func(i int) uint8 { return uint8(math.Round(sum[i] / n)) }
	return color.RGBA{at(0), at(1), at(2), 255}
}

// tabulate finds the nearest colour for each cell of the cube, and how far apart the colours are.
func (p *palette) tabulate() {
	const side, off = 1 << cubeBits, 8 - cubeBits
	middle := func(i int) float64 { return float64(i<<off) + float64(int(1)<<off-1)/2 }
	_ = par.Spans(context.Background(), side, 4, func(from, to int) {
		for r := from; r < to; r++ {
			for i := range side * side {
				k, _ := p.closest([3]float64{middle(r), middle(i / side), middle(i % side)}, -1)
				p.nearest[r*side*side+i] = uint8(k)
			}
		}
	})
	sum := 0.0
	for i, c := range p.colours {
		_, d := p.closest([3]float64{float64(c.R), float64(c.G), float64(c.B)}, i)
		sum += min(math.Sqrt(d), 24)
	}
	p.spread = float32(sum / float64(max(1, len(p.colours))))
}

// closest is the colour nearest to c but for one, and the squared distance as the eye weighs it.
func (p *palette) closest(c [3]float64, but int) (k int, far float64) {
	far = math.Inf(1)
	for i, q := range p.colours {
		r, g, b := eye[0]*(c[0]-float64(q.R)), eye[1]*(c[1]-float64(q.G)), eye[2]*(c[2]-float64(q.B))
		if d := r*r + g*g + b*b; d < far && i != but {
			k, far = i, d
		}
	}
	return k, far
}

// index is the palette's number for each pixel, by an ordered pattern that lies still on the screen.
func (p *palette) index(img *image.RGBA) []uint8 {
	w, h := img.Rect.Dx(), img.Rect.Dy()
	out := make([]uint8, w*h)
	_ = par.Spans(context.Background(), h, 16, func(from, to int) {
		for y := from; y < to; y++ {
			for x := range w {
				n := (bayer(x, y) - 0.5) * p.spread
				o := img.Pix[4*(y*w+x):]
				move := func(v uint8) uint8 { return uint8(max(0, min(255, float32(v)+n+0.5))) }
				out[y*w+x] = p.nearest[cube(move(o[0]), move(o[1]), move(o[2]))]
			}
		}
	})
	return out
}
