package app

import (
	"image"
	_ "image/png"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"

	"grainstack/app/paper"
)

// A lesson is one of the steps of a job as Help tells it.
type lesson struct{ picture, title, text string }

// tenSteps are the job in ten steps, each with its picture among the program's own files.
var tenSteps = []lesson{
	{"scan", "1  Bring the piece", "Open a scan or a model (" + controlKey + "+O), or drop its file on the window. It is looked over for holes, loose bits and places where it runs through itself."},
	{"size", "2  Say how large it is", "A file rarely says its unit. Click Size above, type the height on the Piece card, or measure between two points that you know."},
	{"mend", "3  Have it mended", "A scan is made one closed solid; the Mending card says what was done and where. Saw an uneven base off flat, smooth noise, thin needless facets."},
	{"stand", "4  Stand it", "The stack runs upwards: turn the piece under it and watch the stripes. Directions compares hundreds of stands by reach, hours, panels and look."},
	{"board", "5  Choose the board", "Measure your board and type its thickness. What is planed off both faces and the veneers that are left make the layers and the stripes."},
	{"wall", "6  Hollow it", "A wall saves weight, wood and hours. The layer sheet shows each layer with its hollow, its grain and the rim at its joints."},
	{"look", "7  Look at it", "Light, varnish and the tones of your own board from a photo. With chalk (F4) mark what no joint shall cross. Keep settings as trials (" + controlKey + "+K) and set them side by side."},
	{"reach", "8  See what the cutters reach", "What no cutter sees from above or below is ringed, named and measured, with ways out and what they cost. Hours are followed along the cutters' paths."},
	{"panels", "9  Lay the panels out", "Parts, tabs, pins and clamps on your panels: drag what you want elsewhere. The saw plan cuts the panels from whole boards; Runs shows the machine's programs carving them."},
	{"glue", "10  Glue up, and print the book", "The order of gluing with glue, clamps and what is to be lifted. Make files (" + controlKey + "+M) writes everything for the workshop; the work book leads through it."},
}

// showSteps tells the job in ten steps.
func (m *menus) showSteps() {
	list := container.NewVBox()
	for _, one := range tenSteps {
		text := paper.Sentence(paper.Ink)
		text.SetText(one.text)
		words := container.NewBorder(container.New(layout.NewCustomPaddedLayout(4, 0, 5, 0), paper.Write(one.title, paper.Title, paper.Ink).Bold()), nil, nil, nil, text)
		list.Add(container.NewBorder(nil, paper.Back(paper.Line), m.lessonPicture(one.picture), nil, words))
	}
	m.read("The job in ten steps", paper.NewScroll(container.New(layout.NewCustomPaddedLayout(0, 0, 0, 14), list)).Whole, fyne.NewSize(700, 720))
}

// lessonSize is the room of a picture, in the toolkit's units.
var lessonSize = fyne.NewSize(132, 92)

// lessonPicture is a picture of a step; a blank of its size where it can't be read.
func (m *menus) lessonPicture(name string) fyne.CanvasObject {
	img, err := m.readPicture(name)
	if err != nil {
		blank := canvas.NewRectangle(nil)
		blank.SetMinSize(lessonSize)
		return blank
	}
	pic := canvas.NewImageFromImage(img)
	pic.FillMode = canvas.ImageFillContain
	pic.SetMinSize(lessonSize)
	return pic
}

func (m *menus) readPicture(name string) (image.Image, error) {
	f, err := m.o.Assets.Open("steps/" + name + ".png")
	if err != nil {
		return nil, err
	}
	defer f.Close()
	img, _, err := image.Decode(f)
	return img, err
}
