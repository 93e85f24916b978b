package paper

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/theme"
)

// Text sizes beyond the toolkit's own names.
const (
	Figure = fyne.ThemeSizeName("grainstack-figure") // the large figures of the ticket
	Title  = theme.SizeNameSubHeadingText            // names of the piece and of cards
	Small  = theme.SizeNameCaptionText               // notes
	Tiny   = fyne.ThemeSizeName("grainstack-tiny")   // ranges under a rule
)

// Shade says which of the two sets of colours is used.
type Shade int

// The shades.
const (
	AsDesktop Shade = iota
	Light
	Dark
)

// A Theme is paper, ink and wood. Regular and Bold may be nil: the toolkit's own fonts stand in. Text is how large what is
// written is against the usual, 0 for as usual.
type Theme struct {
	fyne.Theme
	Shade         Shade
	Text          float32
	Regular, Bold fyne.Resource
}

// NewTheme is a theme in a shade.
func NewTheme(s Shade, regular, bold fyne.Resource) *Theme {
	return &Theme{Theme: theme.DefaultTheme(), Shade: s, Regular: regular, Bold: bold}
}

// IsDark says whether the theme shows dark while the desktop asks for v.
func (t *Theme) IsDark(v fyne.ThemeVariant) bool {
	return t.Shade == Dark || t.Shade == AsDesktop && v == theme.VariantDark
}

// Color is the colour of a name.
func (t *Theme) Color(name fyne.ThemeColorName, v fyne.ThemeVariant) color.Color {
	colours := light
	if t.IsDark(v) {
		colours = dark
	}
	if c, ok := colours[name]; ok {
		return c
	}
	return t.Theme.Color(name, v)
}

// written are the usual sizes of what is written.
var written = map[fyne.ThemeSizeName]float32{
	Figure: 24, theme.SizeNameHeadingText: 20, Title: 15, theme.SizeNameText: 13, Small: 11.5, Tiny: 10.5,
}

// Size is the size of a name, in the toolkit's units: compact, as on a drawing.
func (t *Theme) Size(name fyne.ThemeSizeName) float32 {
	if s, ok := written[name]; ok {
		if t.Text > 0 {
			s *= t.Text
		}
		return s
	}
	switch name {
	case theme.SizeNamePadding:
		return 4
	case theme.SizeNameInnerPadding:
		return 5
	case theme.SizeNameInlineIcon:
		return 16
	case theme.SizeNameInputRadius, theme.SizeNameSelectionRadius:
		return 2
	case theme.SizeNameScrollBar:
		return 9
	case theme.SizeNameScrollBarSmall:
		return 3
	}
	return t.Theme.Size(name)
}

// Font is the program's own face; what it has no cut for is left to the toolkit.
func (t *Theme) Font(s fyne.TextStyle) fyne.Resource {
	switch {
	case s.Monospace || s.Symbol || s.Italic:
		return t.Theme.Font(s)
	case s.Bold && t.Bold != nil:
		return t.Bold
	case !s.Bold && t.Regular != nil:
		return t.Regular
	}
	return t.Theme.Font(s)
}
