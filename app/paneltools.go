package app

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/widget"
)

// panelTools are the buttons under the panel sheet.
type panelTools struct {
	buttons map[string]*widget.Button // by command
	misfits *misfits
	whole   *fyne.Container
}

// toolRows are the commands under the panel sheet, as they are written there.
var toolRows = [][2]string{{"turn part", "Turn"}, {"lock part", "Lock"}, {"lay anew", "Lay anew"}, {"add tab", "Add tab"}, {"add pin", "Add pin"}, {"remove", "Take away"}}

func newPanelTools(w *window) *panelTools {
	t := &panelTools{buttons: map[string]*widget.Button{}, misfits: newMisfits()}
	grid := container.NewGridWithColumns(3)
	for _, one := range toolRows {
		b := widget.NewButton(one[1], func() { w.run(one[0]) })
		b.Importance = widget.LowImportance
		t.buttons[one[0]] = b
		grid.Add(b)
	}
	t.whole = container.New(layout.NewCustomPaddedVBoxLayout(0), t.misfits.whole, grid)
	return t
}

// show greys what can't be done now.
func (t *panelTools) show(w *window) {
	for _, c := range w.panelCommands() {
		b := t.buttons[c.name]
		if b == nil {
			continue
		}
		if on := c.enabled(); on == b.Disabled() {
			if on {
				b.Enable()
			} else {
				b.Disable()
			}
		}
	}
	name := "Lock"
	v, now := w.workshop()
	t.misfits.show(w, v, now)
	if v != nil {
		if id, ok := w.pickedPart(v); ok {
			if _, at, _ := v.Layout.Find(id); at.Locked {
				name = "Unlock"
			}
		}
	}
	if b := t.buttons["lock part"]; b.Text != name {
		b.SetText(name)
	}
}

// panelCommands are those of the panel sheet, while it is in front.
func (w *window) panelCommands() []command {
	laid := func() bool {
		v, now := w.workshop()
		return w.panels != nil && w.folder.shows(w.panels.Picture) && now && v.Withheld == "" && len(v.Layout.Panels) > 0
	}
	lies := func() bool {
		if !laid() {
			return false
		}
		v, _ := w.workshop()
		id, ok := w.pickedPart(v)
		_, _, on := v.Layout.Find(id)
		return ok && on
	}
	return []command{
		{name: "turn part", menu: "Change", words: "Turn the part on its panel", key: fyne.KeyR, enabled: lies, do: w.turnPart},
		{name: "lock part", menu: "Change", words: "Lock the part on its panel, or unlock it", key: fyne.KeyK, enabled: lies, do: w.lockPart},
		{name: "lay anew", menu: "Change", words: "Lay the parts out anew", key: fyne.KeyA, enabled: func() bool {
			return w.panels != nil && w.folder.shows(w.panels.Picture) && (laid() || w.laying.left || w.laying.fault != "")
		}, do: w.layAnew},
		{name: "add tab", menu: "Change", words: "Another tab", key: fyne.KeyJ, enabled: laid, do: func() { w.addTo(aTab) }},
		{name: "add pin", menu: "Change", words: "Another pin", key: fyne.KeyH, enabled: laid, do: func() { w.addTo(aPin) }},
		{name: "remove", menu: "Change", words: "Take away the tab or pin in hand", key: fyne.KeyDelete, enabled: func() bool {
			return laid() && w.hand.holds() && w.hand.what != aPart
		}, do: w.remove},
	}
}
