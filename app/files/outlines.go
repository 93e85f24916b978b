package files

import (
	"bytes"
	"context"
	"fmt"
	"math"
	"slices"

	"grainstack/slicing/export"
	"grainstack/slicing/geom"
	"grainstack/slicing/job"
	"grainstack/slicing/panel"
)

// outlineFiles are the drawings at true size: each panel on side A and each layer where it stands, as SVG, DXF and PDF.
func outlineFiles(w Work) []File {
	var out []File
	add := func(name, does string, draw func(context.Context, *bench) (export.Sheet, error)) {
		for _, form := range []struct {
			ext, does string
			write     func(*bench, export.Sheet) ([]byte, error)
		}{{"svg", "in mm", svg}, {"dxf", "Release 12, in mm", dxf}, {"pdf", "1:1 on pages to be joined, with a line to check", tiles}} {
			out = append(out, File{Outlines, name + "." + form.ext, does + ", " + form.does, func(ctx context.Context, b *bench) ([]byte, error) {
				s, err := b.drawings.get(name, func() (export.Sheet, error) { return draw(ctx, b) })
				if err != nil {
					return nil, err
				}
				return form.write(b, s)
			}})
		}
	}
	for i, p := range w.Workshop.Layout.Panels {
		add(fmt.Sprintf("outlines/panel-%02d", p.Number), "outlines on side A", func(ctx context.Context, b *bench) (export.Sheet, error) { return b.panelDrawing(ctx, i) })
	}
	for _, l := range w.Figures.Layers {
		add(fmt.Sprintf("outlines/layer-%02d", l.Number), "outlines of the layer", func(ctx context.Context, b *bench) (export.Sheet, error) { return b.layerDrawing(ctx, l.Number) })
	}
	return out
}

func svg(_ *bench, s export.Sheet) ([]byte, error) {
	var buf bytes.Buffer
	err := export.WriteSVG(&buf, s)
	return buf.Bytes(), err
}

func dxf(_ *bench, s export.Sheet) ([]byte, error) {
	var buf bytes.Buffer
	err := export.WriteDXF(&buf, s)
	return buf.Bytes(), err
}

// A drawingSet gathers drawing layers by name, in the order in which they are first used.
type drawingSet struct {
	move   func(geom.Vec2) geom.Vec2
	layers []export.DrawingLayer
}

func (d *drawingSet) on(name string) *export.DrawingLayer {
	for i := range d.layers {
		if d.layers[i].Name == name {
			return &d.layers[i]
		}
	}
	d.layers = append(d.layers, export.DrawingLayer{Name: name})
	return &d.layers[len(d.layers)-1]
}

func (d *drawingSet) region(name string, g geom.Region) {
	on := d.on(name)
	on.Lines = append(on.Lines, export.RegionLines(g.Map(d.move))...)
}

func (d *drawingSet) circle(name string, at geom.Vec2, diameter float64) {
	on := d.on(name)
	on.Circles = append(on.Circles, export.Circle{At: d.move(at), Diameter: diameter})
}

func (d *drawingSet) text(name string, at geom.Vec2, height float64, words string) {
	on := d.on(name)
	on.Texts = append(on.Texts, export.Text{At: d.move(at), Height: height, Text: words})
}

// panelDrawing is side A of panel i of the layout.
func (b *bench) panelDrawing(ctx context.Context, i int) (export.Sheet, error) {
	w, p := b.Workshop, b.Workshop.Layout.Panels[i]
	same := func(v geom.Vec2) geom.Vec2 { return v }
	d := &drawingSet{move: same}
	x, y := w.For.PanelX, w.For.PanelY
	d.region("panel", geom.Region{{{}, {X: x}, {X: x, Y: y}, {Y: y}}})
	for _, at := range p.Placed {
		part, ok := w.Part(at.Part)
		if !ok {
			continue
		}
		plan, err := job.Plan(ctx, b.Standing, b.Figures, at.Part.Layer)
		if err != nil {
			return export.Sheet{}, err
		}
		d.move = at.Apply
		b.drawPart(d, part, plan)
		d.move = same
		name := partName(w, at.Part)
		middle := insideOf(w.Bench.Outline(at))
		d.text("names", middle.Sub(geom.Vec2{X: 0.3 * nameHigh * float64(len(name)), Y: nameHigh / 2}), nameHigh, name)
	}
	for _, h := range w.Register.Dowels {
		d.circle("register dowels", h.At, h.Diameter)
	}
	return export.Sheet{Name: fmt.Sprintf("%s, panel %d, side A", b.Standing.Piece.Name, p.Number), W: x, H: y, Layers: d.layers}, nil
}

// nameHigh is how high the letters of a part's name are, mm.
const nameHigh = 4.0

// insideOf is a place in a region to write its name: its centre, or where that lies outside the middle of the widest of some
// chords.
func insideOf(g geom.Region) geom.Vec2 {
	if c, ok := g.Centroid(); ok && g.Contains(c) {
		return c
	}
	b := g.Box()
	best, widest := b.Min.Add(b.Max).Scale(0.5), 0.0
	const chords = 16
	for k := range chords {
		y := b.Min.Y + (float64(k)+0.5)/chords*(b.Max.Y-b.Min.Y)
		var xs []float64
		for _, r := range g {
			for i, p := range r {
				if q := r[(i+1)%len(r)]; (p.Y > y) != (q.Y > y) {
					xs = append(xs, p.X+(q.X-p.X)*(y-p.Y)/(q.Y-p.Y))
				}
			}
		}
		slices.Sort(xs)
		for i := 0; i+1 < len(xs); i += 2 {
			if w := xs[i+1] - xs[i]; w > widest {
				best, widest = geom.Vec2{X: (xs[i] + xs[i+1]) / 2, Y: y}, w
			}
		}
	}
	return best
}

// drawPart draws a part; one that is a piece of a split part has its sections cut along the joint line, too.
func (b *bench) drawPart(d *drawingSet, p *job.Part, plan *job.LayerPlan) {
	w := b.Workshop
	own := func(g geom.Region) geom.Region { return ownShare(g, p) }
	d.region("outline", p.Shadow)
	d.region("lower face", own(plan.Lower))
	d.region("upper face", own(plan.Upper))
	d.region("core lower face", own(plan.CoreLower))
	d.region("core upper face", own(plan.CoreUpper))
	d.region("carve boundary", w.Boundary(p))
	for _, t := range p.Tabs {
		across := geom.Vec2{X: -t.Out.Y, Y: t.Out.X}.Scale(t.Width / 2)
		far := t.At.Add(t.Out.Scale(w.Margin))
		root := t.At.Sub(t.Out.Scale(t.Root))
		d.region("tabs", geom.Region{{root.Sub(across), far.Sub(across), far.Add(across), root.Add(across)}})
	}
	for _, h := range w.PinHoles(p) {
		d.pin(h)
	}
}

// pin is a pin's hole with the sign of its face: an upright cross for the upper one, a slanting one for the lower.
func (d *drawingSet) pin(h job.PinHole) {
	name, arm := "pins upper face", h.Diameter/2+pinArm
	way := geom.Vec2{X: arm}
	if h.Lower {
		name, way = "pins lower face", geom.Vec2{X: arm, Y: arm}.Scale(math.Sqrt2/2)
	}
	d.circle(name, h.At, h.Diameter)
	on := d.on(name)
	at, turned := d.move(h.At), geom.Vec2{X: -way.Y, Y: way.X} // the cross stays as it is however the part lies
	for _, w := range []geom.Vec2{way, turned} {
		on.Lines = append(on.Lines, export.Line{Points: []geom.Vec2{at.Sub(w), at.Add(w)}})
	}
}

// pinArm is how far the cross of a pin's sign reaches beyond its hole, mm.
const pinArm = 2.0

// ownShare is what of a section belongs to a part: the pieces that lie over its shadow, cut along its joint lines.
func ownShare(g geom.Region, p *job.Part) geom.Region {
	var out geom.Region
	for _, h := range p.Halves {
		left, right, err := panel.SplitPart(g, h.A, h.B)
		if err != nil {
			continue
		}
		if g = right; h.Left {
			g = left
		}
	}
	box := p.Shadow.Box()
	for _, r := range g {
		in := 0
		for k := 0; k < len(r); k += max(1, len(r)/16) {
			q := r[k]
			if q.X >= box.Min.X && q.X <= box.Max.X && q.Y >= box.Min.Y && q.Y <= box.Max.Y && p.Shadow.Contains(q) {
				in++
			}
		}
		if 2*in > min(len(r), 16) {
			out = append(out, r)
		}
	}
	return out
}

// sheetRim is the free edge round a layer's drawing, mm.
const sheetRim = 15.0

// layerDrawing is a layer as it stands, seen from above.
func (b *bench) layerDrawing(ctx context.Context, number int) (export.Sheet, error) {
	plan, err := job.Plan(ctx, b.Standing, b.Figures, number)
	if err != nil {
		return export.Sheet{}, err
	}
	box := plan.Lower.Box().Union(plan.Upper.Box()).Union(plan.Widest.Box())
	for i := range b.Workshop.Parts {
		if p := &b.Workshop.Parts[i]; p.Layer == number {
			box = box.Union(p.Shadow.Box())
		}
	}
	rim := sheetRim + b.Workshop.Margin
	from := box.Min.Sub(geom.Vec2{X: rim, Y: rim})
	d := &drawingSet{move: func(v geom.Vec2) geom.Vec2 { return v.Sub(from) }}
	for i := range b.Workshop.Parts {
		if p := &b.Workshop.Parts[i]; p.Layer == number {
			b.drawPart(d, p, plan)
		}
	}
	grain := "grain along this line"
	if plan.Turned {
		grain = "grain across this line"
	}
	d.text("names", from.Add(geom.Vec2{X: 5, Y: 5}), 4, fmt.Sprintf("Layer %d of %d, seen from above, %s", number, len(b.Figures.Layers), grain))
	size := box.Size()
	return export.Sheet{
		Name: fmt.Sprintf("%s, layer %d", b.Standing.Piece.Name, number),
		W:    math.Max(size.X+2*rim, 120), H: size.Y + 2*rim, Layers: d.layers,
	}, nil
}

// partName is a part as it is written on panels: its layer, and its number where the layer has several.
func partName(w *job.Workshop, id panel.ID) string {
	several := false
	for _, p := range w.Parts {
		several = several || p.Layer == id.Layer && p.ID != id
	}
	if several {
		return fmt.Sprintf("%d.%d", id.Layer, id.Part+1)
	}
	return fmt.Sprint(id.Layer)
}
