package ticket

import (
	"fmt"
	"image"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"grainstack/app/paper"
)

// A TrialLine is one trial as the strip shows it.
type TrialLine struct {
	Name        string
	Picture     *image.RGBA // nil until it is drawn
	Brief       string      // its ticket
	Differences string      // from what is on the bench
	Choices     string      // what it was chosen otherwise
	Fault       bool        // Brief says why it can't be worked out
	Chosen      bool        // the ticket is set against it
	Beside      bool        // it is shown side by side with others
}

// StripActions are what the strip reports. Trials are counted from 0.
type StripActions struct {
	Choose func(int)
	Beside func(int)
	Run    func(command string) // of the window's table
	Key    func(fyne.KeyName)   // that is none of the strip's own
	Notice func(words string)   // about what is under the hand
}

// A Strip is the row of trials at the foot of the window: small pictures, each with its ticket and its differences.
type Strip struct {
	do     StripActions
	title  *paper.Words
	status *paper.Words
	fold   *paper.Button
	tools  map[string]*paper.Button // by command
	cells  []*trialCell
	row    *fyne.Container
	scroll *container.Scroll
	open   fyne.CanvasObject // what is not shown folded
	whole  *fyne.Container
	folded bool
	large  bool // trials are shown large, in the place of the panes
}

// stripTools are the buttons, by the names of their commands.
var stripTools = [...][2]string{{"keep trial", "Keep as trial"}, {"side by side", "Side by side"}, {"take trial", "Take back"}, {"rename trial", "Rename"}, {"remove trial", "Remove"}}

// NewStrip is a strip without trials; it is hidden until there are some.
func NewStrip(do StripActions) *Strip {
	s := &Strip{do: do, tools: map[string]*paper.Button{}}
	s.title = paper.Write("Trials", paper.Small, paper.Pencil)
	s.status = paper.Write("", paper.Small, paper.Pencil).Cut()
	s.fold = quietly("fold", func() {
		if s.large {
			do.Run("side by side")
			return
		}
		do.Run("fold trials")
	})
	buttons := make([]fyne.CanvasObject, 0, len(stripTools))
	for _, t := range stripTools {
		b := quietly(t[1], func() { do.Run(t[0]) })
		s.tools[t[0]] = b
		buttons = append(buttons, b)
	}
	tools := container.New(toolsLayout{}, buttons...)
	s.row = container.New(cellsLayout{})
	s.scroll = container.NewHScroll(s.row)
	s.open = container.NewBorder(nil, nil, tools, nil, s.scroll)
	head := container.New(headLayout{}, s.title, s.status, s.fold)
	s.whole = container.New(stripLayout{}, paper.Back(paper.Sheet), head, s.open, paper.Back(paper.Line))
	s.whole.Hide()
	return s
}

func quietly(text string, do func()) *paper.Button {
	b := paper.NewButton(text, do)
	b.Importance = widget.LowImportance
	return b
}

// Object is the strip.
func (s *Strip) Object() fyne.CanvasObject { return s.whole }

// Put shows trials and a word about what is being worked out. Where trials are shown large in the place of the panes the strip
// is folded, and leads back. enabled says which commands can be run. It reports whether the strip takes another height now.
func (s *Strip) Put(all []TrialLine, status string, folded, large bool, enabled func(command string) bool) bool {
	s.large, folded = large, folded || large
	was := s.whole.MinSize().Height
	shown := s.whole.Visible()
	s.title.Say(fmt.Sprintf("Trials · %d", len(all)))
	if folded {
		for _, t := range all {
			if t.Chosen && status == "" {
				status = t.Name + " · " + t.Brief
			}
		}
	}
	s.status.Say(status)
	s.putCells(all)
	for name, b := range s.tools {
		if on := enabled(name); on == b.Disabled() {
			if on {
				b.Enable()
			} else {
				b.Disable()
			}
		}
	}
	words := "fold"
	switch {
	case large:
		words = "to the bench"
	case folded:
		words = "unfold"
	}
	if s.fold.Text != words {
		s.fold.SetText(words)
	}
	if s.folded != folded {
		s.folded = folded
		if folded {
			s.open.Hide()
		} else {
			s.open.Show()
		}
	}
	if len(all) == 0 {
		s.whole.Hide()
	} else {
		s.whole.Show()
	}
	return shown != s.whole.Visible() || was != s.whole.MinSize().Height
}

func (s *Strip) putCells(all []TrialLine) {
	if len(all) != len(s.cells) {
		for len(s.cells) > len(all) {
			s.cells = s.cells[:len(s.cells)-1]
		}
		for len(s.cells) < len(all) {
			s.cells = append(s.cells, newTrialCell(s, len(s.cells)))
		}
		s.row.RemoveAll()
		for _, c := range s.cells {
			s.row.Add(c)
		}
		s.scroll.Refresh()
	}
	for i, t := range all {
		s.cells[i].put(t)
	}
}

// Show brings a trial into sight.
func (s *Strip) Show(i int) {
	if i < 0 || i >= len(s.cells) {
		return
	}
	left, right := float32(i)*(cellWidth+1), float32(i+1)*(cellWidth+1)
	switch at, wide := s.scroll.Offset.X, s.scroll.Size().Width; {
	case left < at:
		s.scroll.ScrollToOffset(fyne.NewPos(left, 0))
	case right > at+wide && wide > 0:
		s.scroll.ScrollToOffset(fyne.NewPos(right-wide, 0))
	}
}

// Places are what can be clicked, by what is written on it.
func (s *Strip) Places() map[string]fyne.CanvasObject {
	all := map[string]fyne.CanvasObject{}
	if !s.whole.Visible() {
		return all
	}
	all["fold trials"] = s.fold
	if s.folded {
		return all
	}
	for name, b := range s.tools {
		all[name] = b
	}
	for _, c := range s.cells {
		all["trial "+c.says.Name] = c
	}
	return all
}

// headLayout sets the title at the left, the status beside it and the fold at the right.
type headLayout struct{}

func (headLayout) Layout(o []fyne.CanvasObject, s fyne.Size) {
	fold := o[2].MinSize()
	wide := o[0].MinSize().Width
	o[0].Move(fyne.NewPos(14, 0))
	o[0].Resize(fyne.NewSize(wide, s.Height))
	o[1].Move(fyne.NewPos(14+wide+16, 0))
	o[1].Resize(fyne.NewSize(max(0, s.Width-wide-fold.Width-50), s.Height))
	o[2].Move(fyne.NewPos(s.Width-fold.Width-8, 0))
	o[2].Resize(fyne.NewSize(fold.Width, s.Height))
}

func (headLayout) MinSize(o []fyne.CanvasObject) fyne.Size { return fyne.NewSize(200, 22) }

// toolsLayout sets the buttons in two columns.
type toolsLayout struct{}

const toolWide, toolHigh = 92, 25

func (toolsLayout) Layout(o []fyne.CanvasObject, _ fyne.Size) {
	for i, b := range o {
		b.Move(fyne.NewPos(6+float32(i%2)*toolWide, float32(i/2)*toolHigh))
		b.Resize(fyne.NewSize(toolWide, toolHigh))
	}
}

func (toolsLayout) MinSize(o []fyne.CanvasObject) fyne.Size {
	return fyne.NewSize(2*toolWide+12, float32((len(o)+1)/2)*toolHigh)
}

// cellsLayout sets the trials beside one another.
type cellsLayout struct{}

func (cellsLayout) Layout(o []fyne.CanvasObject, s fyne.Size) {
	for i, c := range o {
		c.Move(fyne.NewPos(float32(i)*(cellWidth+1), 0))
		c.Resize(fyne.NewSize(cellWidth, s.Height))
	}
}

func (cellsLayout) MinSize(o []fyne.CanvasObject) fyne.Size {
	return fyne.NewSize(float32(len(o))*(cellWidth+1), cellHeight)
}

// stripLayout sets the head above the rest, on a sheet, with a line below.
type stripLayout struct{}

func (stripLayout) Layout(o []fyne.CanvasObject, s fyne.Size) {
	const head = 22
	o[0].Resize(s)
	o[1].Resize(fyne.NewSize(s.Width, head))
	o[2].Move(fyne.NewPos(0, head))
	o[2].Resize(fyne.NewSize(s.Width, max(0, s.Height-head-1)))
	o[3].Move(fyne.NewPos(0, s.Height-1))
	o[3].Resize(fyne.NewSize(s.Width, 1))
}

func (stripLayout) MinSize(o []fyne.CanvasObject) fyne.Size {
	if !o[2].Visible() {
		return fyne.NewSize(300, 23)
	}
	return fyne.NewSize(300, 23+cellHeight)
}
