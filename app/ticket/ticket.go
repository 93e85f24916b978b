package ticket

import (
	"fmt"
	"math"
	"strings"

	"grainstack/app/paper"
	"grainstack/slicing/finding"
	"grainstack/slicing/job"
	"grainstack/slicing/phrase"
	"grainstack/slicing/unit"
	"grainstack/slicing/workshop"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
)

// A Ticket is the strip of totals.
type Ticket struct {
	cells [5]*cell
	looks *looks
	whole fyne.CanvasObject
	low   bool
}

// lowHeight is that of a ticket on one line.
const lowHeight = 30

// New is a ticket without figures. noticed is told where the figure under the hand comes from; picked, which layer a sentence
// is about.
func New(noticed func(string), picked func(layer int)) *Ticket {
	t := &Ticket{looks: newLooks(picked)}
	all := make([]fyne.CanvasObject, 0, 6)
	for i, name := range []string{"Weight", "Layers", "Panels", "Joints and glue", "Router"} {
		t.cells[i] = newCell(name, noticed)
		all = append(all, t.cells[i])
	}
	t.whole = container.NewStack(paper.Back(paper.Sheet), container.New(shares{t}, append(all, t.looks.object())...))
	return t
}

// Object is the strip.
func (t *Ticket) Object() fyne.CanvasObject { return t.whole }

// Low sets the ticket on one line, without notes, or ends that. It reports whether that changes how high the ticket is.
func (t *Ticket) Low(on bool) (changed bool) {
	if on == t.low {
		return false
	}
	t.low = on
	t.looks.oneLine(on)
	for _, c := range t.cells {
		c.low = on
		size := paper.Figure
		if on {
			size = paper.Title
		}
		c.figure.Sized(size)
		c.Refresh()
	}
	t.whole.Refresh()
	return true
}

// Put shows figures, and what the workshop of the same settings comes to, nil while that is not known; stale figures are of
// older settings and are drawn as such. Without figures, why says the reason.
func (t *Ticket) Put(f *job.Figures, v *workshop.Workshop, stale bool, why string, u unit.System) {
	if f == nil {
		t.none(why)
		return
	}
	var says [5]entry
	if !f.Withheld.None() {
		says = withheld(f, u)
	} else {
		says = [5]entry{weight(f, u), layers(f, v, u), panels(f, v, u), joints(f, u), router(f)}
	}
	for i, e := range says {
		t.cells[i].put(e, stale)
	}
	switch looked := !f.Withheld.None() || f.Simulated && v != nil; {
	case stale:
	case len(f.Cautions) == 0 && !looked: // it is still being looked for
		t.looks.unknown()
	default:
		t.looks.put(finding.Words{Units: u}, f.Cautions)
	}
}

func (t *Ticket) none(why string) {
	for _, c := range t.cells {
		c.put(entry{figure: "–", from: why}, false)
	}
	t.looks.unknown()
}

// withheld leaves the layers and a dash for each figure that needs a solid.
func withheld(f *job.Figures, u unit.System) [5]entry {
	dash := entry{figure: "–", note: "needs a solid", from: f.Withheld.In(u)}
	all := [5]entry{dash, dash, dash, dash, dash}
	if len(f.Layers) > 0 {
		all[1] = layers(f, nil, u)
	}
	return all
}

// apart splits "4.86 kg" into figure and unit, and "under 1 min" before its unit.
func apart(text string) (figure, word string) {
	at := strings.LastIndex(text, " ")
	if at < 0 {
		return text, ""
	}
	return text[:at], text[at+1:]
}

func weight(f *job.Figures, u unit.System) entry {
	e := entry{from: "volume of the surface by the divergence theorem, less the hollow, times the board's density, the dry glue and the dry finish. Boards differ by a tenth and more with moisture and maker: weigh an offcut."}
	e.figure, e.unit = apart(unit.Mass(f.Totals.WeightKg*1000, u))
	e.unit += " · estimate"
	switch {
	case !f.CoreKnown:
		e.note = "solid; hollow not counted"
	case f.Totals.SavedKg > 0:
		e.note = unit.Mass(f.Totals.SavedKg*1000, u) + " saved"
	default:
		e.note = "solid"
	}
	return e
}

func layers(f *job.Figures, v *workshop.Workshop, u unit.System) entry {
	e := entry{figure: fmt.Sprint(len(f.Layers)), unit: "× " + unit.Length(f.Thickness, u),
		from: "the height of the piece divided by what the skim leaves of the board. Exact."}
	if f.Remainder.Whole {
		e.note = "the last is whole"
	} else {
		e.note = "last " + unit.Length(f.Remainder.Last, u)
	}
	if v == nil || !v.Withheld.None() {
		return e
	}
	if v.Balance.Stands && v.Balance.TipDeg > 0 {
		e.note += " · tips at " + unit.Angle(math.Round(v.Balance.TipDeg))
	} else {
		e.note += " · falls over"
	}
	e.from += " It falls over when it is tilted so far in the direction in which it stands worst: the centre of mass over the foot."
	return e
}

func panels(f *job.Figures, v *workshop.Workshop, u unit.System) entry {
	t := f.Totals
	x, _ := apart(unit.Length(t.Largest.X, u))
	e := entry{figure: fmt.Sprint(t.Panels), unit: "· estimate", note: "largest " + x + " × " + unit.Length(t.Largest.Y, u),
		from: "the extent of each layer, with room for the cutter and the clearance all round, against the panel; laid out they may be fewer."}
	switch {
	case v != nil && v.Withheld.None() && len(v.Layout.TooLarge) > 0:
		n := len(v.Layout.TooLarge)
		e.figure, e.unit, e.red = fmt.Sprint(v.Panels()), "", true
		e.note = fmt.Sprintf("%d %s on no panel", n, phrase.Plural(n, "part lies", "parts lie"))
	case (v == nil || !v.Withheld.None()) && !t.FitsPanel:
		e.unit, e.note, e.red = "", fmt.Sprintf("layer %d is too large", t.TooLargeLayer), true
		e.figure = "–"
	case v != nil && v.Withheld.None():
		n := v.Boards.Count()
		e.figure, e.unit = fmt.Sprint(v.Panels()), fmt.Sprintf("of %d %s", n, phrase.Plural(n, "board", "boards"))
		e.from = "the parts as they are laid out; boards as they are sawn into panels. See the sheets Panels and Saw plan."
	}
	return e
}

func joints(f *job.Figures, u unit.System) entry {
	t := f.Totals
	e := entry{from: "the area that neighbouring layers have in common, less the hollow; glue by the spread in the catalogue. The glue is an estimate.",
		note: unit.Mass(t.GlueG, u) + " glue, estimate"}
	e.figure, e.unit = apart(unit.Area(t.Joint, u))
	return e
}

func router(f *job.Figures) entry {
	t := f.Totals
	e := entry{from: "passes over the surface at the stepovers, stepdowns and feeds of the Cutters card; turning and clamping come on top: " + unit.Duration(t.HandsOnMin) + ".",
		note: "rough " + roughOf(t) + " · finish " + unit.Duration(t.FineMin)}
	e.figure, e.unit = apart(unit.Duration(t.RouterMin()))
	if !f.Simulated {
		e.unit += " · estimate"
		return e
	}
	e.unit += " · simulated"
	e.from = fmt.Sprintf("followed along the cutters' paths with the machine's acceleration; the estimate had been %s %% off. Turning and clamping come on top: %s.",
		unit.Signed(100*f.EstimateOff, 0), unit.Duration(t.HandsOnMin))
	return e
}

// roughOf is the time of the rough passes, without its unit where that of the finish passes is the same.
func roughOf(t job.Totals) string {
	rough, word := apart(unit.Duration(t.RoughMin))
	if _, other := apart(unit.Duration(t.FineMin)); word == other {
		return rough
	}
	return rough + " " + word
}

// shares divides the strip: a seventh for each figure, the rest for what needs a look.
type shares struct{ t *Ticket }

func (shares) Layout(o []fyne.CanvasObject, s fyne.Size) {
	w := min(168, s.Width/6.6)
	for i, c := range o[:len(o)-1] {
		c.Move(fyne.NewPos(float32(i)*w, 0))
		c.Resize(fyne.NewSize(w, s.Height))
	}
	x := float32(len(o)-1) * w
	o[len(o)-1].Move(fyne.NewPos(x, 0))
	o[len(o)-1].Resize(fyne.NewSize(s.Width-x, s.Height))
}

func (s shares) MinSize([]fyne.CanvasObject) fyne.Size {
	if s.t.low {
		return fyne.NewSize(700, lowHeight)
	}
	return fyne.NewSize(700, 92)
}
