package files

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"grainstack/render/book"
	"grainstack/slicing/hours"
	"grainstack/slicing/job"
	"grainstack/slicing/panel"
	"grainstack/slicing/phrase"
	"grainstack/slicing/program"
	"grainstack/slicing/stock"
	"grainstack/slicing/unit"
	"grainstack/slicing/workshop"
)

// A panelWork writes the steps of one panel.
type panelWork struct {
	*bench
	index int // of the panel in the layout
	panel panel.Panel
	stock stocked
	setup hours.Setup
	parts []*workshop.Part // on it
}

// steps are what is done to panel i of the layout, from the board to parts that are ready for the glue, in an order in which
// the cutter is changed once: rough A, turn, rough B, change the cutter, finish B, turn, finish A. Holes for pins are drilled
// and parts are marked while the panel still holds them.
func (b *bench) steps(i int) []book.Step {
	p := panelWork{bench: b, index: i, panel: b.Workshop.Layout.Panels[i], setup: b.Workshop.For.Setup(b.Catalogue)}
	p.stock = stockOf(b.Workshop, p.panel.Number)
	for _, at := range p.panel.Placed {
		if part, ok := b.Workshop.Part(at.Part); ok {
			p.parts = append(p.parts, part)
		}
	}
	m, u, h := p.minutes(), b.Units, p.setup.Hands
	rough := p.runs(p.setup.Rough, fmt.Sprintf("stepdown %s · stepover %s · leaves %s", unit.Length(p.setup.Rough.Stepdown, u), unit.Length(p.setup.Rough.Stepover, u), unit.Length(p.setup.Leave, u)))
	fine := p.runs(p.setup.Finish, "stepover "+unit.Length(p.setup.Finish.Stepover, u))
	runs := func(step program.Step, side panel.Face) string { return b.programOf(i, step, side, false) }
	steps := []book.Step{
		{Name: "Saw the panel", How: p.sawn()},
		{Name: "Clamp the panel, side A up", How: p.clamped(), Minutes: h.Clamp},
		{Name: "Drill the register dowels", How: p.registered() + runs(program.Holes, panel.SideA), Minutes: h.Drill},
		{Name: "Skim side A", How: p.skimmed()},
		{Name: "Rough pass, side A", How: rough + runs(program.Rough, panel.SideA), Minutes: m.RoughTop},
		{Name: "Saw the straight hollows out", How: p.cores()},
		{SideB: true, Name: "Turn the panel over to side B", How: "on the same two dowels, and clamp it as before", Minutes: h.Turn},
		{SideB: true, Name: "Skim side B", How: p.skimmed()},
		{SideB: true, Name: "Rough pass, side B", How: rough + runs(program.Rough, panel.SideB), Minutes: m.RoughBottom},
		{SideB: true, Name: "Change the cutter", How: "to " + phrase.Inside(p.setup.Finish.Name) + ", spindle isolated, and set its height anew", Minutes: h.CutterChange},
		{SideB: true, Name: "Finish pass, side B", How: fine + runs(program.Finish, panel.SideB), Minutes: m.FineBottom},
		{SideB: true, Name: "Drill the pins' holes of side B", How: p.pinsBy(true, b.programOf(i, program.Holes, panel.SideB, true))},
		{Name: "Turn the panel back to side A", How: "on the same two dowels, and clamp it as before", Minutes: h.Turn},
		{Name: "Finish pass, side A", How: fine + runs(program.Finish, panel.SideA), Minutes: m.FineTop},
		{Name: "Drill the pins' holes of side A", How: p.pinsBy(false, b.programOf(i, program.Holes, panel.SideA, true))},
		{Name: "Mark the parts", How: "while the panel holds them: number, upper face and front of the piece on each, on a face that glue will hide"},
		{Name: "Free the parts", How: p.freed()},
		{Name: "Pare the tabs", How: p.pared()},
	}
	return slices.DeleteFunc(steps, func(s book.Step) bool { return s.How == "" })
}

// minutes are those of the panel: the minutes of each layer go to its parts by their area.
func (p panelWork) minutes() (m job.Minutes) {
	area := make(map[int]float64)
	for _, q := range p.Workshop.Parts {
		area[q.Layer] += q.Shadow.Area()
	}
	for _, q := range p.parts {
		share, l := q.Shadow.Area()/area[q.Layer], p.Figures.Layers[q.Layer-1].Minutes
		m.RoughTop += share * l.RoughTop
		m.RoughBottom += share * l.RoughBottom
		m.FineTop += share * l.FineTop
		m.FineBottom += share * l.FineBottom
	}
	return m
}

// runs is a cutter and how it runs.
func (p panelWork) runs(c stock.Cutter, rest string) string {
	return fmt.Sprintf("%s · %.0f rpm · %s · %s", c.Name, c.RPM, unit.Feed(c.FeedMmMin, p.Units), rest)
}

func (p panelWork) sawn() string {
	w, u := p.Workshop, p.Units
	return fmt.Sprintf("%s × %s of %s, %s thick, as the saw plan has it; its number, side A and its lower edge written on it",
		unit.Length(w.For.PanelX, u), unit.Length(w.For.PanelY, u), phrase.Inside(p.stock.board.Board.Name), unit.Length(p.stock.thickness, u))
}

func (p panelWork) clamped() string {
	if n := len(p.Workshop.For.Shop.PanelClamps.List()); n > 0 {
		return fmt.Sprintf("on the spoilboard, by the %d %s on the drawing; check that no pass reaches them", n, phrase.Plural(n, "clamp", "clamps"))
	}
	return "on the spoilboard, at its edges and clear of the carve boundaries; check that no pass reaches a clamp or screw"
}

func (p panelWork) registered() string {
	w, u := p.Workshop, p.Units
	var at []string
	for _, d := range w.Register.Dowels {
		at = append(at, fmt.Sprintf("X %s Y %s", unit.Length(d.At.X, u), unit.Length(d.At.Y, u)))
	}
	return fmt.Sprintf("%s drill, through the panel and %s into the spoilboard, at %s", drill(w.For.Shop.DowelDiameter, u), unit.Length(w.For.Shop.DowelDepth, u), strings.Join(at, " and "))
}

func (p panelWork) skimmed() string {
	if p.stock.skim == 0 {
		return ""
	}
	return fmt.Sprintf("%s · %s off the whole face, which is then at Z = %s; minutes are in the rough pass", p.setup.Rough.Name, unit.Length(p.stock.skim, p.Units), unit.Length(p.stock.planed, p.Units))
}

// cores says which hollows with upright sides are sawn out in one piece.
func (p panelWork) cores() string {
	var names []string
	for _, q := range p.parts {
		if l := &p.Figures.Layers[q.Layer-1]; len(l.Pocket) > 0 && len(ownShare(l.Pocket, q)) > 0 {
			names = append(names, partName(p.Workshop, q.ID))
		}
	}
	if len(names) == 0 {
		return ""
	}
	return fmt.Sprintf("%s · along the hollow's outline, stepdown %s, right through; part%s %s. Tape the waste down first: a loose core is thrown",
		p.setup.Rough.Name, unit.Length(p.setup.Rough.Stepdown, p.Units), phrase.Plural(len(names), "", "s"), listed(names))
}

// pinsBy is pins with the program that drills them.
func (p panelWork) pinsBy(lower bool, by string) string {
	if words := p.pins(lower); words != "" {
		return words + by
	}
	return ""
}

// pins says what is drilled for alignment pins into the faces that are up: drill, depth, how many and in which parts.
func (p panelWork) pins(lower bool) string {
	type hole struct {
		depth string
		parts []string
		n     int
	}
	var holes []hole
	diameter, foot := 0.0, 0.0
	for _, q := range p.parts {
		for _, h := range p.Workshop.PinHoles(q) {
			if h.Lower != lower {
				continue
			}
			diameter, foot = h.Diameter, h.Depth-h.Dowel
			depth, name := unit.Length(h.Depth, p.Units), partName(p.Workshop, q.ID)
			i := slices.IndexFunc(holes, func(o hole) bool { return o.depth == depth })
			if i < 0 {
				i, holes = len(holes), append(holes, hole{depth: depth})
			}
			if holes[i].n++; !slices.Contains(holes[i].parts, name) {
				holes[i].parts = append(holes[i].parts, name)
			}
		}
	}
	if len(holes) == 0 {
		return ""
	}
	slices.SortFunc(holes, func(a, b hole) int { return cmp.Compare(b.n, a.n) })
	face, sign := "upper", "an upright"
	if lower {
		face, sign = "lower", "a slanting"
	}
	var words []string
	for _, h := range holes {
		slices.SortStableFunc(h.parts, func(a, b string) int { return cmp.Or(cmp.Compare(len(a), len(b)), cmp.Compare(a, b)) })
		words = append(words, fmt.Sprintf("%d %s, %s deep from the face, in part%s %s", h.n, phrase.Plural(h.n, "hole", "holes"), h.depth, phrase.Plural(len(h.parts), "", "s"), listed(h.parts)))
	}
	text := fmt.Sprintf("%s drill with a depth stop, into the parts' %s faces at the circles with %s cross: %s.", drill(diameter, p.Units), face, sign, strings.Join(words, "; "))
	if foot > 0 {
		text += fmt.Sprintf(" Of the depth %s is for the rounded foot that the cutter's tip leaves: drilled with a flat foot, holes may be that much less deep.", unit.Length(foot, p.Units))
	}
	return text
}

// tabs is how many tabs the panel's parts have, and in which parts they run on over the wood.
func (p panelWork) tabs() (n int, over []string) {
	for _, q := range p.parts {
		n += len(q.Tabs)
		if slices.ContainsFunc(q.Tabs, func(t panel.Tab) bool { return t.Root > 0 }) {
			over = append(over, partName(p.Workshop, q.ID))
		}
	}
	return n, over
}

func (p panelWork) freed() string {
	n, _ := p.tabs()
	if n == 0 {
		return "lift the parts out, spindle stopped and isolated"
	}
	if left := p.Workshop.For.Shop.TabLeft; left > 0 {
		if name := p.programOf(p.index, program.Free, panel.SideA, false); name != "" {
			return fmt.Sprintf("each tab cut down to %s; then off the machine, panel clamped, each part held: saw or break the %d %s", unit.Length(left, p.Units), n, phrase.Plural(n, "tab", "tabs")) + name
		}
	}
	return fmt.Sprintf("off the machine, panel clamped, each part held: saw through the %d %s close to the frame, with a fine saw that cuts away from your hand", n, phrase.Plural(n, "tab", "tabs"))
}

func (p panelWork) pared() string {
	n, over := p.tabs()
	if n == 0 {
		return ""
	}
	text := "down to the outline, part in a vice, chisel away from both hands, and the edge sanded"
	if len(over) > 0 {
		text += fmt.Sprintf("; those that run on over the wood of part%s %s after the glue-up", phrase.Plural(len(over), "", "s"), listed(over))
	}
	return text
}
