package work

import (
	"context"
	"time"

	"grainstack/app/state"
	"grainstack/app/task"
	"grainstack/slicing/job"
	"grainstack/slicing/workshop"
)

// A ShopAsk asks for the workshop of settled figures.
type ShopAsk struct {
	Key     state.ShopKey
	figures *job.Figures
	last    *workshop.Workshop // of the same settings, nil where there is none: other places may be all that is new
}

// shopAfter is how long the settings have to rest before parts are laid out: that keeps both cores busy for a second or two.
const shopAfter = 200 * time.Millisecond

// WantShop wants the workshop of the present settings and places, once their figures are settled and the cutters followed, or
// at once while something that shows it is in front.
func WantShop(b *state.Bench, t *task.Task[state.ShopKey, ShopAsk, *workshop.Workshop]) {
	key, f, shop := b.Shop.Key(), b.Figures, &b.Shop
	due := b.Reached() != nil || b.Tasks.Reach.Of(b.FigureKey()) == task.Failed || b.Shop.Placing() || b.Screen.Workshop
	switch {
	case !due, f == nil, b.Stale(), !f.Settled && f.Withheld.None(), !f.CoreKnown && b.HollowComes(),
		shop.Last != nil && shop.Of == key && shop.Last.Improved:
		if b.Tasks.Shop.Key != key {
			t.Drop()
		}
		return
	}
	a, after := ShopAsk{Key: key, figures: f}, shopAfter
	if shop.Last != nil && shop.Of.Standing == key.Standing && shop.Of.Settings == key.Settings && shop.Last.Withheld.None() {
		a.last, after = shop.Last, 0
	}
	t.Want(key, after, a)
}

// Shop lays the parts out. What it finds first is handed in early.
func Shop(ctx context.Context, a ShopAsk, report task.Report[*workshop.Workshop]) (*workshop.Workshop, error) {
	if a.last != nil {
		if v, ok := a.last.Relaid(ctx, *a.Key.Places, a.Key.Stock); ok {
			return v, nil
		}
	}
	return workshop.New(ctx, a.Key.Standing, a.figures, *a.Key.Places, a.Key.Stock, workshop.Watch{Tell: report.Progress, Early: report.Early})
}
