//go:build linux || freebsd || netbsd || openbsd

package app

import (
	"os"

	"github.com/rymdport/portal/settings/appearance"
)

// desktopPrefers reports whether the desktop, or the toolkit's own variable, says which shade it wants.
func desktopPrefers() bool {
	if os.Getenv("FYNE_THEME") != "" {
		return true
	}
	scheme, err := appearance.GetColorScheme()
	return err == nil && scheme != appearance.NoPreference
}
