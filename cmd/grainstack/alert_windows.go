package main

import (
	"golang.org/x/sys/windows"

	"grainstack/slicing/phrase"
)

// alert shows an error in a box of its own where there is no prompt that it could be written to: the window's program has none.
func alert(err error) {
	if h, wrong := windows.GetStdHandle(windows.STD_ERROR_HANDLE); wrong == nil && h != 0 {
		return
	}
	text, wrong := windows.UTF16PtrFromString(phrase.Capital(err.Error()) + ".")
	if wrong != nil {
		return
	}
	title, wrong := windows.UTF16PtrFromString("Grainstack")
	if wrong != nil {
		return
	}
	_, _ = windows.MessageBox(0, text, title, windows.MB_OK|windows.MB_ICONERROR)
}
