package app

import (
	"errors"
	"log"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver"
)

// A missing is a window that the system has not made.
type missing struct{ fyne.Window }

func (missing) RunNative(f func(any)) { f(driver.X11WindowContext{}) }

// TestNoWindow: no display and no OpenGL are told as sentences with their cause; any other panic stays one, and the log is whole
// again afterwards.
func TestNoWindow(t *testing.T) {
	var kept strings.Builder
	old := log.Writer()
	log.SetOutput(&kept)
	defer log.SetOutput(old)
	for cause, show := range map[string]func() fyne.Window{
		"X11: Failed to open display": func() fyne.Window {
			log.Print("PlatformError: X11: Failed to open display :7")
			panic(errors.New("NotInitialized: The GLFW library is not initialized"))
		},
		"(GLX extension not found)": func() fyne.Window {
			log.Print("Fyne error:  window creation error\n  Cause: GLX extension not found\n  At: somewhere.go:7")
			return missing{}
		},
	} {
		err := opened(show)
		if err == nil || !strings.Contains(err.Error(), cause) || strings.Contains(err.Error(), "somewhere") {
			t.Errorf("%v, wants %q", err, cause)
		}
	}
	if err := opened(func() fyne.Window { log.Print("a word"); return nil }); err != nil || !strings.Contains(kept.String(), "a word") {
		t.Errorf("%v, the log has %q", err, kept.String())
	}
	defer func() {
		if recover() == nil {
			t.Error("a fault of our own is hidden")
		}
		log.Print("back")
		if !strings.Contains(kept.String(), "back") {
			t.Error("the log is not as it was")
		}
	}()
	_ = opened(func() fyne.Window { panic("ours") })
}
