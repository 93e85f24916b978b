package app

import (
	"fmt"
	"strings"

	"grainstack/app/card"
	"grainstack/app/route"
	"grainstack/app/snag"
	"grainstack/app/task"
	"grainstack/slicing/finding"
	"grainstack/slicing/phrase"
	"grainstack/slicing/trial"
	"grainstack/slicing/unit"
	"grainstack/slicing/wayout"
)

// mostWays is how many ways out stand under a place.
const mostWays = 5

// addWays adds the ways out of a place.
func (s *snagger) addWays(d *snag.Detail, f finding.Finding, place int) {
	b := s.bench
	if f.Kind == finding.TooLow && route.Guesses(b) {
		s.addUnits(d)
		return
	}
	if !wayout.HasWays(f.Kind) {
		return
	}
	all, sought := b.Ways()
	switch {
	case b.Tasks.Ways.State == task.Working:
		d.Word = "Looking for ways out …"
	case b.Tasks.Ways.State == task.Off:
		d.Word = "Looking for ways out was called off: go on with it at the foot of the window."
	case !sought:
		d.Word = "Ways out are looked for once cutters and panels have been followed."
	}
	var at *finding.Place
	if place >= 0 && place < len(f.Places) {
		at = &f.Places[place]
	}
	s.ways = wayout.For(all, f.Kind, at)
	s.ways = s.ways[:min(len(s.ways), mostWays)]
	for _, o := range s.ways {
		if !o.ByHand() {
			b.Screen.Ways = append(b.Screen.Ways, o.Settings)
		}
	}
	for _, o := range s.ways {
		w := snag.Way{Text: wayWords(&o, f, at, b.View.Units), Price: card.Price(o, b.View.Units), Worse: o.Worse(b.View.Units), ByHand: o.ByHand()}
		if !w.ByHand {
			s.compare(&w, o)
		}
		if !w.ByHand {
			w.Picture = b.Tried.Pictures[o.Settings].Img
		}
		d.Ways = append(d.Ways, w)
	}
	if sought && len(d.Ways) == 0 {
		d.Word = noWay(f.Kind)
	}
}

// noWay says what is left to do where no settings better a kind of finding.
func noWay(k finding.Kind) string {
	switch k.Class() {
	case finding.Topples:
		return "No turn and no level cut of the saw was found that it stands well with: saw it off where you want it (B), compare directions of the stack, or fasten it to a base board that is wider than its foot, and set this aside."
	case finding.Unreached:
		return "No settings were found that reach it: carve it by hand, and set it aside here."
	}
	return "No settings were found that better it: see to it by hand, and set it aside here with what you will do."
}

// mostWorse is how many kinds of what a way out makes worse are told one by one.
const mostWorse = 3

// compare tells what a way out makes worse and costs, by all that is known of it by now.
func (s *snagger) compare(w *snag.Way, o wayout.Way) {
	b := s.bench
	all, known, followed := b.Worse(o.Settings)
	if !followed {
		w.Price += " · cutters and panels are not followed for it yet"
	} else {
		o = b.Followed(o)
		w.Price, w.Worse = card.Price(o, b.View.Units), ""
	}
	if !known || len(all) == 0 {
		return
	}
	var texts []string
	if w.Worse != "" && all[0].Kind.Class() > finding.Topples {
		texts = append(texts, w.Worse)
	} else {
		texts = append(texts, "With this:")
	}
	for i, c := range all {
		if i == mostWorse {
			texts = append(texts, "And "+phrase.Count(len(all)-i, "kind")+" more of what needs a look.")
			break
		}
		texts = append(texts, s.words().Worsened(c))
	}
	w.Worse = strings.Join(texts, " ")
}

// wayWords are what a way out does, of undercuts that it frees only whether the picked one is among them and how many others.
func wayWords(o *wayout.Way, f finding.Finding, at *finding.Place, u unit.System) string {
	if o.Gone.None() || f.Kind != finding.Undercut || at == nil {
		return o.Words(u)
	}
	text, others := o.Text.In(u), o.Frees
	if o.FreesAt(*at) {
		text += "; this one goes"
		others--
		if others > 0 {
			text += fmt.Sprintf(", and %d more", others)
		}
		return text
	}
	return text + fmt.Sprintf("; %d %s, this one doesn't", others, phrase.Plural(others, "other goes", "others go"))
}

// addUnits adds what the piece is in other units than those that were taken for granted.
func (s *snagger) addUnits(d *snag.Detail) {
	b := s.bench
	for _, u := range fileUnits {
		now := b.Settings()
		w := wayout.Way{Kind: finding.TooLow, Settings: now}
		w.Settings.Scale = u.mm
		if w.Settings == now {
			continue
		}
		w.Text = unit.Say("The file is in %s: %s high", u.name, unit.Mm(b.Standing.Height()*u.mm/b.Standing.Stand.Scale))
		s.ways, b.Screen.Ways = append(s.ways, w), append(b.Screen.Ways, w.Settings)
		d.Ways = append(d.Ways, snag.Way{Text: w.Text.In(b.View.Units), Picture: b.Tried.Pictures[w.Settings].Img})
	}
}

// takeWay takes a way out.
func (s *snagger) takeWay(i int) {
	if i < len(s.ways) {
		if s.ways[i].Kind == finding.TooLow {
			s.bench.Selected.Unit = true
		}
		s.carver.take(s.ways[i])
		s.Hint("Taken. Undo puts it away again.")
	}
}

// keepWay keeps a way out as a trial, without taking it.
func (s *snagger) keepWay(i int) {
	if i >= len(s.ways) {
		return
	}
	all, err := trial.Keep(s.bench.Trials(), "", s.ways[i].Settings)
	if err != nil {
		s.Hint(s.sentence(fmt.Errorf("Not kept: %w", err)))
		return
	}
	name := all[len(all)-1].Name
	s.trials.keepTrials("keep "+name, all)
	s.Hint(phrase.Capital(name) + " is kept. " + controlKey + "+T sets trials side by side.")
}

// setAside sets the picked place aside under a note: the maker sees to it by hand.
func (s *snagger) setAside(note string) {
	b := s.bench
	f, place, ok := b.Snag()
	if !ok {
		return
	}
	key := b.KeyOf(f, place)
	s.leaveSnag()
	b.SetAside("set aside", finding.Set(b.Asides(), note, key))
	s.changed()
	s.Hint("Set aside; the work book tells it. Undo brings it back.")
}

// lookAgain has a place that was set aside need a look again.
func (s *snagger) lookAgain(laid int) {
	b := s.bench
	_, aside := b.Snags()
	if laid < len(aside) {
		b.SetAside("look at it again", finding.Take(b.Asides(), aside[laid].Key))
		s.changed()
	}
}
