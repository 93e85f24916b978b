package files

import "grainstack/slicing/export"

// Names of drawing layers.
const (
	onPanel     = "panel"
	onOutline   = "outline"
	onLower     = "lower face"
	onUpper     = "upper face"
	onCoreLower = "core lower face"
	onCoreUpper = "core upper face"
	onBoundary  = "carve boundary"
	onTabs      = "tabs"
	onPinsUpper = "pins upper face"
	onPinsLower = "pins lower face"
	onDowels    = "register dowels"
	onNames     = "names"
	onDatum     = "datum and stock"
)

// strokes are all drawing layers: how each is drawn, alike in every file. What belongs to the lower face is blue and in short
// dashes, what belongs to the upper face is red; the outline is the heaviest line, so that it is told from the faces in black,
// too. Colours are the numbers that DXF names: 1 red, 3 green, 4 cyan, 5 blue, 6 magenta, 7 black or white, and 8, grey.
func strokes() []export.DrawingLayer {
	const fine, plain, heavy = 0.13, 0.25, 0.5 // of the widths of ISO 128, mm
	short, long := []float64{1.5, 1}, []float64{6, 1.5}
	return []export.DrawingLayer{
		{Name: onOutline, Color: 7, Width: heavy},
		{Name: onUpper, Color: 1, Width: fine},
		{Name: onLower, Color: 5, Width: fine, Dash: short},
		{Name: onCoreUpper, Color: 6, Width: plain},
		{Name: onCoreLower, Color: 4, Width: plain, Dash: short},
		{Name: onBoundary, Color: 8, Width: fine, Dash: long},
		{Name: onTabs, Color: 3, Width: plain},
		{Name: onPinsUpper, Color: 1, Width: plain},
		{Name: onPinsLower, Color: 5, Width: plain},
		{Name: onDowels, Color: 7, Width: plain},
		{Name: onPanel, Color: 8, Width: plain},
		{Name: onNames, Color: 7, Width: fine},
		{Name: onDatum, Color: 8, Width: fine},
	}
}

// stroke is a drawing layer with nothing on it yet.
func stroke(name string) export.DrawingLayer {
	for _, s := range strokes() {
		if s.Name == name {
			return s
		}
	}
	return export.DrawingLayer{Name: name}
}
