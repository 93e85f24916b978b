package trial

import (
	"encoding/json"
	"errors"
	"fmt"
	"grainstack/slicing/job"
	"slices"
	"strings"
	"unicode"
)

// A Trial is settings kept to be compared. It keeps no figures: those are worked out from the settings, by whatever the program
// knows today.
type Trial struct {
	Name     string       `json:"name"`
	Settings job.Settings `json:"settings"`
}

// UnmarshalJSON reads a trial over the same settings that a job is read over, so that what an older file doesn't have is usual.
func (t *Trial) UnmarshalJSON(text []byte) error {
	type plain Trial
	p := plain{Settings: job.Unread()}
	if err := json.Unmarshal(text, &p); err != nil {
		return err
	}
	*t = Trial(p)
	return nil
}

// Bounds of trials: more can't be told apart in a row, and a longer name is cut short wherever it is shown.
const (
	Most     = 24
	MostName = 40 // letters
)

// nextName is a name that no trial has: "Trial 3" after two.
func nextName(all []Trial) string {
	for n := len(all) + 1; ; n++ {
		if name := fmt.Sprintf("Trial %d", n); named(all, name) < 0 {
			return name
		}
	}
}

// named is where a trial of that name is, -1 for nowhere. Names differ by more than capitals.
func named(all []Trial, name string) int {
	return slices.IndexFunc(all, func(t Trial) bool { return strings.EqualFold(t.Name, name) })
}

// fit is a name without what can't be read and with single spaces.
func fit(name string) string {
	name = strings.Map(func(r rune) rune {
		if unicode.IsSpace(r) {
			return ' '
		}
		if !unicode.IsPrint(r) {
			return -1
		}
		return r
	}, name)
	return strings.Join(strings.Fields(name), " ")
}

// Keep is the list with settings kept at its end under a name, "" for the next free one. The list that is given stays as
// it was. Settings that are kept already are not kept again.
func Keep(all []Trial, name string, s job.Settings) ([]Trial, error) {
	if len(all) >= Most {
		return nil, fmt.Errorf("%d trials are kept, and more can't be compared: remove one first", len(all))
	}
	for _, t := range all {
		if t.Settings == s {
			return nil, fmt.Errorf("these settings are kept already, as %s", t.Name)
		}
	}
	if name = fit(name); name == "" {
		name = nextName(all)
	}
	out := append(slices.Clone(all), Trial{Settings: s})
	return out, rename(out, len(all), name)
}

// Rename is the list with trial i, from 0, under another name. The list that is given stays as it was.
func Rename(all []Trial, i int, name string) ([]Trial, error) {
	if i < 0 || i >= len(all) {
		return nil, errors.New("there is no such trial")
	}
	out := slices.Clone(all)
	return out, rename(out, i, fit(name))
}

// rename gives a trial of the list a name that is fit for it.
func rename(all []Trial, i int, name string) error {
	switch k := named(all, name); {
	case name == "":
		return errors.New("give the trial a name")
	case len([]rune(name)) > MostName:
		return fmt.Errorf("a trial's name has %d letters at most, this has %d", MostName, len([]rune(name)))
	case k >= 0 && k != i:
		return fmt.Errorf("another trial is called %s: give this one another name", all[k].Name)
	}
	all[i].Name = name
	return nil
}

// Remove is the list without trial i, from 0. The list that is given stays as it was.
func Remove(all []Trial, i int) []Trial {
	if i < 0 || i >= len(all) {
		return all
	}
	return slices.Delete(slices.Clone(all), i, i+1)
}

// Tidy are the trials of a file with names that are fit: whoever wrote the file may have had other rules. Trials that
// can't be worked out stay, and say so where they are shown.
func Tidy(all []Trial) ([]Trial, error) {
	if len(all) > Most {
		return nil, fmt.Errorf("the job holds %d trials and %d can be compared: take some out of the file", len(all), Most)
	}
	var out []Trial
	for _, t := range all {
		name := fit(t.Name)
		if r := []rune(name); len(r) > MostName {
			name = strings.TrimSpace(string(r[:MostName]))
		}
		if name == "" || named(out, name) >= 0 {
			name = nextName(out)
		}
		out = append(out, Trial{name, t.Settings})
	}
	return out, nil
}
