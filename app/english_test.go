package app

import (
	"testing"

	"fyne.io/fyne/v2/lang"
)

// Under a German, a Brazilian and a Chinese system the dialogs speak the program's language.
func TestDialogsSpeakEnglish(t *testing.T) {
	for _, system := range []string{"de_AT.UTF-8", "pt_BR.UTF-8", "zh_CN.UTF-8", "ru_RU.UTF-8"} {
		t.Setenv("LC_ALL", system)
		t.Setenv("LANGUAGE", "")
		if err := speakEnglish(); err != nil {
			t.Fatal(err)
		}
		for _, word := range append([]string{"file.name"}, plainWords...) {
			want := word
			if w, ok := keyedWords[word]; ok {
				want = w
			}
			if got := lang.L(word); got != want {
				t.Errorf("%s: %q is said %q", system, word, got)
			}
		}
	}
}
