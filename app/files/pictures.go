package files

import (
	"bytes"
	"context"
	"fmt"
	"image"
	"image/png"
	"math"

	"grainstack/app/picture"
	"grainstack/render/draw"
	"grainstack/render/look"
	"grainstack/render/sheet"
	"grainstack/slicing/job"
	"grainstack/slicing/panel"
)

// Sizes of pictures, pixels.
const (
	lookWide, lookHigh   = 1600, 1200
	sheetWide, sheetHigh = 1100, 850
	sheetScale           = 1.5
)

// pictureFiles are the finished look, the story stick, all layers and panels, and the glue-up.
func pictureFiles(w Work) []File {
	out := []File{{Kind: Pictures, Name: "pictures/finished.png", Does: "the finished piece", make: func(_ context.Context, b *bench) ([]byte, error) {
		data, _, err := b.look()
		return data, err
	}}}
	add := func(name, does string, view func(context.Context, *bench, sheet.Style) (*draw.Drawing, error)) {
		out = append(out, File{Kind: Pictures, Name: "pictures/" + name + ".png", Does: does, make: func(ctx context.Context, b *bench) ([]byte, error) {
			d, err := view(ctx, b, sheet.Style{Ink: draw.LightInk(), Letters: b.Letters, Units: b.Units})
			if err != nil {
				return nil, err
			}
			return encoded(draw.NewRaster(b.Letters).Picture(d, sheetScale))
		}})
	}
	add("stick", "the story stick", func(_ context.Context, b *bench, s sheet.Style) (*draw.Drawing, error) {
		wide, high := stickSize(b.Standing)
		return sheet.Stick(picture.Stick(b.Standing, b.Figures, b.Catalogue, 0), s, wide, high).Drawing, nil
	})
	for _, l := range w.Figures.Layers {
		add(fmt.Sprintf("layer-%02d", l.Number), "layer sheet", func(ctx context.Context, b *bench, s sheet.Style) (*draw.Drawing, error) {
			v, err := b.layerView(ctx, l.Number)
			return sheet.Layer(v, s, sheetWide, sheetHigh, sheet.Look{}).Drawing, err
		})
	}
	for i, p := range w.Workshop.Layout.Panels {
		add(fmt.Sprintf("panel-%02d", p.Number), "panel sheet", func(_ context.Context, b *bench, s sheet.Style) (*draw.Drawing, error) {
			return sheet.Panel(PanelView(b.Workshop, i, panel.ID{}), s, sheetHigh, sheetHigh, sheet.Look{}).Drawing, nil
		})
	}
	add("glue-up", "glue-up sheet", func(_ context.Context, b *bench, s sheet.Style) (*draw.Drawing, error) {
		return sheet.GlueUp(GlueUpView(b.Workshop, b.Standing), s, sheetWide, sheetHigh).Drawing, nil
	})
	return out
}

// stickSize is a picture of the story stick on which widths are true to scale, unless the piece is very wide or narrow.
func stickSize(st *job.Standing) (wide, high float64) {
	const furniture = 180 // numbers, heights and marks beside the piece
	per := (sheetHigh - 50) / st.Height()
	return math.Max(sheetHigh/2, math.Min(2*sheetHigh, st.Silhouette().Box().Size().X*per+furniture)), sheetHigh
}

// layerView is a layer's sheet with its pins and figures.
func (b *bench) layerView(ctx context.Context, number int) (sheet.LayerView, error) {
	plan, err := job.Plan(ctx, b.Standing, b.Figures, number)
	if err != nil {
		return sheet.LayerView{}, err
	}
	made := &b.Workshop.Layers[number-1]
	v := picture.Layer(plan, b.Figures, made, false)
	for i := range b.Workshop.Parts {
		if p := &b.Workshop.Parts[i]; p.Layer == number {
			for _, h := range b.Workshop.PinHoles(p) {
				v.Pins = append(v.Pins, sheet.Peg{At: h.At, Diameter: h.Diameter, Lower: h.Lower})
			}
		}
	}
	v.Notes = picture.Facts(plan, b.Figures, made, b.Catalogue, b.Units)
	return v, nil
}

func encoded(img image.Image) ([]byte, error) {
	var buf bytes.Buffer
	err := (&png.Encoder{CompressionLevel: png.BestSpeed}).Encode(&buf, img)
	return buf.Bytes(), err
}

type looked struct {
	png     []byte
	picture image.Image
	err     error
}

// finishedLook draws the finished piece from the front, a little from above.
func finishedLook(ctx context.Context, w Work) ([]byte, image.Image, error) {
	body := look.NewBody(w.Standing.Piece.Mesh)
	if w.Standing.Grid != nil {
		body = body.WithOpenness(w.Standing.Grid.Openness(w.Standing.Piece.Mesh.Points, nil))
	}
	const rad = math.Pi / 180
	sight := picture.Sight{Camera: look.Camera{Azimuth: -60 * rad, Elevation: 18 * rad, Zoom: 1}, Size: image.Pt(lookWide, lookHigh), Layer: 1}
	dress := look.Dress{Wood: picture.Wood(w.Figures, w.Catalogue), Paper: picture.Paper(false)}
	dress.Woods, dress.Layers = picture.Mixed(w.Figures.For, w.Catalogue, w.Standing.Height())
	drawn, err := look.NewRenderer().Fine(ctx, body, picture.View(w.Standing, w.Figures, sight), dress)
	if err != nil {
		return nil, nil, err
	}
	data, err := encoded(drawn.Image)
	return data, drawn.Image, err
}
