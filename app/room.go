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
	foot   fyne.CanvasObject // ticket and trials
	folder *binder
	look   *pane.Picture
	done   state.Room
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
	if room.Alone != state.Neither {
		r.Hint("F11 or Escape brings the others back")
	}
}

// share shares the window again, and reports whether one had it alone.
func (r *roomer) share() bool {
	room := r.bench.Screen.Room()
	if room.Alone == state.Neither {
		return false
	}
	room.Alone = state.Neither
	r.put(room)
	return true
}

func (r *roomer) put(room state.Room) {
	r.bench.Screen.Arrange(room)
	r.changed()
}

// arrange shares the window out as the sheet in front has it.
func (r *roomer) arrange() {
	room := r.bench.Screen.Room()
	if room == r.done {
		return
	}
	r.done = room
	gives := lookPane
	if room.SheetLarge && room.Alone != state.PieceAlone || room.Alone == state.SheetAlone {
		gives = sheetPane
	}
	r.row.Arrange(gives, func(i int) bool {
		switch room.Alone {
		case state.PieceAlone:
			return i == lookPane
		case state.SheetAlone:
			return i == sheetPane
		}
		return true
	})
	if on := room.Alone == state.Neither; on != r.foot.Visible() {
		if on {
			r.foot.Show()
		} else {
			r.foot.Hide()
		}
		r.relay()
	}
	r.trace.placesLater()
}
