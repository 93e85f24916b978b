package app

import (
	"context"
	"errors"
	"strings"

	"grainstack/slicing/job"
	"grainstack/slicing/stock"
)

// A shelf is the stock that there is to choose from.
type shelf struct {
	program *stock.Catalogue // what comes with the program
	mine    *stock.Catalogue // with the maker's own laid over it: what a new piece begins with
	now     *stock.Catalogue // with what the open job brought along
	own     job.OwnStock     // the maker's own file
	fault   string           // why that is left out, "" where it isn't
}

// newShelf reads the maker's own stock file, once, before the window opens; without a path there is none.
func newShelf(program *stock.Catalogue, path string) shelf {
	s := shelf{program: program, mine: program, now: program}
	if path == "" {
		return s
	}
	own, mine, err := job.LoadOwnStock(path, program)
	if err != nil {
		s.fault = err.Error()
	}
	s.own, s.mine, s.now = own, mine, mine
	return s
}

// keepCutter puts a cutter of the maker's own on the shelf and into the file.
func (w *window) keepCutter(k stock.Cutter) error {
	text, err := stock.WithCutter(w.shelf.own.Text, k)
	if err != nil {
		return err
	}
	if err := w.restock(text, k.Key); err != nil {
		return err
	}
	w.margin.hint("Kept in your own stock: " + k.Name)
	return nil
}

// dropCutter takes a cutter out of the file. The job on the bench keeps it where it uses it.
func (w *window) dropCutter(k stock.Cutter) error {
	text, err := stock.WithoutCutter(w.shelf.own.Text, k.Key)
	if err != nil {
		return err
	}
	if err := w.restock(text, ""); err != nil {
		return err
	}
	w.margin.hint("Taken out of your own stock: " + k.Name)
	return nil
}

// restock saves the maker's own file with another text and works everything out anew from it. What the job on the bench has
// brought along stays, but for the cutter that has just been changed.
func (w *window) restock(text []byte, changed string) error {
	if w.shelf.fault != "" {
		return errors.New(w.shelf.fault)
	}
	mine, _, err := w.shelf.program.Merge(w.shelf.own.Path, text)
	if err != nil {
		return err
	}
	now := mine
	if brought := w.shelf.now.Carry(w.session.Settings().Uses()...); brought != nil {
		if brought, err = stock.WithoutCutter(brought, changed); err != nil {
			return err
		}
		if now, _, err = mine.Merge("the job", brought); err != nil {
			return err
		}
	}
	w.shelf.own.Text = text
	if w.shelf.own.Path != "" {
		w.loops.shelf.Ask(w.shelf.own)
	}
	w.shelf.mine, w.shelf.now = mine, now
	w.stockChanged()
	return nil
}

// saveStock writes the maker's own file.
func saveStock(_ context.Context, o job.OwnStock) (struct{}, error) { return struct{}{}, o.Save() }

// stockSaved says so where it could not be.
func (w *window) stockSaved(o job.OwnStock, _ struct{}, err error) {
	if err != nil {
		w.say("Your own stock is not saved", sentence(err))
		return
	}
	w.trace.line("what=stock bytes=%d", len(o.Text))
}

// stockChanged works out anew what hangs on the stock.
func (w *window) stockChanged() {
	w.reaching.last, w.reaching.sought = nil, false
	w.look.asked, w.stick.asked = sightKey{}, stickKey{}
	w.asked = w.now()
	w.showAll()
	if w.model == nil {
		return
	}
	w.askLook()
	if w.stands() {
		w.refigure()
	}
}

// bring takes what a job brought along, and says what of it takes the place of something on the shelf.
func (w *window) bring(j job.Job) {
	w.shelf.now = w.shelf.mine
	if j.Catalogue != nil {
		w.shelf.now = j.Catalogue
	}
	if len(j.Notes) > 0 {
		w.margin.hint(strings.Join(j.Notes, " "))
	}
}
