package paper

import (
	"image/color"
	"testing"

	"grainstack/render/golden"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/theme"
)

func TestEveryColourIsDefined(t *testing.T) {
	for _, s := range []Shade{Light, Dark, AsDesktop} {
		test.AssertAllColorNamesDefined(t, NewTheme(s, nil, nil), "paper")
	}
	for name := range light {
		if _, ok := dark[name]; !ok {
			t.Errorf("%s has no dark colour", name)
		}
	}
}

func TestShades(t *testing.T) {
	for _, tt := range []struct {
		shade   Shade
		desktop fyne.ThemeVariant
		want    bool
	}{
		{Light, theme.VariantDark, false}, {Dark, theme.VariantLight, true},
		{AsDesktop, theme.VariantDark, true}, {AsDesktop, theme.VariantLight, false},
	} {
		if got := NewTheme(tt.shade, nil, nil).IsDark(tt.desktop); got != tt.want {
			t.Errorf("shade %d on desktop %d: dark %v", tt.shade, tt.desktop, got)
		}
	}
}

// Everything written can be read: at least 4.5 to 1, and every mark that tells something can be seen: at least 3 to 1 (Web
// Content Accessibility Guidelines 2.1, success criteria 1.4.3 and 1.4.11).
func TestContrast(t *testing.T) {
	type names = []fyne.ThemeColorName
	grounds := names{
		Ground, Sheet, theme.ColorNameMenuBackground, theme.ColorNameOverlayBackground, theme.ColorNameInputBackground,
		theme.ColorNameHeaderBackground, theme.ColorNameButton,
	}
	for _, pairs := range []struct {
		over, under names
		least       float64
	}{
		{names{Ink, Pencil, Red, theme.ColorNameDisabled, theme.ColorNamePrimary, theme.ColorNameHyperlink, theme.ColorNameWarning, theme.ColorNameSuccess}, grounds, 4.5},
		{names{theme.ColorNameForegroundOnPrimary}, names{theme.ColorNamePrimary}, 4.5},
		{names{theme.ColorNameForegroundOnError}, names{theme.ColorNameError}, 4.5},
		{names{theme.ColorNameForegroundOnWarning}, names{theme.ColorNameWarning}, 4.5},
		{names{theme.ColorNameForegroundOnSuccess}, names{theme.ColorNameSuccess}, 4.5},
		{names{Stale, Ruling, Wood, theme.ColorNameFocus, theme.ColorNameInputBorder}, grounds, 3},
	} {
		for name, c := range map[string]map[fyne.ThemeColorName]color.NRGBA{"light": light, "dark": dark} {
			for _, over := range pairs.over {
				for _, under := range pairs.under {
					if k := contrast(laid(c[over], c[under]), c[under]); k < pairs.least {
						t.Errorf("%s: %s on %s has a contrast of %.2f, wanted %.1f", name, over, under, k, pairs.least)
					}
				}
			}
		}
	}
}

// laid is what is seen of a colour that lets some of the ground through.
func laid(over, under color.NRGBA) color.NRGBA {
	mix := func(a, b uint8) uint8 { return uint8((int(a)*int(over.A) + int(b)*(255-int(over.A)) + 127) / 255) }
	return color.NRGBA{mix(over.R, under.R), mix(over.G, under.G), mix(over.B, under.B), 255}
}

// contrast is that of opaque colours.
func contrast(a, b color.NRGBA) float64 { return golden.Contrast(color.RGBA(a), color.RGBA(b)) }

func TestWordsAreCutToTheirRoom(t *testing.T) {
	test.NewTempApp(t)
	w := Write("a line that is much too long for the room that it has", Small, Ink).Cut()
	win := test.NewWindow(w)
	defer win.Close()
	r := test.WidgetRenderer(w).(*wordsRenderer)
	w.Resize(fyne.NewSize(80, 20))
	if got := r.line.Text; len(got) > 20 || r.line.MinSize().Width > 81 {
		t.Errorf("80 units hold %q of %v", got, r.line.MinSize().Width)
	}
	w.Resize(fyne.NewSize(1000, 20))
	if r.line.Text != w.Text() {
		t.Errorf("with room enough: %q", r.line.Text)
	}
}

// Words that say the same again are not drawn again.
func TestWordsDrawOnlyChanges(t *testing.T) {
	test.NewTempApp(t)
	w := Write("17 layers", Small, Ink)
	win := test.NewWindow(w)
	defer win.Close()
	r := test.WidgetRenderer(w).(*wordsRenderer)
	r.line.Text = "untouched"
	w.Say("17 layers")
	w.In(Ink)
	if r.line.Text != "untouched" {
		t.Error("drawn again without a change")
	}
	w.Say("18 layers")
	if r.line.Text != "18 layers" {
		t.Error("a change was not drawn")
	}
}

// TestWholeLinesTakeTheRoomTheyNeed: words that have to be read whole ask for more lines in a narrow width than in a wide one, and
// none of them is cut short there; other words keep to the lines that they have.
func TestWholeLinesTakeTheRoomTheyNeed(t *testing.T) {
	test.NewTempApp(t)
	const said = "what whoever stands at the machine has to mind takes more lines the narrower it is, and every word of it counts"
	for _, whole := range []bool{false, true} {
		l := NewLines(2)
		if whole {
			l.Whole()
		}
		l.Say(said)
		win := test.NewWindow(l)
		two := NewLines(2).MinSize().Height
		l.Resize(fyne.NewSize(900, two))
		if wide := l.MinSize().Height; wide != two {
			t.Errorf("whole %v: %.0f high where two lines do, %.0f", whole, wide, two)
		}
		l.Resize(fyne.NewSize(120, two))
		narrow := l.MinSize().Height
		l.Resize(fyne.NewSize(120, narrow))
		if whole != (narrow > two) || whole == l.cut {
			t.Errorf("whole %v: %.0f high in a narrow width, two lines %.0f, cut short %v", whole, narrow, two, l.cut)
		}
		win.Close()
	}
}
