package files

import (
	"bytes"
	"context"
	"fmt"
	"math"

	"grainstack/slicing/export"
	"grainstack/slicing/geom"
	"grainstack/slicing/job"
	"grainstack/slicing/panel"
	"grainstack/slicing/plane"
	"grainstack/slicing/unit"
	"grainstack/slicing/workshop"
)

// outlineFiles are the drawings at true size: each side of each panel and each layer where it stands, as SVG, DXF and PDF.
func outlineFiles(w Work) []File {
	var out []File
	add := func(name, does string, draw func(context.Context, *bench) (export.Sheet, error)) {
		for _, form := range []struct {
			ext, does string
			write     func(*bench, export.Sheet) ([]byte, error)
		}{{"svg", "in mm", svg}, {"dxf", "Release 12, in mm", dxf}, {"pdf", "1:1 on pages to be joined, with a line to check", tiles}} {
			out = append(out, File{Kind: Outlines, Name: name + "." + form.ext, Does: does + ", " + form.does, make: func(ctx context.Context, b *bench) ([]byte, error) {
				s, err := b.drawings.get(name, func() (export.Sheet, error) { return draw(ctx, b) })
				if err != nil {
					return nil, err
				}
				return form.write(b, s)
			}})
		}
	}
	for i, p := range w.Workshop.Layout.Panels {
		for _, side := range faces() {
			add(fmt.Sprintf("outlines/panel-%02d-%v", p.Number, side), fmt.Sprintf("outlines as side %v lies", side), func(ctx context.Context, b *bench) (export.Sheet, error) {
				return b.panelDrawing(ctx, i, side)
			})
		}
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
	d.layers = append(d.layers, stroke(name))
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

// panelDrawing is a side of panel i of the layout, as it lies when that side is up.
func (b *bench) panelDrawing(ctx context.Context, i int, side panel.Face) (export.Sheet, error) {
	w, p := b.Workshop, b.Workshop.Layout.Panels[i]
	lies := func(v geom.Vec2) geom.Vec2 { return v }
	if side == panel.SideB {
		lies = w.Register.TurnOver
	}
	d := &drawingSet{move: lies}
	x, y := w.For.PanelX, w.For.PanelY
	d.region(onPanel, geom.Region{{{}, {X: x}, {X: x, Y: y}, {Y: y}}})
	n := newNaming(geom.Box2{Max: geom.Vec2{X: x, Y: y}})
	for _, at := range p.Placed {
		part, ok := w.Part(at.Part)
		if !ok {
			continue
		}
		plan, err := job.Plan(ctx, b.Standing, b.Figures, at.Part.Layer)
		if err != nil {
			return export.Sheet{}, err
		}
		d.move = func(v geom.Vec2) geom.Vec2 { return lies(at.Apply(v)) }
		b.drawPart(d, part, plan)
		n.add(partName(w, at.Part), part.Shadow.Map(d.move))
	}
	d.move = lies
	for _, h := range w.Register.Dowels {
		d.circle(onDowels, h.At, h.Diameter)
	}
	d.move = func(v geom.Vec2) geom.Vec2 { return v } // lettering lies as this side does
	n.write(d)
	b.drawDatum(d, p.Number, side)
	return export.Sheet{Name: fmt.Sprintf("%s, panel %d, side %v", b.Standing.Piece.Name, p.Number, side), W: x, H: y, Layers: d.layers}, nil
}

// drawDatum marks X and Y zero at the panel's corner, and says beside it what the panel is made of and where Z zero is.
func (b *bench) drawDatum(d *drawingSet, number int, side panel.Face) {
	const arm, head, high = 25.0, 2.0, 2.5
	on := d.on(onDatum)
	for _, way := range []geom.Vec2{{X: 1}, {Y: 1}} {
		tip, across := way.Scale(arm), geom.Vec2{X: way.Y, Y: way.X}.Scale(head/2)
		back := tip.Sub(way.Scale(head))
		on.Lines = append(on.Lines, export.Line{Points: []geom.Vec2{{}, tip}}, export.Line{Points: []geom.Vec2{back.Add(across), tip, back.Sub(across)}})
	}
	s := stockOf(b.Workshop, number)
	d.text(onDatum, geom.Vec2{X: 3, Y: 6}, high, fmt.Sprintf("Side %v up, X 0 Y 0 at this corner, Z 0 at the planed panel's lower face, skimmed face at Z %s", side, unit.Length(s.planed, b.Units)))
	d.text(onDatum, geom.Vec2{X: 3, Y: 2}, high, s.words(b.Units))
}

// drawPart draws a part; one that is a piece of a split part has its sections cut along the joint line, too.
func (b *bench) drawPart(d *drawingSet, p *workshop.Part, plan *job.LayerPlan) {
	w := b.Workshop
	own := func(g geom.Region) geom.Region { return ownShare(g, p) }
	d.region(onOutline, p.Shadow)
	d.region(onLower, own(plan.Lower))
	d.region(onUpper, own(plan.Upper))
	d.region(onCoreLower, own(plan.CoreLower))
	d.region(onCoreUpper, own(plan.CoreUpper))
	d.region(onBoundary, w.Boundary(p))
	for _, t := range p.Tabs {
		across := geom.Vec2{X: -t.Out.Y, Y: t.Out.X}.Scale(t.Width / 2)
		far := t.At.Add(t.Out.Scale(w.Margin))
		root := t.At.Sub(t.Out.Scale(t.Root))
		d.region(onTabs, geom.Region{{root.Sub(across), far.Sub(across), far.Add(across), root.Add(across)}})
	}
	for _, h := range w.PinHoles(p) {
		d.pin(h)
	}
}

// pin is a pin's hole with the sign of its face: an upright cross for the upper one, a slanting one for the lower.
func (d *drawingSet) pin(h workshop.PinHole) {
	name, arm := onPinsUpper, h.Diameter/2+pinArm
	way := geom.Vec2{X: arm}
	if h.Lower {
		name, way = onPinsLower, geom.Vec2{X: arm, Y: arm}.Scale(math.Sqrt2/2)
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
func ownShare(g geom.Region, p *workshop.Part) geom.Region {
	var out geom.Region
	g, _ = p.Cut(g)
	for _, r := range g {
		in, of := 0, 0
		for k := 0; k < len(r); k += max(1, len(r)/16) {
			if of++; p.Shadow.Contains(r[k]) || onOutlineOf(p, r[k]) {
				in++
			}
		}
		if 2*in > of {
			out = append(out, r)
		}
	}
	return out
}

// onOutlineOf reports whether a point lies on a part's outline, which is that of a face where the part is widest there: it may
// be off by what the outline is.
func onOutlineOf(p *workshop.Part, q geom.Vec2) bool {
	const off = 0.1 // mm, twice what an outline is off
	for _, r := range p.Shadow {
		for i, a := range r {
			if plane.Apart(q, a, r[(i+1)%len(r)]) < off {
				return true
			}
		}
	}
	return false
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
	size := box.Size()
	wide, high := math.Max(size.X+2*rim, 120), size.Y+2*rim
	n := newNaming(geom.Box2{Max: geom.Vec2{X: wide, Y: high}})
	for i := range b.Workshop.Parts {
		if p := &b.Workshop.Parts[i]; p.Layer == number {
			b.drawPart(d, p, plan)
			n.add(partName(b.Workshop, p.ID), p.Shadow.Map(d.move))
		}
	}
	grain := "grain along this line"
	if plan.Turned {
		grain = "grain across this line"
	}
	d.text(onNames, from.Add(geom.Vec2{X: 5, Y: 5}), 4, fmt.Sprintf("Layer %d of %d, seen from above, %s", number, len(b.Figures.Layers), grain))
	d.move = func(v geom.Vec2) geom.Vec2 { return v }
	n.write(d)
	return export.Sheet{Name: fmt.Sprintf("%s, layer %d", b.Standing.Piece.Name, number), W: wide, H: high, Layers: d.layers}, nil
}

// partName is a part as it is written on panels: its layer, and its number where the layer has several.
func partName(w *workshop.Workshop, id panel.ID) string {
	several := false
	for _, p := range w.Parts {
		several = several || p.Layer == id.Layer && p.ID != id
	}
	if several {
		return fmt.Sprintf("%d.%d", id.Layer, id.Part+1)
	}
	return fmt.Sprint(id.Layer)
}
