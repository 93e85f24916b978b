package job

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"grainstack/slicing/geom"
	"grainstack/slicing/stock"
	"grainstack/slicing/unit"
)

// A Choice is something that two settings differ in, in a maker's words.
type Choice struct{ Name, From, To string }

// String is the choice as it is listed: "wall 20 mm → 25 mm".
func (c Choice) String() string {
	if c.From == "" && c.To == "" {
		return c.Name
	}
	return c.Name + " " + c.From + " → " + c.To
}

// Choices are what settings differ in, from one to the other, the weightiest first. Settings that are not equal always differ
// in something.
func Choices(from, to Settings, c *stock.Catalogue, u unit.System) []Choice {
	var out []Choice
	at := from
	for _, w := range choiceWords() {
		next := at
		w.take(&next, &to)
		if next == at {
			continue
		}
		at = next
		one := Choice{Name: w.name}
		if w.text != nil {
			one.From, one.To = w.text(from, c, u), w.text(to, c, u)
		}
		if one.From != one.To || w.text == nil {
			out = append(out, one)
			continue
		}
		out = append(out, Choice{Name: w.name + " by a hair"})
	}
	if at != to {
		out = append(out, Choice{Name: "other choices"})
	}
	return out
}

// A choiceWord is how one choice is named and told. Where text is nil its name says all there is to say.
type choiceWord struct {
	name string
	take func(to, from *Settings)
	text func(Settings, *stock.Catalogue, unit.System) string
}

// choiceWords is the table of all choices.
func choiceWords() []choiceWord {
	return slices.Concat(standChoices(), stackChoices(), cutterChoices("rough", func(s *Settings) *CutterUse { return &s.Rough }),
		cutterChoices("finish", func(s *Settings) *CutterUse { return &s.Fine }), routerChoices(), shopChoices())
}

// lengthChoice is a choice that is a length; none says what nothing stands for, "" for the length itself.
func lengthChoice(name, none string, of func(*Settings) *float64) choiceWord {
	return choiceWord{name, func(to, from *Settings) { *of(to) = *of(from) },
		func(s Settings, _ *stock.Catalogue, u unit.System) string {
			if v := *of(&s); v != 0 || none == "" {
				return unit.Length(v, u)
			}
			return none
		}}
}

// numberChoice is a choice that is a plain number with its unit; none says what nothing stands for.
func numberChoice(name, word, none string, of func(*Settings) *float64) choiceWord {
	return choiceWord{name, func(to, from *Settings) { *of(to) = *of(from) },
		func(s Settings, _ *stock.Catalogue, _ unit.System) string {
			if v := *of(&s); v != 0 || none == "" {
				return strings.TrimSpace(fmt.Sprintf("%.6g %s", v, word))
			}
			return none
		}}
}

// countChoice is a choice that is a whole number.
func countChoice(name, none string, of func(*Settings) *int) choiceWord {
	return choiceWord{name, func(to, from *Settings) { *of(to) = *of(from) },
		func(s Settings, _ *stock.Catalogue, _ unit.System) string {
			if v := *of(&s); v != 0 || none == "" {
				return fmt.Sprint(v)
			}
			return none
		}}
}

// keyChoice is a choice out of the catalogue, told by its name there.
func keyChoice(name string, of func(*Settings) *string, called func(*stock.Catalogue, string) string) choiceWord {
	return choiceWord{name, func(to, from *Settings) { *of(to) = *of(from) },
		func(s Settings, c *stock.Catalogue, _ unit.System) string {
			key := *of(&s)
			if c != nil {
				if n := called(c, key); n != "" {
					return n
				}
			}
			return key
		}}
}

// yesNo is a choice between two.
func yesNo(name, yes, no string, of func(*Settings) *bool) choiceWord {
	return choiceWord{name, func(to, from *Settings) { *of(to) = *of(from) },
		func(s Settings, _ *stock.Catalogue, _ unit.System) string {
			if *of(&s) {
				return yes
			}
			return no
		}}
}

// standChoices place the piece and mend it.
func standChoices() []choiceWord {
	return []choiceWord{
		{"stand", func(to, from *Settings) { to.Turn = from.Turn }, func(s Settings, _ *stock.Catalogue, _ unit.System) string {
			return turnWords(s.Turn)
		}},
		numberChoice("scale", "", "", func(s *Settings) *float64 { return &s.Scale }),
		yesNo("scan", "as it is", "mended", func(s *Settings) *bool { return &s.Mend.Off }),
		{"saw", func(to, from *Settings) { to.Mend.Saw = from.Mend.Saw }, func(s Settings, _ *stock.Catalogue, _ unit.System) string {
			if !s.Mend.Saw.On {
				return "not sawn off"
			}
			return fmt.Sprintf("sawn off at %.4g", s.Mend.Saw.D/s.sawLength())
		}},
		lengthChoice("smoothing", "none", func(s *Settings) *float64 { return &s.Mend.Smooth }),
		lengthChoice("thinning", "none", func(s *Settings) *float64 { return &s.Mend.Thin }),
		lengthChoice("resolution", "usual", func(s *Settings) *float64 { return &s.Mend.Resolution }),
		numberChoice("debris", "of the whole", "usual", func(s *Settings) *float64 { return &s.Mend.DebrisShare }),
	}
}

// sawLength is the length of the saw's normal, 1 where it has none.
func (s Settings) sawLength() float64 {
	if l := s.Mend.Saw.Normal.Len(); l > 0 {
		return l
	}
	return 1
}

// turnWords are the angles of a turn that are not nothing.
func turnWords(t geom.Turn) string {
	x, y, z := t.Degrees()
	var words []string
	for i, v := range [3]float64{x, y, z} {
		if math.Abs(v) >= 0.05 {
			words = append(words, [3]string{"forward", "sideways", "round"}[i]+" "+unit.Angle(v))
		}
	}
	if len(words) == 0 {
		return "as it came"
	}
	return strings.Join(words, ", ")
}

// stackChoices are board, layers and hollow, and what the piece is glued and finished with.
func stackChoices() []choiceWord {
	return []choiceWord{
		keyChoice("board", func(s *Settings) *string { return &s.Board }, func(c *stock.Catalogue, k string) string { b, _ := c.Board(k); return b.Name }),
		lengthChoice("board's thickness", "as sold", func(s *Settings) *float64 { return &s.BoardThickness }),
		lengthChoice("skim", "", func(s *Settings) *float64 { return &s.Skim }),
		{"layer rule", func(to, from *Settings) { to.Hold = from.Hold }, func(s Settings, _ *stock.Catalogue, _ unit.System) string {
			if s.Hold == HoldSkim {
				return "moves the board"
			}
			return "moves the skim"
		}},
		lengthChoice("first joint", "a whole layer", func(s *Settings) *float64 { return &s.FirstJoint }),
		yesNo("layers", "every second turned", "all the same way", func(s *Settings) *bool { return &s.Alternate }),
		{"layers of their own", func(to, from *Settings) { to.Mix = from.Mix }, func(s Settings, c *stock.Catalogue, _ unit.System) string {
			return s.Mix.words(c)
		}},
		lengthChoice("wall", "solid", func(s *Settings) *float64 { return &s.Wall }),
		{"hollow", func(to, from *Settings) { to.Core = from.Core }, func(s Settings, _ *stock.Catalogue, _ unit.System) string { return s.Core.String() }},
		countChoice("solid layers below", "", func(s *Settings) *int { return &s.CapBottom }),
		countChoice("solid layers above", "", func(s *Settings) *int { return &s.CapTop }),
		lengthChoice("rim wanted", "any", func(s *Settings) *float64 { return &s.RimWanted }),
		keyChoice("finish", func(s *Settings) *string { return &s.Finish }, func(c *stock.Catalogue, k string) string { f, _ := c.Finish(k); return f.Name }),
		{"tones of the board", func(to, from *Settings) { to.Tones = from.Tones }, nil},
		keyChoice("glue", func(s *Settings) *string { return &s.Glue }, func(c *stock.Catalogue, k string) string { g, _ := c.Glue(k); return g.Name }),
	}
}

// words are the layers that differ from the rest, by the names of their boards.
func (m Mix) words(c *stock.Catalogue) string {
	var words []string
	for _, one := range m.all() {
		what := one.Board
		if c != nil {
			if b, ok := c.Board(one.Board); ok {
				what = b.Name
			}
		}
		if one.Turn && what != "" {
			what += ", turned"
		} else if one.Turn {
			what = "turned"
		}
		words = append(words, fmt.Sprintf("%d %s", one.layer, what))
	}
	if len(words) == 0 {
		return "none"
	}
	return strings.Join(words, "; ")
}

// cutterChoices are a cutter and how it is run.
func cutterChoices(which string, of func(*Settings) *CutterUse) []choiceWord {
	return []choiceWord{
		keyChoice(which+" cutter", func(s *Settings) *string { return &of(s).Key }, func(c *stock.Catalogue, k string) string { u, _ := c.Cutter(k); return u.Name }),
		numberChoice(which+" feed", "mm/min", "usual", func(s *Settings) *float64 { return &of(s).FeedMmMin }),
		numberChoice(which+" plunge", "mm/min", "usual", func(s *Settings) *float64 { return &of(s).PlungeMmMin }),
		numberChoice(which+" speed", "rpm", "usual", func(s *Settings) *float64 { return &of(s).RPM }),
		lengthChoice(which+" stepdown", "usual", func(s *Settings) *float64 { return &of(s).Stepdown }),
		lengthChoice(which+" stepover", "usual", func(s *Settings) *float64 { return &of(s).Stepover }),
		lengthChoice("left by the "+which+" pass", "usual", func(s *Settings) *float64 { return &of(s).StockToLeave }),
	}
}

// routerChoices are the machine and its panels.
func routerChoices() []choiceWord {
	return []choiceWord{
		keyChoice("machine", func(s *Settings) *string { return &s.Machine }, func(c *stock.Catalogue, k string) string { m, _ := c.Machine(k); return m.Name }),
		yesNo("finish rows", "across the grain", "along the grain", func(s *Settings) *bool { return &s.AcrossGrain }),
		{"panel", func(to, from *Settings) { to.PanelX, to.PanelY = from.PanelX, from.PanelY }, func(s Settings, _ *stock.Catalogue, u unit.System) string {
			return unit.Length(s.PanelX, u) + " × " + unit.Length(s.PanelY, u)
		}},
		lengthChoice("safe height", "", func(s *Settings) *float64 { return &s.SafeHeight }),
		lengthChoice("clearance", "", func(s *Settings) *float64 { return &s.Clearance }),
		{"marks in chalk", func(to, from *Settings) { to.Chalk = from.Chalk }, nil},
		{"limits for cautions", func(to, from *Settings) { to.Limits = from.Limits }, nil},
	}
}

// shopChoices are the workshop; what moves no figure of the ticket is told by its name only.
func shopChoices() []choiceWord {
	whole := func(name string, take func(to, from *Shop)) choiceWord {
		return choiceWord{name, func(to, from *Settings) { take(&to.Shop, &from.Shop) }, nil}
	}
	return []choiceWord{
		numberChoice("price of a board", "", "none", func(s *Settings) *float64 { return &s.Shop.SheetPrice }),
		whole("prices of other boards", func(to, from *Shop) { to.Prices = from.Prices }),
		lengthChoice("sanding allowance", "none", func(s *Settings) *float64 { return &s.Shop.Allowance }),
		countChoice("coats", "usual", func(s *Settings) *int { return &s.Shop.Coats }),
		lengthChoice("saw cut", "", func(s *Settings) *float64 { return &s.Shop.Kerf }),
		lengthChoice("trim of a board", "none", func(s *Settings) *float64 { return &s.Shop.Trim }),
		lengthChoice("panel's edge", "", func(s *Settings) *float64 { return &s.Shop.Edge }),
		whole("register dowels", func(to, from *Shop) {
			to.DowelDiameter, to.DowelDepth, to.DowelInset, to.Axis, to.Seat = from.DowelDiameter, from.DowelDepth, from.DowelInset, from.Axis, from.Seat
		}),
		whole("clamps on the panel", func(to, from *Shop) { to.PanelClamps = from.PanelClamps }),
		whole("tabs", func(to, from *Shop) {
			to.TabWidth, to.TabThickness, to.TabSpacing = from.TabWidth, from.TabThickness, from.TabSpacing
		}),
		whole("alignment pins", func(to, from *Shop) {
			to.PinDiameter, to.PinDepth, to.PinCover = from.PinDiameter, from.PinDepth, from.PinCover
		}),
		whole("spread of glue", func(to, from *Shop) { to.Spread, to.SpreadGM2 = from.Spread, from.SpreadGM2 }),
		whole("clamps", func(to, from *Shop) {
			to.ClampForceN, to.ClampOpens, to.Clamps = from.ClampForceN, from.ClampOpens, from.Clamps
		}),
		whole("sanding", func(to, from *Shop) { to.Grits, to.GlueStep = from.Grits, from.GlueStep }),
		numberChoice("evening", "min", "usual", func(s *Settings) *float64 { return &s.Shop.EveningMin }),
		whole("search for a layout", func(to, from *Shop) { to.Seed = from.Seed }),
	}
}
