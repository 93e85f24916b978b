package app

import (
	"fyne.io/fyne/v2"
	"github.com/go-gl/glfw/v3.3/glfw"
)

// frameHeight is what the desktop's own title bar takes of a screen, in pixels.
const frameHeight = 40

// screenRoom is what the first screen offers to a window, in pixels; not ok where no screen tells. It may be asked once the
// toolkit has started.
func screenRoom() (room fyne.Size, ok bool) {
	monitor := glfw.GetPrimaryMonitor()
	if monitor == nil {
		return fyne.Size{}, false
	}
	_, _, width, height := monitor.GetWorkarea()
	if width <= 0 || height <= frameHeight {
		return fyne.Size{}, false
	}
	return fyne.NewSize(float32(width), float32(height-frameHeight)), true
}
