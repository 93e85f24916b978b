package app

import (
	"fmt"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/widget"

	"grainstack/app/paper"
	"grainstack/app/ticket"
	"grainstack/slicing/job"
	"grainstack/slicing/phrase"
)

func (w *window) newStrip() *ticket.Strip {
	return ticket.NewStrip(ticket.StripActions{
		Choose: w.chooseTrial, Beside: w.setBeside, Run: w.run, Key: w.key, Notice: w.margin.hint,
	})
}

// trialCommands are what can be done with trials.
func (w *window) trialCommands() []command {
	some := func() bool { return w.model != nil && len(w.session.Trials()) > 0 }
	chosen := func() bool { return w.chosenTrial() >= 0 }
	step := func(by int) func() {
		return func() {
			n := len(w.session.Trials())
			if i := w.chosenTrial(); i >= 0 {
				w.toTrial((i + by + n) % n)
			} else {
				w.toTrial(0)
			}
		}
	}
	return []command{
		{name: "keep trial", menu: "Trials", words: "Keep as trial", ctrl: fyne.KeyK, enabled: func() bool { return w.model != nil }, do: w.keepTrial},
		{name: "side by side", menu: "Trials", words: "Side by side", ctrl: fyne.KeyT, enabled: func() bool { return w.comparing.open || len(w.columns()) > 1 }, do: w.toggleComparison},
		{name: "next trial", menu: "Trials", words: "Next trial", key: fyne.KeyPeriod, enabled: some, do: step(1)},
		{name: "trial before", menu: "Trials", words: "Trial before", key: fyne.KeyComma, enabled: some, do: step(-1)},
		{name: "take trial", menu: "Trials", words: "Take the chosen trial back", ctrl: fyne.KeyR, enabled: func() bool {
			i := w.chosenTrial()
			return i >= 0 && w.session.Trials()[i].Settings != w.session.Settings()
		}, do: w.takeTrial},
		{name: "rename trial", menu: "Trials", words: "Rename the chosen trial…", key: fyne.KeyF2, enabled: chosen, do: w.renameTrial},
		{name: "remove trial", menu: "Trials", words: "Remove the chosen trial", ctrl: fyne.KeyDelete, enabled: chosen, do: w.removeTrial},
		{name: "fold trials", menu: "Trials", words: "Fold the strip of trials", key: fyne.KeyF8, enabled: some, do: func() {
			w.trying.folded = !w.trying.folded
			w.showTrials()
		}},
	}
}

// chosenTrial is the number of the trial that the ticket is set against, -1 for none.
func (w *window) chosenTrial() int {
	if w.trying.chosen == (job.Settings{}) {
		return -1
	}
	for i, t := range w.session.Trials() {
		if t.Settings == w.trying.chosen {
			return i
		}
	}
	return -1
}

// keepTrial keeps what is on the bench and sets the ticket against it.
func (w *window) keepTrial() {
	s := w.session.Settings()
	all, err := job.KeepTrial(w.session.Trials(), "", s)
	if err != nil {
		w.margin.hint(sentence(fmt.Errorf("Not kept: %w", err)))
		return
	}
	name := all[len(all)-1].Name
	if len(w.trying.beside) < mostBeside {
		w.trying.beside[s] = true
	}
	w.trying.chosen = s
	w.keepTrials("keep "+name, all)
	w.margin.hint(name + " is kept. Change what you like: the ticket says by how much you are off it. " + controlKey + "+R takes it back.")
	w.strip.Show(len(all) - 1)
}

// keepTrials sets the trials, as one step.
func (w *window) keepTrials(step string, all []job.Trial) {
	w.session.Keep(step, all)
	w.trying.left = false
	w.trying.version++
	w.keepWork()
	w.showAll()
	w.traceTrials()
}

// chooseTrial sets the ticket against a trial, or against none where it is chosen already.
func (w *window) chooseTrial(i int) {
	if i == w.chosenTrial() {
		w.trying.chosen = job.Settings{}
		w.trying.version++
		w.showAll()
		return
	}
	w.toTrial(i)
}

func (w *window) toTrial(i int) {
	all := w.session.Trials()
	if i < 0 || i >= len(all) {
		return
	}
	w.trying.chosen = all[i].Settings
	w.trying.version++
	w.showAll()
	w.strip.Show(i)
	w.margin.hint(all[i].Name + ": " + controlKey + "+R takes it back · F2 renames it · " + controlKey + "+Delete removes it · " + controlKey + "+T sets trials side by side")
}

// setBeside says whether a trial is shown side by side with others.
func (w *window) setBeside(i int) {
	all := w.session.Trials()
	if i < 0 || i >= len(all) {
		return
	}
	s := all[i].Settings
	ticked := 0
	for _, t := range all {
		ticked += count(w.trying.beside[t.Settings])
	}
	switch {
	case w.trying.beside[s]:
		delete(w.trying.beside, s)
	case ticked >= mostBeside:
		w.margin.hint(fmt.Sprintf("%d stand side by side at most: untick one first.", mostBeside))
		return
	default:
		w.trying.beside[s] = true
	}
	w.trying.version++
	w.showAll()
}

// takeTrial puts the chosen trial's settings on the bench, as one step.
func (w *window) takeTrial() {
	t := w.session.Trials()[w.chosenTrial()]
	w.Rest()
	w.Do("take back "+t.Name, func(job.Settings) job.Settings { return t.Settings })
	w.Rest()
	w.margin.hint(t.Name + " is back on the bench. Undo puts it away again.")
}

func (w *window) removeTrial() {
	i := w.chosenTrial()
	all := w.session.Trials()
	name := all[i].Name
	delete(w.trying.beside, all[i].Settings)
	w.trying.chosen = job.Settings{}
	w.keepTrials("remove "+name, job.RemoveTrial(all, i))
	w.margin.hint(name + " is removed. Undo brings it back.")
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

func (w *window) renameTrial() {
	i := w.chosenTrial()
	was := w.session.Trials()[i].Name
	field, fault := &nameField{}, paper.Sentence(paper.Red)
	field.ExtendBaseWidget(field)
	field.SetText(was)
	d := dialog.NewCustomWithoutButtons("Rename "+was, container.NewVBox(field, fault), w.win)
	field.escape = d.Hide
	take := func() {
		all, err := job.RenameTrial(w.session.Trials(), i, field.Text)
		if err != nil {
			fault.SetText(sentence(fmt.Errorf("%s", phrase.Capital(err.Error()))))
			return
		}
		d.Hide()
		if all[i].Name != was {
			w.keepTrials("rename "+was, all)
		}
	}
	field.OnSubmitted = func(string) { take() }
	buttons := paper.NewChoices(d.Hide, []string{"Rename", "Leave it"}, []func(){take, d.Hide})
	buttons[0].Importance = widget.HighImportance
	d.SetButtons([]fyne.CanvasObject{buttons[0], buttons[1]})
	d.Resize(fyne.NewSize(380, 190))
	w.show(d)
	w.win.Canvas().Focus(field)
	field.TypedShortcut(&fyne.ShortcutSelectAll{})
}

// briefly are the quantities of a trial's line in the strip, and differing those that its differences are told in.
func briefly() []job.Quantity {
	return []job.Quantity{job.Weight, job.LayerCount, job.RouterTime, job.PanelCount}
}

func differing() []job.Quantity {
	return []job.Quantity{job.LayerCount, job.Weight, job.RouterTime, job.PanelCount, job.GlueWet, job.SmallestJoint, job.TrappedWood, job.TipAngle}
}

// named is a figure with the word that tells it from others of the same unit.
func named(q job.Quantity, text string) string {
	switch q {
	case job.LayerCount:
		return text + " layers"
	case job.PanelCount:
		return text + " panels"
	case job.GlueWet:
		return text + " glue"
	case job.SmallestJoint:
		return text + " joint"
	case job.TrappedWood:
		return text + " out of reach"
	case job.TipAngle:
		return text + " to tip"
	}
	return text
}

// trialLine is a trial as the strip shows it.
func (w *window) trialLine(one job.Trial, bench job.Ticket, known bool) ticket.TrialLine {
	u := w.session.View.Units
	line := ticket.TrialLine{Name: one.Name, Picture: w.trying.pictures[one.Settings].img, Chosen: one.Settings == w.trying.chosen, Beside: w.trying.beside[one.Settings]}
	t, fault, ok := w.trialTicket(one.Settings)
	var words []string
	for _, q := range briefly() {
		if a, estimate := t.Best(q); ok && a.Known && !(estimate && q == job.PanelCount) {
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
	if one.Settings == w.session.Settings() {
		line.Choices = "as it is on the bench"
		return line
	}
	if ok && known {
		line.Differences = differences(t, bench, differing(), u)
	}
	var told []string
	for _, c := range job.Choices(w.session.Settings(), one.Settings, w.shelf.now, u) {
		told = append(told, c.String())
	}
	line.Choices = strings.Join(told, " · ")
	return line
}

// showStrip shows the trials.
func (w *window) showStrip() {
	if w.strip == nil {
		return
	}
	bench, known := w.benchTicket()
	var lines []ticket.TrialLine
	kept := map[job.Settings]bool{}
	if w.model != nil {
		for _, one := range w.session.Trials() {
			lines = append(lines, w.trialLine(one, bench, known))
			kept[one.Settings] = true
		}
	}
	for s := range w.trying.pictures {
		if !kept[s] {
			delete(w.trying.pictures, s)
		}
	}
	enabled := map[string]bool{}
	for _, c := range w.trialCommands() {
		enabled[c.name] = c.enabled()
	}
	if w.strip.Put(lines, w.trying.status, w.trying.folded, w.comparing.open, func(name string) bool { return enabled[name] }) {
		w.win.Content().Refresh()
		if w.trace != nil {
			w.post(w.traceStrip)
		}
	}
}

func (w *window) traceStrip() {
	for name, o := range w.strip.Places() {
		w.trace.place("trial", name, o)
	}
	if w.comparing.open {
		w.trace.place("pane", w.comparing.Picture.Name, w.comparing.Picture)
	}
}

// showTrials shows the trials and what hangs on them, and asks for what is not known of them.
func (w *window) showTrials() {
	w.showStrip()
	w.showAgainst()
	w.askTrials()
	w.askComparison()
}

// showAgainst sets the ticket against the chosen trial.
func (w *window) showAgainst() {
	var by [5]string
	i := w.chosenTrial()
	bench, known := w.benchTicket()
	if i < 0 || !known {
		w.ticket.Against("", by)
		return
	}
	one := w.session.Trials()[i]
	t, _, ok := w.trialTicket(one.Settings)
	if !ok {
		w.ticket.Against("", by)
		return
	}
	u := w.session.View.Units
	for k, q := range [5]job.Quantity{job.Weight, job.LayerCount, job.PanelCount, job.GlueWet, job.RouterTime} {
		by[k] = differences(bench, t, []job.Quantity{q}, u)
		for _, known := range []string{" layers", " glue"} { // stands in the cell already
			by[k] = strings.TrimSuffix(by[k], known)
		}
	}
	w.ticket.Against(one.Name, by)
}
