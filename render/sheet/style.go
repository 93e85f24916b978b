package sheet

import (
	"strings"

	"grainstack/render/draw"
	"grainstack/slicing/unit"
)

// A Style is how every sheet is drawn: colours, letters, units.
type Style struct {
	Ink     draw.Ink
	Letters *draw.Letters
	Text    float64 // size of ordinary lettering in drawing units; 0 means 11
	Units   unit.System
	Bare    bool // no title and no notes: the window shows them itself
}

func (s Style) text() float64 {
	if s.Text > 0 {
		return s.Text
	}
	return 11
}

// small is for lettering along dimension lines and beside the stick.
func (s Style) small() float64 { return s.text() - 1 }

// figure is a length without its unit, unitName that unit.
func (s Style) figure(mm float64) string {
	figure, _, _ := strings.Cut(unit.Length(mm, s.Units), " ")
	return figure
}

func (s Style) unitName() string {
	_, name, _ := strings.Cut(unit.Length(0, s.Units), " ")
	return name
}
