package app

import (
	"fmt"
	"slices"

	"grainstack/app/paper"
	"grainstack/app/picture"
	"grainstack/app/snag"
	"grainstack/app/state"
	"grainstack/app/task"
	"grainstack/app/view"
	"grainstack/app/work"
	"grainstack/render/look"
	"grainstack/slicing/finding"
	"grainstack/slicing/geom"
	"grainstack/slicing/stack"
	"grainstack/slicing/unit"
	"grainstack/slicing/wayout"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
)

// snagsName is the name of the sheet of what needs a look.
const snagsName = "Snags"

// A snagger is what the maker does with what needs a look.
type snagger struct {
	*core
	on     *views
	carver *carver
	trials *trials
	list   *snag.List
	ways   []wayout.Way // that the list shows
	page   fyne.CanvasObject
	at     int // the group with the picked place, -1 for none

	before, flown look.Camera // from where the piece was seen when a place was picked, and where the view was taken then
}

func newSnagger(c *core, on *views, k *carver, r *trials) *snagger {
	s := &snagger{core: c, on: on, carver: k, trials: r}
	s.list = snag.NewList(snag.Do{Pick: s.pickSnag, Unfold: s.unfold, Take: s.takeWay, Keep: s.keepWay, Aside: s.setAside, Back: s.lookAgain}, c.post)
	return s
}

// planHigh is how high the plan under the list is.
const planHigh = 132

// snagPage is the list with the plan of the picked place under it.
func (s *snagger) snagPage(plan *view.Layer) fyne.CanvasObject {
	plan.Whole.Hide()
	s.page = container.New(listLayout{}, s.list.Object(), paper.Back(paper.Line), plan.Whole)
	return s.page
}

// listLayout sets the plan under the list while it is shown.
type listLayout struct{}

func (listLayout) Layout(o []fyne.CanvasObject, s fyne.Size) {
	high := float32(0)
	if o[2].Visible() {
		high = min(planHigh, s.Height/3)
	}
	o[0].Resize(fyne.NewSize(s.Width, s.Height-high-1))
	o[1].Move(fyne.NewPos(0, s.Height-high-1))
	o[1].Resize(fyne.NewSize(s.Width, 1))
	o[2].Move(fyne.NewPos(0, s.Height-high))
	o[2].Resize(fyne.NewSize(s.Width, high))
}

func (listLayout) MinSize(o []fyne.CanvasObject) fyne.Size { return fyne.NewSize(170, 120) }

// A stop is a place that the keys come by.
type stop struct{ group, place int }

// stops are all places in order; of small ones that are told together only the first, until they are unfolded.
func (s *snagger) stops() (all []stop) {
	open, _ := s.bench.Snags()
	for i, f := range open {
		told, rest := f.Told()
		if !f.Listed() {
			all = append(all, stop{i, min(len(f.Places), 1) - 1})
			continue
		}
		for k := range told {
			all = append(all, stop{i, k})
		}
		if s.unfolded(f) {
			for k := range rest {
				all = append(all, stop{i, len(told) + k})
			}
		}
	}
	return all
}

func (s *snagger) unfolded(f finding.Finding) bool {
	return s.bench.Selected.Snag.Opened == f.Kind.String()
}

// snagCommands are those of what needs a look.
func (s *snagger) snagCommands() []command {
	some := func() bool { open, _ := s.bench.Snags(); return len(open) > 0 }
	return []command{
		{name: "next snag", menu: "View", words: "Next place that needs a look", key: fyne.KeyF3, enabled: some, do: func() { s.stepSnag(1) }},
		{name: "snag before", menu: "View", words: "Place before that needs a look", key: fyne.KeyBackspace, enabled: some, do: func() { s.stepSnag(-1) }},
	}
}

// stepSnag goes to the next place or the one before, round the list.
func (s *snagger) stepSnag(by int) {
	all := s.stops()
	if len(all) == 0 {
		return
	}
	open, _ := s.bench.Snags()
	at := -1
	if s.bench.Selected.Snag.On && s.bench.Standing != nil {
		if g, p, ok := s.bench.Selected.Snag.Key.Find(open, s.bench.Standing.Placed.Placement); ok {
			for i, one := range all {
				if one.group == g && one.place == p {
					at = i
				}
			}
		}
	}
	if at < 0 && by < 0 {
		at = 0
	}
	one := all[(at+by+len(all))%len(all)]
	s.pickSnag(one.group, one.place)
}

// keySnag is what keys do while the sheet is in front.
func (s *snagger) keySnag(k fyne.KeyName) {
	switch k {
	case fyne.KeyDown:
		s.stepSnag(1)
	case fyne.KeyUp:
		s.stepSnag(-1)
	case fyne.KeyEnter:
		s.key(fyne.KeyReturn)
	default:
		s.key(k)
	}
}

// enterSnag brings the keys to the ways out of the picked place, and reports whether there are any to go to.
func (s *snagger) enterSnag() bool {
	return s.bench.Screen.Sheet == snagsName && s.bench.Selected.Snag.On && s.list.TakeKeys()
}

// showSnag picks a finding from elsewhere.
func (s *snagger) showSnag(group int) { s.pickSnag(group, snag.Whole) }

// pickSnag picks a place: the view goes there, and its layer is picked. Of a finding that is picked as a whole it is the worst.
func (s *snagger) pickSnag(group, place int) {
	b := s.bench
	open, _ := b.Snags()
	if group < 0 || group >= len(open) {
		return
	}
	f := open[group]
	if place < 0 && len(f.Places) > 0 {
		place = 0
	}
	pick, seen := &b.Selected.Snag, s.on.look.Camera.Camera
	if !pick.On || seen != s.flown {
		s.before = seen // from one place to the next it stays
	}
	*pick = state.Snag{On: true, Key: b.KeyOf(f, place), Serial: pick.Serial + 1, Opened: pick.Opened}
	b.View.CutAway = false
	if b.Screen.Sheet != snagsName {
		s.front(snagsName)
	}
	if place >= 0 && f.Places[place].Layer > 0 && b.Figures != nil {
		b.Pick(f.Places[place].Layer, len(b.Figures.Layers))
		b.Selected.Chosen = true
	}
	s.showPlan() // what is not seen takes no keys
	if s.on.plan.Whole.Visible() {
		s.win.Canvas().Focus(s.on.plan.Picture) // which may not have been drawn yet
	} else {
		s.win.Canvas().Unfocus() // so that no button elsewhere takes what is meant for the place
	}
	s.changed()
	s.list.Reveal()
	s.trace.line("what=snag group=%d place=%d kind=%q text=%q", group, place, f.Kind, s.words().Sentence(f))
}

// leaveSnag leaves the picked place, and with it the view of it, and reports whether there was one.
func (s *snagger) leaveSnag() bool {
	pick := &s.bench.Selected.Snag
	if !pick.On {
		return false
	}
	*pick = state.Snag{Serial: pick.Serial, Opened: pick.Opened}
	s.flyBack()
	s.changed()
	return true
}

// unfold lists small places one by one.
func (s *snagger) unfold(group int) {
	open, _ := s.bench.Snags()
	if group < 0 || group >= len(open) {
		return
	}
	told, _ := open[group].Told()
	s.bench.Selected.Snag.Opened = open[group].Kind.String()
	s.pickSnag(group, len(told))
}

// wantSight wants the way to look at what was picked last.
func (s *snagger) wantSight(b *state.Bench, t *work.SightTask) {
	work.WantSight(b, t, s.on.look.Camera.Camera)
}

// seenFrom takes the view to the picked place: nothing stands before it, and what would is cut away.
func (s *snagger) seenFrom(_ work.SightAsk, line picture.SightLine, err error) {
	b := s.bench
	_, p, ok := b.SnagPlace()
	if err != nil || !ok || b.Model == nil {
		return
	}
	b.Selected.Snag.Cut, b.Selected.Snag.Stand = line.Cut, b.Standing.Stand
	c := s.on.look.Camera.Camera
	c.Azimuth, c.Elevation = line.Azimuth, line.Elevation
	size := b.Standing.Placed.Box.Size()
	c.Zoom = max(leastCloseUp, min(mostCloseUp, max(size.X, size.Y, size.Z)/max(seenRound, roundReach*p.Reach)))
	v := look.View{Camera: c, Placement: b.Standing.Placed.Placement, Height: b.Standing.Height(), Size: s.on.look.Pixels()}
	s.flown = v.Centred(b.Model.Full, p.At)
	s.on.look.Camera.Camera = s.flown
	s.trace.line("what=flown azimuth=%.3f elevation=%.3f cut=%.1f zoom=%.2f", line.Azimuth, line.Elevation, line.Cut, c.Zoom)
}

// followPlace leaves the picked place once it needs no look any more, whichever sheet is in front, and takes the view back from it
// once the piece is stood another way: it is not there any more.
func (s *snagger) followPlace() {
	b, pick := s.bench, &s.bench.Selected.Snag
	if b.SnagGone() {
		pick.On = false
		s.flyBack()
		s.Hint("The place that was picked needs no look any more.")
		s.soon() // it is not ringed any more
		return
	}
	if pick.On && !b.Screen.Dragging && pick.Stand != (stack.Stand{}) && pick.Stand != b.Settings().Stand() {
		pick.Stand, pick.Cut = stack.Stand{}, 0
		s.flyBack()
	}
}

// flyBack takes the view back to where it was before a place was picked, unless the hand has moved it since.
func (s *snagger) flyBack() {
	if s.on.look.Camera.Camera == s.flown {
		s.on.look.Camera.Camera = s.before
		s.soon()
	}
}

// How near the view goes: so many millimetres round a place are seen, or so many times as much as it takes.
const (
	seenRound    = 190
	roundReach   = 16
	leastCloseUp = 1.2
	mostCloseUp  = 5
)

// words are how findings are told in the window.
func (s *snagger) words() finding.Words { return finding.Words{Units: s.bench.View.Units} }

// showSnags writes the list.
func (s *snagger) showSnags() {
	b := s.bench
	s.showPlan()
	if b.Provisional() && b.Figures != nil {
		return // the last ones stay until the new ones are known
	}
	was := b.Screen.Ways
	b.Screen.Ways = nil
	says := s.says()
	s.list.Put(says)
	at := slices.IndexFunc(says.Groups, func(g snag.Group) bool { return g.Picked != snag.None })
	if at >= 0 && at != s.at {
		s.list.Reveal()
	}
	s.at = at
	if !slices.Equal(was, b.Screen.Ways) {
		s.soon() // small pictures of them are wanted
	}
}

// showPlan shows the plan of the picked place's layer while there is one.
func (s *snagger) showPlan() {
	_, p, ok := s.bench.SnagPlace()
	if see(s.on.plan.Whole, ok && p.Layer > 0) {
		s.page.Refresh()
	}
}

// says is the list as things are now.
func (s *snagger) says() snag.Says {
	b, w := s.bench, s.words()
	open, aside := b.Snags()
	out := snag.Says{Word: "Nothing needs a look."}
	if b.Figures == nil {
		out.Word = "What needs a look is not known yet: " + b.Why()
	} else if b.Figures.Withheld.None() && (b.Reached() == nil || b.Tasks.Shop.State == task.Working) {
		out.Word = "Nothing needs a look so far; cutters and panels are still being followed."
	}
	group, place, picked := -1, -1, false
	if b.Selected.Snag.On && b.Standing != nil {
		group, place, picked = b.Selected.Snag.Key.Find(open, b.Standing.Placed.Placement)
	}
	s.ways = nil
	for i, f := range open {
		class := f.Kind.Class()
		g := snag.Group{Class: class.String(), Text: w.What(f), Strong: class <= finding.Unmakeable, Picked: snag.None}
		told, rest := f.Told()
		if f.Listed() {
			if s.unfolded(f) {
				told, rest = f.Places, nil
			}
			for _, p := range told {
				g.Spots = append(g.Spots, w.Place(f, p))
			}
			if len(rest) > 0 {
				g.Rest = w.Rest(f, rest)
			}
		}
		if picked && i == group {
			g.Picked = snag.Whole
			if len(g.Spots) > 0 {
				g.Picked = place
			}
			g.Detail = s.detail(f, place)
		}
		out.Groups = append(out.Groups, g)
	}
	for _, a := range aside {
		out.Aside = append(out.Aside, snag.Laid{Text: w.What(a.Finding), Note: a.Note})
	}
	return out
}

// detail is what stands under the picked place.
func (s *snagger) detail(f finding.Finding, place int) *snag.Detail {
	d := &snag.Detail{Do: finding.Words{Units: s.bench.View.Units, Paper: true}.Do(f)} // ways out stand under it
	if place >= 0 && place < len(f.Places) {
		d.Where = s.where(f.Places[place])
	}
	s.addWays(d, f, place)
	return d
}

// where is a place's layer, and the panel that it is carved from.
func (s *snagger) where(p finding.Place) string {
	b := s.bench
	if p.Layer < 1 || b.Figures == nil || p.Layer > len(b.Figures.Layers) {
		return ""
	}
	text := fmt.Sprintf("Layer %d of %d", p.Layer, len(b.Figures.Layers))
	v, now := b.Shop.Newest()
	if !now || !v.Withheld.None() {
		return text
	}
	for _, q := range v.Parts {
		if q.Layer != p.Layer || p.Placed && !holds(q.Shadow, p) {
			continue
		}
		if number, at, ok := v.Layout.Find(q.ID); ok {
			text += fmt.Sprintf(" · panel %d", number)
			if p.Placed {
				on := at.Apply(planOf(p))
				text += fmt.Sprintf(", %s from the left and %s from the lower edge", s.length(on.X), s.length(on.Y))
			}
			return text
		}
	}
	return text
}

func planOf(p finding.Place) geom.Vec2 { return geom.Vec2{X: p.At.X, Y: p.At.Y} }

// holds reports whether a place lies within a part's shadow, or so near that it is the part's.
func holds(shadow geom.Region, p finding.Place) bool {
	const near = 3
	box := shadow.Box()
	at := planOf(p)
	return at.X > box.Min.X-near && at.X < box.Max.X+near && at.Y > box.Min.Y-near && at.Y < box.Max.Y+near
}

func (s *snagger) length(mm float64) string { return unit.Length(mm, s.bench.View.Units) }
