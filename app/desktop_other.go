//go:build !(linux || freebsd || netbsd || openbsd)

package app

// desktopPrefers: these desktops always say which shade they want.
func desktopPrefers() bool { return true }
