package job

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"grainstack/slicing/carve"
	"grainstack/slicing/geom"
	"grainstack/slicing/unit"
)

const (
	// mostTrapped is how many trapped places are told one by one; the smaller ones follow together.
	mostTrapped = 5
	// hand is how far apart in plan trapped places of neighbouring layers may lie and still count as one, mm: a hand's breadth.
	hand = 80
)

// remedies are what helps against each kind, from the worst kind to the least.
var remedies = []struct {
	kind  carve.Kind
	words string
}{
	{carve.OutOfReach, "Take a longer cutter or thinner layers."},
	{carve.TooDeep, "Take a cutter with a longer edge, or thinner layers."},
	{carve.ShankRubs, "Take a cutter with a longer edge or a thinner shank."},
	{carve.SmallPart, "Move the joints, or carve it on its neighbour by hand."},
	{carve.LoosePart, "Leave a tab there, or move the joints."},
	{carve.NoFit, "Finish with a smaller ball, or clean it up by hand."},
	{carve.ThinWood, "Move the joints, or handle it with care."},
}

// reachCautions puts findings together: trapped places that hang together one by one, the largest first, everything else a
// sentence a kind, with the place of the worst; last and quietly what nobody sees. size is that of the piece.
func reachCautions(found []carve.Finding, size geom.Vec) []Caution {
	byKind := map[carve.Kind][]carve.Finding{}
	for _, f := range found {
		byKind[f.Kind] = append(byKind[f.Kind], f)
	}
	out := trappedCautions(byKind[carve.TrappedAir], size)
	for _, r := range remedies {
		if list := byKind[r.kind]; len(list) > 0 {
			worst := slices.MaxFunc(list, func(a, b carve.Finding) int { return cmp.Compare(badness(a), badness(b)) })
			text := worst.Text + more(list) + " " + r.words
			out = append(out, Caution{Layer: worst.Layer, Placed: true, At: worst.At, Text: text})
		}
	}
	if list := byKind[carve.TrappedCore]; len(list) > 0 {
		worst, all := gathered(list)
		out = append(out, Caution{Layer: worst.Layer, Placed: true, At: worst.At, Quiet: true, Text: fmt.Sprintf(
			"Inside, in %s, %.1f cm³ of the hollow lie under overhangs and stay wood, where nobody sees them.", layersOf(list), all/unit.Cm3)})
	}
	return out
}

// coarseCautions tell that so many columns would be needed that they had to stand farther apart than usual.
func coarseCautions(step float64) []Caution {
	if step <= carve.DefaultStep {
		return nil
	}
	return []Caution{{Quiet: true, Text: fmt.Sprintf(
		"So large a piece in so many layers is followed on columns %.1f mm apart instead of %g mm: what is smaller goes unseen, and the hours are less sure.", step, carve.DefaultStep)}}
}

// badness orders findings of one kind: of thin wood and small parts the least is the worst.
func badness(f carve.Finding) float64 {
	switch f.Kind {
	case carve.ThinWood, carve.SmallPart, carve.LoosePart:
		return -f.Size
	}
	return f.Size
}

// more tells of the findings beside the worst.
func more(list []carve.Finding) string {
	switch n := len(list) - 1; n {
	case 0:
		return ""
	case 1:
		return " There is another place like it (" + layersOf(list) + ")."
	default:
		return fmt.Sprintf(" There are %d more places like it (%s).", n, layersOf(list))
	}
}

// gathered are the largest of some findings and the sum of all sizes.
func gathered(list []carve.Finding) (largest carve.Finding, all float64) {
	for _, f := range list {
		all += f.Size
		if f.Size > largest.Size {
			largest = f
		}
	}
	return largest, all
}

func trappedCautions(list []carve.Finding, size geom.Vec) []Caution {
	groups := together(list)
	var out []Caution
	var rest []carve.Finding
	for i, g := range groups {
		if i >= mostTrapped {
			rest = append(rest, g...)
			continue
		}
		worst, all := gathered(g)
		out = append(out, Caution{Layer: worst.Layer, Placed: true, At: worst.At, Text: fmt.Sprintf(
			"Undercut %s, in %s: %s of wood can't be reached from either side and stays. Look for ways out, or carve it by hand after the glue-up.",
			placeWords(worst.At, size), layersOf(g), volumeWords(all))})
	}
	if len(rest) > 0 {
		worst, all := gathered(rest)
		out = append(out, Caution{Layer: worst.Layer, Placed: true, At: worst.At, Text: fmt.Sprintf(
			"Smaller undercuts in %s: %s more can't be reached from either side.", layersOf(rest), volumeWords(all))})
	}
	return out
}

// together joins places of the same or of neighbouring layers that lie within a hand's breadth, the largest group first.
func together(list []carve.Finding) [][]carve.Finding {
	group := make([]int, len(list)) // by the first of its findings
	for i := range list {
		group[i] = i
		for j := range i {
			a, b := list[i], list[j]
			near := math.Hypot(a.At.X-b.At.X, a.At.Y-b.At.Y) <= hand
			if step := a.Layer - b.Layer; near && step >= -1 && step <= 1 {
				from, to := max(group[i], group[j]), min(group[i], group[j])
				for k := range i + 1 {
					if group[k] == from {
						group[k] = to
					}
				}
			}
		}
	}
	var out [][]carve.Finding
	at := map[int]int{}
	for i, f := range list {
		k, known := at[group[i]]
		if !known {
			k = len(out)
			at[group[i]] = k
			out = append(out, nil)
		}
		out[k] = append(out[k], f)
	}
	slices.SortStableFunc(out, func(a, b []carve.Finding) int {
		_, va := gathered(a)
		_, vb := gathered(b)
		return cmp.Compare(vb, va)
	})
	return out
}

// placeWords say where on the piece a place lies.
func placeWords(at, size geom.Vec) string {
	return fmt.Sprintf("%s, %.0f mm up", whereabouts(at, size), at.Z)
}

// whereabouts says on which third of the piece a place lies, seen from the front.
func whereabouts(at, size geom.Vec) string {
	along := func(v, whole float64, less, most string) string {
		switch {
		case v < -whole/6:
			return less
		case v > whole/6:
			return most
		}
		return ""
	}
	side := along(at.X, size.X, "left", "right")
	switch deep := along(at.Y, size.Y, "front", "back"); {
	case deep == "" && side == "":
		return "in the middle"
	case deep == "":
		return "on the " + side
	case side == "":
		return "at the " + deep
	default:
		return "at the " + deep + " " + side
	}
}

// volumeWords is a volume for a sentence, mm³.
func volumeWords(v float64) string {
	if v < 100 {
		return fmt.Sprintf("%.0f mm³", v)
	}
	return fmt.Sprintf("%.1f cm³", v/unit.Cm3)
}

// layersOf names the layers of findings.
func layersOf(list []carve.Finding) string {
	var numbers []int
	for _, f := range list {
		numbers = append(numbers, f.Layer)
	}
	slices.Sort(numbers)
	numbers = slices.Compact(numbers)
	return "layer" + verb(numbers, "", "s") + " " + runs(numbers)
}
