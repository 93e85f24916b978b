package job

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"grainstack/slicing/chalk"
	"grainstack/slicing/geom"
	"grainstack/slicing/glue"
	"grainstack/slicing/mend"
	"grainstack/slicing/panel"
	"grainstack/slicing/stock"
	"grainstack/slicing/unit"
)

// table has a row for every setting, the weightiest first.
var table = slices.Concat(standRows(), layerRows(), cutterRows("rough", func(s *Settings) *CutterUse { return &s.Rough }),
	cutterRows("finish", func(s *Settings) *CutterUse { return &s.Fine }), routerRows(), shopRows())

// standRows place the piece and mend it.
func standRows() []Setting {
	debris := amount(Setting{Key: "debris", Name: "debris", Short: "loose bits", Moves: "smaller ones are left out", Range: Range{Kind: unit.Percents, Most: 100, Low: 0.1, High: 2, To: 20, Step: 0.1},
		Help: "`%` of the largest shell's volume under which a shell is dropped"}, func(s *Settings) *float64 { return &s.Mend.DebrisShare })
	debris.get = func(s *Settings) float64 { return debrisPercent(s.Mend.DebrisShare) }
	debris.set = func(s *Settings, v float64) { s.Mend.DebrisShare = debrisShare(v) }
	return []Setting{
		amount(Setting{Key: "scale", Report: "scale", Name: "scale", Moves: "mm a file unit", Range: Range{Kind: unit.Factors, Least: 1e-9, Most: 1e9, Low: 0.1, High: 25.4, From: 1e-4, To: 1e4, Log: true},
			Help: "`F` mm for one unit of the file (1 where nothing is said)"}, func(s *Settings) *float64 { return &s.Scale }),
		other(Setting{Key: "turn", Name: "stand", Help: "`X,Y,Z` degrees about the fixed axes, in that order"},
			func(s *Settings) *geom.Turn { return &s.Turn }, turnWords).written(parseTurn).as("turn_deg", func(s Settings, _ float64) any {
			x, y, z := s.Turn.Degrees()
			return [3]float64{x + 0, y + 0, z + 0}
		}),
		{Key: "height", Name: "height", Moves: "sets the scale", Range: Range{Least: 1e-3, Most: 1e6, Low: 100, High: 600, From: 5, To: 5000, Log: true},
			Help: "`MM` the scan is high as it stands, without debris and before mending; sets the scale"},
		either(Setting{Key: "mend", Name: "scan", Short: "Leave the scan as it was read", Options: []Option{{"auto", "mended"}, {"off", "as it is"}},
			Help: "`HOW` a scan is made one solid: auto or off"}, func(s *Settings) *bool { return &s.Mend.Off }),
		other(Setting{Name: "saw"}, func(s *Settings) *mend.Plane { return &s.Mend.Saw }, func(p *mend.Plane, _ unit.System) string {
			if l := p.Normal.Len(); p.On && l > 0 {
				return fmt.Sprintf("sawn off at %.4g", p.D/l)
			} else if p.On {
				return fmt.Sprintf("sawn off at %.4g", p.D)
			}
			return "not sawn off"
		}),
		{Key: "saw-base", Name: "sawn at", Moves: "above the lowest", Range: Range{Most: 1e6, Low: 1, High: 30, Step: 0.5}, Help: "`MM` above the lowest point of the scan to cut it flat"},
		amount(Setting{Key: "smooth", Name: "smoothing", Moves: "takes noise off", None: "none", Range: Range{Most: 1000, Low: 0.1, High: 0.6, To: 2, Step: 0.05},
			Help: "`MM` of a scan's noise to smooth away"}, func(s *Settings) *float64 { return &s.Mend.Smooth }),
		amount(Setting{Key: "thin", Name: "thinning", Moves: "facets may move", None: "none", Range: Range{Most: 1000, Low: 0.02, High: 0.2, To: 1, Step: 0.01},
			Help: "`MM` that the surface may move when facets are thinned out"}, func(s *Settings) *float64 { return &s.Mend.Thin }),
		amount(Setting{Key: "grid", Name: "resolution", Short: "cubes", Moves: "0 lets the program choose", None: "usual", Range: Range{Most: 1000, Low: 0.4, High: 1.5, To: 5, Step: 0.1},
			Help: "`MM` of the grid where the solid has to be built anew; 0 chooses"}, func(s *Settings) *float64 { return &s.Mend.Resolution }),
		debris,
	}
}

// mixRow is that of the layers with a board of their own, which the row of boards knows.
func mixRow(board *Setting) Setting {
	f := other(Setting{Key: "mix", Name: "layers of their own", Help: "`LAYERS` with a board or a turn of their own, as in \"5:walnut-18-13, 9:turn, 11-12:beech-18-13+turn\"; none takes all back"},
		func(s *Settings) *Mix { return &s.Mix }, nil).
		written(func(s *Settings, text string) (err error) { s.Mix, err = ParseMix(text); return err }).
		as("mix", func(s Settings, _ float64) any { return where(s.Mix != "", string(s.Mix)) })
	f.text = func(s *Settings, c *stock.Catalogue, _ unit.System) string { return s.Mix.words(c) }
	f.fault = func(s *Settings, c *stock.Catalogue) error {
		return s.Mix.check(func(key string) error { return board.missing(key, c) })
	}
	return f
}

// layerRows are board, layers and hollow, and what the piece is glued and finished with.
func layerRows() []Setting {
	board := stocked(Setting{Key: "board", Name: "board", Stocked: "board", Report: "board"}, func(s *Settings) *string { return &s.Board },
		func(c *stock.Catalogue) []stock.Board { return c.Boards }, func(b stock.Board) Option { return Option{b.Key, b.Name} })
	return []Setting{
		board,
		amount(Setting{Key: "board-thickness", Name: "board's thickness", Short: "measured", Moves: "as your caliper says", None: "as sold", Range: Range{Most: 1000, Low: 9, High: 25, From: 3, To: 50, Step: 0.05},
			Help: "`MM` the board measures"}, func(s *Settings) *float64 { return &s.BoardThickness }).
			as("board_thickness_mm", func(s Settings, layer float64) any { return layer + 2*s.Skim }),
		amount(Setting{Key: "skim", Report: "skim_mm", Name: "skim", Moves: "which veneers show", Range: Range{Most: 1000, Low: 0.3, High: 1.5, To: 10, Step: 0.05},
			Help: "`MM` carved off each face first"}, func(s *Settings) *float64 { return &s.Skim }),
		Setting{Key: "layer-thickness", Name: "layer", Moves: "layers, stripes, hours", Range: Range{Least: Thinnest, Most: 1000, Low: 8, High: 20, To: 50, Step: 0.1},
			Help: "`MM` a layer is to be; moves the skim, or the board where the skim is held"}.
			as("layer_mm", func(_ Settings, layer float64) any { return layer }),
		whole(Setting{Key: "hold", Name: "layer rule", Short: "which moves", Options: []Option{{"board", "skim (board held)"}, {"skim", "board (skim held)"}},
			Help: "`WHAT` stays when the layer's thickness is changed: board or skim"}, func(s *Settings) *Hold { return &s.Hold }),
		amount(Setting{Key: "first-joint", Name: "first joint", Moves: "where all joints lie", None: "a whole layer", Range: Range{Most: 1e4, Low: 8, High: 20, To: 50, Step: 0.1},
			Help: "`MM` from the floor to the first joint"}, func(s *Settings) *float64 { return &s.FirstJoint }),
		either(Setting{Key: "same-way", Name: "layers", Short: "turn every second layer by 90°", Options: []Option{{"true", "all the same way"}, {"false", "every second turned"}}, Switch: true,
			Help: "lay every layer the same way instead of turning every second one"}, func(s *Settings) *bool { return &s.Alternate }),
		mixRow(&board),
		amount(Setting{Key: "wall", Report: "wall_mm", Name: "wall", Moves: "weight; 0 is solid", None: "solid", Range: Range{Most: 1e4, Low: 15, High: 30, To: 60, Step: 0.5},
			Help: "`MM` left around the hollow; 0 leaves the piece solid"}, func(s *Settings) *float64 { return &s.Wall }),
		whole(Setting{Key: "core", Report: "core", Name: "core", Options: []Option{{"carved", "carved, follows the outside"}, {"straight", "straight-sided pockets"}},
			Help: "`KIND` of hollow: carved or straight"}, func(s *Settings) *CoreKind { return &s.Core }),
		Setting{Key: "caps", Name: "solid layers at the ends", Help: "`BOTTOM,TOP` layers left solid at either end"}.written(parseCaps).
			as("caps", func(s Settings, _ float64) any { return [2]int{s.CapBottom, s.CapTop} }),
		whole(Setting{Key: "solid-below", Name: "solid layers below", Short: "solid below", Moves: "layers at the foot", Range: Range{Kind: unit.Counts, Most: math.MaxInt32, Low: 1, High: 2, To: 20, Step: 1}},
			func(s *Settings) *int { return &s.CapBottom }),
		whole(Setting{Key: "solid-above", Name: "solid layers above", Short: "solid above", Moves: "layers at the top", Range: Range{Kind: unit.Counts, Most: math.MaxInt32, Low: 1, High: 2, To: 20, Step: 1}},
			func(s *Settings) *int { return &s.CapTop }),
		amount(Setting{Key: "rim", Name: "rim wanted", Moves: "joints to look at", None: "any", Range: Range{Most: 1e4, Low: 10, High: 25, To: 60, Step: 0.5}}, func(s *Settings) *float64 { return &s.RimWanted }),
		stocked(Setting{Key: "finish", Name: "finish", Short: "surface", Stocked: "finish", Report: "finish"}, func(s *Settings) *string { return &s.Finish },
			func(c *stock.Catalogue) []stock.Finish { return c.Finishes }, func(f stock.Finish) Option { return Option{f.Key, f.Name} }),
		other(Setting{Name: "tones of the board"}, func(s *Settings) *Tones { return &s.Tones }, nil).
			checked(func(s *Settings) error { return s.Tones.check() }).
			as("tones", func(s Settings, _ float64) any { return where(s.Tones.Own, s.Tones) }),
		stocked(Setting{Key: "glue", Name: "glue", Stocked: "glue"}, func(s *Settings) *string { return &s.Glue },
			func(c *stock.Catalogue) []stock.Glue { return c.Glues }, func(g stock.Glue) Option { return Option{g.Key, g.Name} }),
	}
}

// cutterRows are a cutter and how it is run.
func cutterRows(which string, of func(*Settings) *CutterUse) []Setting {
	row := func(f Setting, of func(*Settings) *float64) Setting {
		f.Key, f.Short, f.None = which+"-"+f.Name, f.Name, "usual"
		f.Name = which + " " + f.Name
		return amount(f, of)
	}
	leave := row(Setting{Name: "leave", Range: Range{Most: 1000, To: 2, Step: 0.05}, Moves: "wood that stays"}, func(s *Settings) *float64 { return &of(s).StockToLeave })
	leave.Name = "left by the " + which + " pass"
	return []Setting{
		stocked(Setting{Key: which + "-cutter", Name: which + " cutter", Short: which, Stocked: "cutter"}, func(s *Settings) *string { return &of(s).Key },
			func(c *stock.Catalogue) []stock.Cutter { return c.Cutters }, func(k stock.Cutter) Option { return Option{k.Key, k.Name} }),
		row(Setting{Name: "feed", Moves: "hours", Range: Range{Kind: unit.Speeds, Most: 1e6, Low: 800, High: 4000, From: 50, To: 12000, Log: true}}, func(s *Settings) *float64 { return &of(s).FeedMmMin }),
		row(Setting{Name: "plunge", Moves: "hours", Range: Range{Kind: unit.Speeds, Most: 1e6, Low: 200, High: 1200, From: 20, To: 6000, Log: true}}, func(s *Settings) *float64 { return &of(s).PlungeMmMin }),
		row(Setting{Name: "stepdown", Moves: "rough hours", Range: Range{Most: 1000, Low: 1, High: 6, From: 0.1, To: 25, Step: 0.1}}, func(s *Settings) *float64 { return &of(s).Stepdown }),
		row(Setting{Name: "stepover", Moves: "hours, ridges", Range: Range{Most: 1000, Low: 0.2, High: 3, From: 0.05, To: 12, Step: 0.05}}, func(s *Settings) *float64 { return &of(s).Stepover }),
		row(Setting{Name: "speed", Moves: "each edge's chip", Range: Range{Kind: unit.Turns, Most: 1e6, Low: 10000, High: 24000, From: 1000, To: 40000, Log: true}}, func(s *Settings) *float64 { return &of(s).RPM }),
		leave,
	}
}

// routerRows are the machine and its panels.
func routerRows() []Setting {
	panel := func(f Setting, of func(*Settings) *float64) Setting {
		f.Moves, f.Least, f.Most, f.Low, f.High, f.From, f.To, f.Step = "what fits", 1, 1e5, 300, 1250, 50, 3000, 5
		f = amount(f, of)
		f.take = nil // told with the panel
		return f
	}
	limit := func(name string, k unit.Kind, of func(*Settings) *float64) Setting {
		return amount(Setting{Name: "limit of " + name, Range: Range{Kind: k, Most: 1e9}, None: "usual"}, of)
	}
	return []Setting{
		stocked(Setting{Key: "machine", Name: "machine", Stocked: "machine"}, func(s *Settings) *string { return &s.Machine },
			func(c *stock.Catalogue) []stock.Machine { return c.Machines }, func(m stock.Machine) Option { return Option{m.Key, m.Name} }),
		either(Setting{Key: "across-grain", Name: "finish rows", Short: "finish rows across the grain", Options: []Option{{"false", "along the grain"}, {"true", "across the grain"}}, Switch: true,
			Help: "finish in rows across the grain of the panel's faces instead of along it"}, func(s *Settings) *bool { return &s.AcrossGrain }),
		other(Setting{Name: "panel"}, func(s *Settings) *PanelSize { return &s.PanelSize }, func(p *PanelSize, u unit.System) string {
			return unit.Length(p.PanelX, u) + " × " + unit.Length(p.PanelY, u)
		}),
		panel(Setting{Key: "panel-length", Name: "panel along the grain", Short: "along grain"}, func(s *Settings) *float64 { return &s.PanelX }),
		panel(Setting{Key: "panel-width", Name: "panel across the grain", Short: "across"}, func(s *Settings) *float64 { return &s.PanelY }),
		amount(Setting{Key: "safe-height", Name: "safe height", Moves: "hours", Range: Range{Least: 1e-3, Most: 1000, Low: 3, High: 10, From: 0.5, To: 50, Step: 0.5}}, func(s *Settings) *float64 { return &s.SafeHeight }),
		amount(Setting{Key: "clearance", Name: "clearance", Moves: "beside the cutter", Range: Range{Most: 1000, Low: 1, High: 10, To: 50, Step: 0.5}}, func(s *Settings) *float64 { return &s.Clearance }),
		other(Setting{Name: "marks in chalk"}, func(s *Settings) **chalk.Marks { return &s.Chalk }, nil),
		limit("trapped wood", unit.Volumes, func(s *Settings) *float64 { return &s.Limits.Trapped }),
		limit("what a cutter may leave", unit.Lengths, func(s *Settings) *float64 { return &s.Limits.Residue }),
		limit("thin wood", unit.Lengths, func(s *Settings) *float64 { return &s.Limits.Thin }),
		limit("a part's length", unit.Lengths, func(s *Settings) *float64 { return &s.Limits.PartSide }),
		limit("a part's volume", unit.Volumes, func(s *Settings) *float64 { return &s.Limits.PartVolume }),
		limit("a part's plan", unit.Areas, func(s *Settings) *float64 { return &s.Limits.PlanArea }),
		limit("a neck", unit.Lengths, func(s *Settings) *float64 { return &s.Limits.Neck }),
		limit("the collet nut", unit.Lengths, func(s *Settings) *float64 { return &s.Limits.Nut }),
	}
}

// shopRows are the workshop.
func shopRows() []Setting {
	return []Setting{
		amount(Setting{Key: "price", Name: "price of a board", Short: "board price", Moves: "what boards cost", None: "none", Range: Range{Kind: unit.Prices, Most: mostPrice, Low: 20, High: 200, To: 500, Step: 1}}, func(s *Settings) *float64 { return &s.Shop.SheetPrice }),
		other(Setting{Key: "prices", Name: "prices of other boards", Help: "`BOARDS` with the price of one of each, as in \"birch-18-13:80, walnut-18-13:145\""},
			func(s *Settings) *Prices { return &s.Shop.Prices }, nil).
			written(func(s *Settings, text string) (err error) { s.Shop.Prices, err = ParsePrices(text); return err }).
			checked(func(s *Settings) error { _, err := ParsePrices(string(s.Shop.Prices)); return err }),
		amount(Setting{Key: "allowance", Name: "sanding allowance", Short: "allowance", Moves: "wood added for sanding", None: "none", Range: Range{Most: 10, High: 1, To: 3, Step: 0.05}}, func(s *Settings) *float64 { return &s.Shop.Allowance }),
		whole(Setting{Key: "coats", Name: "coats", Moves: "varnish; 0 as its maker has it", None: "usual", Range: Range{Kind: unit.Counts, Most: 100, High: 6, To: 12, Step: 1}}, func(s *Settings) *int { return &s.Shop.Coats }),
		amount(Setting{Key: "saw-cut", Name: "saw cut", Moves: "panels a board", Range: Range{Most: 100, Low: 2, High: 4, To: 10, Step: 0.1}}, func(s *Settings) *float64 { return &s.Shop.Kerf }),
		amount(Setting{Key: "trim", Name: "trim of a board", Short: "trim", Moves: "off a board's edges first", None: "none", Range: Range{Most: 1000, High: 10, To: 50, Step: 0.5}}, func(s *Settings) *float64 { return &s.Shop.Trim }),
		amount(Setting{Key: "edge", Name: "panel's edge", Short: "edge", Moves: "least from the panel's edge", Range: Range{Most: 1000, Low: 10, High: 30, To: 200, Step: 0.5}}, func(s *Settings) *float64 { return &s.Shop.Edge }),
		whole(Setting{Key: "dowel-axis", Name: "panel turned about", Short: "turned about", Options: []Option{{"x", "its line along the grain"}, {"y", "its line across"}},
			Help: "`LINE` that a panel is turned about: x for that along the grain, y for that across"}, func(s *Settings) *panel.Axis { return &s.Shop.Axis }),
		whole(Setting{Key: "dowel-seat", Name: "register dowels", Short: "they stand", Options: []Option{{"line", "on that line"}, {"end", "both at one end"}},
			Help: "`WHERE` the register dowels stand: line, that the panel is turned about, or end, both at one end"}, func(s *Settings) *panel.Seat { return &s.Shop.Seat }),
		amount(Setting{Key: "dowel", Name: "register dowel's diameter", Short: "dowel", Moves: "diameter", Range: Range{Least: 0.01, Most: 200, Low: 6, High: 10, From: 1, To: 20, Step: 0.5}}, func(s *Settings) *float64 { return &s.Shop.DowelDiameter }),
		amount(Setting{Key: "dowel-depth", Name: "register dowel's depth", Short: "into the bed", Moves: "depth", Range: Range{Least: 0.01, Most: 200, Low: 8, High: 20, From: 1, To: 40, Step: 0.5}}, func(s *Settings) *float64 { return &s.Shop.DowelDepth }),
		amount(Setting{Key: "dowel-inset", Name: "register dowel's inset", Short: "inset", Moves: "from the panel's edge", Range: Range{Most: 5000, Low: 10, High: 25, To: 100, Step: 0.5}}, func(s *Settings) *float64 { return &s.Shop.DowelInset }),
		other(Setting{Key: "panel-clamps", Name: "clamps on the panel", Short: "clamps",
			Moves: "an edge, the place along it and if need be a size, as in left:300, back:120:60x40. Parts keep off them on both sides.",
			Help:  "`LIST` of clamps on the machine's bed, as in left:300,back:120:60x40; none where it says none"}, func(s *Settings) *PanelClamps { return &s.Shop.PanelClamps }, nil).
			written(func(s *Settings, text string) (err error) {
				s.Shop.PanelClamps, err = ParsePanelClamps(text, unit.MM)
				return err
			}).
			checked(func(s *Settings) error { return s.Shop.PanelClamps.check() }),
		amount(Setting{Key: "panel-clamp-height", Name: "height of the clamps on the panel", Short: "clamps high", Moves: "rapids of the programs", Range: Range{Most: 300, Low: 10, High: 40, To: 80, Step: 1}}, func(s *Settings) *float64 { return &s.Shop.ClampHeight }),
		amount(Setting{Key: "tab-width", Name: "tab width", Moves: "hold", Range: Range{Least: 0.01, Most: 200, Low: 6, High: 12, From: 1, To: 40, Step: 0.5}}, func(s *Settings) *float64 { return &s.Shop.TabWidth }),
		amount(Setting{Key: "tab-thickness", Name: "tab thickness", Short: "thickness", Moves: "hold; 0 a third", None: "a third of the layer", Range: Range{Most: 100, Low: 4, High: 8, To: 20, Step: 0.5}}, func(s *Settings) *float64 { return &s.Shop.TabThickness }),
		amount(Setting{Key: "tab-distance", Name: "tab distance", Short: "apart", Moves: "their number", Range: Range{Most: 1e5, Low: 100, High: 250, To: 600, Step: 5}}, func(s *Settings) *float64 { return &s.Shop.TabSpacing }),
		amount(Setting{Key: "tab-left", Name: "left of tabs", Short: "left", Moves: "the last program; 0 for none", None: "no program", Range: Range{Most: 100, Low: 0.5, High: 2, To: 10, Step: 0.1},
			Help: "`MM` of thickness that a last program leaves of each tab, so that parts break out; 0 for none: tabs are sawn"}, func(s *Settings) *float64 { return &s.Shop.TabLeft }),
		amount(Setting{Key: "pin", Name: "alignment pins", Short: "pin", Moves: "diameter; 0 for none", None: "none", Range: Range{Most: 100, Low: 6, High: 10, To: 20, Step: 0.5}}, func(s *Settings) *float64 { return &s.Shop.PinDiameter }),
		amount(Setting{Key: "pin-depth", Name: "pin depth", Short: "depth", Moves: "into each layer", Range: Range{Most: 100, Low: 8, High: 12, To: 30, Step: 0.5}}, func(s *Settings) *float64 { return &s.Shop.PinDepth }),
		amount(Setting{Key: "pin-cover", Name: "wood round pins", Short: "wood round", Moves: "where pins can stand", Range: Range{Most: 100, Low: 2, High: 6, To: 20, Step: 0.5}}, func(s *Settings) *float64 { return &s.Shop.PinCover }),
		whole(Setting{Key: "spread", Name: "spread of glue", Short: "spread", Options: []Option{{"maker", "as its maker has it"}, {"one", "on one face"}, {"both", "on both faces"}},
			Help: "`FACES` that glue is spread on: one, both, or maker as the glue's maker has it"}, func(s *Settings) *Spread { return &s.Shop.Spread }),
		amount(Setting{Key: "glue-on-face", Name: "glue on a face", Short: "on a face", Moves: "glue; 0 as its maker has it", None: "as its maker has it", Range: Range{Kind: unit.Spreads, Most: 5000, Low: 120, High: 250, To: 500, Step: 5}}, func(s *Settings) *float64 { return &s.Shop.SpreadGM2 }),
		amount(Setting{Key: "clamp-force", Name: "force of a clamp", Short: "a clamp", Moves: "clamps a joint", Range: Range{Kind: unit.Forces, Most: 1e6, Low: 1000, High: 8000, To: 20000, Step: 100}}, func(s *Settings) *float64 { return &s.Shop.ClampForceN }),
		amount(Setting{Key: "clamp-opening", Name: "opening of a clamp", Short: "opens to", Moves: "what can be clamped; 0 any", None: "any", Range: Range{Most: 1e5, Low: 200, High: 1000, To: 1500, Step: 10}}, func(s *Settings) *float64 { return &s.Shop.ClampOpens }),
		whole(Setting{Key: "clamps", Name: "clamps", Moves: "rounds; 0 as many as it takes", None: "as many as it takes", Range: Range{Kind: unit.Counts, Most: 1e4, High: 30, To: 60, Step: 1}}, func(s *Settings) *int { return &s.Shop.Clamps }),
		other(Setting{Key: "grits", Name: "sanding", Short: "sanded with", Options: gritOptions(), Help: "`GRITS` of the sandpapers from coarse to fine, as in 120,150,180; none leaves the surface as it is cut"}, func(s *Settings) *Grits { return &s.Shop.Grits },
			func(g *Grits, _ unit.System) string { return g.String() }).
			written(func(s *Settings, text string) (err error) { s.Shop.Grits, err = parseGrits(text); return err }).
			checked(func(s *Settings) error {
				_, err := glue.Allowance(0, 0, s.Shop.Grits.List()...)
				return err
			}),
		amount(Setting{Key: "joint-step", Name: "step at a joint", Short: "step", Moves: "left at a joint", Range: Range{Most: 10, Low: 0.1, High: 0.5, To: 3, Step: 0.05}}, func(s *Settings) *float64 { return &s.Shop.GlueStep }),
		amount(Setting{Key: "evening", Name: "length of an evening", Short: "evening", Moves: "at the machine", None: "usual", Range: Range{Kind: unit.Minutes, Most: 24 * 60, Low: 60, High: 300, From: 30, To: 720, Step: 15}}, func(s *Settings) *float64 { return &s.Shop.EveningMin }),
		other(Setting{Name: "search for a layout"}, func(s *Settings) *uint64 { return &s.Shop.Seed }, nil),
	}
}

// debrisPercent is a share of debris in percent, as it is in force, and debrisShare what settings keep for it.
func debrisPercent(share float64) float64 {
	if share == 0 {
		share = mend.DefaultDebris
	}
	return 100 * max(0, share)
}

func debrisShare(percent float64) float64 {
	if percent <= 0 {
		return -1
	}
	return percent / 100
}

// turnWords are the angles of a turn that are not nothing.
func turnWords(t *geom.Turn, _ unit.System) string {
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

// parseTurn reads three angles in degrees with commas between them.
func parseTurn(s *Settings, text string) error {
	words := strings.Split(text, ",")
	var deg [3]float64
	if len(words) != 3 {
		return fmt.Errorf("a turn is three angles with commas, as in 0,90,0, not %q", text)
	}
	for i, w := range words {
		v, err := strconv.ParseFloat(strings.TrimSpace(w), 64)
		if err != nil || !(math.Abs(v) <= 1e6) { // beyond, the last digits are lost
			return fmt.Errorf("%q is no angle in degrees", w)
		}
		deg[i] = v
	}
	s.Turn = geom.TurnXYZ(deg[0], deg[1], deg[2])
	return nil
}

// parseCaps reads how many layers are left solid at the bottom and at the top.
func parseCaps(s *Settings, text string) error {
	below, above, ok := strings.Cut(text, ",")
	a, errA := strconv.Atoi(below)
	b, errB := strconv.Atoi(above)
	if !ok || errA != nil || errB != nil || a < 0 || b < 0 {
		return fmt.Errorf("two whole numbers with %q between them are wanted, as in 1,1", ",")
	}
	s.CapBottom, s.CapTop = a, b
	return nil
}

// String is the grits with commas between them.
func (g Grits) String() string {
	words := []string{}
	for _, n := range g.List() {
		words = append(words, strconv.Itoa(n))
	}
	return cmp.Or(strings.Join(words, ", "), "none")
}

// gritOptions are papers that are usually followed through (common practice, no source).
func gritOptions() []Option {
	out := []Option{{"none", "nothing"}}
	for _, g := range []Grits{{80, 120, 180}, {100, 150, 180}, {120, 150, 180}, {120, 150, 180, 220}, {80, 100, 120, 150, 180, 220}} {
		out = append(out, Option{g.String(), g.String()})
	}
	return out
}

func parseGrits(text string) (g Grits, err error) {
	if text == "" {
		return g, nil
	}
	for i, word := range strings.Split(text, ",") {
		if i == len(g) {
			return g, fmt.Errorf("more than %d grits are named", len(g))
		}
		if g[i], err = strconv.Atoi(strings.TrimSpace(word)); err != nil {
			return g, fmt.Errorf("%q is no grit: give numbers from coarse to fine, as in 120,150,180", word)
		}
	}
	return g, nil
}
