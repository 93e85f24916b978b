package app

import (
	"grainstack/app/view"
	"grainstack/app/work"
	"grainstack/render/still"
)

// stillDialog asks where to write a still or a turntable.
func (m *making) stillDialog(turns bool) {
	ending, title := ".png", "Still: where to? A PNG of 3840 by 2160"
	if turns {
		ending, title = ".gif", "Turntable: where to? A GIF of 720 by 720"
	}
	m.chooseWhere(title, m.bench.Model.Piece.Name+ending, func(path string) {
		m.askStill(path, turns)
	}, func() {})
}

// askStill begins a still or a turntable of the finished piece as it is seen now.
func (m *making) askStill(path string, turns bool) {
	size := still.UsualSize()
	if turns {
		size, _, _ = still.UsualTurn()
	}
	m.drawStill(view.StillAsk{LookAsk: view.SightOf(m.bench, m.on.look.Camera, size).Plain(size), Path: path, Turns: turns})
}

func (m *making) drawStill(a view.StillAsk) {
	m.tasks.still.Drop()
	m.tasks.still.Want(a.Path, 0, a)
	m.changed()
}

// stillTaken says so, or why not.
func (m *making) stillTaken(a view.StillAsk, _ work.Nothing, err error) {
	if err != nil {
		m.tellSaved(err)
		return
	}
	m.Hint("Saved: " + a.Path)
}
