package files

import (
	"fmt"
	"slices"
	"strings"

	"grainstack/slicing/panel"
	"grainstack/slicing/phrase"
	"grainstack/slicing/unit"
	"grainstack/slicing/workshop"
)

// A stocked is what panels of one kind are made of.
type stocked struct {
	board     workshop.SawnBoards
	thickness float64 // of the board, mm
	skim      float64 // off each face, mm
	planed    float64 // what is left of it: the panel's thickness, mm
}

// stocks are the kinds of board in the order in which they are sawn.
func stocks(w *workshop.Workshop) []stocked {
	out := make([]stocked, len(w.Boards))
	for i, b := range w.Boards {
		out[i] = stocked{board: b, thickness: b.Board.Thickness, planed: w.Figures.Thickness}
		for _, l := range w.Figures.Layers {
			if l.Board.Key == b.Board.Key {
				out[i].thickness, out[i].skim = l.Board.Thickness, l.Skim
				break
			}
		}
	}
	return out
}

// stockOf is what a panel is made of.
func stockOf(w *workshop.Workshop, number int) stocked {
	all := stocks(w)
	for _, s := range all {
		if slices.Contains(s.board.Panels, number) {
			return s
		}
	}
	return all[0]
}

// words are the board, what is planed off it and what is left.
func (s stocked) words(u unit.System) string {
	return fmt.Sprintf("%s, %s thick, %s off each face: planed %s", s.board.Board.Name, unit.Length(s.thickness, u), unit.Length(s.skim, u), unit.Length(s.planed, u))
}

// spareBed is the wood that the spoilboard keeps under the register dowels, mm (common practice, no source).
const spareBed = 4.0

// spoilboard is how thick the board under the panels has to be at the least, mm: the register dowels stand in it.
func spoilboard(w *workshop.Workshop) float64 { return w.For.Shop.DowelDepth + spareBed }

// A fact is something to know of all panels: what it is about, and a sentence or two.
type fact struct{ about, words string }

// datum says what panels are made of and where their zeros are, so that whoever sets the machine up need not ask.
func datum(w *workshop.Workshop, u unit.System) []fact {
	length := func(mm float64) string { return unit.Length(mm, u) }
	all := stocks(w)
	var out []fact
	for _, s := range all {
		words := phrase.Capital(s.words(u)) + "."
		if len(all) > 1 && len(s.board.Panels) > 0 {
			words += fmt.Sprintf(" Panel%s %s.", phrase.Plural(len(s.board.Panels), "", "s"), numbers(s.board.Panels))
		}
		out = append(out, fact{"Board", words})
	}
	far, line := "far edge", "centre line along the grain, X"
	if w.Register.Axis == panel.AlongY {
		far, line = "right end", "centre line across the grain, Y"
	}
	out = append(out,
		fact{"Panel", fmt.Sprintf("%s × %s, the grain of its faces along X.", length(w.For.PanelX), length(w.For.PanelY))},
		fact{"X and Y zero", fmt.Sprintf("The lower left corner of the panel, of the side that is up. Turned over to side B about its %s, the panel has at this corner what was its %s on side A.", line, far)},
	)
	var z strings.Builder
	z.WriteString(fmt.Sprintf("The lower face of the planed panel: the face that is up lies at Z = %s once it is skimmed. Set the cutter's height on the skimmed face.", length(all[0].planed)))
	skims := slices.DeleteFunc(slices.Clone(all), func(s stocked) bool { return s.skim == 0 })
	alike := !slices.ContainsFunc(all, func(s stocked) bool { return s.skim != all[0].skim })
	for i, s := range skims {
		of := ""
		if !alike {
			of = " of " + phrase.Inside(s.board.Board.Name)
		} else if i > 0 {
			break
		}
		z.WriteString(fmt.Sprintf(" While side A%s is up the face below is not skimmed yet, so that Z = 0 lies %s above the spoilboard.", of, length(s.skim)))
	}
	if len(skims) > 0 {
		z.WriteString(" With side B up it is the spoilboard's face.")
	}
	return append(out,
		fact{"Z zero", z.String()},
		fact{"Spoilboard", fmt.Sprintf("Flat, larger than the panel and at least %s thick: the two register dowels of %s stand %s deep in it. With side B up the cutter comes down to its face and marks it.",
			length(spoilboard(w)), drill(w.For.Shop.DowelDiameter, u), length(w.For.Shop.DowelDepth))},
	)
}

// numbers are figures in order, as in "1, 2 and 5".
func numbers(n []int) string {
	words := make([]string, len(n))
	for i, k := range n {
		words[i] = fmt.Sprint(k)
	}
	return listed(words)
}

// listed puts words in a row, as in "2.1, 5 and 7".
func listed(words []string) string {
	if k := len(words); k > 1 {
		return strings.Join(words[:k-1], ", ") + " and " + words[k-1]
	}
	return strings.Join(words, "")
}

// drill is a drill or a dowel by its diameter: in inches with the mm that it is sold by, too.
func drill(diameter float64, u unit.System) string {
	if u == unit.Inch {
		return fmt.Sprintf("%s (%s)", unit.Length(diameter, u), unit.Length(diameter, unit.Metric))
	}
	return unit.Length(diameter, u)
}
