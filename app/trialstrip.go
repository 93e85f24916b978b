package app

import (
	"fmt"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/widget"

	"grainstack/app/paper"
	"grainstack/app/state"
	"grainstack/app/ticket"
	"grainstack/app/view"
	"grainstack/slicing/job"
	"grainstack/slicing/phrase"
	"grainstack/slicing/trial"
)

// trialCommands are what can be done with trials.
func (r *trials) trialCommands() []command {
	some := func() bool { return r.bench.Model != nil && len(r.bench.Trials()) > 0 }
	chosen := func() bool { return r.bench.Tried.ChosenTrial() >= 0 }
	step := func(by int) func() {
		return func() {
			n := len(r.bench.Trials())
			if i := r.bench.Tried.ChosenTrial(); i >= 0 {
				r.toTrial((i + by + n) % n)
			} else {
				r.toTrial(0)
			}
		}
	}
	return []command{
		{name: "keep trial", menu: "Trials", words: "Keep as trial", ctrl: fyne.KeyK, enabled: func() bool { return r.bench.Model != nil }, do: r.keepTrial},
		{name: "side by side", menu: "Trials", words: "Side by side", ctrl: fyne.KeyT, enabled: func() bool { return r.bench.Screen.Comparing || len(view.Columns(r.bench)) > 1 }, do: r.toggleComparison},
		{name: "next trial", menu: "Trials", words: "Next trial", key: fyne.KeyPeriod, enabled: some, do: step(1)},
		{name: "trial before", menu: "Trials", words: "Trial before", key: fyne.KeyComma, enabled: some, do: step(-1)},
		{name: "take trial", menu: "Trials", words: "Take the chosen trial back", ctrl: fyne.KeyR, enabled: func() bool {
			i := r.bench.Tried.ChosenTrial()
			return i >= 0 && r.bench.Trials()[i].Settings != r.bench.Settings()
		}, do: r.takeTrial},
		{name: "rename trial", menu: "Trials", words: "Rename the chosen trial…", key: fyne.KeyF2, enabled: chosen, do: r.renameTrial},
		{name: "remove trial", menu: "Trials", words: "Remove the chosen trial", ctrl: fyne.KeyDelete, enabled: chosen, do: r.removeTrial},
		{name: "fold trials", menu: "Trials", words: "Fold the strip of trials", key: fyne.KeyF8, enabled: some, do: func() {
			r.bench.Tried.Fold = map[bool]state.Fold{true: state.Unfolded, false: state.Folded}[r.bench.Tried.Folded()]
			r.changed()
		}},
	}
}

// keepTrial keeps what is on the bench and sets the ticket against it.
func (r *trials) keepTrial() {
	s := r.bench.Settings()
	all, err := trial.Keep(r.bench.Trials(), "", s)
	if err != nil {
		r.Hint(r.sentence(fmt.Errorf("Not kept: %w", err)))
		return
	}
	name := all[len(all)-1].Name
	if len(r.bench.Tried.Beside) < state.MostBeside {
		r.bench.Tried.Beside[s] = true
	}
	r.bench.Tried.Chosen = s
	r.keepTrials("keep "+name, all)
	r.Hint(name + " is kept. Change what you like: the ticket says by how much you are off it. " + controlKey + "+R takes it back.")
	r.strip.Show(len(all) - 1)
}

// keepTrials sets the trials, as one step.
func (r *trials) keepTrials(step string, all []trial.Trial) {
	r.bench.Keep(step, all)
	r.changed()
	r.traceTrials()
}

// chooseTrial sets the ticket against a trial, or against none where it is chosen already.
func (r *trials) chooseTrial(i int) {
	if i == r.bench.Tried.ChosenTrial() {
		r.bench.Tried.Chosen = job.Settings{}
		r.changed()
		return
	}
	r.toTrial(i)
}

func (r *trials) toTrial(i int) {
	all := r.bench.Trials()
	if i < 0 || i >= len(all) {
		return
	}
	r.bench.Tried.Chosen = all[i].Settings
	r.changed()
	r.strip.Show(i)
	r.Hint(all[i].Name + ": " + controlKey + "+R takes it back · F2 renames it · " + controlKey + "+Delete removes it · " + controlKey + "+T sets trials side by side")
}

// setBeside says whether a trial is shown side by side with others.
func (r *trials) setBeside(i int) {
	all := r.bench.Trials()
	if i < 0 || i >= len(all) {
		return
	}
	s := all[i].Settings
	ticked := 0
	for _, one := range all {
		ticked += count(r.bench.Tried.Beside[one.Settings])
	}
	switch {
	case r.bench.Tried.Beside[s]:
		delete(r.bench.Tried.Beside, s)
	case ticked >= state.MostBeside:
		r.Hint(fmt.Sprintf("%d stand side by side at most: untick one first.", state.MostBeside))
		return
	default:
		r.bench.Tried.Beside[s] = true
	}
	r.changed()
}

// takeTrial puts the chosen trial's settings on the bench, as one step.
func (r *trials) takeTrial() {
	t := r.bench.Trials()[r.bench.Tried.ChosenTrial()]
	r.Rest()
	r.Do("take back "+t.Name, func(job.Settings) job.Settings { return t.Settings })
	r.Rest()
	r.Hint(t.Name + " is back on the bench. Undo puts it away again.")
}

func (r *trials) removeTrial() {
	i := r.bench.Tried.ChosenTrial()
	all := r.bench.Trials()
	name := all[i].Name
	delete(r.bench.Tried.Beside, all[i].Settings)
	r.bench.Tried.Chosen = job.Settings{}
	r.keepTrials("remove "+name, trial.Remove(all, i))
	r.Hint(name + " is removed. Undo brings it back.")
}

// A nameField is a line to write a name in; Escape leaves it.
type nameField struct {
	widget.Entry
	escape func()
}

func (n *nameField) TypedKey(e *fyne.KeyEvent) {
	if e.Name == fyne.KeyEscape {
		n.escape()
		return
	}
	n.Entry.TypedKey(e)
}

func (r *trials) renameTrial() {
	i := r.bench.Tried.ChosenTrial()
	was := r.bench.Trials()[i].Name
	field, fault := &nameField{}, paper.Sentence(paper.Red)
	field.ExtendBaseWidget(field)
	field.SetText(was)
	d := dialog.NewCustomWithoutButtons("Rename "+was, container.NewVBox(field, fault), r.win)
	field.escape = d.Hide
	take := func() {
		all, err := trial.Rename(r.bench.Trials(), i, field.Text)
		if err != nil {
			fault.SetText(r.sentence(fmt.Errorf("%s", phrase.Capital(err.Error()))))
			return
		}
		d.Hide()
		if all[i].Name != was {
			r.keepTrials("rename "+was, all)
		}
	}
	field.OnSubmitted = func(string) { take() }
	buttons := paper.NewChoices(d.Hide, []string{"Rename", "Leave it"}, []func(){take, d.Hide})
	buttons[0].Importance = widget.HighImportance
	d.SetButtons([]fyne.CanvasObject{buttons[0], buttons[1]})
	d.Resize(fyne.NewSize(380, 190))
	r.show(d)
	r.win.Canvas().Focus(field)
	field.TypedShortcut(&fyne.ShortcutSelectAll{})
}

// briefly are the quantities of a trial's line in the strip, and differing those that its differences are told in.
func briefly() []trial.Quantity {
	return []trial.Quantity{trial.Weight, trial.LayerCount, trial.RouterTime, trial.PanelCount}
}

func differing() []trial.Quantity {
	return []trial.Quantity{trial.LayerCount, trial.Weight, trial.RouterTime, trial.PanelCount, trial.GlueWet, trial.SmallestJoint, trial.TrappedWood, trial.TipAngle}
}

// named is a figure with the word that tells it from others of the same unit.
func named(q trial.Quantity, text string) string {
	one := strings.TrimLeft(text, "+−-") == "1"
	switch q {
	case trial.LayerCount:
		return text + map[bool]string{true: " layer", false: " layers"}[one]
	case trial.PanelCount:
		return text + map[bool]string{true: " panel", false: " panels"}[one]
	case trial.GlueWet:
		return text + " glue"
	case trial.SmallestJoint:
		return text + " joint"
	case trial.TrappedWood:
		return text + " out of reach"
	case trial.TipAngle:
		return text + " to tip"
	}
	return text
}

// trialLine is a trial as the strip shows it.
func (r *trials) trialLine(one trial.Trial, bench trial.Ticket, known bool) ticket.TrialLine {
	u := r.bench.View.Units
	line := ticket.TrialLine{Name: one.Name, Picture: r.bench.Tried.Pictures[one.Settings].Img, Chosen: one.Settings == r.bench.Tried.Chosen, Beside: r.bench.Tried.Beside[one.Settings]}
	t, fault, ok := r.bench.Tried.Ticket(one.Settings)
	var words []string
	for _, q := range briefly() {
		if a, estimate := t.Best(q); ok && a.Known && !(estimate && q == trial.PanelCount) {
			word := named(q, q.Text(a.Value, u))
			if estimate {
				word = "≈ " + word
			}
			words = append(words, word)
		}
	}
	line.Brief = strings.Join(words, " · ")
	switch {
	case fault != "":
		line.Brief, line.Fault = fault, true
	case !ok:
		line.Brief = "being worked out …"
	}
	if one.Settings == r.bench.Settings() {
		line.Choices = "as it is on the bench"
		return line
	}
	if ok && known {
		line.Differences = differences(t, bench, differing(), u)
	}
	var told []string
	for _, c := range job.Choices(r.bench.Settings(), one.Settings, r.bench.Shelf.Now, u) {
		told = append(told, c.String())
	}
	line.Choices = strings.Join(told, " · ")
	return line
}

// showStrip shows the trials.
func (r *trials) showStrip() {
	if r.strip == nil {
		return
	}
	bench, known := r.bench.Tried.BenchTicket()
	var lines []ticket.TrialLine
	kept := map[job.Settings]bool{}
	if r.bench.Model != nil {
		for _, one := range r.bench.Trials() {
			lines = append(lines, r.trialLine(one, bench, known))
			kept[one.Settings] = true
		}
	}
	for s := range r.bench.Tried.Pictures {
		if !kept[s] && !slices.Contains(r.bench.Screen.Ways, s) {
			delete(r.bench.Tried.Pictures, s)
		}
	}
	enabled := map[string]bool{}
	for _, c := range r.trialCommands() {
		enabled[c.name] = c.enabled()
	}
	if r.strip.Put(lines, r.status(), r.bench.Tried.Folded(), r.bench.Screen.Comparing, func(name string) bool { return enabled[name] }) {
		r.relay()
		if r.trace != nil {
			r.post(r.traceStrip)
		}
	}
}

func (r *trials) traceStrip() {
	for name, o := range r.strip.Places() {
		r.trace.placeOf("trial", name, o)
	}
	if r.bench.Screen.Comparing {
		r.trace.placeOf("pane", r.on.comparing.Name, r.on.comparing.Picture)
	}
}

// showAgainst sets the ticket against the chosen trial.
func (r *trials) showAgainst() {
	var by [5]string
	i := r.bench.Tried.ChosenTrial()
	bench, known := r.bench.Tried.BenchTicket()
	if i < 0 || !known {
		r.ticket.Against("", by)
		return
	}
	one := r.bench.Trials()[i]
	t, _, ok := r.bench.Tried.Ticket(one.Settings)
	if !ok {
		r.ticket.Against("", by)
		return
	}
	u := r.bench.View.Units
	for k, q := range [5]trial.Quantity{trial.Weight, trial.LayerCount, trial.PanelCount, trial.GlueWet, trial.RouterTime} {
		by[k] = differences(bench, t, []trial.Quantity{q}, u)
		for _, known := range []string{" layers", " layer", " glue"} { // stands in the cell already
			by[k] = strings.TrimSuffix(by[k], known)
		}
	}
	r.ticket.Against(one.Name, by)
}
