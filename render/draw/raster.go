package draw

import (
	"image"
	"image/color"
	"image/draw"
	"math"

	"github.com/fogleman/gg"

	"grainstack/slicing/geom"
)

// A Raster draws to pictures. It keeps its letters from one picture to the next, so keep it, too; it is for one goroutine
// at a time.
type Raster struct {
	letters *typecase
	to      *gg.Context
	img     *image.RGBA
	scale   float64
}

// NewRaster makes a Raster that letters with l.
func NewRaster(l *Letters) *Raster { return &Raster{letters: newTypecase(l)} }

// size is a drawing's size in picture points at scale points per drawing unit, each at least 1.
func size(d *Drawing, scale float64) (w, h int) {
	return max(1, int(math.Round(d.W*scale))), max(1, int(math.Round(d.H*scale)))
}

// Picture draws d at scale picture points per drawing unit on a new, tight picture.
func (r *Raster) Picture(d *Drawing, scale float64) *image.RGBA {
	w, h := size(d, scale)
	img := image.NewRGBA(image.Rect(0, 0, w, h))
	r.Draw(img, d, scale)
	return img
}

// Draw covers img, which is tight and starts at 0, 0, with d at scale picture points per drawing unit.
func (r *Raster) Draw(img *image.RGBA, d *Drawing, scale float64) {
	draw.Draw(img, img.Bounds(), image.NewUniform(d.Paper), image.Point{}, draw.Src)
	r.Over(img, d, scale)
}

// Over draws d over what img shows, as Draw does otherwise.
func (r *Raster) Over(img *image.RGBA, d *Drawing, scale float64) {
	r.img, r.scale = img, scale
	r.to = gg.NewContextForRGBA(img)
	d.Play(r)
	r.img, r.to = nil, nil
}

// Fill is part of Backend.
func (r *Raster) Fill(g geom.Region, c color.RGBA) {
	for _, ring := range g {
		r.path(ring, true)
	}
	r.to.SetColor(c)
	r.to.Fill()
}

// Lines is part of Backend.
func (r *Raster) Lines(p Pen, lines []Line) {
	if p.dotted() {
		for _, l := range lines {
			r.dots(p, l)
		}
		r.to.SetColor(p.Color)
		r.to.Fill()
		return
	}
	for _, l := range lines {
		r.path(l.Points, l.Closed)
	}
	r.stroke(p)
}

// Segments is part of Backend.
func (r *Raster) Segments(p Pen, segs []Segment) {
	if p.dotted() {
		lines := make([]Line, len(segs))
		for i := range segs {
			lines[i].Points = segs[i][:]
		}
		r.Lines(p, lines)
		return
	}
	for _, s := range segs {
		r.to.MoveTo(s[0].X*r.scale, s[0].Y*r.scale)
		r.to.LineTo(s[1].X*r.scale, s[1].Y*r.scale)
	}
	r.stroke(p)
}

// Text is part of Backend.
func (r *Raster) Text(t Text) { r.letters.set(r.img, t, r.scale) }

// finest is the distance in picture points below which points of a line are left out: a third of a point cannot be seen.
const finest = 0.3

func (r *Raster) path(points []geom.Vec2, closed bool) {
	last := geom.Vec2{X: math.Inf(1)}
	for i, p := range points {
		p = p.Scale(r.scale)
		if i == 0 {
			r.to.MoveTo(p.X, p.Y)
			last = p
		} else if d := p.Sub(last); d.Dot(d) >= finest*finest || (!closed && i == len(points)-1) {
			r.to.LineTo(p.X, p.Y)
			last = p
		}
	}
	if closed {
		r.to.ClosePath()
	}
}

func (r *Raster) stroke(p Pen) {
	r.to.SetColor(p.Color)
	r.to.SetLineWidth(p.Width * r.scale)
	r.to.SetLineJoin(gg.LineJoinBevel)
	r.to.SetLineCap(gg.LineCapButt)
	dash := make([]float64, len(p.Dash))
	for i, v := range p.Dash {
		dash[i] = v * r.scale
	}
	r.to.SetDash(dash...)
	r.to.Stroke()
}

// dotted reports whether the pen sets round dots, one a period of its dashes.
func (p Pen) dotted() bool { return len(p.Dash) > 1 && p.Dash[0] == 0 && p.Dash[1] > 0 }

// dots sets dots along a line as twelve-sided fills of a round dot's area: the stroker drops or distorts dashes this short.
func (r *Raster) dots(p Pen, l Line) {
	step := p.Dash[1] * r.scale
	next := 0.0 // way to the next dot
	n := len(l.Points) - 1
	if l.Closed {
		n++
	}
	for i := range n {
		a, b := l.Points[i].Scale(r.scale), l.Points[(i+1)%len(l.Points)].Scale(r.scale)
		way := b.Sub(a).Len()
		for ; next < way; next += step {
			r.dot(a.Add(b.Sub(a).Scale(next/way)), p.Width*r.scale/2)
		}
		next -= way
	}
}

func (r *Raster) dot(at geom.Vec2, radius float64) {
	const sides = 12
	radius *= math.Sqrt(math.Pi / 3) // twelve sides of radius q hold 3·q²
	for i := range sides {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / sides)
		if x, y := at.X+radius*cos, at.Y+radius*sin; i == 0 {
			r.to.MoveTo(x, y)
		} else {
			r.to.LineTo(x, y)
		}
	}
	r.to.ClosePath()
}
