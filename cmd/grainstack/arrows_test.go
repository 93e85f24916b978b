package main

import (
	"os/exec"
	"strings"
	"testing"
)

// ranks orders the packages: each may import only packages of a lower rank, and none of its own rank.
var ranks = map[string]int{
	"slicing/geom": 0, "slicing/unit": 0, "slicing/par": 0, "slicing/killtest": 0, "slicing/stoptest": 0, "slicing/phrase": 0, "slicing/sets": 0, "assets": 0,
	"slicing/disk": 1, "slicing/plane": 1, "slicing/finding": 1,
	"slicing/rs274": 1, "slicing/stock": 2, "slicing/mesh": 2,
	"slicing/field": 3, "slicing/boxtree": 3, "slicing/decimate": 3, "slicing/sample": 3, "slicing/solidtest": 3, "assets/stocktest": 3,
	"slicing/stack": 4, "slicing/arrange": 4, "slicing/chalk": 4, "slicing/cloud": 4,
	"slicing/carve": 5, "slicing/panel": 5, "slicing/glue": 5, "slicing/mend": 5, "slicing/register": 5, "slicing/join": 5,
	"slicing/hours": 6, "slicing/scans": 6, "slicing/program": 6,
	"slicing/job": 7, "slicing/proof": 7, "slicing/toolpath": 7,
	"slicing/workshop": 8, "slicing/jobtest": 8,
	"slicing/compass": 9, "slicing/export": 9, "slicing/report": 9, "slicing/trial": 9,
	"slicing/wayout": 10, "slicing/jobfile": 10,
	"render/frame": 11, "render/tone": 11, "render/draw": 11, "render/golden": 11,
	"render/look": 12, "render/sheet": 12, "render/swatch": 12,
	"render/book": 13, "render/still": 13,
	"app/session": 14, "app/latest": 14, "app/paper": 14, "app/steady": 14, "app/locale": 14, "app/edit": 14,
	"app/task": 15, "app/picture": 15, "app/pane": 15,
	"app/state": 16, "app/files": 16, "app/card": 16, "app/ticket": 16, "app/snag": 16,
	"app/work": 17, "app/route": 17,
	"app/view":       18,
	"app":            19,
	"app/realwindow": 20,
	"cmd/grainstack": 22,
}

// barred are imports that a tree must not have at all, by the beginning of their paths.
var barred = map[string][]string{
	"slicing":     {"fyne.io/", "image/draw", "github.com/fogleman/gg", "grainstack/assets"},
	"render":      {"fyne.io/", "grainstack/assets"},
	"app/session": {"fyne.io/"},
	"app/state":   {"fyne.io/"},
	"app/work":    {"fyne.io/"},
	"app/route":   {"fyne.io/"},
	"app/edit":    {"fyne.io/"},
	"app/task":    {"fyne.io/"},
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
			if inner, ours := strings.CutPrefix(to, "grainstack/"); ours && rank(from) <= rank(inner) {
				t.Errorf("%s imports %s: against the arrows", from, inner)
			}
		}
	}
	if seen == 0 {
		t.Fatal("no imports found: the check looked at nothing")
	}
}

// rank is a package's place in the order.
func rank(path string) int {
	if r, ok := ranks[path]; ok {
		return r
	}
	if strings.HasPrefix(path, "cmd/") {
		return 21
	}
	return -1
}
