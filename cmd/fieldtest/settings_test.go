package fieldtest

import (
	"fmt"
	"hash/fnv"
	"io/fs"
	"math"
	"math/rand/v2"
	"path/filepath"
	"strings"
	"testing"

	"grainstack/assets"
	"grainstack/slicing/geom"
	"grainstack/slicing/job"
	"grainstack/slicing/jobfile"
	"grainstack/slicing/panel"
	"grainstack/slicing/stock"
)

// A setup is one set of settings: what flags can say, and a job file with the rest.
type setup struct {
	piece  string // file
	number int
	flags  []string
	height float64 // mm that were asked for
	mended bool
	change func(*job.Settings, *job.Places) // what only a job file says; nil for none
}

// heights bound what a piece is asked to be, mm.
type heights struct{ least, most float64 }

// everyHeight is from a toy to a figure taller than a person.
var everyHeight = heights{20, 2000}

// draw takes the settings of case number n of a piece from the seed; equal seeds give equal settings.
func draw(piece string, n int, h heights, c *stock.Catalogue) setup {
	name := fnv.New64a()
	fmt.Fprintf(name, "%s %d", pieceName(piece), n)
	d := dice{rand.New(rand.NewPCG(*seed, name.Sum64())), c}
	u := setup{piece: piece, number: n, mended: !d.chance(6)}
	u.height = math.Round(d.exp(h.least, h.most)*10) / 10
	u.flag("height", u.height)
	if !u.mended {
		u.flag("mend", "off")
	}
	d.stand(&u)
	d.boards(&u)
	d.hollow(&u)
	if d.chance(2) {
		u.change = d.shop()
	}
	return u
}

func (u *setup) flag(name string, value any) {
	u.flags = append(u.flags, "-"+name, fmt.Sprint(value))
}

// words are the command line after the command's name: the piece or the job that is written for it into dir.
func (u *setup) words(t *testing.T, c *stock.Catalogue, dir string) []string {
	t.Helper()
	of := u.piece
	if u.change != nil {
		s, p := job.Default(c), job.Places{}
		u.change(&s, &p)
		of = filepath.Join(dir, "case.job")
		if err := (jobfile.Job{Piece: &job.Piece{File: u.piece}, Settings: s, Places: p, Catalogue: c}).Save(of, false); err != nil {
			t.Fatalf("%s %d: %v", pieceName(u.piece), u.number, err)
		}
	}
	return append([]string{of}, u.flags...)
}

func shelf(t *testing.T) *stock.Catalogue {
	t.Helper()
	c, err := stock.Load(fs.FS(assets.FS), "stock.json")
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// dice throw settings.
type dice struct {
	*rand.Rand
	stock *stock.Catalogue
}

// chance is true once in n throws.
func (d dice) chance(n int) bool { return d.IntN(n) == 0 }

func (d dice) between(a, b float64) float64 { return math.Round((a+d.Float64()*(b-a))*100) / 100 }

// exp is between a and b, as often in each doubling.
func (d dice) exp(a, b float64) float64 { return a * math.Pow(b/a, d.Float64()) }

func (d dice) board() stock.Board { return d.stock.Boards[d.IntN(len(d.stock.Boards))] }

// stand throws the turn and what is done to the scan.
func (d dice) stand(u *setup) {
	switch d.IntN(3) {
	case 0:
		u.flag("turn", fmt.Sprintf("%d,%d,%d", 90*d.IntN(4), 90*d.IntN(4), 90*d.IntN(4)))
	case 1:
		u.flag("turn", fmt.Sprintf("%.1f,%.1f,%.1f", d.between(-180, 180), d.between(-180, 180), d.between(-180, 180)))
	}
	if d.chance(8) {
		u.flag("saw-base", d.between(0, u.height/10))
	}
	if d.chance(8) {
		u.flag("smooth", d.between(0, u.height/50))
	}
	if d.chance(8) {
		u.flag("thin", d.between(0, 0.5))
	}
}

// boards throw what the stack is of.
func (d dice) boards(u *setup) {
	b := d.stock.Boards[0]
	if !d.chance(3) {
		b = d.board()
		u.flag("board", b.Key)
	}
	t := b.Thickness
	if d.chance(5) {
		t = d.between(0.95*t, 1.05*t)
		u.flag("board-thickness", t)
	}
	switch d.IntN(5) {
	case 0:
		u.flag("skim", d.between(0, 2))
	case 1:
		u.flag("layer-thickness", d.between(3, t))
	}
	if d.chance(5) {
		u.flag("first-joint", d.between(0, t))
	}
	if d.chance(4) {
		u.flags = append(u.flags, "-same-way")
	}
	if d.chance(3) {
		u.flag("mix", d.mix(int(u.height/t)+1))
	}
	if d.chance(5) {
		u.flag("prices", fmt.Sprintf("%s:%d", b.Key, 20+d.IntN(200)))
	}
	u.flag("finish", d.stock.Finishes[d.IntN(len(d.stock.Finishes))].Key)
	if d.chance(4) {
		u.flag("panel-clamps", fmt.Sprintf("left:%d,back:%d:60x40", 50+d.IntN(500), 50+d.IntN(500)))
	}
}

// mix throws a few layers of their own.
func (d dice) mix(layers int) string {
	var words []string
	for at := 1 + d.IntN(layers); at <= layers && len(words) < 4; at += 1 + d.IntN(layers) {
		words = append(words, fmt.Sprintf("%d:%s", at, []string{"turn", d.board().Key, d.board().Key + "+turn"}[d.IntN(3)]))
	}
	return strings.Join(words, ", ")
}

// hollow throws wall, kind of hollow and caps.
func (d dice) hollow(u *setup) {
	wall := 0.0
	if !d.chance(4) {
		wall = d.between(0, 30)
	}
	u.flag("wall", wall)
	u.flag("core", []string{"carved", "straight"}[d.IntN(2)])
	u.flag("caps", fmt.Sprintf("%d,%d", d.IntN(4), d.IntN(4)))
}

// shop throws what only a job file can say: cutters, panels, tabs, pins and a joint line.
func (d dice) shop() func(*job.Settings, *job.Places) {
	c := d.stock
	rough, fine := c.Cutters[d.IntN(len(c.Cutters))].Key, c.Cutters[d.IntN(len(c.Cutters))].Key
	size := c.Panels[d.IntN(len(c.Panels))]
	machine, glue := c.Machines[d.IntN(len(c.Machines))].Key, c.Glues[d.IntN(len(c.Glues))].Key
	tab := [3]float64{d.between(4, 15), d.between(2, 10), d.between(60, 400)}
	pin := [3]float64{[]float64{0, 4, 6, 8, 10}[d.IntN(5)], d.between(4, 15), d.between(1, 6)}
	edge, axis, seat, across := d.between(5, 40), panel.Axis(d.IntN(2)), panel.Seat(d.IntN(2)), d.chance(2)
	split := job.Split{Part: panel.ID{Layer: 1 + d.IntN(4)}, A: geom.Vec2{X: d.between(-20, 20), Y: -2000}, B: geom.Vec2{X: d.between(-20, 20), Y: 2000}}
	joint := d.chance(3)
	return func(s *job.Settings, p *job.Places) {
		s.Rough.Key, s.Fine.Key, s.Machine, s.Glue, s.AcrossGrain = rough, fine, machine, glue, across
		s.PanelX, s.PanelY = size.X, size.Y
		h := &s.Shop
		h.TabWidth, h.TabThickness, h.TabSpacing = tab[0], tab[1], tab[2]
		h.PinDiameter, h.PinDepth, h.PinCover = pin[0], pin[1], pin[2]
		h.Edge, h.Axis, h.Seat = edge, axis, seat
		if joint {
			p.Splits = []job.Split{split}
		}
	}
}
