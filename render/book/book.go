package book

import (
	"image"

	"grainstack/render/sheet"
	"grainstack/slicing/unit"
)

// A Paper is a size to print on.
type Paper int

const (
	A4 Paper = iota
	Letter
)

// Size is the paper's width and height in points.
func (p Paper) Size() (w, h float64) {
	if p == Letter {
		return 612, 792
	}
	return 210 * 72 / 25.4, 297 * 72 / 25.4
}

func (p Paper) String() string {
	if p == Letter {
		return "Letter"
	}
	return "A4"
}

// A Book is all that a work book shows. What is empty is left out.
type Book struct {
	Title    string // the job
	Subtitle string // such as the piece, its size, the board
	Date     string
	Paper    Paper
	Units    unit.System
	Look     image.Image // the finished piece
	Ticket   []Entry
	Findings []string // sentences: what needs a look
	Aside    []string // what of it is set aside, to be seen to by hand, with notes

	Datum    []Entry         // what panels are made of and where their zeros are: Name and Value
	Programs []Entry         // what to know of the programs for the machine, none where there are none
	Zero     *sheet.ZeroView // where they have their zeros
	Boards   []sheet.SawView
	Trials   []Trials
	Buy      []Purchase
	Panels   []Panel
	Layers   []Layer
	Glue     GlueUp
	Finish   Finish
}

// Trials are stacks side by side: as many as go on a page. Pictures are as high as wide, one for each column, nil for none.
type Trials struct {
	View     sheet.ComparisonView
	Pictures []image.Image
}

// An Entry is a figure with its name.
type Entry struct{ Name, Value, Note string }

// A Purchase is something to buy.
type Purchase struct{ What, Amount, Price, Remark string }

// A Panel is a panel with the work on its two sides; View.SideB is set by the book.
type Panel struct {
	View  sheet.PanelView
	Steps []Step // in the order in which they are done
}

// A Layer is a layer's sheet and a few figures below it.
type Layer struct {
	View    sheet.LayerView
	Figures []string
}

// A GlueUp is the order of gluing.
type GlueUp struct {
	View   sheet.GlueUpView
	Seams  []Seam // glued before the stages
	Stages []Stage
	Notes  []string // glue, open time, clamps
}

// A Seam is the upright joint between two pieces of a split part.
type Seam struct {
	Left, Right string // the pieces as they are written on the panels
	Area        float64
	GlueG       float64
	ForceN      float64
	Clamps      int
}

// A Stage is what may be in the clamps at the same time.
type Stage struct {
	Number    int
	Minutes   float64
	Pressings []Pressing
}

// A Pressing is one joint that is glued.
type Pressing struct {
	Number       int
	Lower, Upper [2]int // first and last layer of either sub-stack
	Area         float64
	GlueG        float64
	ForceN       float64
	Clamps       int
	CloseMin     float64
	LiftG        float64 // of the upper, which is lifted
	People       int     // to lift it; 0 where it wants a hoist
	MakesG       float64
}

// A Finish is what comes after the glue.
type Finish struct {
	Area      float64 // of the skin
	Allowance float64 // for sanding
	Grits     []int
	Name      string // of the finish
	Coats     int
	Litres    float64 // of one coat
	RecoatH   float64 // hours from coat to coat
	Notes     []string
}
