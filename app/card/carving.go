package card

import (
	"fmt"
	"strconv"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"grainstack/app/paper"
	"grainstack/slicing/finding"
	"grainstack/slicing/hours"
	"grainstack/slicing/job"
	"grainstack/slicing/phrase"
	"grainstack/slicing/stock"
	"grainstack/slicing/trial"
	"grainstack/slicing/unit"
	"grainstack/slicing/wayout"
)

// A Carver is where the carving card writes, besides the bench.
type Carver struct {
	Seek func()                                      // look for ways out
	Take func(wayout.Way)                            // take one
	Took func(layer int, down bool, minutes float64) // a side's minutes by the maker's watch
}

// NewCarving is the card of what the router can and can't do.
func NewCarving(b Bench, to Carver) *Card {
	return newCard(9, "Carving", carvingLine,
		(&note{Ink: paper.Ink, Text: reachWords}).on(),
		goOn(b, func(o Off) bool { return o.Reach }),
		(&note{Ink: paper.Ink, Text: hourWords}).on(),
		(&note{Ink: paper.Pencil, Text: chipWords}).on(),
		ticked(b, "across-grain"),
		figure(b, "evening", nil),
		(&presses{Each: []press{{Do: func(State) { to.Seek() }, Show: func(s State) (string, bool) {
			switch c := s.Carving; {
			case c.Seeking:
				return "Looking for ways out …", false
			case c.Sought && len(c.Ways) == 0:
				return "No way out was found", false
			}
			return "Look for ways out", s.Carving.Reached != nil
		}}}}).on(),
		newWays(to.Take),
		(&machining{}).on(),
		newWatch(to.Took),
		(&note{Ink: paper.Pencil, Text: func(State) string {
			return "Cutters throw splinters and fine dust: extraction, mask, ear and eye protection, and hands off while it runs. Local rules and the maker's manual come first."
		}}).on(),
	)
}

func carvingLine(s State) string {
	switch r := s.Carving.Reached; {
	case s.Figures != nil && !s.Figures.Withheld.None():
		return "needs a solid"
	case r == nil && s.Off.Reach:
		return "following the cutters was called off"
	case r == nil:
		return "being worked out …"
	default:
		return unit.Volume(r.Trapped, s.View.Units) + " out of reach · " + unit.Duration(r.RouterMin()) + " simulated"
	}
}

// reachWords say what no cutter gets to.
func reachWords(s State) string {
	r := s.Carving.Reached
	if r == nil {
		return carvingLine(s)
	}
	u := s.View.Units
	parts := []string{}
	if r.Trapped > 0 {
		parts = append(parts, unit.Volume(r.Trapped, u)+" round the piece can't be reached from above or below."+crumbs(r, u))
	} else {
		parts = append(parts, "Everything outside can be reached from above or below.")
	}
	if r.TrappedCore > 0 {
		parts = append(parts, unit.Volume(r.TrappedCore, u)+" of the hollow lie under overhangs and stay wood, unseen.")
	}
	if most := mostLeft(r); most > 0.05 {
		parts = append(parts, "Where the finish cutter doesn't fit it leaves up to "+unit.Length(most, u)+".")
	}
	return strings.Join(parts, " ")
}

// mostLeft is how much wood stays at the most where the finish cutter doesn't fit, mm, between the two sides as well.
func mostLeft(r *job.Reached) float64 {
	most := r.ResidueMax
	for _, f := range r.Findings {
		if f.Kind == finding.NoFit {
			most = max(most, f.Size)
		}
	}
	return most
}

// crumbs tells of what can't be reached in places that are too small to be named one by one, "" where that is nothing to speak of.
func crumbs(r *job.Reached, u unit.System) string {
	named := 0.0
	for _, f := range r.Findings {
		if f.Kind == finding.Undercut {
			named += f.Size
		}
	}
	if left := r.Trapped - named; named > 0 && left > 0.005*r.Trapped {
		return " The places that are named come to " + unit.Volume(named, u) + ", the rest lies in crumbs."
	}
	return ""
}

// hourWords say how long it takes and how sure that is.
func hourWords(s State) string {
	r := s.Carving.Reached
	if r == nil {
		return ""
	}
	off := "just as estimated"
	if share := r.Off(); share > 0.005 {
		off = fmt.Sprintf("the estimate was %.0f %% long", 100*share)
	} else if share < -0.005 {
		off = fmt.Sprintf("the estimate was %.0f %% short", -100*share)
	}
	evening := s.Settings.Shop.Evening()
	work := make([]float64, 0, len(r.Sides))
	for _, one := range r.Sides {
		work = append(work, one.Time.RoughMin, one.Time.FinishMin)
	}
	hands := r.HandsOnMin
	if s.Workshop != nil && s.Workshop.Withheld.None() {
		hands = s.Workshop.HandsOnMin(s.Catalogue)
	}
	text := fmt.Sprintf("Along the cutters' paths %s: rough %s, finish %s; %s. By hand %s more. %s.",
		unit.Duration(r.RouterMin()), unit.Duration(r.RoughMin), unit.Duration(r.FineMin), off, unit.Duration(hands),
		eveningWords(hours.Evenings(work, evening), evening))
	if l := layerSides(s, r); l != "" {
		text += " " + l
	}
	if k := s.Carving.Factor; k.Known() {
		text += " " + k.Text()
	}
	return text
}

// eveningWords say how many evenings the router takes: more than its hours alone, since no pass is left half done.
func eveningWords(n int, evening float64) string {
	return fmt.Sprintf("%d %s of %s, as each pass over a side is begun only where it can be ended the same evening", n, phrase.Plural(n, "evening", "evenings"), unit.Duration(evening))
}

// layerSides are the minutes of the picked layer's two sides.
func layerSides(s State, r *job.Reached) string {
	var parts []string
	for _, one := range r.Sides {
		if one.Layer == s.Picked.Layer {
			parts = append(parts, fmt.Sprintf("%s %s + %s", sideName(one.Side), unit.Duration(one.Time.RoughMin), unit.Duration(one.Time.FinishMin)))
		}
	}
	if len(parts) == 0 {
		return ""
	}
	return fmt.Sprintf("Layer %d: %s.", s.Picked.Layer, strings.Join(parts, ", "))
}

// materialOf is the group of the handbook table that the board belongs to: plywood where its grains cross.
func materialOf(s State) hours.Material {
	b, _ := s.Settings.BoardIn(s.Catalogue)
	for _, v := range b.Recipe {
		if v.Grain != stock.Plain {
			return hours.Plywood
		}
	}
	return hours.Fibreboard
}

// ways are the ways out: first those that a click takes, then those that the maker has to go without the program.
type ways struct {
	take  func(wayout.Way)
	shown []wayout.Way
	in    unit.System // that the prices are in
	lines []*paper.Pointer
	hand  []*widget.Label // under a line that says why they can't be taken
	box   *fyne.Container
}

// byHand says why a way out can't be taken.
const byHand = "One more joint within a layer is made by hand. All layers have one thickness here, so a click can't take these ways out:"

func newWays(take func(wayout.Way)) *ways {
	w := &ways{take: take, box: container.NewVBox()}
	w.box.Hide()
	return w
}

func (w *ways) object() fyne.CanvasObject            { return w.box }
func (w *ways) places() map[string]fyne.CanvasObject { return byText(w.lines) }

func (w *ways) show(s State) {
	all := s.Carving.Ways
	if len(all) == len(w.shown) && (len(all) == 0 || &all[0] == &w.shown[0]) && w.in == s.View.Units {
		return
	}
	w.shown, w.in, w.lines, w.hand = all, s.View.Units, nil, nil
	w.box.RemoveAll()
	for _, one := range all {
		if !one.ByHand() {
			line := paper.NewPointer("→ "+one.Words(s.View.Units)+" · "+Price(one, s.View.Units), func() { w.take(one) }).InInk()
			w.lines = append(w.lines, line)
			w.box.Add(line)
		}
	}
	for _, one := range all {
		if one.ByHand() {
			w.write(one.Words(s.View.Units) + " · " + Price(one, s.View.Units) + ", " + joint(one.Parting, s.View.Units))
		}
	}
	if len(all) == 0 {
		w.box.Hide()
	} else {
		w.box.Show()
	}
}

// write adds a way out that can't be taken.
func (w *ways) write(text string) {
	if len(w.hand) == 0 {
		why := paper.Sentence(paper.Pencil)
		why.SetText(byHand)
		w.box.Add(why)
	}
	line := paper.Sentence(paper.Ink)
	line.SetText(text)
	w.hand = append(w.hand, line)
	w.box.Add(line)
}

// joint is what there is more to glue.
func joint(p wayout.Parting, u unit.System) string {
	return fmt.Sprintf("%s more to glue with %s of glue", unit.Area(p.Joint, u), unit.Mass(p.GlueG, u))
}

// Price is what a way out costs or saves.
func Price(o wayout.Way, u unit.System) string {
	var parts []string
	for _, one := range []string{trial.RouterTime.Signed(o.RouterMin, u), trial.Weight.Signed(1000*o.WeightKg, u)} {
		if one != "" {
			parts = append(parts, one)
		}
	}
	if o.Layers != 0 {
		parts = append(parts, more(o.Layers, "layer"))
	}
	if o.Panels != 0 {
		parts = append(parts, more(o.Panels, "panel"))
	}
	if len(parts) == 0 {
		return "costs nothing more"
	}
	return strings.Join(parts, ", ")
}

// more is a difference in number.
func more(n int, of string) string {
	if n != 1 && n != -1 {
		of += "s"
	}
	return unit.Signed(float64(n), 0) + " " + of
}

// watch is where the maker enters the minutes that a side of the picked layer really took.
type watch struct {
	took  func(layer int, down bool, minutes float64)
	now   State
	name  *paper.Words
	each  [2]*Field
	fault *paper.Words
	box   *fyne.Container
}

func newWatch(took func(int, bool, float64)) *watch {
	w := &watch{took: took, name: paper.Write("", paper.Small, paper.Pencil).Cut(), fault: paper.Write("", paper.Small, paper.Red).Cut()}
	w.box = container.New(stackedTight{}, w.name)
	for i, name := range []string{"upper side", "lower side"} {
		f := newField()
		f.Rested = func() { w.read(i) }
		w.each[i] = f
		w.box.Add(container.New(namedLayout{}, paper.Write(name, paper.Small, paper.Ink), container.NewBorder(nil, nil, nil, paper.Write("min", paper.Small, paper.Pencil), f)))
	}
	w.box.Add(w.fault)
	return w
}

func (w *watch) object() fyne.CanvasObject { return w.box }

func (w *watch) show(s State) {
	if s.Picked.Layer != w.now.Picked.Layer {
		for _, f := range w.each {
			f.Put("", true)
		}
		w.fault.Say("")
	}
	w.now = s
	w.name.Say(fmt.Sprintf("What layer %d really took, by your watch:", s.Picked.Layer))
}

func (w *watch) read(i int) {
	text := strings.TrimSpace(w.each[i].Text)
	if text == "" {
		return
	}
	minutes, err := strconv.ParseFloat(strings.ReplaceAll(text, ",", "."), 64)
	if err != nil || !(minutes > 0) || minutes > 100_000 {
		w.fault.Say("Type the minutes as a number, as in 95.")
		return
	}
	w.fault.Say("")
	w.each[i].Put("", true)
	w.took(w.now.Picked.Layer, i == 1, minutes)
}
