package app

import (
	"fmt"
	"strings"

	"fyne.io/fyne/v2"

	"grainstack/app/edit"
	"grainstack/app/pane"
	"grainstack/app/view"
	"grainstack/slicing/geom"
)

// viewDesk is where the window's views hand in.
func (w *window) viewDesk() view.Desk {
	return view.Desk{Post: w.post, Came: w.pay, Changed: w.changed, Failed: w.fail}
}

// makeViews makes the views with what the hand does on them.
func (w *window) makeViews() {
	d, g := w.viewDesk(), w.gestures
	still := func(float32, float32) {}
	w.look = view.NewLook(d, g(pane.Gestures{
		Turned: w.turnLook, Rested: w.restLook, Clicked: w.clickLook, Doubled: w.doubleLook, Brushed: w.brush, Key: w.keyLook, Pointed: w.pointLook,
	}), w.dragTurns)
	w.chalkHand.piece, w.picker.piece = w.look, w.look
	w.look.Panned, w.look.Zoomed = w.dragging(w.look.Pan), w.zooming(w.look.ZoomAt)
	w.sheet = view.NewLayer(d, w.letters, g(pane.Gestures{Pointed: w.pointSheet, Carrying: pane.Carrying{Taken: w.takeLine, Carried: w.carryLine, Let: w.letLine}}))
	w.stick = view.NewStick(d, w.letters, g(pane.Gestures{
		Clicked: w.clickStick, Asked: w.askBlank, Turned: still, Key: w.keyStick,
		Zoomed:  func(_ fyne.Position, n float32) { w.pick(w.bench.Layer() + int(n)) },
		Pointed: w.hinting("Click or arrow keys pick a layer · right click or Return: its board and turn · a red dot: it needs a look"),
	}))
	w.tools = newPanelTools(w.panelHand)
	w.panels = view.NewShop(d, w.letters, view.PanelSheet, "panel sheet", g(pane.Gestures{
		Clicked: w.clickPanel, Key: w.keyPanel, Shifted: func(on bool) { w.fine = on }, Pointed: w.pointPanel, Carrying: pane.Carrying{Taken: w.takePanel, Carried: w.carryPanel, Let: w.letPanel},
	}), func(at int) { w.leafTo(w.panels, at) }, w.tools.whole)
	w.panels.Came = w.sawHeld
	leafing := func(s **view.Shop, hint string) pane.Gestures {
		return g(pane.Gestures{Turned: still, Key: func(k fyne.KeyName) { w.keyLeaf(*s, k) }, Pointed: w.hinting(hint), Zoomed: func(_ fyne.Position, n float32) {
			w.leafTo(*s, (*s).At-wheel(n))
		}})
	}
	glue := leafing(&w.glueUp, "The wider the gap, the later it is closed · click a layer or a number, or arrow keys, for its step")
	glue.Clicked = w.clickGlueUp
	w.glueUp = view.NewShop(d, w.letters, view.GlueSheet, "glue-up sheet", glue, func(at int) { w.leafTo(w.glueUp, at) }, nil)
	saws := leafing(&w.saws, "Cuts in the order of their numbers, each from edge to edge · arrow keys go from board to board")
	w.saws = view.NewShop(d, w.letters, view.SawSheet, "saw plan", saws, func(at int) { w.leafTo(w.saws, at) }, nil)
	w.programs = view.NewPrograms(d, w.letters, g(pane.Gestures{Clicked: w.clickPrograms, Key: w.keyPrograms, Pointed: w.pointPrograms}), w.programActions())
	w.plan = view.NewPlan(d, w.letters, g(pane.Gestures{Key: w.keySnag, Pointed: w.hinting("Where the picked place lies in its layer · arrow keys, F3 and Backspace go from place to place")}))
	w.compass = view.NewCompass(d, w.letters, g(pane.Gestures{Clicked: w.clickCompass, Turned: still, Pointed: w.pointCompass}),
		w.bench.Compass.Measure, w.compareDirections, w.measured)
	w.comparing = view.NewBeside(d, w.letters, &w.look.Camera, g(pane.Gestures{
		Turned: w.dragging(w.turnBeside), Rested: w.restLook, Clicked: w.clickBeside,
		Doubled: func(fyne.Position) { w.run("whole piece") }, Key: w.keyLook,
		Pointed: w.hinting("Drag turns all · shift-drag or right-drag moves · wheel zooms · click chooses · " + controlKey + "+R takes the chosen back · Escape leads back to the bench"),
	}))
	w.comparing.Panned, w.comparing.Zoomed = w.dragging(w.comparing.Pan), w.zooming(w.comparing.ZoomAt)
	w.look.Accepts = func(a view.LookAsk) bool { return w.bench.Model != nil && a.Model.Piece == w.bench.Model.Piece }
	w.look.Came = w.lookCame
	w.comparing.Accepts = func(view.BesideAsk) bool { return w.bench.Screen.Comparing }
	w.traceViews()
}

// wheel is one step the way that a wheel was turned.
func wheel(n float32) int {
	if n < 0 {
		return -1
	}
	return 1
}

// traceViews logs each frame when it is painted.
func (w *window) traceViews() {
	w.look.Painted = func(s view.Shown[view.LookAsk, view.LookOut]) {
		x, y, z := s.Ask.Settings.Turn.Degrees()
		c := s.Ask.Sight.Camera
		w.trace.shown("look", s.Asking, w.bench.Figures, fmt.Sprintf("how=%s wall_asked=%.3f turn=%.1f,%.1f,%.1f azimuth=%.3f zoom=%.3f layer=%d",
			s.How(), s.Ask.Settings.Wall, x, y, z, c.Azimuth, c.Zoom, s.Ask.Sight.Layer))
	}
	w.sheet.Painted = func(s view.Shown[view.LayerAsk, view.LayerOut]) {
		w.trace.shown("sheet", s.Asking, s.Ask.Figures, fmt.Sprintf("layer=%d zoom=%.3f", s.Ask.Layer, s.Ask.Look.Zoom))
	}
	w.stick.Painted = func(s view.ShownStick) {
		w.trace.shown("stick", s.Asking, s.Ask.Figures, fmt.Sprintf("layer=%d", s.Ask.Layer))
	}
	for name, s := range map[string]*view.Shop{"panel": w.panels, "glue": w.glueUp, "saw": w.saws} {
		s.Painted = func(now view.Shown[view.ShopAsk, view.ShopOut]) {
			a := now.Ask
			w.trace.shown(name, now.Asking, a.Figures, fmt.Sprintf("at=%d stale=%v hand=%v clash=%d", a.At, a.Stale, a.Hold.What != edit.Nothing, len(now.Out.Held.Hits)))
			w.traceParts(a)
		}
	}
	w.programs.Painted = func(s view.ShownPrograms) {
		m := s.Out.Moment
		w.trace.shown("programs", s.Asking, nil, fmt.Sprintf("how=%s minute=%.4f program=%d line=%d message=%q", s.How(), s.Ask.Minute, m.Program, m.Line, s.Ask.Message))
	}
	w.compass.Painted = func(s view.ShownCompass) {
		n := 0
		if s.Ask.Found != nil {
			n = len(s.Ask.Found.Bearings)
		}
		w.trace.shown("compass", s.Asking, nil, fmt.Sprintf("bearings=%d busy=%v stale=%v pointed=%v", n, w.comparingDirections(), s.Ask.Stale, s.Ask.Pointed != geom.Vec{}))
		w.traceSpots(s.Ask)
	}
	w.comparing.Painted = func(s view.ShownBeside) {
		names := make([]string, len(s.Ask.All))
		for i, one := range s.Ask.All {
			names[i] = one.Name
		}
		w.trace.shown("beside", s.Asking, nil, "how="+s.How()+" stacks="+strings.ReplaceAll(strings.Join(names, "|"), " ", "_"))
	}
}
