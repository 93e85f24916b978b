package app

import (
	"fyne.io/fyne/v2"

	"grainstack/app/pane"
	"grainstack/app/state"
)

// The panes of the row, in their order.
const (
	stickPane = iota
	lookPane
	sheetPane
	cardPane
)

// lowWindow is the height of a window under which what stands at its foot takes as little as it can.
const lowWindow = 700

// A roomer shares the window out among its panes.
type roomer struct {
	*core
	row    *pane.Row
	head   fyne.CanvasObject // the piece with its commands, and the line of the job
	foot   fyne.CanvasObject // ticket and trials
	folder *binder
	cards  *cards
	look   *pane.Picture
	done   shared
}

// shared is all that the sharing of the window hangs on.
type shared struct {
	state.Room
	low, card bool // the window is low, a card is open
}

// roomCommands are those that share the window out.
func (r *roomer) roomCommands() []command {
	return []command{
		{name: "swap", menu: "View", words: "Piece and sheet: the other one large", key: fyne.KeyF10, do: r.swap},
		{name: "alone", menu: "View", words: "The whole window for the one in hand, and back", key: fyne.KeyF11, do: r.alone},
	}
}

// swap makes the other one of piece and sheet the large one.
func (r *roomer) swap() {
	room := r.bench.Screen.Room()
	r.put(state.Room{SheetLarge: !room.SheetLarge})
	r.Hint("")
	if r.bench.Screen.Low && !room.SheetLarge && r.cards.opened() == nil {
		r.Hint("The cards give way to it: the keys 1 to 0, or a step above, bring one")
	}
	r.app.Preferences().SetStringList(prefLarge, r.bench.Screen.Large())
}

// alone gives the whole window to the one that the keys go to, the sheet where they go to the cards; once more, it is shared again.
func (r *roomer) alone() {
	room := r.bench.Screen.Room()
	switch focused := r.win.Canvas().Focused(); {
	case room.Alone != state.Neither:
		room.Alone = state.Neither
	case focused == fyne.Focusable(r.look):
		room.Alone = state.PieceAlone
	default:
		room.Alone = state.SheetAlone
	}
	r.put(room)
	r.Hint("")
	if room.Alone != state.Neither {
		r.Hint("F11 or Escape brings the others back")
	}
}

// shareAgain shares the window again, and reports whether one had it alone.
func (r *roomer) shareAgain() bool {
	room := r.bench.Screen.Room()
	if room.Alone == state.Neither {
		return false
	}
	room.Alone = state.Neither
	r.put(room)
	r.Hint("")
	return true
}

func (r *roomer) put(room state.Room) {
	r.bench.Screen.Arrange(room)
	r.changed()
}

// arrange shares the window out as the sheet in front has it.
func (r *roomer) arrange() {
	room := r.bench.Screen.Room()
	now := shared{room, r.bench.Screen.Low, r.cards.opened() != nil}
	if now == r.done {
		return
	}
	r.done = now
	gives := lookPane
	if room.SheetLarge && room.Alone != state.PieceAlone || room.Alone == state.SheetAlone {
		gives = sheetPane
	}
	tight := now.low && gives == sheetPane
	r.row.Arrange(gives, tight, func(i int) bool {
		switch room.Alone {
		case state.PieceAlone:
			return i == lookPane
		case state.SheetAlone:
			return i == sheetPane
		}
		return i != cardPane || !tight || now.card // cards are had by their keys, the line of the job and the menu
	})
	alone := room.Alone != state.Neither
	if foot, head := see(r.foot, !alone), see(r.head, !alone || !now.low); foot || head {
		r.relay()
	}
	r.trace.placesLater()
}

// see shows something or hides it, and reports whether it did.
func see(o fyne.CanvasObject, on bool) bool {
	if on == o.Visible() {
		return false
	}
	if on {
		o.Show()
	} else {
		o.Hide()
	}
	return true
}
