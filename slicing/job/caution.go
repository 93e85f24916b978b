package job

import (
	"fmt"
	"slices"
	"strings"

	"grainstack/slicing/phrase"
	"grainstack/slicing/stack"
	"grainstack/slicing/stock"
	"grainstack/slicing/unit"
)

// Limits from which a maker would want to know, lengths in mm (common practice, no source).
const (
	thinVeneer = 0.25 // an outermost veneer thinner than this shows as a sliver at every joint
	thinLast   = 3    // a last layer lower than this is hard to hold and to glue
	smallPiece = 20   // lower than this a unit was mistaken
	mostlyShut = 1    // times the hollow that is cut away: with more that stays wood, the layer is hardly hollow
)

// cautions are what needs a look, worst first.
func (f *Figures) cautions(c *stock.Catalogue) []Caution {
	var out []Caution
	add := func(layer int, format string, args ...any) {
		out = append(out, Caution{Layer: layer, Text: fmt.Sprintf(format, args...)})
	}
	if f.Size.Z < smallPiece {
		add(0, "The piece is only %.3g mm high: scans carry no unit, so set its scale or its height.", f.Size.Z)
	}
	if !f.Totals.FitsPanel {
		one := f.NoRoom(c)
		add(one.Layer, "%s", one.Text)
	}
	f.cautionFaces(add, f.For.Veneers(c))
	f.cautionGrain(add, f.For.unmixed().Blanks(c))
	f.cautionBoards(add)
	if r := f.Remainder; !r.Whole && r.Last < thinLast && len(f.Layers) > 1 {
		add(len(f.Layers), "The last layer has only %.1f mm of wood: scale by %.4f to lose it, or move the first joint.", r.Last, r.Fewer)
	}
	f.cautionSlivers(add)
	f.cautionHollow(add)
	f.cautionRims(add)
	out = append(out, f.cautionKept()...)
	return out
}

// cautionFaces looks at what the skim leaves.
func (f *Figures) cautionFaces(add func(int, string, ...any), veneers []stock.Veneer) {
	for i, v := range []stock.Veneer{veneers[0], veneers[len(veneers)-1]} {
		if len(veneers) > 1 && v.Thickness < thinVeneer {
			add(0, "The skim leaves %.2f mm of the %s veneer, a sliver at every joint: skim %.2f mm more to lose it, or less to keep more.",
				v.Thickness, [2]string{"lowest", "uppermost"}[i], v.Thickness)
			break
		}
	}
}

// cautionSlivers tells what is too small to be made.
func (f *Figures) cautionSlivers(add func(int, string, ...any)) {
	var layers []int
	n, volume := 0, 0.0
	for _, l := range f.Layers {
		for _, p := range l.Slivers {
			n, volume = n+1, volume+p.Volume
			layers = append(layers, l.Number)
		}
	}
	if layers = slices.Compact(layers); n > 0 {
		add(layers[0], "%d sliver%s in layer%s %s, %.0f mm³ in all, %s left out: smaller than %g mm³ each, or nowhere %g mm wide.",
			n, phrase.Plural(n, "", "s"), verb(layers, "", "s"), runs(layers), volume, phrase.Plural(n, "is", "are"), stack.SliverVolume, stack.SliverWidth)
	}
}

// cautionHollow looks at layers that have no room for the wall.
func (f *Figures) cautionHollow(add func(int, string, ...any)) {
	if f.For.Wall == 0 || !f.CoreKnown {
		return
	}
	var solid, shut []int
	volume := 0.0
	for i := range f.Layers {
		if l := &f.Layers[i]; !l.Capped && l.Core <= 0 && l.Shut <= 0 && l.Wood > 0 {
			solid = append(solid, l.Number)
		} else if l.Shut > mostlyShut*l.Core {
			shut, volume = append(shut, l.Number), volume+l.Shut
		}
	}
	if len(solid) > 0 {
		add(solid[0], "%s too thin for a wall of %.4g mm on all sides and %s solid.", subject(solid, "is", "are"), f.For.Wall, verb(solid, "stays", "stay"))
	}
	if len(shut) > 0 {
		add(shut[0], "In layer%s %s the hollow closes off for the most part: %.1f cm³ that no cutter gets into stay wood. A thinner wall, or a joint that runs through, opens them.",
			verb(shut, "", "s"), runs(shut), volume/unit.Cm3)
	}
}

// cautionRims looks for joints with less wood round the hollow than is wanted.
func (f *Figures) cautionRims(add func(int, string, ...any)) {
	var narrow []int
	least := 0.0
	for i := range f.Layers {
		if l := &f.Layers[i]; l.Rim > 0 && l.Rim < f.For.RimWanted {
			if len(narrow) == 0 || l.Rim < least {
				least = l.Rim
			}
			narrow = append(narrow, l.Number)
		}
	}
	if len(narrow) > 0 {
		add(narrow[0], "The ring of wood to be glued is down to %.1f mm in layer%s %s: take a thicker wall, or want less than %.4g mm.",
			least, verb(narrow, "", "s"), runs(narrow), f.For.RimWanted)
	}
}

// subject names layers in order, runs put together: "Layers 3 to 5 and 9 are".
func subject(numbers []int, one, many string) string {
	return "Layer" + verb(numbers, "", "s") + " " + runs(numbers) + " " + verb(numbers, one, many)
}

func verb(numbers []int, one, many string) string {
	if len(numbers) == 1 {
		return one
	}
	return many
}

// runs writes numbers in rising order with runs of three and more put together.
func runs(numbers []int) string {
	var words []string
	for i := 0; i < len(numbers); {
		j := i
		for j+1 < len(numbers) && numbers[j+1] == numbers[j]+1 {
			j++
		}
		if j-i >= 2 {
			words = append(words, fmt.Sprintf("%d to %d", numbers[i], numbers[j]))
		} else {
			for _, n := range numbers[i : j+1] {
				words = append(words, fmt.Sprint(n))
			}
		}
		i = j + 1
	}
	if n := len(words); n > 1 {
		return strings.Join(words[:n-1], ", ") + " and " + words[n-1]
	}
	return strings.Join(words, "")
}

// NoRoom says that the largest part has no room on a panel, as far as is known before parts are laid or split.
func (f *Figures) NoRoom(c *stock.Catalogue) Caution {
	t := &f.Totals
	return Caution{Layer: t.TooLargeLayer, Text: fmt.Sprintf(
		"A part of layer %d is %.0f × %.0f mm and does not fit a panel of %.0f × %.0f mm, of which %.0f mm stay free along the edges: take a larger panel, another stand or a smaller scale.",
		t.TooLargeLayer, t.TooLarge.X, t.TooLarge.Y, f.For.PanelX, f.For.PanelY, f.For.edge(f.margin(c)))}
}

// AllCautions are those of the figures and of the workshop, each once. That a part is too large for its panel is left to the
// workshop, which knows of joint lines.
func (w *Workshop) AllCautions(c *stock.Catalogue) (out []Caution) {
	seen := make(map[string]bool)
	if w.Withheld == "" && !w.Figures.Totals.FitsPanel {
		seen[w.Figures.NoRoom(c).Text] = true
	}
	for _, one := range slices.Concat(w.Figures.Cautions, w.Cautions) {
		if !seen[one.Text] {
			seen[one.Text] = true
			out = append(out, one)
		}
	}
	return out
}
