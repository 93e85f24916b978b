package look

import (
	"image"
	"math"

	"grainstack/slicing/geom"
)

// A Camera looks at the piece from far away, so that all its rays run alike. The zero Camera would see nothing: Zoom must
// be above zero.
type Camera struct {
	Azimuth    float64 // radians, counter-clockwise from the stand's X axis, seen from above: where the viewer stands
	Elevation  float64 // radians above the floor, -π/2 to π/2
	Zoom       float64 // 1 shows the whole piece
	PanX, PanY float64 // shift of the picture, right and up, in parts of its shorter side
}

// A View is everything that moves a pixel; a change of it needs Raster. The zero Cut, Lift and Core are the whole piece.
type View struct {
	Camera
	Placement geom.Placement // from the body's frame to the stand
	Height    float64        // mm, of the piece as it stands on the floor
	Size      image.Point    // pixels
	Cut       float64        // mm: what stands higher is taken off; 0 or less leaves the piece whole
	Lift      float64        // mm of air between layers, 0 for the closed stack
	Joints    []float64      // heights of the joints, rising; where the stack comes apart when lifted
	Core      Core           // what is hollow
	Ground    Ground         // what it stands on; a plinth takes some of the picture
}

// lifted is the height of the opened stack in mm.
func (v *View) lifted() float64 {
	if v.Lift <= 0 {
		return v.Height
	}
	return v.Height + v.Lift*float64(len(v.Joints))
}

// maxSide bounds a picture's side and maxZoom a zoom, so that no request can exhaust memory or overflow the pixel grid.
const (
	maxSide = 8192
	maxZoom = 200
)

// A lens is a view worked out: the axes of the picture in the stand's frame and the scale.
type lens struct {
	right, up, ahead geom.Vec // ahead runs from the viewer into the picture
	target           geom.Vec // stand point at cx, cy
	scale            float64  // pixels per mm
	cx, cy           float64
	w, h             int     // pixels of the picture, or of a strip of it
	above, whole     int     // rows above the strip, rows of the whole picture
	reach            float64 // mm: all depths from target lie within ± reach
}

// fill is how much of the picture the piece may take at zoom 1; the rest is for its shadow.
const fill = 0.94

func newLens(b *Body, v *View, strip Strip) lens {
	se, ce := math.Sincos(max(-math.Pi/2, min(math.Pi/2, v.Elevation)))
	sa, ca := math.Sincos(v.Azimuth)
	l := lens{
		right: geom.Vec{X: -sa, Y: ca},
		up:    geom.Vec{X: -se * ca, Y: -se * sa, Z: ce},
		ahead: geom.Vec{X: -ce * ca, Y: -ce * sa, Z: -se},
		w:     min(max(v.Size.X, 1), maxSide), h: min(max(v.Size.Y, 1), maxSide),
	}
	radius := max(b.radius*v.Placement.Scale, 1e-6)
	tall := v.lifted()
	l.target = v.Placement.Apply(b.centre)
	plinth := v.plinth(radius)
	l.target.Z = (tall - plinth) / 2
	half := tall/2*ce + radius*math.Abs(se)
	if tall <= 2*radius {
		half = min(half, radius)
	}
	half += plinth/2*ce + plinthRoom/2*plinth/plinthPart
	w, h := float64(l.w), float64(l.h)
	zoom := max(1e-3, min(maxZoom, v.Zoom))
	l.scale = zoom * fill / 2 * min(w/(radius+plinth/2), h/half)
	side := min(w, h)
	l.cx, l.cy = w/2+v.PanX*side+strip.DX, h/2-v.PanY*side+strip.DY
	l.reach = 2*radius + tall + v.Height
	l.whole = l.h
	if strip.Rows > 0 {
		l.above = max(0, min(strip.Y, l.h-1))
		l.h = min(strip.Rows, l.h-l.above)
		l.cy -= float64(l.above)
	}
	return l
}

// Centred is the view's camera moved aside, not turned, so that a point of the stand (not lifted) lies in the middle.
func (v View) Centred(b *Body, p geom.Vec) Camera {
	v.PanX, v.PanY = 0, 0
	l := newLens(b, &v, Strip{})
	x, y := l.pixel(p)
	w, h := float64(l.w), float64(l.h)
	v.PanX, v.PanY = (w/2-x)/min(w, h), (y-h/2)/min(w, h)
	return v.Camera
}

// point is the stand's point (not lifted) seen at pixel position x, y (continuous) at a depth from the target in mm.
func (l *lens) point(x, y, depth float64) geom.Vec {
	return l.target.Add(l.right.Scale((x - l.cx) / l.scale)).Add(l.up.Scale((l.cy - y) / l.scale)).Add(l.ahead.Scale(depth))
}

// pixel is where a point of the stand is seen.
func (l *lens) pixel(p geom.Vec) (x, y float64) {
	d := p.Sub(l.target)
	return l.cx + l.scale*l.right.Dot(d), l.cy - l.scale*l.up.Dot(d)
}

// Depth says how deep a point of the body's own frame lies below its surface, in the body's units, positive inside.
type Depth interface {
	Depth(p geom.Vec) float64
}

// A Core is what has been hollowed out: all that lies deeper than Wall below the surface, between two heights. It shows in
// faces that a cut or a lift lays bare.
type Core struct {
	Depth       Depth   // nil for a solid piece
	Wall        float64 // mm
	Bottom, Top float64 // mm in the stand: layers left solid lie outside
}

// A Ground is what the piece stands on.
type Ground uint8

const (
	OnPaper  Ground = iota // the sheet alone, with a shadow
	OnFloor                // a matt floor that runs up behind into a wall, in the paper's own colour
	OnPlinth               // a low block on such a floor
)

// A Strip is some rows of a picture, looked at from a little beside the pixels' middles.
type Strip struct {
	Y, Rows int
	DX, DY  float64 // pixels
}

// plinthPart is the plinth's height in parts of the piece's radius, plinthFoot the part of the piece's height whose outline
// it has to carry, plinthRoom its border in parts of the radius.
const (
	plinthPart = 0.20
	plinthFoot = 0.30
	plinthRoom = 0.13
)

func (v *View) plinth(radius float64) float64 {
	if v.Ground != OnPlinth {
		return 0
	}
	return plinthPart * radius
}
