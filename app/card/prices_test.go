package card

import (
	"testing"

	"grainstack/slicing/job"
)

// TestEachBoardHasItsPrice: the card asks for the price of each board in the stack, and a change of board brings the price that
// was typed for it before.
func TestEachBoardHasItsPrice(t *testing.T) {
	d := newDesk(t)
	rule := func(name string) *Rule {
		for _, c := range d.cards {
			if c.Title == "Panels" {
				return c.Rules()[name]
			}
		}
		return nil
	}
	walnut, _ := d.state.Catalogue.Board("walnut-18-13")
	birch := d.state.Settings.Board
	if rule("board price") == nil || rule("price of "+walnut.Name) != nil {
		t.Fatal("without another board there is more than the one price, or none")
	}
	rule("board price").Changed(70)
	d.Do("board of layer 2", func(s job.Settings) job.Settings {
		s.Mix = s.Mix.With(2, job.Other{Board: walnut.Key})
		return s
	})
	r := rule("price of " + walnut.Name)
	if r == nil {
		t.Fatal("there is no price for the walnut in layer 2")
	}
	r.Changed(145)
	if s := d.state.Settings; s.Price(birch) != 70 || s.Price(walnut.Key) != 145 || s.Shop.SheetPrice != 70 {
		t.Errorf("birch costs %v, walnut %v, the present board %v", s.Price(birch), s.Price(walnut.Key), s.Shop.SheetPrice)
	}
	d.state.Settings = withBoard(d.state, walnut.Key)
	d.show()
	if s := d.state.Settings; s.Shop.SheetPrice != 145 || s.Price(birch) != 70 {
		t.Errorf("all of walnut, a board costs %v; birch is remembered at %v", s.Shop.SheetPrice, s.Price(birch))
	}
	if rule("price of "+walnut.Name) != nil {
		t.Error("the present board has two rows")
	}
	d.state.Settings = withBoard(d.state, "beech-18-13")
	if s := d.state.Settings; s.Shop.SheetPrice != 0 {
		t.Errorf("a board that has no price yet costs %v", s.Shop.SheetPrice)
	}
	if s := withBoard(d.state, birch); s.Shop.SheetPrice != 70 {
		t.Errorf("birch again costs %v", s.Shop.SheetPrice)
	}
	next := d.state.Settings.WithPrice(walnut.Key, 0)
	if _, ok := next.Shop.Prices.Of(walnut.Key); ok || next.Check(d.state.Catalogue) != nil {
		t.Errorf("without the walnut's price the list is %q", next.Shop.Prices)
	}
}
