package card

import (
	"fmt"
	"strings"

	"grainstack/app/paper"
	"grainstack/slicing/job"
)

// clampRows are where clamps hold the panel on the machine.
func clampRows(b Bench) []row {
	clamps := job.SettingOf("panel-clamps")
	return []row{
		heading("Clamps on the panel"),
		(&line{Name: clamps.Label(), Call: clamps.Name, Moves: clamps.Moves,
			Text: func(s State) string { return s.Settings.Shop.PanelClamps.Text(s.View.Units) },
			Read: func(s State, text string) (job.Settings, error) {
				c, err := job.ParsePanelClamps(text, s.View.Units.Unit())
				if err != nil {
					return s.Settings, err
				}
				s.Settings.Shop.PanelClamps = c
				return s.Settings, nil
			}}).on(b),
		(&note{Ink: paper.Pencil, Text: clampWords}).on(),
	}
}

// clampWords say how clamps are written while there are none, and which of them hold nothing.
func clampWords(s State) string {
	list := s.Settings.Shop.PanelClamps.List()
	if len(list) == 0 {
		return "Name them by the edge and the place along it, from the left or from the front, and by their width and depth where they are not the usual: left:300, back:120:60x40."
	}
	var beside []string
	for i, c := range list {
		if c.On(s.Settings.PanelX, s.Settings.PanelY).Empty() {
			beside = append(beside, fmt.Sprint(i+1))
		}
	}
	switch len(beside) {
	case 0:
		return ""
	case 1:
		return fmt.Sprintf("Clamp %s lies beside the panel and holds nothing.", beside[0])
	}
	return fmt.Sprintf("Clamps %s lie beside the panel and hold nothing.", strings.Join(beside, ", "))
}
