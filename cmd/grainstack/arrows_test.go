package main

import (
	"os/exec"
	"strings"
	"testing"
)

// ranks orders the packages: each may import only packages of a lower rank, and none of its own rank.
var ranks = map[string]int{
	"slicing/geom": 0, "slicing/unit": 0, "slicing/par": 0, "assets": 0,
	"slicing/stock": 1, "slicing/mesh": 1,
	"slicing/field": 2, "slicing/hours": 2, "slicing/sample": 2, "slicing/solidtest": 2,
	"slicing/stack": 3,
	"slicing/job":   4,
	"render/frame":  5, "render/tone": 5, "render/draw": 5, "render/golden": 5,
	"render/look": 6, "render/sheet": 6,
	"app/session": 7, "app/latest": 7, "app/paper": 7,
	"cmd/grainstack": 20,
}

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
		return 10
	}
	if strings.HasPrefix(path, "cmd/") {
		return 19
	}
	return -1
}

// within allows packages of the window to use each other; the compiler forbids rings.
func within(from, to string) bool { return rank(from) == 10 && rank(to) == 10 }
