package app

// turnPart turns the part in hand, or the picked one, about its middle as its grain allows. One that can't lie turned where it
// lies stays in the hand.
func (w *window) turnPart() {
	if !w.hand.holds() {
		w.takeByKey()
	}
	h := &w.hand
	if !h.holds() || h.what != aPart {
		return
	}
	of, ok := h.shop.Part(h.part)
	if !ok {
		return
	}
	box := of.Shadow.Box()
	middle := box.Min.Add(box.Max).Scale(0.5)
	was := h.at.Apply(middle)
	next := h.at
	next.TurnDeg = (next.TurnDeg + 180) % 360
	next.At = next.At.Add(was.Sub(next.Apply(middle)))
	begun := h.hold == h.from
	h.at = next
	if fits, hits := h.shop.Fits(h.number, next); fits && begun && h.keys {
		w.letGo()
		return
	} else if !fits {
		w.hint(hitWords(h.part, hits) + " Move it to a free place; Enter lets it go.")
	}
	w.asked = w.now()
	w.askShop(w.panels)
}

// lockPart locks the picked part where it lies, or lets it go.
func (w *window) lockPart() {
	v, now := w.workshop()
	if !now || w.hand.what != nothing {
		return
	}
	id, _ := w.pickedPart(v)
	number, at, laid := v.Layout.Find(id)
	if !laid {
		return
	}
	at.Locked = !at.Locked
	p, err := v.Put(number, at)
	if err != nil {
		w.hint(sentence(err))
		return
	}
	name := "lock"
	if !at.Locked {
		name = "unlock"
	}
	w.put(name, p)
	w.hint(partWords(id) + map[bool]string{true: " stays here when the rest is laid out anew.", false: " is laid out anew with the rest."}[at.Locked])
}

// layAnew leaves all parts that are not locked to the program again.
func (w *window) layAnew() {
	v, now := w.workshop()
	if w.laying.left || w.laying.fault != "" || v == nil {
		w.laying.left, w.laying.asked = false, shopKey{}
		w.askWorkshop()
		w.askSheet()
		return
	}
	if !now {
		return
	}
	p := v.Rearranged()
	if len(p.Parts) == len(v.Places.Parts) {
		w.hint("So the program lays it out. Lock a part where you want it, and the rest goes round it.")
		return
	}
	w.put("layout anew", p)
}
