package picture

import (
	"context"
	"image"
	"image/draw"
	"math"
	"slices"

	drawing "grainstack/render/draw"
	"grainstack/render/frame"
	"grainstack/render/look"
	"grainstack/render/sheet"
	"grainstack/slicing/geom"
	"grainstack/slicing/job"
	"grainstack/slicing/mesh"
	"grainstack/slicing/phrase"
	"grainstack/slicing/stock"
	"grainstack/slicing/trial"
	"grainstack/slicing/unit"
)

// A Compared is one stack of a comparison: what it is called, what it comes to, and what is needed to draw it.
type Compared struct {
	Name   string
	Chosen bool
	Fault  string // why there is no ticket, "" where there is
	Ticket trial.Ticket
	For    job.Settings
	Body   *look.Body // nil where the piece can't be had: its picture stays empty
	Thin   *mesh.Mesh // the mesh of the body
	Place  Place      // where it stands; the zero value is worked out from the mesh
}

// placed are stacks that all stand somewhere.
func placed(all []Compared) []Compared {
	all = slices.Clone(all)
	for i := range all {
		if one := &all[i]; one.Body != nil && one.Place.Placement.Scale == 0 {
			one.Place = SetDown(one.Thin, one.For.Stand())
		}
	}
	return all
}

// ComparisonOf is the comparison of stacks, with their differences from one of them, which need not be among them.
func ComparisonOf(all []Compared, from Compared, c *stock.Catalogue, u unit.System) sheet.ComparisonView {
	v := sheet.ComparisonView{Message: "Keep settings as a trial first: then they can be set side by side.",
		Note: "Differences are from “" + from.Name + "”. ≈ is an estimate: it becomes sure when the cutters have been followed and the panels laid."}
	for _, one := range all {
		col := sheet.ComparedColumn{Name: one.Name, Chosen: one.Chosen, Fault: one.Fault}
		if col.Fault == "" {
			col.Fault = one.Ticket.Withheld.In(u)
		}
		if col.Fault != "" {
			col.Fault = phrase.Capital(col.Fault)
		}
		for _, ch := range job.Choices(from.For, one.For, c, u) {
			col.Choices = append(col.Choices, ch.String())
		}
		v.Columns = append(v.Columns, col)
	}
	for q := range trial.Quantities {
		row, known := sheet.ComparedRow{Name: q.String()}, false
		for _, one := range all {
			value, by := "", ""
			if a, estimate := one.Ticket.Best(q); a.Known {
				known = true
				if value = q.Text(a.Value, u); estimate {
					value = "≈ " + value
				}
			}
			for _, d := range one.Ticket.Against(from.Ticket) {
				if d.Quantity == q {
					by = d.Text(u)
					if by != "" && d.Estimate {
						by = "≈ " + by
					}
				}
			}
			row.Values, row.Differences = append(row.Values, value), append(row.Differences, by)
		}
		if known {
			v.Rows = append(v.Rows, row)
		}
	}
	return v
}

// A Shelf draws comparisons and keeps the memory that they need. It is used by one goroutine at a time.
type Shelf struct {
	Catalogue *stock.Catalogue
	renderer  *look.Renderer
	raster    *drawing.Raster
	pool      frame.Pool
}

// NewShelf is a shelf without memory yet.
func NewShelf(c *stock.Catalogue, l *drawing.Letters) *Shelf {
	return &Shelf{Catalogue: c, renderer: look.NewRenderer(), raster: drawing.NewRaster(l)}
}

// A ShelfView is how a comparison is looked at: all stacks by one camera, at one scale, on one floor.
type ShelfView struct {
	Camera look.Camera
	Size   image.Point // pixels of the whole sheet
	Scale  float64     // pixels a unit
	Style  sheet.Style
	Dark   bool
	Fine   bool // four looks a pixel
}

// Draw draws a comparison.
func (s *Shelf) Draw(ctx context.Context, all []Compared, v sheet.ComparisonView, how ShelfView) (*frame.Frame, sheet.ComparisonSheet, error) {
	all = placed(all)
	plan := sheet.Comparison(v, how.Style, float64(how.Size.X)/how.Scale, float64(how.Size.Y)/how.Scale)
	out := s.pool.Get(how.Size)
	s.raster.Draw(out.Image, plan.Drawing, how.Scale)
	boxes := make([]image.Rectangle, len(plan.Pictures))
	for i, b := range plan.Pictures {
		boxes[i] = pixels(b, how.Scale)
	}
	if len(boxes) == 0 {
		return out, plan, nil
	}
	for i, view := range s.views(all, how.Camera, boxes[0].Size()) {
		if all[i].Body == nil {
			continue
		}
		shot, err := s.shoot(ctx, all[i].Body, view, DressOf(all[i].For, s.Catalogue, all[i].Place.Height, how.Dark), how.Fine)
		if err != nil {
			out.Release()
			return nil, plan, err
		}
		draw.Draw(out.Image, boxes[i], shot.Image, image.Point{}, draw.Src)
		shot.Release()
	}
	return out, plan, nil
}

// DressOf is what a stack so high looks like that is made with these settings, mixed layers and all.
func DressOf(s job.Settings, c *stock.Catalogue, height float64, dark bool) look.Dress {
	d := look.Dress{Wood: WoodOf(s, c), Paper: Paper(dark)}
	d.Woods, d.Layers = Mixed(s, c, height)
	return d
}

func (s *Shelf) shoot(ctx context.Context, b *look.Body, v look.View, d look.Dress, fine bool) (*frame.Frame, error) {
	if fine {
		return s.renderer.Fine(ctx, b, v, d)
	}
	if err := s.renderer.Raster(ctx, b, v); err != nil {
		return nil, err
	}
	return s.renderer.Shade(ctx, d)
}

// Pictures are the stacks alone, each so large, at one scale on one floor, one by one to what is done with them.
func (s *Shelf) Pictures(ctx context.Context, all []Compared, camera look.Camera, size image.Point, each func(i int, img *image.RGBA) error) error {
	all = placed(all)
	for i, view := range s.views(all, camera, size) {
		if all[i].Body == nil {
			continue
		}
		shot, err := s.shoot(ctx, all[i].Body, view, DressOf(all[i].For, s.Catalogue, all[i].Place.Height, false), true)
		if err != nil {
			return err
		}
		if err := each(i, shot.Image); err != nil { // the frame is theirs now
			return err
		}
	}
	return nil
}

// views are the views of all stacks by one camera, at the scale at which the largest of them fits, on one floor.
func (s *Shelf) views(all []Compared, camera look.Camera, size image.Point) []look.View {
	views := make([]look.View, len(all))
	least, tall := math.Inf(1), 0.0
	for i, one := range all {
		views[i], _ = ViewOf(one.Place, one.For, s.Catalogue, nil, Sight{Camera: camera, Size: size})
		if one.Body == nil {
			continue
		}
		whole := views[i]
		whole.Zoom = 1
		least, tall = min(least, whole.PerMM(one.Body)), max(tall, one.Place.Height)
	}
	for i, one := range all {
		if one.Body != nil {
			views[i].Camera = views[i].AtScale(one.Body, least, tall)
		}
	}
	return views
}

// pixels is a box of a sheet in whole pixels.
func pixels(b geom.Box2, scale float64) image.Rectangle {
	at := image.Pt(int(math.Round(b.Min.X*scale)), int(math.Round(b.Min.Y*scale)))
	size := b.Size().Scale(scale)
	return image.Rectangle{Min: at, Max: at.Add(image.Pt(max(1, int(size.X)), max(1, int(size.Y))))}
}
