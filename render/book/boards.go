package book

import (
	"grainstack/render/draw"
	"grainstack/render/sheet"
)

// boards is what to buy, where the panels have their zeros and how they are sawn.
func (m *maker) boards() {
	if len(m.book.Boards) == 0 && len(m.book.Buy) == 0 {
		return
	}
	m.begin("Boards, datum and saw plan")
	if len(m.book.Buy) > 0 {
		rows := make([][]string, len(m.book.Buy))
		for i, e := range m.book.Buy {
			rows[i] = []string{tick, e.What, e.Amount, e.Price, e.Remark}
		}
		m.table([]column{{"", 1, draw.Left}, {"to buy", 7, draw.Left}, {"how much", 6, draw.Left}, {"price", 2.5, draw.Right}, {"", 7, draw.Left}}, rows)
	}
	if len(m.book.Datum) > 0 {
		m.head("Datum and stock", 60)
		m.y += 4
		for _, e := range m.book.Datum {
			m.lead(e.Name, e.Value)
		}
	}
	m.programs()
	if len(m.book.Boards) == 0 {
		return
	}
	m.head("Saw plan", 240)
	m.bullets([]string{
		"Cuts in the order of their numbers, each right through the piece that lies on the saw. Write its number, side A, its lower edge and the way of the grain on every panel before it leaves its neighbour.",
		"A whole board is heavy: lift and feed it with help. Guard and riving knife on, hands and sleeves away from the blade, extraction, mask, ear and eye protection. The saw maker's instructions and the rules where you work come first.",
	}, false)
	m.y += 6
	for _, b := range m.book.Boards {
		high := 46.0 + m.wide()
		if b.Size.X > 0 {
			high = min(46+m.wide()*b.Size.Y/b.Size.X, m.bottom()-topMargin)
		}
		m.room(high)
		m.put(box(sideMargin-6, m.y, m.w-sideMargin+6, m.y+high), func(w, h float64) *draw.Drawing {
			return sheet.Saw(b, m.style(), w, h)
		})
		m.y += high + 10
	}
}

// programs are what to know of the programs for the machine, and a drawing of their zeros.
func (m *maker) programs() {
	if len(m.book.Programs) == 0 {
		return
	}
	m.head("Programs for the machine", 60)
	m.y += 4
	for _, e := range m.book.Programs {
		m.lead(e.Name, e.Value)
	}
	if m.book.Zero == nil {
		return
	}
	const high = 190
	m.room(high)
	m.put(box(sideMargin, m.y, m.w-sideMargin, m.y+high), func(w, h float64) *draw.Drawing {
		return sheet.Zero(*m.book.Zero, m.style(), w, h)
	})
	m.y += high + 10
}
