package draw

import (
	"image"
	"image/color"
	"image/draw"
	"math"

	"golang.org/x/image/font"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/math/fixed"
)

// A typecase keeps the letters that have been drawn, each at a quarter of a picture point, so that lettering is copying.
type typecase struct {
	letters *Letters
	faces   map[faceKey]font.Face
	glyphs  map[glyphKey]glyph
	solid   *image.Uniform
}

type faceKey struct {
	px   float32 // size in picture points
	bold bool
}

type glyphKey struct {
	face faceKey
	r    rune
	part uint8 // quarter of a picture point along the line
	up   bool
}

type glyph struct {
	mask    *image.Alpha
	at      image.Point // of the mask's corner from the pen's whole picture point
	advance float64
}

// maxGlyphs bounds the case: a work book's worth; beyond that it is emptied.
const maxGlyphs = 4096

func newTypecase(l *Letters) *typecase {
	return &typecase{l, map[faceKey]font.Face{}, map[glyphKey]glyph{}, image.NewUniform(color.Black)}
}

// set puts one line of lettering on img; letters outside it are cut.
func (c *typecase) set(img *image.RGBA, t Text, scale float64) {
	key := faceKey{float32(t.Size * scale), t.Bold}
	before := c.letters.Width(t.Words, t.Size, t.Bold) * scale * [...]float64{0, 0.5, 1}[t.Align]
	along, base := t.At.X*scale-before, math.Round(t.At.Y*scale)
	if t.Up {
		along, base = -t.At.Y*scale-before, math.Round(t.At.X*scale)
	}
	c.solid.C = t.Color
	for _, r := range t.Words {
		whole := math.Floor(along)
		part := uint8((along - whole) * 4)
		g := c.glyph(glyphKey{key, r, part, t.Up})
		pen := image.Pt(int(whole), int(base))
		if t.Up {
			pen = image.Pt(int(base), -int(whole))
		}
		if g.mask != nil {
			at := pen.Add(g.at)
			draw.DrawMask(img, g.mask.Bounds().Add(at), c.solid, image.Point{}, g.mask, image.Point{}, draw.Over)
		}
		along += g.advance
	}
}

func (c *typecase) glyph(k glyphKey) glyph {
	if g, ok := c.glyphs[k]; ok {
		return g
	}
	if len(c.glyphs) >= maxGlyphs {
		clear(c.glyphs)
	}
	g := glyph{advance: c.letters.Width(string(k.r), float64(k.face.px), k.face.bold)}
	dot := fixed.Point26_6{X: fixed.Int26_6(k.part) * 16}
	if box, mask, maskAt, _, ok := c.face(k.face).Glyph(dot, k.r); ok && !box.Empty() {
		g.mask = image.NewAlpha(image.Rectangle{Max: box.Size()})
		draw.Draw(g.mask, g.mask.Bounds(), mask, maskAt, draw.Src)
		g.at = box.Min
		if k.up {
			g = g.upwards()
		}
	}
	c.glyphs[k] = g
	return g
}

// upwards is the letter turned a quarter counter-clockwise about its pen.
func (g glyph) upwards() glyph {
	w, h := g.mask.Rect.Dx(), g.mask.Rect.Dy()
	m := image.NewAlpha(image.Rect(0, 0, h, w))
	for y := range h {
		for x := range w {
			m.Pix[(w-1-x)*m.Stride+y] = g.mask.Pix[y*g.mask.Stride+x]
		}
	}
	return glyph{m, image.Pt(g.at.Y, -g.at.X-w), g.advance}
}

func (c *typecase) face(k faceKey) font.Face {
	if f, ok := c.faces[k]; ok {
		return f
	}
	if len(c.faces) >= 64 {
		clear(c.faces)
	}
	f, err := opentype.NewFace(c.letters.fonts[weight(k.bold)], &opentype.FaceOptions{Size: float64(k.px), DPI: 72})
	if err != nil {
		panic("draw: " + err.Error()) // only a size that is no number could do this
	}
	c.faces[k] = f
	return f
}
