package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// TestCommandsAreQuiet: a command that goes well says nothing on standard error, whatever the system's language is.
func TestCommandsAreQuiet(t *testing.T) {
	program := filepath.Join(t.TempDir(), "grainstack")
	if out, err := exec.Command("go", "build", "-o", program, ".").CombinedOutput(); err != nil {
		t.Fatalf("the program doesn't build: %v\n%s", err, out)
	}
	for _, lang := range []string{"C", "POSIX", "C.UTF-8", "de_DE.UTF-8", ""} {
		cmd := exec.Command(program, "help")
		cmd.Env = append(os.Environ(), "LANG="+lang, "LC_ALL="+lang)
		var told strings.Builder
		cmd.Stderr = &told
		if err := cmd.Run(); err != nil || told.Len() > 0 {
			t.Errorf("LANG=%s: %v, standard error says %q", lang, err, told.String())
		}
	}
}
