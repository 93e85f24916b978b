package job

import (
	"math"

	"grainstack/slicing/carve"
	"grainstack/slicing/chalk"
	"grainstack/slicing/geom"
	"grainstack/slicing/mend"
	"grainstack/slicing/stack"
	"grainstack/slicing/stock"
)

// A CoreKind says how the hollow is cut.
type CoreKind int

// The kinds of hollow.
const (
	Carved   CoreKind = iota // follows the outside at the wall's thickness
	Straight                 // one pocket a layer with upright sides
)

// String is the kind as it is written in commands and files.
func (k CoreKind) String() string {
	if k == Straight {
		return "straight"
	}
	return "carved"
}

// Hold says what stays when the layer's thickness is changed.
type Hold int

// What the layer thickness moves.
const (
	HoldBoard Hold = iota // the board stays, the skim follows
	HoldSkim              // the skim stays, the board is bought or planed to suit
)

// CutterUse is a cutter of the catalogue and how it is run; zero figures stand for the catalogue's own.
type CutterUse struct {
	Key                              string
	FeedMmMin, PlungeMmMin, RPM      float64
	Stepdown, Stepover, StockToLeave float64 // mm
}

// Settings are everything the maker chooses, in groups by what they move; each group is comparable, and so are all together:
// equal settings give equal results. A job file has the fields of all groups side by side.
type Settings struct {
	Pose
	Mend mend.Settings // how the scan is made a solid; its MmPerUnit is the scale, whatever stands there
	Layering
	Hollow
	Surface
	Routing
	PanelSize

	Limits carve.Limits // from where on something is worth a caution; 0 stands for the usual

	Chalk *chalk.Marks `json:",omitempty"` // what is marked on the piece, nil for nothing; equal marks of a job have one place

	Shop Shop // how panels are sawn, laid and held, and how the piece is glued and finished
}

// A Pose is how the piece stands and how large it is: all that a Standing is made by.
type Pose = stack.Stand

// Layering is what moves the layers: their boards, their thickness and how they lie.
type Layering struct {
	Board          string  // key in the catalogue
	BoardThickness float64 // as measured, mm; 0 stands for the catalogue's
	Skim           float64 // mm off each face
	Hold           Hold
	FirstJoint     float64 // height of the first joint above the floor, mm; 0 stands for a whole layer
	Alternate      bool    // every second layer is turned by 90 degrees
	Mix            Mix     // layers with a board or a turn of their own
}

// A Hollow is what moves the hollow in the layers.
type Hollow struct {
	Wall      float64 // mm; 0 leaves the piece solid
	Core      CoreKind
	CapBottom int     // layers left solid at the bottom
	CapTop    int     // and at the top
	RimWanted float64 // narrowest ring of wood wanted at a joint, mm
}

// A Surface is what the finished piece is coated and glued with; it moves no layer.
type Surface struct {
	Finish string // key in the catalogue
	Tones  Tones  // measured on the maker's own board
	Glue   string
}

// Routing is what moves the cutters' paths.
type Routing struct {
	Machine     string
	Rough, Fine CutterUse
	AcrossGrain bool    // finish rows run across the grain of the panel's faces, not along it
	SafeHeight  float64 // mm above the panel
	Clearance   float64 // mm between the cutter and what stays round a part
}

// A PanelSize is how large a panel is, along the grain of its faces and across, mm.
type PanelSize struct{ PanelX, PanelY float64 }

// Default are the settings that a new piece starts with: the catalogue's first choice of everything, skimmed to a round
// layer thickness, hollow, with one solid layer at either end.
func Default(c *stock.Catalogue) Settings {
	s := Settings{
		Pose:     Pose{Scale: 1, Turn: geom.NoTurn()},
		Layering: Layering{Board: c.First.Board, Alternate: true},
		Hollow:   Hollow{Wall: 20, CapBottom: 1, CapTop: 1, RimWanted: 15},
		Surface:  Surface{Finish: c.First.Coat, Glue: c.First.Glue},
		Routing: Routing{Machine: c.First.Machine, Rough: CutterUse{Key: c.First.Rough}, Fine: CutterUse{Key: c.First.Finish},
			SafeHeight: 5, Clearance: 2},
		Limits: carve.UsualLimits(), Shop: DefaultShop(),
	}
	if p, ok := c.Panel(c.First.Panel); ok {
		s.PanelX, s.PanelY = p.X, p.Y
	}
	return s.WithUsualSkim(c)
}

// usualSkim is about what is carved off a face to make it flat and to reach the first whole veneer, mm (common practice, no
// source).
const usualSkim = 0.85

// WithUsualSkim are the settings with the usual skim off each face, taken so that the layer comes out at half millimetres.
func (s Settings) WithUsualSkim(c *stock.Catalogue) Settings {
	b, _ := s.BoardIn(c)
	layer := math.Round((b.Thickness-2*usualSkim)*2) / 2
	s.Skim = math.Max(0, math.Round((b.Thickness-layer)/2*1e6)/1e6)
	return s
}

// Stand is the part of the settings that places the piece.
func (s Settings) Stand() stack.Stand { return s.Pose }

// BoardIn is the chosen board at its measured thickness; ok is false for a key that the catalogue lacks.
func (s Settings) BoardIn(c *stock.Catalogue) (b stock.Board, ok bool) {
	b, ok = c.Board(s.Board)
	if ok && s.BoardThickness > 0 {
		b = b.Measured(s.BoardThickness)
	}
	return b, ok
}

// resolved are the settings with the catalogue's figures where nothing is chosen.
func (s Settings) resolved(c *stock.Catalogue) Settings {
	b, _ := s.BoardIn(c)
	s.BoardThickness = b.Thickness
	s.FirstJoint = s.FirstJointIn(s.LayerThickness(c))
	for _, u := range []*CutterUse{&s.Rough, &s.Fine} {
		k := u.In(c)
		u.FeedMmMin, u.PlungeMmMin, u.RPM, u.Stepdown, u.Stepover = k.FeedMmMin, k.PlungeMmMin, k.RPM, k.Stepdown, k.Stepover
	}
	return s
}

// LayerThickness is what is left of the board after both faces are skimmed, mm.
func (s Settings) LayerThickness(c *stock.Catalogue) float64 {
	b, _ := s.BoardIn(c)
	return b.Thickness - 2*s.Skim
}

// Thinnest is the thinnest layer that settings may ask for: a veneer or so, mm.
const Thinnest = 1.0

// LayerRange is how far the layer's thickness can be moved as the settings hold board or skim, mm.
func (s Settings) LayerRange(c *stock.Catalogue) (least, most float64) {
	b, _ := s.BoardIn(c)
	if s.Hold == HoldSkim {
		return Thinnest, 50
	}
	return math.Min(Thinnest, b.Thickness), b.Thickness
}

// WithLayer are the settings with another layer thickness, as near as the hold allows: with the board held the skim moves
// and stops at no skim and before the veneers are used up; with the skim held the board's thickness moves.
func (s Settings) WithLayer(c *stock.Catalogue, thickness float64) Settings {
	least, most := s.LayerRange(c)
	thickness = math.Max(least, math.Min(most, thickness))
	b, _ := s.BoardIn(c)
	if s.Hold == HoldSkim {
		s.BoardThickness = thickness + 2*s.Skim
		return s
	}
	s.Skim = math.Max(0, math.Round((b.Thickness-thickness)/2*1e6)/1e6)
	return s
}

// Check says what is wrong with settings, in a sentence for the maker; nil where they can be worked with.
func (s Settings) Check(c *stock.Catalogue) error {
	for i := range table {
		if err := table[i].check(&s, c); err != nil {
			return err
		}
	}
	b, _ := s.BoardIn(c)
	if _, err := b.Skimmed(s.Skim); err != nil {
		return err
	}
	return s.Setup(c).Check()
}

// FirstJointIn is where the first joint of layers so thick lies, mm above the floor: a whole layer where nothing else is wanted or possible.
func (s Settings) FirstJointIn(thickness float64) float64 {
	if s.FirstJoint > 0 && s.FirstJoint < thickness {
		return s.FirstJoint
	}
	return thickness
}

// Unread are the settings that a file is read over, so that what an older file doesn't have is usual.
func Unread() Settings { return Settings{Shop: DefaultShop()} }
