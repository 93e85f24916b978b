package app

import (
	"grainstack/app/edit"
	"grainstack/app/view"
	"grainstack/slicing/geom"
	"grainstack/slicing/job"
	"grainstack/slicing/panel"
	"grainstack/slicing/unit"
	"grainstack/slicing/workshop"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
)

// A panelHand is what the hand does on the panel sheet.
type panelHand struct {
	*core
	leafer
	on        *views
	tools     *panelTools
	fine      bool   // shift is held: the arrow keys move finely
	openStand func() // folds the Stand card out
	layAgain  func() // lays the parts out once more
}

// clickPanel picks the layer of the part under the hand, or adds what is to be added there.
func (h *panelHand) clickPanel(at fyne.Position) {
	s := h.on.panels
	v, now := h.bench.Shop.Newest()
	p, ok := s.ToMM(at)
	switch {
	case v == nil || !ok:
	case s.Hand.Adding != edit.Nothing && now:
		if c, ok := edit.Add(v, s.Hand.Adding, s.At, p); ok {
			s.Hand = edit.Hand{}
			h.take(c)
		} else {
			h.tell(c.Words)
		}
	case s.Hand.Free():
		if under, found := s.Under(v, p); found {
			h.pickPart(under.Part)
		}
	}
}

// tell says what the hand came to, in the units that are shown.
func (h *panelHand) tell(words unit.Said) { h.Hint(words.In(h.bench.View.Units)) }

// take puts what was done by hand, and says what there is to say.
func (h *panelHand) take(c edit.Change) {
	h.put(c.Name, c.Places)
	h.tell(c.Words)
}

// pickPart picks a part and its layer.
func (h *panelHand) pickPart(id panel.ID) {
	h.bench.Selected.Part = id
	h.pick(id.Layer)
	h.changed()
}

func (h *panelHand) pointPanel(at fyne.Position, here bool) {
	s := h.on.panels
	if !s.Hand.Free() {
		return
	}
	v, now := h.bench.Shop.Newest()
	p, ok := s.ToMM(at)
	if !here || !ok || v == nil {
		h.Hint("")
		return
	}
	words := "wheel zooms · drag moves the sheet · double-click fits"
	if under, found := s.Under(v, p); found && now {
		words = under.WordsUnder(v).In(h.bench.View.Units)
	}
	u := h.bench.View.Units
	h.Hint(unit.Length(p.X, u) + " and " + unit.Length(p.Y, u) + " from the corner · " + words)
}

// takePanel takes what lies at a place of the panel sheet into the hand.
func (h *panelHand) takePanel(at fyne.Position) bool {
	s := h.on.panels
	v, now := h.bench.Shop.Newest()
	if !now || s.Hand.Let || s.Hand.Owed || s.Hand.Adding != edit.Nothing {
		return s.Hand.Let || s.Hand.Owed || h.bench.Shop.Placing() && !now
	}
	p, ok := s.ToMM(at)
	if !ok {
		return false
	}
	under, found := s.Under(v, p)
	if s.Hand.Holds() && s.Hand.Keys && (!found || under.What == s.Hand.What && under.Part == s.Hand.Part) {
		under = s.Hand.Hold // what the keys hold goes on with the mouse
	} else if !found {
		return false
	}
	s.Hand = edit.Take(v, under, p)
	return true
}

// carryPanel moves what is in the hand under the pointer; over the numbers above the sheet it goes to that panel.
func (h *panelHand) carryPanel(at fyne.Position) {
	s := h.on.panels
	if !s.Hand.Holds() {
		return
	}
	if number, ok := s.Over(at); ok && s.Hand.What == edit.Part {
		s.Hand.Over(number)
		h.leafTo(s, number)
		return
	}
	if p, ok := s.Within(at); ok {
		s.Hand.Carry(p)
		h.changed()
	}
}

// letPanel lets go of what was carried with the mouse. A tab or a pin that was only clicked stays in the hand for the keys.
func (h *panelHand) letPanel(moved bool) {
	hand := &h.on.panels.Hand
	switch {
	case !hand.Holds():
	case moved:
		h.letGo()
	case hand.What == edit.Part:
		h.drop()
	default:
		hand.Keys = true
		h.Hint("Arrow keys move it, Delete takes it away, Escape leaves it.")
		h.changed()
	}
}

// letGo puts what is in the hand down where it is, or at the last place where it may be.
func (h *panelHand) letGo() {
	hand := &h.on.panels.Hand
	if v, now := h.bench.Shop.Newest(); v != hand.Shop || !now {
		h.drop()
		return
	}
	if hand.Owed = hand.Waits(); hand.Owed {
		return // until that is known
	}
	c, ok := hand.Put()
	if c.Hits > 0 {
		h.trace.line("what=refused hits=%d", c.Hits)
	}
	if !ok {
		was := hand.Hold
		h.drop()
		if !c.Words.None() && (c.Hits > 0 || was.What != edit.Part || was.Any) {
			h.tell(c.Words)
		}
		return
	}
	hand.Hold, hand.Let, hand.Keys = c.Hold, true, false
	h.on.panels.At = c.Hold.Number
	h.trace.line("what=put name=%q x=%.1f y=%.1f panel=%d", c.Name, hand.Place().X, hand.Place().Y, hand.Number)
	h.bench.Selected.Part = hand.Part
	h.take(c)
	h.pick(hand.Part.Layer)
}

// drop leaves what is in the hand where it was, and reports whether there was anything.
func (h *panelHand) drop() bool {
	hand := &h.on.panels.Hand
	if hand.Free() {
		return false
	}
	*hand = edit.Hand{}
	h.changed()
	return true
}

// sawHeld follows the picture of what is in the hand: it tells what is in the way.
func (h *panelHand) sawHeld(s view.Shown[view.ShopAsk, view.ShopOut]) {
	if hand := &h.on.panels.Hand; hand.Saw(s.Ask.Hold, s.Out.Held) {
		h.tell(hand.Words(s.Out.Held))
		if hand.Owed {
			h.letGo()
		}
	}
}

// Steps of what the arrow keys move, mm.
const (
	keyStep  = 5.0
	fineStep = 0.5
)

// keyPanel takes the keys of the panel sheet.
func (h *panelHand) keyPanel(k fyne.KeyName) {
	s := h.on.panels
	if s.Hand.Holds() && h.keyHand(k) {
		return
	}
	switch k {
	case fyne.KeyReturn, fyne.KeyEnter, fyne.KeySpace:
		h.takeByKey()
	case fyne.KeyPeriod:
		h.takeByKey()
		h.takeNext()
	case desktop.KeyShiftLeft, desktop.KeyShiftRight:
	default:
		h.keyLeaf(s, k)
	}
}

// keyHand moves what is in the hand; false leaves the key to others.
func (h *panelHand) keyHand(k fyne.KeyName) bool {
	step := keyStep
	if h.fine {
		step = fineStep
	}
	switch k {
	case fyne.KeyLeft:
		h.nudge(geom.Vec2{X: -step})
	case fyne.KeyRight:
		h.nudge(geom.Vec2{X: step})
	case fyne.KeyUp:
		h.nudge(geom.Vec2{Y: step})
	case fyne.KeyDown:
		h.nudge(geom.Vec2{Y: -step})
	case fyne.KeyPageUp, fyne.KeyPageDown:
		h.keyLeaf(h.on.panels, k)
	case fyne.KeyReturn, fyne.KeyEnter, fyne.KeySpace:
		h.letGo()
	case fyne.KeyPeriod:
		h.takeNext()
	case fyne.KeyEscape:
		h.drop()
		h.Hint("It is back where it was.")
	default:
		return false
	}
	return true
}

func (h *panelHand) nudge(by geom.Vec2) {
	h.on.panels.Hand.Nudge(by)
	h.changed()
}

// takeByKey takes the picked part into the hand.
func (h *panelHand) takeByKey() {
	s := h.on.panels
	v, now := h.bench.Shop.Newest()
	if !now || s.Hand.What != edit.Nothing {
		return
	}
	id, ok := h.bench.Shop.Picked(v)
	part, laid := edit.Laid(v, id)
	if !ok || !laid {
		return
	}
	s.Hand, s.At = edit.TakeByKey(v, part), part.Number
	h.changed()
}

// takeNext takes the next thing of the same part into the hand.
func (h *panelHand) takeNext() {
	hand := &h.on.panels.Hand
	if !hand.Holds() || hand.Hold != hand.From {
		return
	}
	if next, ok := hand.Next(); ok {
		*hand = edit.TakeByKey(hand.Shop, next)
		h.changed()
	}
}

// turnPart turns the part in hand, or the picked one, about its middle as its grain allows. One that can't lie turned where it
// lies stays in the hand.
func (h *panelHand) turnPart() {
	hand := &h.on.panels.Hand
	if !hand.Holds() {
		h.takeByKey()
	}
	if !hand.Holds() || hand.What != edit.Part {
		return
	}
	settled, words := hand.Turn()
	if settled {
		h.letGo()
		return
	}
	if !words.None() {
		h.tell(words)
	}
	h.changed()
}

// lockPart locks the picked part where it lies, or lets it go.
func (h *panelHand) lockPart() {
	v, now := h.bench.Shop.Newest()
	if !now || h.on.panels.Hand.What != edit.Nothing {
		return
	}
	id, _ := h.bench.Shop.Picked(v)
	if c, ok := edit.Lock(v, id); ok {
		h.take(c)
	} else {
		h.tell(c.Words)
	}
}

// layAnew leaves all parts that are not locked to the program again.
func (h *panelHand) layAnew() {
	v, now := h.bench.Shop.Newest()
	if h.bench.Shop.Off() || h.bench.Shop.Fault() != "" || v == nil {
		h.layAgain()
		return
	}
	if !now {
		return
	}
	p := v.Rearranged()
	if len(p.Parts) == len(v.Places.Parts) {
		h.Hint("So the program lays it out. Lock a part where you want it, and the rest goes round it.")
		return
	}
	h.put("layout anew", p)
}

// remove takes the tab or pin in hand away.
func (h *panelHand) remove() {
	hand := &h.on.panels.Hand
	if v, now := h.bench.Shop.Newest(); !hand.Holds() || hand.What == edit.Part || !now || v != hand.Shop {
		return
	}
	c, ok := hand.Remove()
	if !ok {
		h.tell(c.Words)
		return
	}
	*hand = edit.Hand{}
	h.take(c)
}

// addTo takes the next click on the sheet for where a tab or a pin is wanted.
func (h *panelHand) addTo(what edit.Kind) {
	h.on.panels.Hand = edit.Hand{Adding: what}
	h.Hint(view.AddWords(what))
	h.changed()
}

// clickGlueUp picks the layer under the hand and the step in which it is put on.
func (h *panelHand) clickGlueUp(at fyne.Position) {
	v, _ := h.bench.Shop.Newest()
	if v == nil || !v.Withheld.None() {
		return
	}
	n, ok := h.on.glueUp.LayerAt(at)
	if !ok {
		return
	}
	if number, ok := v.StepOf(n); ok {
		h.leafTo(h.on.glueUp, number)
	}
	h.pick(n)
}

// split divides a part along a joint line across its middle. The line is then moved on the layer sheet.
func (h *panelHand) split(id panel.ID) {
	v, now := h.bench.Shop.Newest()
	if !now {
		return
	}
	s, ok := v.Halved(id)
	if !ok {
		return
	}
	h.pickPart(id)
	h.put("joint line", h.bench.Places().WithSplit(s))
	h.front("Layer")
	h.Hint("The part is split along the joint line: drag the line, or its ends, to where it shall be. V again splits the piece in hand once more, Q takes the last line back.")
}

// unsplit takes the last joint line of the picked layer back.
func (h *panelHand) unsplit() {
	all := h.bench.Places().SplitsOf(h.bench.Layer())
	h.put("joint line taken back", h.bench.Places().WithoutSplit(all[len(all)-1].Part))
}

// splitPicked splits the picked part.
func (h *panelHand) splitPicked() {
	v, _ := h.bench.Shop.Newest()
	id, _ := h.bench.Shop.Picked(v)
	h.split(id)
}

// resize takes another size of panel that holds a part, and rescale another size of the piece.
func (h *panelHand) resize(m workshop.Misfit) {
	h.Do("panel", func(s job.Settings) job.Settings { s.PanelX, s.PanelY = m.Panel.X, m.Panel.Y; return s })
	h.Rest()
}

func (h *panelHand) rescale(m workshop.Misfit) {
	h.Do("scale", func(s job.Settings) job.Settings { s.Scale *= m.Scale; return s })
	h.Rest()
}
