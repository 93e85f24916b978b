package app

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"

	"grainstack/app/card"
	"grainstack/app/paper"
)

// cards are the settings, one under another.
type cards struct {
	all                 []*card.Card
	scans, stand, chalk *card.Card
	scroll              *paper.Scroll
}

// lay puts cards under one another; folded is called whenever one of them was folded out or in.
func (c *cards) lay(all []*card.Card, hint func(string), folded func(one *card.Card, open bool)) {
	c.all = all
	list := container.NewVBox()
	for _, one := range all {
		one.Hinted = hint
		one.Folded = func(open bool) {
			if open {
				c.foldOthers(one)
			}
			folded(one, open)
		}
		list.Add(one)
	}
	c.scroll = paper.NewScroll(container.New(layout.NewCustomPaddedLayout(2, 8, 10, 12), list))
	c.scroll.SetMinSize(fyne.NewSize(246, 120))
}

// foldOthers folds all cards but one that is open, and those that are pinned.
func (c *cards) foldOthers(open *card.Card) {
	for _, one := range c.all {
		if one != open && one.Open() && !one.Pinned() {
			one.Toggle()
		}
	}
}

// opened is the card that is open, the last that isn't pinned; nil for none.
func (c *cards) opened() (last *card.Card) {
	for _, one := range c.all {
		if one.Open() && (last == nil || !one.Pinned()) {
			last = one
		}
	}
	return last
}

// toggle folds a card out or in, brings it into sight and sends the keys there.
func (c *cards) toggle(one *card.Card) {
	one.Toggle()
	if one.Open() {
		c.reveal(one)
	}
	one.TakeKeys()
}

// show folds a card out, unless it is open.
func (c *cards) show(one *card.Card) {
	if !one.Open() {
		c.toggle(one)
	}
}

// reveal brings an open card into sight.
func (c *cards) reveal(one *card.Card) {
	low, high := one.Position().Y, one.Position().Y+one.MinSize().Height
	switch view := c.scroll.Size().Height; {
	case low < c.scroll.Offset.Y || high-low > view:
		c.scroll.ScrollToOffset(fyne.NewPos(0, low))
	case high > c.scroll.Offset.Y+view:
		c.scroll.ScrollToOffset(fyne.NewPos(0, high-view))
	}
}

// put shows a state; cards are laid out anew where the line of one takes more room or less.
func (c *cards) put(s card.State) {
	taller := false
	for _, one := range c.all {
		taller = one.Put(s) && one.MinSize().Height != one.Size().Height || taller
	}
	if taller {
		c.scroll.Content.Refresh()
		c.scroll.Refresh()
	}
}
