package app

import (
	"bytes"
	"fmt"
	"log"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver"
)

// opened makes and shows a window, or says why there can be none: no display, or one without OpenGL. The toolkit panics in the one
// case and goes on without a window in the other; what it writes to the log meanwhile is the reason, and is passed on to the log
// where there is a window.
func opened(show func() fyne.Window) (err error) {
	to, how := log.Writer(), log.Flags()
	var said bytes.Buffer
	log.SetOutput(&said)
	log.SetFlags(0)
	defer func() {
		log.SetOutput(to)
		log.SetFlags(how)
		if fault := recover(); fault != nil {
			if !strings.Contains(fmt.Sprint(fault), "GLFW") { // the library that the toolkit opens windows with
				panic(fault)
			}
			err = windowless(said.String())
		}
	}()
	if win := show(); !stands(win) {
		return windowless(said.String())
	}
	if said.Len() > 0 {
		fmt.Fprint(to, said.String())
	}
	return nil
}

// windowless says that there is no window, with the cause that the toolkit wrote last.
func windowless(said string) error {
	cause := "no reason is given"
	for line := range strings.Lines(said) {
		if line = strings.TrimSpace(line); line != "" && !strings.HasPrefix(line, "At:") {
			cause = strings.TrimRight(strings.TrimPrefix(line, "Cause: "), ".")
		}
	}
	return fmt.Errorf("no window can be opened (%s): start the program on a desktop with OpenGL, or work without a window; '%s help' tells how", cause, commands)
}

// stands reports whether the system has a window for it, where that can be asked.
func stands(win fyne.Window) bool {
	native, ok := win.(driver.NativeWindow)
	if !ok {
		return true
	}
	there := true
	native.RunNative(func(context any) {
		switch c := context.(type) {
		case driver.X11WindowContext:
			there = c.WindowHandle != 0
		case driver.WindowsWindowContext:
			there = c.HWND != 0
		case driver.MacWindowContext:
			there = c.NSWindow != 0
		}
	})
	return there
}
