package app

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"

	"fyne.io/fyne/v2"
	"github.com/adrg/xdg"

	_ "grainstack/app/locale"
	"grainstack/app/steady"
	"grainstack/render/draw"
)

// appID is the program's name among the desktop's preferences.
const appID = "io.github.grainstack"

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
	a := steady.New(appID)
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
		w.stopAll()
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
