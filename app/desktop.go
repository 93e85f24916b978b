package app

import (
	"io/fs"
	"slices"

	"fyne.io/fyne/v2"

	"grainstack/app/paper"
)

// A dresser chooses the window's shade and the size of its text.
type dresser struct{ *core }

// chosenShade is what the maker chose, AsDesktop where nothing was.
func (d *dresser) chosenShade() paper.Shade {
	return paper.Shade(d.app.Preferences().IntWithFallback(prefShade, int(paper.AsDesktop)))
}

// firstShade is what the window opens in: light paper where nothing was chosen, until heedDesktop knows of a wish.
func (d *dresser) firstShade() paper.Shade {
	if s := d.chosenShade(); s != paper.AsDesktop {
		return s
	}
	return paper.Light
}

// heedDesktop asks the desktop which shade it prefers, and follows it where it does. The answer may take long, or never come.
func (d *dresser) heedDesktop() {
	if d.chosenShade() != paper.AsDesktop {
		return
	}
	go func() {
		if !desktopPrefers() {
			return
		}
		d.post(func() {
			if d.chosenShade() == paper.AsDesktop {
				d.dressIn(paper.AsDesktop, d.theme.Text)
			}
		})
	}()
}

// dressIn shows the window in a shade, its text so large against the usual.
func (d *dresser) dressIn(shade paper.Shade, text float32) {
	d.theme = themeOf(d.o, shade, text)
	d.app.Settings().SetTheme(d.theme)
}

// textSizes are the sizes that text can have against the usual.
var textSizes = [...]float32{0.9, 1, 1.15, 1.3, 1.5}

// nextText is the size after that of now, or before it; the same at the end.
func (d *dresser) nextText(by int) float32 {
	i, _ := slices.BinarySearch(textSizes[:], d.theme.Text)
	return textSizes[max(0, min(i+by, len(textSizes)-1))]
}

func (d *dresser) sizeText(by int) {
	text := d.nextText(by)
	d.app.Preferences().SetFloat(prefText, float64(text))
	d.dressIn(d.theme.Shade, text)
}

// fitToScreen makes a window that is larger than its screen as large as there is room for.
func (d *dresser) fitToScreen() {
	room, ok := screenRoom()
	if !ok {
		return
	}
	scale := d.win.Canvas().Scale()
	if scale <= 0 {
		return
	}
	size := d.win.Canvas().Size()
	fitting := fyne.NewSize(min(size.Width, room.Width/scale), min(size.Height, room.Height/scale))
	if fitting != size {
		d.win.Resize(fitting)
	}
}

// toggleShade goes from dark to light paper, or back.
func (d *dresser) toggleShade() {
	shade := paper.Dark
	if d.dark() {
		shade = paper.Light
	}
	d.app.Preferences().SetInt(prefShade, int(shade))
	d.dressIn(shade, d.theme.Text)
}

// face is a font of the program as the toolkit wants it; nil where it is missing.
func face(assets fs.FS, name string) fyne.Resource {
	b, err := fs.ReadFile(assets, "fonts/"+name)
	if err != nil {
		return nil
	}
	return fyne.NewStaticResource(name, b)
}

// themeOf is the program's theme in a shade, its text so large against the usual.
func themeOf(o Options, s paper.Shade, text float32) *paper.Theme {
	t := paper.NewTheme(s, face(o.Assets, "Lato-Regular.ttf"), face(o.Assets, "Lato-Bold.ttf"))
	t.Text = text
	return t
}
