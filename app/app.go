package app

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"

	"fyne.io/fyne/v2"
	"github.com/adrg/xdg"

	_ "grainstack/app/locale"
	"grainstack/app/paper"
	"grainstack/app/steady"
	"grainstack/render/draw"
	"grainstack/slicing/job"
	"grainstack/slicing/stock"
)

// Options are what the window is opened with.
type Options struct {
	Catalogue *stock.Catalogue
	Assets    fs.FS  // fonts/Lato-Regular.ttf and fonts/Lato-Bold.ttf
	Icon      []byte // a PNG picture for the window
	Version   string

	// Path is a mesh or a job to begin with; without one the window begins with what Piece makes.
	Path  string
	Piece func(context.Context) (*job.Piece, error)

	// Trace logs one line for each shown frame to Log: what, for which revision of the settings, when asked, when shown.
	Trace bool
	Log   io.Writer // standard error where nil

	// State is the folder in which unsaved work is kept for the case of a crash; Run fills it in where it is "".
	State string

	// Stock is the maker's own stock file, "" for none.
	Stock string
}

// id is the program's name among the desktop's preferences.
const id = "io.github.grainstack"

// Run opens the window and returns when it has been closed, or an error where there can be none.
func Run(o Options) error {
	letters, err := draw.LoadLetters(o.Assets)
	if err != nil {
		return fmt.Errorf("the program's own fonts can't be read: %w", err)
	}
	if o.Log == nil {
		o.Log = os.Stderr
	}
	if o.State == "" {
		o.State = filepath.Join(xdg.StateHome, "grainstack")
	}
	if err := speakEnglish(); err != nil {
		return err
	}
	a := steady.New(id)
	a.SetIcon(fyne.NewStaticResource("grainstack.png", o.Icon))
	var w *window
	err = opened(func() fyne.Window {
		w = newWindow(a, o, letters, func(_ string, f func()) { fyne.Do(f) })
		w.heedDesktop()
		a.Lifecycle().SetOnStarted(w.fitToScreen)
		w.begin()
		w.win.Show()
		return w.win
	})
	if err != nil {
		return err
	}
	if err := steady.Run(a, w.slipped); err != nil {
		w.stop()
		return errors.Join(err, w.keepNow())
	}
	return nil
}

// slipped tells of a mistake of the program that cost what the hand did last.
func (w *window) slipped(fault any) {
	w.trace.line("what=slip fault=%q", fmt.Sprint(fault))
	w.refresh()
	w.say("The program made a mistake", "What you did last may not have been followed; all that you chose before is there and is kept. Save the job before you go on, and do what you did another way.")
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
