package job

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"grainstack/slicing/stock"
	"grainstack/slicing/unit"
)

// A Setting is one thing that the maker chooses, told once, by its row in the table: what it is checked by, its row on a card, its
// flag, and how it is told where two jobs differ in it.
type Setting struct {
	Key   string // of its flag, and what a card asks for it by; "" for what has neither
	Name  string // in sentences and for undo
	Short string // on its card, "" for the name
	Moves string // a word on what it moves
	Help  string // of its flag, "" for name and moves
	None  string // what nothing stands for; "" where nothing is a figure like others

	Range // of a figure

	Options []Option // of a choice between a few
	Switch  bool     // its flag stands alone
	Stocked string   // the kind of entry in the catalogue that it is the key of
	Report  string   // what a report calls it, "" for nothing

	take  func(to, from *Settings)
	get   func(*Settings) float64 // the figure, or which of the options
	set   func(*Settings, float64)
	entry func(*Settings) *string // key in the catalogue
	list  func(*stock.Catalogue) []Option
	parse func(*Settings, string) error
	text  func(*Settings, *stock.Catalogue, unit.System) string
	fault func(*Settings, *stock.Catalogue) error
	comes func(s Settings, layer float64) any // what it comes to with layers so thick, for a report; nil where there is nothing to report
}

// A Range is what a figure may be, in the kind's own unit.
type Range struct {
	Kind        unit.Kind
	Least, Most float64 // what can be worked with
	Low, High   float64 // the sensible range
	From, To    float64 // the ends of its rule
	Step        float64 // of its rule
	Log         bool    // its rule is spaced by ratios, for figures that span decades
}

// An Option is one of a choice: how files and flags call it, and how the maker does.
type Option struct{ Key, Name string }

// SettingOf is the setting with that key. Only keys of the table are asked for.
func SettingOf(key string) *Setting {
	return &table[slices.IndexFunc(table[:], func(f Setting) bool { return f.Key == key })]
}

// AllSettings are the settings with a key, the weightiest first.
func AllSettings() []*Setting {
	var out []*Setting
	for i := range table {
		if table[i].Key != "" {
			out = append(out, &table[i])
		}
	}
	return out
}

// Label is the setting's name on its card.
func (f *Setting) Label() string { return cmp.Or(f.Short, f.Name) }

// Figure is the setting of some settings; where nothing is chosen, what that comes to with the catalogue.
func (f *Setting) Figure(s Settings, c *stock.Catalogue) float64 {
	v := f.get(&s)
	if v == 0 && f.None != "" {
		s = s.resolved(c)
		v = f.get(&s)
	}
	return v
}

// With are the settings with another figure, or with another of its options.
func (f *Setting) With(s Settings, v float64) Settings {
	f.set(&s, v)
	return s
}

// Choices are what can be chosen from, in the order of the table or the catalogue; none of a figure.
func (f *Setting) Choices(c *stock.Catalogue) []Option {
	if f.list != nil && c != nil {
		return f.list(c)
	}
	return f.Options
}

// Chosen is the key of what is chosen, "" where that is none of the options.
func (f *Setting) Chosen(s Settings) string {
	if f.entry != nil {
		return *f.entry(&s)
	}
	if f.text != nil {
		return f.text(&s, nil, unit.Metric)
	}
	if i := int(f.get(&s)); i >= 0 && i < len(f.Options) {
		return f.Options[i].Key
	}
	return ""
}

// Read puts into settings what is written of one: a figure with or without its unit, an option's or an entry's key. Whether it can be
// worked with is for Check to say.
func (f *Setting) Read(s *Settings, text string) error {
	switch {
	case f.parse != nil:
		return f.parse(s, text)
	case f.entry != nil:
		*f.entry(s) = text
		return nil
	case f.Options != nil:
		i := slices.IndexFunc(f.Options, func(o Option) bool { return o.Key == text })
		if i < 0 {
			var keys []string
			for _, o := range f.Options {
				keys = append(keys, o.Key)
			}
			return fmt.Errorf("%s is wanted, not %q", strings.Join(keys, " or "), text)
		}
		f.set(s, float64(i))
		return nil
	}
	v, err := f.Kind.Read(text, unit.Metric)
	if err == nil && f.set != nil {
		f.set(s, v)
	}
	return err
}

// Usage is the help of the setting's flag, with what is to be given in back quotes.
func (f *Setting) Usage() string {
	var notes []string
	help := f.Help
	switch {
	case help == "" && f.entry != nil:
		help = "`NAME` of a " + f.Name + " in the catalogue"
	case help == "":
		help = fmt.Sprintf("`%s` for the %s", cmp.Or(strings.ToUpper(f.Kind.Word(unit.Metric)), "N"), f.Name)
		notes = append(notes, f.Moves)
	}
	if f.High > 0 {
		notes = append(notes, fmt.Sprintf("sensible: %g to %g", f.Low, f.High))
	}
	if len(notes) > 0 {
		help += " (" + strings.Join(notes, "; ") + ")"
	}
	return help
}

// told is the setting in a maker's words, "" where its name says all there is to say.
func (f *Setting) told(s *Settings, c *stock.Catalogue, u unit.System) string {
	switch {
	case f.text != nil:
		return f.text(s, c, u)
	case f.get == nil && f.entry == nil:
		return ""
	case f.Options == nil && f.entry == nil:
		if v := f.get(s); v != 0 || f.None == "" {
			return f.Kind.Text(v, u)
		}
		return f.None
	}
	key := f.Chosen(*s)
	for _, o := range f.Choices(c) {
		if o.Key == key && o.Name != "" {
			return o.Name
		}
	}
	return key
}

// check says in a sentence for the maker what is wrong with the setting, nil where it can be worked with.
func (f *Setting) check(s *Settings, c *stock.Catalogue) error {
	switch {
	case f.fault != nil:
		return f.fault(s, c)
	case f.entry != nil:
		return f.missing(*f.entry(s), c)
	case f.get == nil:
		return nil
	}
	v, least, most := f.get(s), f.Least, f.Most
	if f.Options != nil {
		most = float64(len(f.Options) - 1)
	}
	if v >= least && v <= most || v == 0 && f.None != "" {
		return nil
	}
	return fmt.Errorf("the %s can't be %s: give %g to %s", f.Name, f.Kind.Text(v, unit.Metric), least, f.Kind.Text(most, unit.Metric))
}

// missing says that a key is none of the catalogue's, nil where it is one.
func (f *Setting) missing(key string, c *stock.Catalogue) error {
	keys := make([]string, 0, 16)
	for _, o := range f.list(c) {
		if o.Key == key {
			return nil
		}
		keys = append(keys, o.Key)
	}
	return fmt.Errorf("there is no %s %q in the catalogue: choose one of %s, or put it into your own stock file", f.Stocked, key, strings.Join(keys, ", "))
}

// reported is what a report says of the setting where layers are so thick, nil for nothing.
func (f *Setting) reported(s Settings, layer float64) any {
	switch {
	case f.comes != nil:
		return f.comes(s, layer)
	case f.Options != nil || f.entry != nil:
		return f.Chosen(s)
	}
	return f.get(&s)
}

// amount is a row for a number.
func amount(f Setting, of func(*Settings) *float64) Setting {
	f.take = func(to, from *Settings) { *of(to) = *of(from) }
	f.get = func(s *Settings) float64 { return *of(s) }
	f.set = func(s *Settings, v float64) { *of(s) = v }
	return f
}

// whole is a row for a whole number or for one of the options in their order.
func whole[T ~int](f Setting, of func(*Settings) *T) Setting {
	f.take = func(to, from *Settings) { *of(to) = *of(from) }
	f.get = func(s *Settings) float64 { return float64(*of(s)) }
	f.set = func(s *Settings, v float64) { *of(s) = T(v) }
	return f
}

// either is a row for one of two: the second where it is true.
func either(f Setting, of func(*Settings) *bool) Setting {
	f.take = func(to, from *Settings) { *of(to) = *of(from) }
	f.get = func(s *Settings) float64 {
		if *of(s) {
			return 1
		}
		return 0
	}
	f.set = func(s *Settings, v float64) { *of(s) = v == 1 }
	return f
}

// stocked is a row for an entry of the catalogue.
func stocked[T any](f Setting, of func(*Settings) *string, all func(*stock.Catalogue) []T, option func(T) Option) Setting {
	f.take = func(to, from *Settings) { *of(to) = *of(from) }
	f.entry = of
	f.list = func(c *stock.Catalogue) []Option {
		var out []Option
		for _, one := range all(c) {
			out = append(out, option(one))
		}
		return out
	}
	return f
}

// other is a row for anything else; where text is nil its name says all there is to say.
func other[T any](f Setting, of func(*Settings) *T, text func(*T, unit.System) string) Setting {
	f.take = func(to, from *Settings) { *of(to) = *of(from) }
	if text != nil {
		f.text = func(s *Settings, _ *stock.Catalogue, u unit.System) string { return text(of(s), u) }
	}
	return f
}

// written are settings that have a language of their own, read from a flag; "none" takes all back.
func (f Setting) written(parse func(*Settings, string) error) Setting {
	f.parse = func(s *Settings, text string) error {
		if text == "none" {
			text = ""
		}
		return parse(s, text)
	}
	return f
}

// checked is a row with a check of its own.
func (f Setting) checked(fault func(*Settings) error) Setting {
	f.fault = func(s *Settings, _ *stock.Catalogue) error { return fault(s) }
	return f
}

// as is a row that a report tells in its own way.
func (f Setting) as(report string, comes func(s Settings, layer float64) any) Setting {
	f.Report, f.comes = report, comes
	return f
}

// where is a value where it is told at all, else nil.
func where(told bool, value any) any {
	if told {
		return value
	}
	return nil
}
