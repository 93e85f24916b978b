package look

import (
	"image/color"

	"grainstack/render/tone"
	"grainstack/slicing/geom"
)

// A Dress is everything that colours a pixel without moving it; a change of it needs Shade only.
type Dress struct {
	Wood   Wood    // of every layer, unless Layers says otherwise
	Woods  []Wood  // other woods, for layers that name them; their own Bottom, Turned and Alternate say nothing
	Layers []Layer // of a mixed stack, from the lowest up; empty where all layers are of Wood
	Light  Light
	Paper  Paper
	Picked Band   // the layer picked, its edges drawn in ink
	Marks  []Mark // places to be ringed in the accent's colour
	Stain  Stain  // places of the surface to be tinted with it; nil for none
	Chalk  Chalk  // what the maker has marked
	Seams  bool   // joints are drawn so that they can be told from veneers, darker than glue is

	Seen [][3]uint8 // what the scanner saw on each of the body's triangles, to be laid over the wood; nil for wood alone
}

// A Layer of a mixed stack is one panel: what it is made of and how it lies. It reaches up to where the next one begins, the
// last as far as the piece does; below the first, it goes on.
type Layer struct {
	Bottom float64 // mm: height of the panel's lower face. The first may lie below the floor, as Wood.Bottom does.
	Wood   int     // 0 for the dress's Wood, k for Woods[k-1]; any other number is taken as 0
	Turned bool    // the panel's length lies along the stand's Y axis
}

// Wood is what the panels are made of and how they are stacked.
type Wood struct {
	Veneers   []Veneer // of one panel as skimmed, bottom to top; their sum is the panel's thickness
	Bottom    float64  // mm: height of the lower face of the first panel, 0 or below
	Turned    bool     // the first panel lies turned 90 degrees
	Alternate bool     // every next panel lies turned against the one below
	GlueLine  float64  // mm, between veneers
	Joint     float64  // mm, between panels
	Finish    Finish   // on all faces
	Seed      uint32   // of the small differences from veneer to veneer and panel to panel; 0 makes all alike
}

// A Veneer is one ply.
type Veneer struct {
	Thickness float64  // mm
	Along     bool     // fibres run along the panel's length, the stand's X axis where the panel is not turned
	Long, End tone.Lab // bare wood seen along and across its fibres
}

// Paper is the sheet that the piece is drawn on.
type Paper struct {
	Top, Bottom color.RGBA // of the sheet; dark paper shows the shadow if it is lighter at the bottom
	Ink, Accent color.RGBA
	Shadow      float64 // 0 none, 1 as deep as daylight makes it
}

// A Band is the space between two heights in mm; the zero Band is none.
type Band struct{ From, To float64 }

// A Mark is a place on the piece, in the stand's frame (not lifted).
type Mark struct {
	Point  geom.Vec
	Radius float64 // of the ring, pixels; 0 for the usual one
	Reach  float64 // mm: the ring goes round so much of the piece, where that is more
	Number int     // written beside the ring, 1 to 99; 0 for none
}

// A Light is where the light comes from.
type Light uint8

const (
	Daylight Light = iota // a big window at the viewer's upper left
	Spot                  // a gallery's spot from above, at the viewer's right
	Overcast              // the even sky of a dull day
)
