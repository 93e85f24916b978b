// Package locale names a language where the system names none. The toolkit looks for one while the program starts, before
// main, and complains on standard error about the plain C locale, also under commands that open no window.
//
// The order in which packages start is laid down by the language: sorted by path, each as soon as its imports have started
// (Go specification, Package initialization). This one needs only os and strings, so it starts before text/template, which
// the toolkit's own language package needs.
package locale

import (
	"os"
	"strings"
)

// For its effect: the language is named as this package starts.
var _ = nameLanguage()

// fallback is the language that the program is written in.
const fallback = "en_US.UTF-8"

// nameLanguage reports whether the system named none, so that one was set.
func nameLanguage() bool {
	named := false
	for _, key := range []string{"LC_ALL", "LC_MESSAGES", "LANG"} {
		switch lang, _, _ := strings.Cut(os.Getenv(key), "."); lang {
		case "C", "POSIX":
			named = os.Setenv(key, fallback) == nil || named
		}
	}
	return named
}
