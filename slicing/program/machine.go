package program

import (
	"fmt"
	"path"
	"slices"
	"strings"

	"grainstack/slicing/geom"
	"grainstack/slicing/rs274"
	"grainstack/slicing/stock"
)

// A Machine is what has to be known of a machine for a program to be written.
type Machine struct {
	stock.Controller
	Travel geom.Vec // 0 in an axis where it isn't known
}

// For is a machine of the stock.
func For(m stock.Machine) Machine {
	return Machine{Controller: m.Controller, Travel: geom.Vec{X: m.TravelX, Y: m.TravelY, Z: m.TravelZ}}
}

// Divides reports whether a program may come to several files.
func (m Machine) Divides() bool { return m.MostBytes > 0 || m.MostLines > 0 }

// FileName is the name of a part of a program's file, from 1. Where the controller takes files of any size it is the program's;
// else all parts are numbered, so that a folder lists them in their order and their names are known before their number is.
func (m Machine) FileName(name string, part int) string {
	if !m.Divides() {
		return name
	}
	return fmt.Sprintf("%s%03d%s", Series(name), part, path.Ext(name))
}

// mostParts is how many parts of a program a folder lists in their order.
const mostParts = 999

// Series is how the names of a program's parts begin.
func Series(name string) string { return strings.TrimSuffix(name, path.Ext(name)) + "-" }

// Own are the maker's own lines.
func (m Machine) Own() []string { return slices.Concat(m.First, m.Last) }

// Unproven are the maker's own lines that are not understood when a program is read back: what they do nobody has proven.
func (m Machine) Unproven() (lines []string) {
	for _, l := range m.Own() {
		if !rs274.Knows(l) {
			lines = append(lines, l)
		}
	}
	return lines
}

// Origin is where a machine's zero lies in the frame of programs for a panel with its register dowels as they lie.
func (m Machine) Origin(b Blank, dowels [2]geom.Vec2) geom.Vec {
	var at geom.Vec
	switch m.Zero {
	case stock.AtMiddle:
		at.X, at.Y = b.X/2, b.Y/2
	case stock.AtDowel:
		at.X, at.Y = dowels[0].X, dowels[0].Y
	}
	if m.Height == stock.OnBed {
		at.Z = -b.Board
	}
	return at
}

// Check says in a sentence what is wrong with what a machine is said to be, nil where programs can be written for it.
func (m Machine) Check() error {
	for _, t := range []struct {
		name string
		mm   float64
	}{{"X", m.Travel.X}, {"Y", m.Travel.Y}, {"Z", m.Travel.Z}} {
		if !(t.mm >= 0 && t.mm < farthest) {
			return fmt.Errorf("the machine travels %g mm in %s: give how far it goes, or 0 where that isn't known", t.mm, t.name)
		}
	}
	if faults := m.Faults(); len(faults) > 0 {
		return faults[0]
	}
	return nil
}
