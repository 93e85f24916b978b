package main

import (
	"errors"
	"flag"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"grainstack/slicing/geom"
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
type length struct {
	mm  float64
	set bool
}

func (l *length) String() string { return strconv.FormatFloat(l.mm, 'g', -1, 64) }

func (l *length) Set(s string) error {
	mm, err := unit.ParseLength(s, unit.MM)
	if err != nil {
		return err
	}
	l.mm, l.set = mm, true
	return nil
}

// A decimal is a flag of one finite number.
type decimal struct {
	v   float64
	set bool
}

// mostDecimal is more than any flag has a use for: beyond, a turn's last digits are lost.
const mostDecimal = 1e6

func (d *decimal) String() string { return strconv.FormatFloat(d.v, 'g', -1, 64) }

func (d *decimal) Set(s string) error {
	v, err := strconv.ParseFloat(s, 64)
	if err != nil || !(math.Abs(v) <= mostDecimal) {
		return fmt.Errorf("a number from %.0f to %.0f is wanted", -mostDecimal, mostDecimal)
	}
	d.v, d.set = v, true
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

// A stackFlags is what the flags say about stand, board, wall and finish.
type stackFlags struct {
	height, boardThickness, skim, layerThickness, wall, firstJoint length
	scale                                                          decimal
	turn, board, core, finish, mend, panelClamps                   string
	mix, prices                                                    string
	tones                                                          toneFlags
	sawBase, smooth, thin                                          length
	caps                                                           pair
	sameWay                                                        bool
	stock                                                          string
}

func bindStack(set *flag.FlagSet) *stackFlags {
	f := &stackFlags{caps: pair{sep: ","}}
	set.Var(&f.height, "height", "`MM` the scan is high as it stands, without debris and before mending; sets the scale")
	set.Var(&f.scale, "scale", "`F` mm for one unit of the file (1 where nothing is said)")
	set.StringVar(&f.turn, "turn", "", "`X,Y,Z` degrees about the fixed axes, in that order")
	set.StringVar(&f.mend, "mend", "auto", "`HOW` a scan is made one solid: auto or off")
	set.Var(&f.sawBase, "saw-base", "`MM` above the lowest point of the scan to cut it flat")
	set.Var(&f.smooth, "smooth", "`MM` of a scan's noise to smooth away")
	set.Var(&f.thin, "thin", "`MM` that the surface may move when facets are thinned out")
	set.StringVar(&f.board, "board", "", "`NAME` of a board in the catalogue")
	set.StringVar(&f.stock, "stock", "", "`FILE` of your own boards, cutters, machines and glues (the window's where nothing is said)")
	set.Var(&f.boardThickness, "board-thickness", "`MM` the board measures")
	set.Var(&f.skim, "skim", "`MM` carved off each face first")
	set.Var(&f.layerThickness, "layer-thickness", "`MM` a layer is to be; moves the skim")
	set.Var(&f.wall, "wall", "`MM` left around the hollow; 0 leaves the piece solid")
	set.StringVar(&f.core, "core", "", "`KIND` of hollow: carved or straight")
	set.Var(&f.caps, "caps", "`BOTTOM,TOP` layers left solid at either end")
	set.Var(&f.firstJoint, "first-joint", "`MM` from the floor to the first joint")
	set.BoolVar(&f.sameWay, "same-way", false, "lay every layer the same way instead of turning every second one")
	set.StringVar(&f.mix, "mix", "", "`LAYERS` with a board or a turn of their own, as in \"5:walnut-18-13, 9:turn, 11-12:beech-18-13+turn\"; none takes all back")
	set.StringVar(&f.prices, "prices", "", "`BOARDS` with the price of one of each, as in \"birch-18-13:80, walnut-18-13:145\"")
	f.tones.bind(set)
	set.StringVar(&f.panelClamps, "panel-clamps", "", "`LIST` of clamps on the machine's bed, as in left:300,back:120:60x40; none where it says none")
	set.StringVar(&f.finish, "finish", "", "`NAME` of a finish in the catalogue")
	return f
}

// applyStand gives the settings with the stand that the flags ask for. The height is that of the scan of a sized piece.
func (f *stackFlags) applyStand(s job.Settings, p *job.Piece) (job.Settings, error) {
	var err error
	if f.turn != "" {
		if s.Turn, err = parseTurn(f.turn); err != nil {
			return s, err
		}
	}
	if f.scale.set && !(f.scale.v > 0) {
		return s, &usageError{"the scale has to be more than 0"}
	}
	if f.scale.set {
		s.Scale = f.scale.v
	}
	if f.height.set {
		if !(f.height.mm > 0) {
			return s, &usageError{"the height has to be more than 0"}
		}
		s.Scale = p.ScaleForHeight(s.Turn, f.height.mm)
	}
	return s, nil
}

// applyMend gives the settings with what the flags say about mending, but for the saw.
func (f *stackFlags) applyMend(s job.Settings) (job.Settings, error) {
	switch f.mend {
	case "auto":
	case "off":
		s.Mend.Off = true
	default:
		return s, &usageError{fmt.Sprintf("mending is auto or off, not %q", f.mend)}
	}
	if f.smooth.set {
		s.Mend.Smooth = f.smooth.mm
	}
	if f.thin.set {
		s.Mend.Thin = f.thin.mm
	}
	return s, nil
}

// applySaw gives the settings with the saw that the flags ask for; the stand has to be set already.
func (f *stackFlags) applySaw(s job.Settings, p *job.Piece) (job.Settings, error) {
	if f.sawBase.set {
		if !(f.sawBase.mm >= 0) {
			return s, &usageError{"the saw cuts at 0 mm above the lowest point or higher"}
		}
		s.Mend.Saw = p.SawBase(s, f.sawBase.mm)
	}
	return s, nil
}

// applyStack gives the settings with what the flags say about board, wall and finish.
func (f *stackFlags) applyStack(s job.Settings, c *stock.Catalogue) (job.Settings, error) {
	s, err := f.applyBoard(s, c)
	if err != nil {
		return s, err
	}
	if s.Shop.PanelClamps, err = f.clamps(s.Shop.PanelClamps); err != nil {
		return s, err
	}
	return f.applyWall(s)
}

// clamps are those of the flag, or those that there were where nothing is said.
func (f *stackFlags) clamps(now job.PanelClamps) (job.PanelClamps, error) {
	switch f.panelClamps {
	case "":
		return now, nil
	case "none":
		return job.PanelClamps{}, nil
	}
	c, err := job.ParsePanelClamps(f.panelClamps, unit.MM)
	if err != nil {
		return now, &usageError{err.Error()}
	}
	return c, nil
}

func (f *stackFlags) applyBoard(s job.Settings, c *stock.Catalogue) (job.Settings, error) {
	if f.board != "" {
		s.Board = f.board
	}
	if f.boardThickness.set {
		s.BoardThickness = f.boardThickness.mm
	}
	if f.skim.set {
		s.Skim = f.skim.mm
	} else if f.board != "" || f.boardThickness.set {
		s = s.WithUsualSkim(c)
	}
	if f.layerThickness.set {
		least, most := s.LayerRange(c)
		if !(f.layerThickness.mm >= least && f.layerThickness.mm <= most) {
			return s, fmt.Errorf("a layer of %g mm can't be had of this board: give %g to %g mm, or another board", f.layerThickness.mm, least, most)
		}
		s = s.WithLayer(c, f.layerThickness.mm)
	}
	if f.firstJoint.set {
		s.FirstJoint = f.firstJoint.mm
	}
	if f.sameWay {
		s.Alternate = false
	}
	s, err := f.applyMix(s, c)
	if err != nil {
		return s, err
	}
	if s, err = f.tones.apply(s); err != nil {
		return s, err
	}
	if f.finish != "" {
		if _, ok := c.Finish(f.finish); !ok {
			return s, fmt.Errorf("there is no finish %q in the catalogue", f.finish)
		}
		s.Finish = f.finish
	}
	return s, nil
}

// applyMix gives the settings with what the flags say about single layers and about prices.
func (f *stackFlags) applyMix(s job.Settings, c *stock.Catalogue) (job.Settings, error) {
	var err error
	switch f.mix {
	case "":
	case "none":
		s.Mix = ""
	default:
		if s.Mix, err = job.ParseMix(f.mix); err != nil {
			return s, &usageError{err.Error()}
		}
	}
	if f.prices == "" {
		return s, nil
	}
	p, err := job.ParsePrices(f.prices)
	if err != nil {
		return s, &usageError{err.Error()}
	}
	return s.WithPrices(p, c)
}

func (f *stackFlags) applyWall(s job.Settings) (job.Settings, error) {
	if f.wall.set {
		s.Wall = f.wall.mm
	}
	switch f.core {
	case "":
	case "carved":
		s.Core = job.Carved
	case "straight":
		s.Core = job.Straight
	default:
		return s, &usageError{fmt.Sprintf("the core is carved or straight, not %q", f.core)}
	}
	if f.caps.set {
		s.CapBottom, s.CapTop = f.caps.a, f.caps.b
	}
	return s, nil
}

// parseTurn reads three angles in degrees with commas between them.
func parseTurn(s string) (geom.Turn, error) {
	words := strings.Split(s, ",")
	var deg [3]float64
	if len(words) != 3 {
		return geom.NoTurn(), &usageError{fmt.Sprintf("a turn is three angles with commas, as in 0,90,0, not %q", s)}
	}
	for i, w := range words {
		v, err := strconv.ParseFloat(strings.TrimSpace(w), 64)
		if err != nil || v != v || v > 1e6 || v < -1e6 {
			return geom.NoTurn(), &usageError{fmt.Sprintf("%q is no angle in degrees", w)}
		}
		deg[i] = v
	}
	return geom.TurnXYZ(deg[0], deg[1], deg[2]), nil
}
