package workshop

import (
	"context"
	"errors"

	"grainstack/slicing/hours"
	"grainstack/slicing/job"
	"grainstack/slicing/panel"
	"grainstack/slicing/par"
	"grainstack/slicing/stock"
)

// Reach is what the cutters reach round parts that are held by the tabs of bridges: settled figures of a standing, on columns as
// job.Reach chooses them. progress, which may be nil, is told the share done.
func Reach(ctx context.Context, st *job.Standing, f *job.Figures, c *stock.Catalogue, progress func(float64)) (*job.Reached, error) {
	var tabs [][]hours.Tab
	if f.Withheld.None() {
		var err error
		if tabs, err = bridges(ctx, f, c); err != nil {
			return nil, err
		}
	}
	return job.Reach(ctx, st, f, 0, tabs, progress)
}

// bridges are the tabs of every layer's parts, on the stand, as they stand where the panel's frame is all round each part: how
// panels are laid is not known yet. Tabs that the maker moves are taken to be where the program puts them.
func bridges(ctx context.Context, f *job.Figures, c *stock.Catalogue) ([][]hours.Tab, error) {
	parts, err := partsOf(ctx, f, 0, len(f.Layers))
	if err != nil {
		return nil, err
	}
	h := &holder{&Workshop{For: f.For, Figures: f, Margin: f.For.Setup(c).Margin()}}
	faults := make([]error, len(parts))
	err = par.Spans(ctx, len(parts), 1, func(i, _ int) {
		parts[i].findSplinters()
		faults[i] = h.hold(ctx, &parts[i], nil)
	})
	if err = errors.Join(append(faults, err)...); err != nil {
		return nil, err
	}
	tabs := make([][]hours.Tab, len(f.Layers))
	for i := range parts {
		for _, t := range parts[i].Tabs {
			tabs[parts[i].Layer-1] = append(tabs[parts[i].Layer-1], Bridge(t))
		}
	}
	return tabs, nil
}

// Bridge is a tab as cutters meet it.
func Bridge(t panel.Tab) hours.Tab {
	return hours.Tab{At: t.At, Way: t.Out, Root: t.Root, Length: t.Length, Width: t.Width, Bottom: t.Bottom, Top: t.Top}
}
