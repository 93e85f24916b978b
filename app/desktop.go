package app

import (
	"slices"

	"fyne.io/fyne/v2"

	"grainstack/app/paper"
)

// chosenShade is what the maker chose, AsDesktop where nothing was.
func (w *window) chosenShade() paper.Shade {
	return paper.Shade(w.app.Preferences().IntWithFallback(prefShade, int(paper.AsDesktop)))
}

// firstShade is what the window opens in: light paper where nothing was chosen, until heedDesktop knows of a wish.
func (w *window) firstShade() paper.Shade {
	if s := w.chosenShade(); s != paper.AsDesktop {
		return s
	}
	return paper.Light
}

// heedDesktop asks the desktop which shade it prefers, and follows it where it does. The answer may take long, or never come.
func (w *window) heedDesktop() {
	if w.chosenShade() != paper.AsDesktop {
		return
	}
	go func() {
		if !desktopPrefers() {
			return
		}
		w.post(func() {
			if w.chosenShade() == paper.AsDesktop {
				w.dressIn(paper.AsDesktop, w.theme.Text)
			}
		})
	}()
}

// dressIn shows the window in a shade, its text so large against the usual.
func (w *window) dressIn(shade paper.Shade, text float32) {
	w.theme = themeOf(w.o, shade, text)
	w.app.Settings().SetTheme(w.theme)
}

// textSizes are the sizes that text can have against the usual.
var textSizes = [...]float32{0.9, 1, 1.15, 1.3, 1.5}

// nextText is the size after that of now, or before it; the same at the end.
func (w *window) nextText(by int) float32 {
	i, _ := slices.BinarySearch(textSizes[:], w.theme.Text)
	return textSizes[max(0, min(i+by, len(textSizes)-1))]
}

func (w *window) sizeText(by int) {
	text := w.nextText(by)
	w.app.Preferences().SetFloat(prefText, float64(text))
	w.dressIn(w.theme.Shade, text)
}

// fitToScreen makes a window that is larger than its screen as large as there is room for.
func (w *window) fitToScreen() {
	room, ok := screenRoom()
	if !ok {
		return
	}
	scale := w.win.Canvas().Scale()
	if scale <= 0 {
		return
	}
	size := w.win.Canvas().Size()
	fitting := fyne.NewSize(min(size.Width, room.Width/scale), min(size.Height, room.Height/scale))
	if fitting != size {
		w.win.Resize(fitting)
	}
}
