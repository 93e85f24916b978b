package app

import (
	"path/filepath"

	"grainstack/app/latest"
	"grainstack/app/state"
	"grainstack/app/task"
	"grainstack/app/view"
	"grainstack/app/work"
	"grainstack/slicing/workshop"
)

// makeTasks is the table, in the order in which work is done.
func (w *window) makeTasks() {
	t, at, a, d := w.tasks, &w.bench.Tasks, takers{w.core}, w.tasks.desk
	t.told = func() {
		t.showFoot()
		w.showStrip()
		w.router.show()
		w.making.told()
	}
	t.open = add(t, taskRow{foot: byName, escape: callsOff}, task.New(latest.Cancel, d("open"), &at.Open, work.Open(w.o.Piece), w.opened), nil)
	t.last().words = func() string {
		if path := at.Open.Key.Path; path != "" {
			return "opening " + filepath.Base(path)
		}
		return "opening the piece"
	}
	t.join = add(t, called("joining the scans", byName, callsOff), task.New(latest.Cancel, d("join"), &at.Join, work.Join, w.joined), work.WantJoin)
	t.faces = add(t, taskRow{}, task.New(latest.Cancel, d(""), new(task.Status[int]), work.Faces, w.facesCame), nil)
	add(t, called("looking the scan over", told, callsOff), task.New(latest.Cancel, d("survey"), &at.Survey, work.Survey, a.surveyed), work.WantSurvey)
	t.again.mend = add(t, called("mending the scan", told, callsOff), task.New(latest.Cancel, d("mend"), &at.Mend, work.Mend, a.mended), work.WantMend).Again
	t.again.hollow = add(t, called("working out the hollow", told, callsOff), task.New(latest.Cancel, d("hollow"), &at.Hollow, work.Hollow, a.hollowed), work.WantHollow).Again
	add(t, taskRow{}, task.New(latest.Finish, d("stand"), &at.Stand, work.Stand, a.stood), work.WantStand)
	add(t, taskRow{}, task.New(latest.Finish, d("figure"), &at.Figure, work.Figures, a.figured), work.WantFigures)
	add(t, taskRow{}, task.New(latest.Cancel, d("settle"), &at.Settle, work.Settled, w.settledCame), work.WantSettled)
	add(t, called("following the cutters", told, callsOff), task.New(latest.Cancel, d("reach"), &at.Reach, work.Reach, a.reached), work.WantReach)
	t.ways = add(t, called("looking for ways out", byName, callsOff), task.New(latest.Cancel, d("ways"), &at.Ways, work.Ways, w.waysFound), work.WantWays)
	add(t, taskRow{}, task.New(latest.Cancel, d("sight"), &at.Sight, work.Sight, w.seenFrom), w.wantSight)
	shop := add(t, called("laying the parts out", told, callsOff), task.New(latest.Cancel, d("shop"), &at.Shop, work.Shop, a.laidOut), work.WantShop)
	shop.Early(func(ask work.ShopAsk, v *workshop.Workshop) { w.bench.Shop.Take(ask.Key, v) })
	t.again.shop = shop.Again
	t.programs = add(t, called("working the programs out", byName, callsOff), task.New(latest.Cancel, d("programs"), &at.Programs, work.Programs, w.programsMade), work.WantPrograms).Early(w.programsCame)
	add(t, called("carving the board to be looked at", told, callsOff), task.New(latest.Cancel, d("course"), &at.Course, work.Course, w.carved), work.WantCourse)
	t.compass = add(t, called("comparing directions", byName, drops), task.New(latest.Cancel, d("compass"), &at.Compass, work.Directions, w.directionsFound), nil).Early(w.directionsCame)
	try := add(t, called("following the cutters of trials", quiet, callsOff), task.New(latest.Cancel, d("try"), &at.Try, work.Trials(), w.tried), work.WantTrials)
	t.last().CallOff = func() bool { return at.Try.Key.Chore == state.Following && try.CallOff() }
	t.save = add(t, taskRow{}, task.New(latest.Finish, d(""), new(task.Status[int]), work.Save, w.saved), nil)
	t.keep = add(t, taskRow{}, task.New(latest.Cancel, d(""), new(task.Status[int]), work.Keep, w.keptNow), w.wantKept)
	t.stock = add(t, taskRow{}, task.New(latest.Finish, d(""), new(task.Status[int]), work.Stock, a.stockSaved), nil)
	t.photo = add(t, taskRow{}, task.New(latest.Cancel, d(""), new(task.Status[int]), readPhoto, w.photoRead), nil)
	drawing := new(task.Status[string])
	t.still = add(t, taskRow{foot: byName, escape: drops}, task.New(latest.Cancel, d(""), drawing, view.Still, w.making.stillTaken), nil)
	t.last().words = func() string { return "drawing " + filepath.Base(drawing.Key) }
	t.make = add(t, taskRow{foot: byName}, task.New(latest.Cancel, d(""), &w.making.at, work.Make, w.making.wroteFiles), nil)
	t.last().words = func() string {
		if w.making.page != nil { // which says it
			return ""
		}
		return "writing the work book"
	}
	t.sizes = add(t, taskRow{}, task.New(latest.Cancel, d(""), new(task.Status[int]), work.Sizes, func(work.SizesAsk, []work.Size, error) {}), nil).Early(w.making.measured)
}
