package export

import (
	"context"
	"errors"

	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
)

// A Face is one side of a panel as it lies on the machine.
type Face int

// Side A is carved first, side B after the panel was turned over about the axis through its register dowels.
const (
	SideA Face = iota
	SideB
)

// A PanelPart is a part as it lies on side A: its solid's point p is at p turned by TurnDeg about the origin, plus At, and
// PanelBottom, a height of the stand, is at 0.
type PanelPart struct {
	Solid       *mesh.Mesh // in the frame of the stand, mm
	PanelBottom float64    // lower face of the part's skimmed panel, mm
	At          geom.Vec2
	TurnDeg     int // 0, 90, 180 or 270
}

// A PanelHole is a hole for a register dowel, from either face.
type PanelHole struct {
	At       geom.Vec2
	Diameter float64
	Depth    float64 // from each face; 0 goes through
}

// A PanelTab is a bridge over the gap round a part, on side A: a strip of Width along Way from At, a point of the part's
// outline, outwards, between two heights of the panel.
type PanelTab struct {
	At          geom.Vec2
	Way         geom.Vec2 // of length 1, outwards
	Length      float64   // at least the gap's width
	Width       float64
	Bottom, Top float64 // mm above the panel's lower face
}

// A PanelPlan is a panel with everything on it, as plain figures.
type PanelPlan struct {
	X, Y, Thickness float64 // of the skimmed panel
	Gap             float64 // from a part's outline to the carve boundary: how much is cleared round it
	Parts           []PanelPart
	Holes           []PanelHole
	Tabs            []PanelTab
	TurnAlongY      bool    // the panel is turned over about the middle line along Y instead of that along X
	Step            float64 // between columns; 0 stands for DefaultStep
}

// DefaultStep is the spacing of a panel's columns, mm.
const DefaultStep = 0.5

// A PanelMap is what the cutter meets on one side of a panel: W·H heights, x fastest, y upwards, in parts of 65535 of the
// panel's thickness above the face that lies on the machine; 0 where there is no wood.
type PanelMap struct {
	W, H     int
	Step     float64   // mm between columns
	Origin   geom.Vec2 // of column 0, 0, on the panel as that side lies
	PerCount float64   // mm a count
	Z        []uint16
}

// A PanelModel has both sides of a panel.
type PanelModel struct{}

// NewPanelModel takes the panel's columns.
func NewPanelModel(ctx context.Context, p PanelPlan) (*PanelModel, error) {
	return nil, errors.New("not yet")
}

// Solid is the panel as it lies for one side.
func (m *PanelModel) Solid(f Face) *mesh.Mesh { return nil }

// Map is what the cutter meets on one side.
func (m *PanelModel) Map(f Face) PanelMap { return PanelMap{} }
