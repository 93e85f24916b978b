package app

import (
	"encoding/json"
	"fmt"
	"maps"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"
)

// The toolkit's own words in dialogs, menus and lists of files that the program shows. They are their own keys, but for those
// with a key of their own.
var (
	plainWords = []string{
		"Advanced", "Cancel", "Confirm", "Copy", "Create Folder", "Cut", "Enter filename", "Error", "Favourites", "File", "Folder", "New Folder",
		"No", "OK", "Open", "Paste", "Quit", "Redo", "Save", "Select all", "Show Hidden Files", "Undo", "Yes",
	}
	keyedWords = map[string]string{"file.name": "Name", "file.parent": "Parent"}
)

// speakEnglish makes the toolkit's words English under every language of the system: the program has no other.
func speakEnglish() error {
	words := map[string]string{}
	for _, w := range plainWords {
		words[w] = w
	}
	maps.Copy(words, keyedWords)
	text, err := json.Marshal(words)
	if err != nil {
		return fmt.Errorf("the dialogs' words can't be written down: %w", err)
	}
	system := lang.SystemLocale()
	language, _, _ := strings.Cut(system.String(), "-")
	for _, l := range []fyne.Locale{fyne.Locale(language), system} {
		if err := lang.AddTranslationsForLocale(text, l); err != nil {
			return fmt.Errorf("the dialogs' words can't be had in English: %w", err)
		}
	}
	return nil
}
