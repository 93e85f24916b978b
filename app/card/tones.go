package card

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"

	"grainstack/app/paper"
	"grainstack/render/tone"
	"grainstack/slicing/job"
	"grainstack/slicing/stock"
)

// Swatch is the colour of a tone on the screen.
func Swatch(t tone.Lab) color.Color {
	b := t.Light().Bytes()
	return color.NRGBA{b[0], b[1], b[2], 255}
}

// ownTones are the rows for tones measured on the maker's own board.
func ownTones(b Bench) []row {
	return []row{
		(&strip{}).on(),
		(&note{Ink: paper.Pencil, Text: func(s State) string {
			if !s.Settings.Tones.Own {
				return ""
			}
			return "Measured on your board, as finished wood: the surface adds its gloss and no darkening. Veneers of another wood keep the catalogue's tones."
		}}).on(),
		(&presses{Each: []press{
			{Name: "Tones from a photo …", Do: func(State) { b.Run("tones") }},
		}}).on(),
		(&presses{Each: []press{{Do: func(State) {
			b.Do("tones of the catalogue", func(s job.Settings) job.Settings { s.Tones = job.Tones{}; return s })
			b.Rest()
		}, Show: func(s State) (string, bool) {
			if !s.Settings.Tones.Own {
				return "", false
			}
			return "The catalogue's tones again", true
		}}}}).on(),
	}
}

// strip shows the measured tones side by side.
type strip struct {
	tones [3]*canvas.Rectangle
	box   *fyne.Container
}

func (s *strip) on() *strip {
	cells := make([]fyne.CanvasObject, 3)
	for i, name := range []string{"light veneer", "dark veneer", "end grain"} {
		s.tones[i] = canvas.NewRectangle(color.Transparent)
		s.tones[i].SetMinSize(fyne.NewSize(40, 22))
		cells[i] = container.NewVBox(s.tones[i], paper.Write(name, paper.Tiny, paper.Pencil).Cut())
	}
	s.box = container.NewGridWithColumns(3, cells...)
	s.box.Hide()
	return s
}

func (s *strip) object() fyne.CanvasObject { return s.box }

func (s *strip) show(now State) {
	t := now.Settings.Tones
	if !t.Own {
		s.box.Hide()
		return
	}
	for i, lab := range []stock.Lab{t.Light, t.Dark, t.End} {
		s.tones[i].FillColor = Swatch(tone.Lab(lab))
		s.tones[i].Refresh()
	}
	s.box.Show()
}
