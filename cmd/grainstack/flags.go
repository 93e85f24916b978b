package main

import (
	"errors"
	"flag"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"

	"grainstack/slicing/job"
	"grainstack/slicing/stock"
	"grainstack/slicing/unit"
)

// newFlags is a flag set that reports instead of exiting.
func newFlags(name string) *flag.FlagSet {
	set := flag.NewFlagSet(name, flag.ContinueOnError)
	set.SetOutput(io.Discard)
	return set
}

// parse reads flags wherever they stand and returns the words between them.
func parse(set *flag.FlagSet, args []string) ([]string, error) {
	var words []string
	for len(args) > 0 {
		if err := set.Parse(args); errors.Is(err, flag.ErrHelp) {
			return nil, err
		} else if err != nil {
			return nil, &usageError{err.Error()}
		}
		args = set.Args()
		if len(args) > 0 {
			words = append(words, args[0])
			args = args[1:]
		}
	}
	return words, nil
}

// onePiece is the single file that a sub-command wants.
func onePiece(words []string) (string, error) {
	if len(words) != 1 {
		return "", &usageError{fmt.Sprintf("one piece is wanted, %d are named", len(words))}
	}
	return words[0], nil
}

// describe lists the flags of a set, one a line.
func describe(set *flag.FlagSet) string {
	var b strings.Builder
	set.VisitAll(func(f *flag.Flag) {
		arg, text := flag.UnquoteUsage(f)
		fmt.Fprintf(&b, "  %-24s %s\n", "-"+f.Name+" "+arg, text)
	})
	return b.String()
}

// A length is a flag that takes a length in any unit and is mm inside.
type length struct{ mm float64 }

func (l *length) String() string { return strconv.FormatFloat(l.mm, 'g', -1, 64) }

func (l *length) Set(s string) error {
	mm, err := unit.ParseLength(s, unit.MM)
	if err != nil {
		return err
	}
	l.mm = mm
	return nil
}

// A decimal is a flag of one finite number.
type decimal struct{ v float64 }

// mostDecimal is more than any flag has a use for: beyond, a turn's last digits are lost.
const mostDecimal = 1e6

func (d *decimal) String() string { return strconv.FormatFloat(d.v, 'g', -1, 64) }

func (d *decimal) Set(s string) error {
	v, err := strconv.ParseFloat(s, 64)
	if err != nil || !(math.Abs(v) <= mostDecimal) {
		return fmt.Errorf("a number from %.0f to %.0f is wanted", -mostDecimal, mostDecimal)
	}
	d.v = v
	return nil
}

// A pair is a flag of two whole numbers with a separator between them.
type pair struct {
	a, b int
	sep  string
	set  bool
}

func (p *pair) String() string { return fmt.Sprintf("%d%s%d", p.a, p.sep, p.b) }

func (p *pair) Set(s string) error {
	first, second, ok := strings.Cut(s, p.sep)
	a, errA := strconv.Atoi(first)
	b, errB := strconv.Atoi(second)
	if !ok || errA != nil || errB != nil || a < 0 || b < 0 {
		return fmt.Errorf("two whole numbers with %q between them are wanted, as in 1%s1", p.sep, p.sep)
	}
	p.a, p.b, p.set = a, b, true
	return nil
}

// A settingFlag is one flag of a setting: what is written is looked at at once, and put into the settings once they are there.
type settingFlag struct {
	of    *job.Setting
	text  string
	given bool
}

func (f *settingFlag) String() string { return f.text }

// IsBoolFlag says that the flag may stand alone.
func (f *settingFlag) IsBoolFlag() bool { return f.of.Switch }

func (f *settingFlag) Set(text string) error {
	if err := f.of.Read(&job.Settings{}, text); err != nil {
		return err
	}
	f.text, f.given = text, true
	return nil
}

// A stackFlags is what the flags say about the settings.
type stackFlags struct {
	all   []*settingFlag // in the order of the table
	tones toneFlags
	panel string
	stock string
	cuts  cutFlags // of the one scan that the piece is made of
}

func bindStack(set *flag.FlagSet) *stackFlags {
	f := &stackFlags{}
	for _, one := range job.AllSettings() {
		own := &settingFlag{of: one}
		f.all = append(f.all, own)
		set.Var(own, one.Key, one.Usage())
	}
	set.StringVar(&f.panel, "panel", "", "`NAME` of a panel's size in the catalogue")
	set.StringVar(&f.stock, "stock", "", "`FILE` of your own boards, cutters, machines and glues (the window's where nothing is said)")
	set.Func("box", "`\"X,Y,Z X,Y,Z\"` uses of the scan only what lies in a box, in its own units; may be given several times", ofOne(f.cuts.box))
	set.Func("plane", "`\"X,Y,Z D\"` uses of the scan only what lies D along X,Y,Z or farther, in its own units; may be given several times", ofOne(f.cuts.plane))
	f.tones.bind(set)
	return f
}

// given reports whether the flag of a setting stands on the command line.
func (f *stackFlags) given(key string) bool {
	return slices.ContainsFunc(f.all, func(one *settingFlag) bool { return one.of.Key == key && one.given })
}

// length is what a flag of a length says, mm; ok is false where it says nothing.
func (f *stackFlags) length(key string) (mm float64, ok bool) {
	for _, one := range f.all {
		if one.of.Key == key && one.given {
			mm, _ = unit.ParseLength(one.text, unit.MM) // it was looked at when it was set
			return mm, true
		}
	}
	return 0, false
}

// apply gives the settings with all that flags say of them but what hangs on the piece or on other settings.
func (f *stackFlags) apply(s job.Settings, c *stock.Catalogue) (job.Settings, error) {
	for _, one := range f.all {
		if one.given {
			if err := one.of.Read(&s, one.text); err != nil {
				return s, &usageError{err.Error()}
			}
		}
	}
	if !(s.Scale > 0) && f.given("scale") {
		return s, &usageError{"the scale has to be more than 0"}
	}
	if f.panel != "" {
		p, ok := c.Panel(f.panel)
		if !ok {
			return s, fmt.Errorf("there is no panel %q in the catalogue: give its sizes with -panel-length and -panel-width", f.panel)
		}
		s.PanelX, s.PanelY = p.X, p.Y
	}
	if f.given("prices") {
		var err error
		if s, err = s.WithPrices(s.Shop.Prices, c); err != nil {
			return s, err
		}
	}
	return f.tones.apply(s)
}

// applyStand gives the settings with the height and the saw that the flags ask for, both of the scan of a sized piece.
func (f *stackFlags) applyStand(s job.Settings, p *job.Piece) (job.Settings, error) {
	if mm, ok := f.length("height"); ok {
		if !(mm > 0) {
			return s, &usageError{"the height has to be more than 0"}
		}
		s.Scale = p.ScaleForHeight(s.Turn, mm)
	}
	if mm, ok := f.length("saw-base"); ok {
		if !(mm >= 0) {
			return s, &usageError{"the saw cuts at 0 mm above the lowest point or higher"}
		}
		s.Mend.Saw = p.SawBase(s, mm)
	}
	return s, nil
}

// applyLayer gives the settings with the usual skim of another board and with the layer that the flags ask for.
func (f *stackFlags) applyLayer(s job.Settings, c *stock.Catalogue) (job.Settings, error) {
	if !f.given("skim") && (f.given("board") || f.given("board-thickness")) {
		s = s.WithUsualSkim(c)
	}
	if mm, ok := f.length("layer-thickness"); ok {
		least, most := s.LayerRange(c)
		if !(mm >= least && mm <= most) {
			return s, fmt.Errorf("a layer of %g mm can't be had of this board: give %g to %g mm, or another board", mm, least, most)
		}
		s = s.WithLayer(c, mm)
	}
	return s, nil
}
