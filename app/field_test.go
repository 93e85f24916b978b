package app

import (
	"context"
	"hash/fnv"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"

	"grainstack/app/state"
	"grainstack/app/task"
	"grainstack/slicing/geom"
	"grainstack/slicing/job"
	"grainstack/slicing/workshop"
)

// TestFieldSetAtTheWindow opens every mesh of the field set in a window that stays open, changes settings at random while the work
// is under way, and holds what the window comes to against what the same settings give when they are worked out one after another.
func TestFieldSetAtTheWindow(t *testing.T) {
	dir := os.Getenv("GRAINSTACK_FIELD_SET")
	if dir == "" {
		t.Skip("GRAINSTACK_FIELD_SET is not set: cmd/fieldset.sh brings the meshes and says where they are")
	}
	off, err := filepath.Glob(filepath.Join(dir, "*.off"))
	obj, more := filepath.Glob(filepath.Join(dir, "*.obj"))
	files := append(off, obj...)
	if err != nil || more != nil || len(files) < 20 {
		t.Fatalf("%d meshes in %s: %v, %v", len(files), dir, err, more)
	}
	r := newRig(t, ring())
	for _, file := range files {
		t.Run(filepath.Base(file), func(t *testing.T) { r.walk(t, file) })
	}
}

// walk opens a file, works on it with an unsteady hand, and checks the end.
func (r *rig) walk(t *testing.T, file string) {
	defer func(whole testing.TB) { r.t = whole }(r.t)
	r.t = t
	name := fnv.New64a()
	_, _ = name.Write([]byte(filepath.Base(file)))
	hand := rand.New(rand.NewPCG(1, name.Sum64()))
	r.openNow(file)
	r.until("the piece is there", func() bool { return r.bench.Model.Piece.File == file && r.bench.Standing != nil })
	p := r.bench.Model.Piece
	height := math.Exp(math.Log(40) + hand.Float64()*math.Log(5))
	r.Do("height", func(s job.Settings) job.Settings { s.Scale = p.ScaleForHeight(s.Turn, height); return s })
	for _, wall := range []float64{hand.Float64() * 30, hand.Float64() * 12} { // the first is not waited for
		r.wall(wall)
		r.drain()
	}
	if hand.IntN(2) == 0 {
		turn := geom.TurnXYZ(90*float64(hand.IntN(4)), 15*float64(hand.IntN(24)), 0)
		r.Do("turn", func(s job.Settings) job.Settings {
			s.Turn = turn
			s.Scale = p.ScaleForHeight(s.Turn, height)
			return s
		})
	}
	r.Rest()
	for _, sheet := range []string{"sheet Layer", "sheet Panels", "sheet Glue-up", "sheet Saw plan"} {
		r.run(sheet)
	}
	r.until("all is worked out", func() bool {
		v, now := r.bench.Shop.Newest()
		return !r.busy() && r.bench.AtRest() && (now && v.Improved && r.bench.Reached() != nil || r.bench.Shop.Fault() != "" || !r.bench.Figures.Withheld.None())
	})
	if top := r.win.Canvas().Overlays().Top(); top != nil {
		t.Errorf("a page lies over the bench")
		r.win.Canvas().Overlays().Remove(top)
	}
	if r.bench.Figured.Fault != "" || r.bench.Tasks.Mend.State == task.Failed || r.bench.Shop.Fault() != "" {
		t.Errorf("figures: %q, layout: %q, mending: %v", r.bench.Figured.Fault, r.bench.Shop.Fault(), r.bench.Tasks.Mend)
	}
	r.checkAgainstOneByOne(t)
}

// checkAgainstOneByOne holds the figures on the bench against those of a piece that is read, mended and stood anew.
func (r *rig) checkAgainstOneByOne(t *testing.T) {
	ctx, s, c := context.Background(), r.bench.Settings(), r.bench.Shelf.Now
	f, v, err := oneByOne(ctx, r.bench, s)
	if err != nil {
		if r.bench.Figured.Fault == "" {
			t.Errorf("one by one it ends with %q, the window has figures", err)
		}
		return
	}
	got := r.bench.FiguresWithShop()
	if got.Withheld.String() != f.Withheld.String() {
		t.Errorf("withheld %q, one by one %q", got.Withheld, f.Withheld)
	}
	if !f.Withheld.None() {
		return
	}
	for _, one := range []struct {
		what      string
		got, want float64
	}{
		{"layers", float64(len(got.Layers)), float64(len(f.Layers))},
		{"wood, cm³", got.Totals.Wood, f.Totals.Wood},
		{"hollow, cm³", got.Totals.Core, f.Totals.Core},
		{"kg", got.Totals.WeightKg, f.Totals.WeightKg},
		{"minutes at the router", got.Totals.RouterMin(), f.Totals.RouterMin()},
		{"hands-on minutes", got.Totals.HandsOnMin, v.HandsOnMin(c)},
	} {
		if math.Abs(one.got-one.want) > 1e-9*math.Abs(one.want) || math.IsNaN(one.got) {
			t.Errorf("%s: %v, one by one %v", one.what, one.got, one.want)
		}
	}
	shop, now := r.bench.Shop.Newest()
	if !now || shop.Panels() != v.Panels() {
		t.Errorf("panels laid: now %v", now)
	}
}

// oneByOne is what settings come to for a file, by the way that the commands go.
func oneByOne(ctx context.Context, b *state.Bench, s job.Settings) (*job.Figures, *workshop.Workshop, error) {
	p, err := job.OpenPiece(ctx, b.Model.Piece.File)
	if err == nil {
		p, err = p.Sized(ctx, s)
	}
	if err == nil {
		p, err = p.Mend(ctx, s, nil)
	}
	if err != nil {
		return nil, nil, err
	}
	standing, err := job.Stand(ctx, p, s.Stand())
	if err == nil && p.Solid() && s.Wall > 0 {
		grid, fault := p.Hollow(ctx, nil)
		if fault != nil {
			return nil, nil, fault
		}
		standing, err = standing.WithField(ctx, grid)
	}
	if err != nil {
		return nil, nil, err
	}
	f, err := job.Settle(ctx, standing, s, b.Shelf.Now)
	if err != nil || !f.Withheld.None() {
		return f, nil, err
	}
	reached, err := workshop.Reach(ctx, standing, f, b.Shelf.Now, nil)
	if err != nil {
		return nil, nil, err
	}
	f = reached.Onto(f)
	v, err := workshop.New(ctx, standing, f, *b.Places(), b.Shelf.Now, workshop.Watch{})
	return f, v, err
}
