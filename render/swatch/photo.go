package swatch

import (
	"bytes"
	"errors"
	"fmt"
	"image"
	"image/color"
	_ "image/jpeg" // photos come as these two
	_ "image/png"
	"io"
	"math"

	"grainstack/render/tone"
	"grainstack/slicing/disk"
	"grainstack/slicing/phrase"
)

// Bounds of a photo. A decoder wants up to 24 bytes for each pixel (a progressive JPEG), so that the largest photo takes 600 MB
// for a moment; cameras of 24 megapixels stay within.
const (
	mostPixels = 25_000_000
	mostBytes  = 64 << 20
)

// kept is how many pixels of a photo are kept at most: patches are of many pixels of even a small copy.
const kept = 2_000_000

// A Photo is a picture in linear light, thinned where it is large. It never changes.
type Photo struct {
	size  image.Point // as the file has it
	step  int         // pixels of the file along one of ours
	w, h  int
	light []tone.Light // negative red where the photo is transparent
	hard  []bool       // the darkest or lightest that the file can say, in any channel
}

// Open is Read for a file, of which no more is read than a photo may have.
func Open(path string) (*Photo, error) {
	file, err := disk.Open(path)
	if err != nil {
		return nil, err
	}
	defer file.Close()
	text, err := io.ReadAll(io.LimitReader(file, mostBytes+1))
	if err == nil {
		var p *Photo
		if p, err = decode(text); err == nil {
			return p, nil
		}
	}
	return nil, fmt.Errorf("%s: %w", phrase.Name(path), err)
}

// decode decodes a photo. Its size is looked at before anything is decoded. The error is a sentence for the maker.
func decode(file []byte) (*Photo, error) {
	if len(file) > mostBytes {
		return nil, fmt.Errorf("the photo has more than %d MB: take a smaller copy of it", mostBytes>>20)
	}
	head, format, err := image.DecodeConfig(bytes.NewReader(file))
	if err != nil {
		return nil, errors.New("the file is no photo that can be read: take one as PNG or JPEG")
	}
	if head.Width < 1 || head.Height < 1 {
		return nil, fmt.Errorf("the photo is of %d × %d pixels and shows nothing: take another one", head.Width, head.Height)
	}
	if head.Width > mostPixels/head.Height {
		return nil, fmt.Errorf("the photo is of %d × %d pixels, more than %d million: take a smaller copy of it", head.Width, head.Height, mostPixels/1_000_000)
	}
	img, _, err := image.Decode(bytes.NewReader(file))
	if err != nil {
		return nil, fmt.Errorf("the photo breaks off or is spoilt (%s): save it again", format)
	}
	return of(img), nil
}

// of is a picture as a photo.
func of(img image.Image) *Photo {
	b := img.Bounds()
	p := &Photo{size: b.Size(), step: 1}
	for (b.Dx()/p.step)*(b.Dy()/p.step) > kept {
		p.step++
	}
	p.w, p.h = max(1, b.Dx()/p.step), max(1, b.Dy()/p.step)
	p.light, p.hard = make([]tone.Light, p.w*p.h), make([]bool, p.w*p.h)
	for y := range p.h {
		for x := range p.w {
			p.light[y*p.w+x], p.hard[y*p.w+x] = mean(img, b.Min.Add(image.Pt(x*p.step, y*p.step)), p.step)
		}
	}
	return p
}

// mean is the light of a square of pixels.
func mean(img image.Image, at image.Point, step int) (l tone.Light, hard bool) {
	n := float32(step * step)
	for y := range step {
		for x := range step {
			one, opaque, end := lightOf(img, at.X+x, at.Y+y)
			if !opaque {
				return tone.Light{-1}, false
			}
			hard = hard || end
			for i := range l {
				l[i] += one[i] / n
			}
		}
	}
	return l, hard
}

// lightOf is the linear light of one pixel; end says that a channel can't be lighter, or that all can't be darker.
func lightOf(img image.Image, x, y int) (l tone.Light, opaque, end bool) {
	switch img := img.(type) {
	case *image.YCbCr:
		c := img.YCbCrAt(x, y)
		r, g, b := color.YCbCrToRGB(c.Y, c.Cb, c.Cr)
		return tone.FromBytes(r, g, b), true, atEnd(uint32(r), uint32(g), uint32(b), 255)
	case *image.RGBA:
		c := img.RGBAAt(x, y)
		return tone.FromBytes(c.R, c.G, c.B), c.A == 255, atEnd(uint32(c.R), uint32(c.G), uint32(c.B), 255)
	case *image.NRGBA:
		c := img.NRGBAAt(x, y)
		return tone.FromBytes(c.R, c.G, c.B), c.A == 255, atEnd(uint32(c.R), uint32(c.G), uint32(c.B), 255)
	}
	r, g, b, a := img.At(x, y).RGBA()
	for i, v := range []uint32{r, g, b} {
		l[i] = float32(tone.Decode(float64(v) / math.MaxUint16))
	}
	return l, a == math.MaxUint16, atEnd(r, g, b, math.MaxUint16)
}

func atEnd(r, g, b, most uint32) bool {
	return max(r, g, b) >= most || max(r, g, b) == 0
}

// Size is the photo's in pixels, as the file has it.
func (p *Photo) Size() image.Point { return p.size }
