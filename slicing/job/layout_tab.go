package job

import (
	"context"
	"errors"
	"math"
	"slices"

	"grainstack/slicing/geom"
	"grainstack/slicing/panel"
	"grainstack/slicing/par"
)

// tabReach is how far behind the outline the wood that a tab stands on is looked for, mm.
const tabReach = 3.0

// holdParts finds the tabs of every part as it lies, gives crowded parts air where the program may move them, and says what is
// held badly.
func (w *Workshop) holdParts(ctx context.Context, move bool) error {
	if err := w.findTabs(ctx); err != nil {
		return err
	}
	if move {
		if err := w.air(ctx); err != nil {
			return err
		}
	}
	w.sayHold()
	return nil
}

func (w *Workshop) findTabs(ctx context.Context) error {
	faults := make([]error, len(w.Parts))
	frames := w.frames()
	err := par.Spans(ctx, len(w.Parts), 1, func(i, _ int) { faults[i] = w.hold(&w.Parts[i], frames[w.Parts[i].ID]) })
	return errors.Join(append(faults, err)...)
}

// sayHold names what the tabs hold badly, and why, and where they run on over thin wood.
func (w *Workshop) sayHold() {
	var loose, badly, crowded, thin []int
	root := 0.0
	for _, p := range w.Parts {
		switch {
		case len(p.Tabs) == 0:
			loose = append(loose, p.Layer)
		case p.crowded:
			crowded = append(crowded, p.Layer)
		case !p.Held:
			badly = append(badly, p.Layer)
		}
		for _, t := range p.Tabs {
			if t.Root > 0 {
				thin, root = append(thin, p.Layer), math.Max(root, t.Root)
			}
		}
	}
	if loose = slices.Compact(loose); len(loose) > 0 {
		w.caution(loose[0], "Nothing holds a part of layer%s %s: its outline has no place for a tab of %.4g mm. Take narrower or thinner tabs, or screw it down.",
			verb(loose, "", "s"), runs(loose), w.For.Shop.TabWidth)
	}
	if crowded = slices.Compact(crowded); len(crowded) > 0 {
		w.caution(crowded[0], "A part of layer%s %s lies so near its neighbours that too little of the panel is left for its tabs to stand on: drag it into the open.",
			verb(crowded, "", "s"), runs(crowded))
	}
	if badly = slices.Compact(badly); len(badly) > 0 {
		w.caution(badly[0], "A part of layer%s %s is held badly: on a stretch of its outline no tab of %.4g mm can stand. Take narrower tabs, or cut slowly there.",
			verb(badly, "", "s"), runs(badly), w.For.Shop.TabWidth)
	}
	if thin = slices.Compact(thin); len(thin) > 0 {
		w.caution(thin[0], "The edge of layer%s %s is thinner than a tab in places: there tabs run on over the wood, by up to %.0f mm, and are pared off after the glue-up.",
			verb(thin, "", "s"), runs(thin), root)
	}
}

// hold finds the tabs of one part: where the maker put them, else as few as hold it. They stand where the panel's frame is.
// Sound wood goes first; where that doesn't hold the part, narrow wood will do, and tabs may run on over a thin edge to where
// the wood is thick enough; a small part may have narrower ones. What no place before the frame holds has tabs that are drawn
// and don't count.
func (w *Workshop) hold(p *Part, f frame) error {
	sound := w.tabRules(p)
	sound.Avoid = f.lacks
	sound.Hole = func(ring int) bool { return f.within(p.Shadow[ring]) }
	frugal := sound
	frugal.Backing, frugal.Reach = sound.Width, mostRoot
	small := frugal
	small.Width, small.Backing = sound.Width*smallTab, sound.Width*smallTab
	anywhere, thin := frugal, frugal
	anywhere.Avoid = nil
	thin.Avoid, thin.Thick = nil, nil
	own := w.Places.tabsOf(p.ID)
	p.Tabs, p.Held, p.crowded = nil, false, false
	for _, try := range []struct {
		rules         panel.TabRules
		framed, spare bool // before the frame; left out where the maker chose places
	}{{sound, true, true}, {frugal, true, false}, {small, true, true}, {anywhere, false, false}, {thin, false, false}} {
		if len(own) > 0 && try.spare {
			continue
		}
		spots, err := panel.NewTabPlaces(p.Shadow, try.rules)
		if err != nil {
			return err
		}
		tabs, held := spots.Choose()
		if len(own) > 0 {
			tabs, held = nearestTabs(spots, own)
		}
		p.crowded = p.crowded || held && !try.framed && try.rules.Thick != nil
		if held && try.framed || len(tabs) > len(p.Tabs) {
			p.spots, p.Tabs, p.Held = spots, tabs, held && try.framed
		}
		if p.Held || !try.framed && len(p.Tabs) > 0 {
			return nil
		}
	}
	return nil
}

// nearestTabs are the tabs that may stand nearest to where the maker wants them, which then hold.
func nearestTabs(spots *panel.TabPlaces, own []geom.Vec2) (tabs []panel.Tab, held bool) {
	for _, at := range own {
		if t, ok := spots.Nearest(at); ok {
			tabs = append(tabs, t)
		}
	}
	return tabs, len(tabs) > 0
}

// smallTab is how much narrower the tabs of a small part may be than the maker wants.
const smallTab = 0.6

// mostRoot is how far behind the outline a tab may run on over thin wood, mm: what is pared off by hand afterwards.
const mostRoot = 15.0

// fewestTabs is what keeps a part from turning.
const fewestTabs = 3

func (w *Workshop) tabRules(p *Part) panel.TabRules {
	h := w.For.Shop
	return panel.TabRules{
		Width: h.TabWidth, Channel: w.Margin, Spacing: h.TabSpacing, MinThick: math.Min(w.tabThickness()/2, (p.slab.Top-p.slab.Bottom)/4),
		Thick: func(at geom.Vec2) float64 {
			low, high, _ := p.wood(at, tabReach)
			return high - low
		},
	}
}

// A frame is what stays of a panel round the parts, as one part sees it.
type frame struct {
	at     panel.Placed
	size   geom.Vec2
	far    float64 // from the outline to where the frame has to be
	others []geom.Region
	boxes  []geom.Box2
}

// frames are those of all parts that lie on panels.
func (w *Workshop) frames() map[panel.ID]frame {
	out := make(map[panel.ID]frame)
	for _, p := range w.Layout.Panels {
		all := make([]geom.Region, len(p.Placed))
		for i, q := range p.Placed {
			all[i] = w.Bench.Outline(q)
		}
		for i, q := range p.Placed {
			f := frame{at: q, size: geom.Vec2{X: w.For.PanelX, Y: w.For.PanelY}, far: w.Margin + leastFrame/2}
			reach := all[i].Box()
			more := geom.Vec2{X: f.far + w.Margin, Y: f.far + w.Margin}
			reach.Min, reach.Max = reach.Min.Sub(more), reach.Max.Add(more)
			for k, g := range all {
				if b := g.Box(); k != i && b.Min.X < reach.Max.X && b.Min.Y < reach.Max.Y && b.Max.X > reach.Min.X && b.Max.Y > reach.Min.Y {
					f.others, f.boxes = append(f.others, g), append(f.boxes, b)
				}
			}
			out[q.Part] = f
		}
	}
	return out
}

// within reports whether another part lies in a hole of the part.
func (f frame) within(hole geom.Ring) bool {
	for _, g := range f.others {
		if len(g) > 0 && len(g[0]) > 0 && hole.Winding(f.at.Back(g[0][0])) != 0 {
			return true
		}
	}
	return false
}

// lacks reports whether there is no frame before a point of the part's outline: another part's gap is there, or the edge.
func (f frame) lacks(at geom.Vec2) bool {
	p := f.at.Apply(at)
	if f.size.X == 0 {
		return false
	}
	if p.X < f.far || p.Y < f.far || p.X > f.size.X-f.far || p.Y > f.size.Y-f.far {
		return true
	}
	shared := 2*f.far - leastFrame/2 // both gaps and some frame
	for i, g := range f.others {
		b := f.boxes[i]
		if p.X < b.Min.X-shared || p.Y < b.Min.Y-shared || p.X > b.Max.X+shared || p.Y > b.Max.Y+shared {
			continue
		}
		for _, r := range g {
			for k, a := range r {
				if toSegment(p, a, r[(k+1)%len(r)]) < shared {
					return true
				}
			}
		}
	}
	return false
}

// tabThickness is a third of the layer where the maker has no wish.
func (w *Workshop) tabThickness() float64 {
	if t := w.For.Shop.TabThickness; t > 0 {
		return math.Min(t, w.Figures.Thickness)
	}
	return w.Figures.Thickness / 3
}

// NearestTab is the tab of a part that may stand nearest to a point of the stand: what a dragged tab snaps to. ok is false
// where the part has no place for one.
func (w *Workshop) NearestTab(part panel.ID, at geom.Vec2) (t panel.Tab, ok bool) {
	p, known := w.Part(part)
	if !known || p.spots == nil {
		return t, false
	}
	return p.spots.Nearest(at)
}

// TabHeights are the lower and the upper face of a tab, mm above the lower face of the skimmed panel: as thick as asked, about
// the middle of the wood that it stands on or, over a thin edge, runs on to.
func (w *Workshop) TabHeights(p *Part, t panel.Tab) (bottom, top float64) {
	low, high, ok := p.wood(t.At.Sub(t.Out.Scale(tabReach+t.Root)), tabReach)
	if !ok {
		low, high = p.slab.Bottom, p.slab.Top
	}
	thick := w.tabThickness()
	bottom = math.Max(0, math.Min((low+high-thick)/2-p.PanelLow, w.Figures.Thickness-thick))
	return bottom, bottom + thick
}
