package view

import (
	"bytes"
	"fmt"
	"math"
	"strconv"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"

	"grainstack/app/card"
	"grainstack/app/pane"
	"grainstack/app/paper"
	"grainstack/app/state"
	"grainstack/app/task"
	"grainstack/slicing/phrase"
	"grainstack/slicing/proof"
	"grainstack/slicing/unit"
)

// programTools stand under the sheet of programs: which program, which minute, play, and the cautions.
type programTools struct {
	programs *pane.Index
	minute   *card.Rule
	play     *paper.Button
	speed    *paper.Select
	begin    *paper.Button
	whole    fyne.CanvasObject
}

// speeds are how many times as fast as the machine programs can be played.
var speeds = []int{10, 60, 300, 1200}

func speedWords(n int) string { return fmt.Sprintf("%d times as fast", n) }

// care is what whoever runs programs has to mind.
const care = "Run each program in the air first; check zero, cutter and clamps; stay with the machine. Its maker and the rules where you work come first. No proof knows a wrong zero, a board that slips or another cutter."

// careLines are as many lines as that takes beside the piece in a window of 1024.
const careLines = 4

func newProgramTools(do ProgramActions) *programTools {
	t := &programTools{programs: pane.NewIndex(paper.Small), minute: card.NewRule(0, 1, 0)}
	t.programs.Chosen = do.Program
	t.minute.Changed = do.Minute
	t.play = paper.NewButton("Play", do.Play).Quiet()
	t.begin = paper.NewButton("Work out", do.WorkOut).Quiet()
	var names []string
	for _, n := range speeds {
		names = append(names, speedWords(n))
	}
	t.speed = paper.NewSelect(names, func(name string) {
		for _, n := range speeds {
			if speedWords(n) == name {
				do.Speed(n)
			}
		}
	})
	t.speed.Selected = speedWords(state.UsualSpeed)
	words := paper.NewLines(careLines).Whole()
	words.Say(care)
	row := container.NewBorder(nil, nil, t.play, t.begin, t.speed)
	t.whole = container.New(layout.NewCustomPaddedVBoxLayout(0), t.programs, t.minute, row, words)
	return t
}

// Places are where the hand reaches the sheet's controls, by name.
func (p *Programs) Places() map[string]fyne.CanvasObject {
	t := p.tools
	return map[string]fyne.CanvasObject{"work_out": t.begin, "play": t.play, "minute": t.minute, "programs": t.programs, "panels": p.panels, "facts": p.facts}
}

// show writes what there is.
func (t *programTools) show(b *state.Bench) {
	p := &b.Programs
	one, c := p.Shown(), p.Running()
	var words []string
	at := 0
	if c != nil {
		m := c.At(p.Minute)
		at = m.Program
		for i, w := range one.Programs {
			words = append(words, fmt.Sprintf("%v %v", w.For.Side, w.For.Step)+strings.Repeat("!", min(1, faultsOf(one, i))))
		}
	}
	t.programs.Put(words, at)
	if c != nil {
		t.minute.Put(p.Minute, 0, c.Minutes(), false)
	} else {
		t.minute.Put(0, 0, 1, true)
	}
	t.play.Allow(c != nil)
	t.play.Say(map[bool]string{false: "Play", true: "Stop"}[p.Playing])
	begin := "Work out"
	switch {
	case b.Tasks.Programs.State == task.Working:
		begin = "Call it off"
	case len(p.Made) > 0:
		begin = "Work out again"
	}
	t.begin.Say(begin)
	if w := speedWords(p.Speed); t.speed.Selected != w {
		t.speed.Selected = w
		t.speed.Refresh()
	}
}

// faultsOf is how many faults a program of a panel has.
func faultsOf(b *proof.Batch, i int) (n int) {
	if b.Proof == nil {
		return 0
	}
	for _, f := range b.Proof.Faults {
		for _, one := range b.Programs[i].Files {
			if f.File == one.Name {
				n++
			}
		}
	}
	return n
}

// Write writes what stands round the sheet.
func (p *Programs) Write(b *state.Bench) {
	k := &b.Programs
	var words []string
	for _, one := range k.Made {
		name := strconv.Itoa(one.Number)
		if !one.Refused.None() {
			name += "!"
		}
		words = append(words, name)
	}
	p.panels.Put(words, k.Panel)
	p.caption.Say(programsCaption(b))
	p.tools.show(b)
	p.facts.Follow = nil
	switch {
	case k.Running() == nil:
		p.facts.Say("")
	case k.Faults() > 0:
		p.facts.Follow = p.fault
	}
}

// programsCaption is the line above the sheet.
func programsCaption(b *state.Bench) string {
	k := &b.Programs
	one := k.Shown()
	if one == nil {
		return "Programs for the machine"
	}
	words := fmt.Sprintf("Panel %d", one.Number)
	switch {
	case k.Stale():
		words += " · of older settings"
	case one.Proof == nil:
	case one.Proof.Holds():
		words += " · proven"
	default:
		n := len(one.Proof.Faults)
		words += fmt.Sprintf(" · refused, %d %s", n, phrase.Plural(n, "fault", "faults"))
	}
	if c := k.Running(); c != nil {
		m := c.At(k.Minute)
		words += fmt.Sprintf(" · side %v up · %s", m.Side, m.Cutter.Name)
	}
	return words
}

// momentWords say of a moment which minute and line it is, what the cutter does, and what the proof found there.
func momentWords(a ProgramsAsk, m proof.Moment) string {
	w := a.batch.Programs[m.Program]
	lines := bytes.Count(w.Files[m.File].Text, []byte{'\n'})
	does := "cuts"
	if m.Rapid {
		does = "fast, in the air"
	}
	u := a.style.Units
	deep := unit.Length(math.Abs(m.At.Z), u) + " above the face"
	if m.At.Z < 0 {
		deep = unit.Length(-m.At.Z, u) + " below the face"
	}
	words := fmt.Sprintf("minute %.1f of %.1f · line %s of %s\n%s\n%s · tip %s that lies up", m.Minute, a.batch.Minutes[m.Program],
		card.Thousands(m.Line), card.Thousands(lines), a.batch.Line(m.Program, m.File, m.Line), does, deep)
	if a.batch.Proof == nil || len(a.batch.Proof.Faults) == 0 {
		return words
	}
	n := len(a.batch.Proof.Faults)
	if a.fault > 0 && a.fault <= n {
		return fmt.Sprintf("fault %d of %d: %s\n", a.fault, n, a.batch.Proof.Faults[a.fault-1].Says().In(u)) + words
	}
	return words + fmt.Sprintf("\n%d %s: a click here or Enter goes from one to the next, a click on a ring to that one", n, phrase.Plural(n, "fault", "faults"))
}
