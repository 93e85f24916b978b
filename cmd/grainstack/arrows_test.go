package main

import (
	"os/exec"
	"strings"
	"testing"
)

// ranks orders the packages: each may import only packages of a lower rank, and none of its own rank.
var ranks = map[string]int{
	"slicing/geom": 0, "slicing/unit": 0, "slicing/par": 0, "slicing/killtest": 0, "slicing/stoptest": 0, "slicing/phrase": 0, "slicing/sets": 0, "assets": 0,
	"slicing/stock": 1, "slicing/mesh": 1,
	"slicing/field": 2, "slicing/sample": 2, "slicing/solidtest": 2, "assets/stocktest": 2,
	"slicing/stack": 3, "slicing/mend": 3, "slicing/chalk": 3,
	"slicing/carve": 4, "slicing/panel": 4, "slicing/glue": 4,
	"slicing/hours":  5,
	"slicing/job":    6,
	"slicing/export": 7, "slicing/compass": 7,
	"render/frame": 8, "render/tone": 8, "render/draw": 8, "render/golden": 8,
	"render/look": 9, "render/sheet": 9, "render/swatch": 9,
	"render/book": 10, "render/still": 10,
	"app/session": 11, "app/latest": 11, "app/paper": 11,
	"cmd/grainstack": 20,
}

// inWindow is the rank of the window's own packages.
const inWindow = 12

// barred are imports that a tree must not have at all, by the beginning of their paths.
var barred = map[string][]string{
	"slicing":     {"fyne.io/", "image/draw", "github.com/fogleman/gg", "grainstack/assets"},
	"render":      {"fyne.io/", "grainstack/assets"},
	"app/session": {"fyne.io/"},
	"app/latest":  {"fyne.io/", "grainstack/"},
}

// TestArrows keeps data running one way: cmd, app, render, slicing.
func TestArrows(t *testing.T) {
	out, err := exec.Command("go", "list", "-f", `{{.ImportPath}} {{join .Imports " "}}`, "grainstack/...").Output()
	if err != nil {
		t.Fatalf("go list: %v", err)
	}
	seen := 0
	for line := range strings.Lines(string(out)) {
		words := strings.Fields(line)
		from := strings.TrimPrefix(words[0], "grainstack/")
		for _, to := range words[1:] {
			seen++
			for tree, list := range barred {
				if from != tree && !strings.HasPrefix(from, tree+"/") {
					continue
				}
				for _, bad := range list {
					if strings.HasPrefix(to, bad) {
						t.Errorf("%s imports %s: against the arrows", from, to)
					}
				}
			}
			if inner, ours := strings.CutPrefix(to, "grainstack/"); ours && rank(from) <= rank(inner) && !within(from, inner) {
				t.Errorf("%s imports %s: against the arrows", from, inner)
			}
		}
	}
	if seen == 0 {
		t.Fatal("no imports found: the check looked at nothing")
	}
}

// rank is a package's place in the order; all of app that is not named is above render.
func rank(path string) int {
	if r, ok := ranks[path]; ok {
		return r
	}
	if path == "app" || strings.HasPrefix(path, "app/") {
		return inWindow
	}
	if strings.HasPrefix(path, "cmd/") {
		return 19
	}
	return -1
}

// within allows packages of the window to use each other; the compiler forbids rings.
func within(from, to string) bool { return rank(from) == inWindow && rank(to) == inWindow }
