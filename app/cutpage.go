package app

import (
	"fmt"
	"path/filepath"
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/widget"

	"grainstack/app/paper"
	"grainstack/app/state"
	"grainstack/app/work"
	"grainstack/slicing/chalk"
	"grainstack/slicing/phrase"
	"grainstack/slicing/scans"
)

// A cutPage is where the maker chooses what of a scan is used. The scan on it is what its cuts leave.
type cutPage struct {
	j      *joiner
	scan   int // of the plan, from 0
	source scans.Source
	shown  []scans.Cut // of what is on the screen
	asked  int
	side   *scanSide
	said   *widget.Label
	plane  *paper.Button
	box    *paper.Button
	chalk  *paper.Button
	other  *paper.Button
	back   *paper.Button
	use    *paper.Button
	dialog *dialog.CustomDialog
}

// cutScan opens the page for a scan of the piece, by number from 0.
func (j *joiner) cutScan(i int) {
	if !j.joinable() {
		return
	}
	of := j.bench.Model.Piece
	plan := scans.NewPlan(of.Files()...)
	if of.Joined != nil {
		plan = of.Joined.Plan
	}
	if i >= len(plan.Sources) {
		return
	}
	p := &cutPage{j: j, scan: i, source: plan.Sources[i], said: paper.Sentence(paper.Ink)}
	p.side = newScanSide(j.core, p.show)
	p.build()
	j.cutting = p
	j.show(p.dialog)
	p.dialog.SetOnClosed(p.closed)
	p.read()
}

func (p *cutPage) build() {
	p.plane = paper.NewButton("Plane of three", p.cutPlane)
	p.box = paper.NewButton("Box round them", p.cutBox)
	p.chalk = paper.NewButton("What is chalked", func() { p.add(scans.Cut{Chalk: p.side.chalk()}) })
	p.other = paper.NewButton("Keep the other side", func() { p.change(func(c []scans.Cut) []scans.Cut { return append(c[:len(c)-1], c[len(c)-1].Other()) }) })
	p.back = paper.NewButton("Take it back", p.undo)
	p.use = paper.NewButton("Use what is left", p.useLeft)
	p.use.Importance = widget.HighImportance
	leave := paper.NewButton("Back to the bench", func() { p.dialog.Hide() })
	brush := paper.NewCheck("dragging marks with chalk", func(on bool) { p.side.marks = on })
	body := container.NewBorder(nil, container.NewVBox(brush, p.said), nil, nil, p.side.whole)
	p.dialog = p.j.newPage("What of the scan is used", body, fyne.NewSize(1000, 720), leave, p.plane, p.box, p.chalk, p.other, p.back, p.use)
	p.show()
}

// read asks for the scan as it is cut now.
func (p *cutPage) read() {
	p.asked++
	p.j.tasks.faces.Want(p.asked, 0, work.FacesAsk{Scans: []scans.Source{p.source}, Stock: p.j.o.Catalogue})
	p.show()
}

// came shows what the cuts leave; a cut that leaves nothing is taken back.
func (p *cutPage) came(all []*state.Model, err error) {
	if err == nil {
		p.shown = p.source.Cuts
		p.side.put(all[0])
		p.show()
		return
	}
	if p.side.bench.Model == nil {
		p.dialog.Hide()
		p.j.notJoined(err)
		return
	}
	p.source.Cuts = p.shown
	p.show()
	p.said.SetText(p.j.sentence(err))
}

// show says what can be done.
func (p *cutPage) show() {
	n, name := len(p.side.points()), phrase.Name(filepath.Base(p.source.File))
	there := p.side.bench.Model != nil
	p.side.caption.Say(name + map[bool]string{false: " · is being read", true: ""}[there])
	text := "Click places on what shall go. Three make a plane: what lies on it or behind it goes, as a floor. Two and more make a box: what lies in it goes, as a chair. Or mark it with chalk, finer the nearer it is: what is marked goes, on both sides of something thin."
	if n > 0 {
		text = phrase.Count(n, "place") + ". " + text
	}
	if c := len(p.source.Cuts); c > 0 {
		text = fmt.Sprintf("%s made, this is what they leave. ", phrase.Count(c, "cut")) + text
	}
	p.said.SetText(text)
	p.plane.Allow(there && n == 3)
	p.box.Allow(there && n >= 2)
	p.chalk.Allow(there && p.side.chalk().Has(chalk.DontCare))
	p.other.Allow(there && len(p.source.Cuts) > 0)
	p.back.Allow(there && (n+len(p.source.Cuts) > 0 || !p.side.chalk().Empty()))
	p.use.Allow(there)
}

// change makes other cuts of those that are made, and shows what they leave.
func (p *cutPage) change(with func([]scans.Cut) []scans.Cut) {
	p.source.Cuts = with(slices.Clone(p.source.Cuts))
	p.read()
}

func (p *cutPage) add(c scans.Cut) {
	p.change(func(all []scans.Cut) []scans.Cut { return append(all, c) })
}

func (p *cutPage) cutPlane() {
	at := p.side.points()
	c, ok := scans.PlaneCut(p.side.bench.Model.Piece.Mesh, at[0], at[1], at[2])
	if !ok {
		p.said.SetText("These three places lie in a line, nearly: take one back and pick one well beside it.")
		return
	}
	p.add(c)
}

func (p *cutPage) cutBox() { p.add(scans.BoxCut(p.side.bench.Model.Piece.Mesh, p.side.points()...)) }

// undo takes the last place back, or else the chalk, or else the last cut.
func (p *cutPage) undo() {
	if n := len(p.side.points()); n > 0 {
		p.side.set(p.side.points()[:n-1])
		p.show()
		return
	}
	if !p.side.chalk().Empty() {
		p.side.chalked(nil)
		return
	}
	p.change(func(all []scans.Cut) []scans.Cut { return all[:len(all)-1] })
}

// useLeft makes the piece anew with what is left of the scan.
func (p *cutPage) useLeft() {
	j := p.j
	p.dialog.Hide()
	of, name := j.bench.Model.Piece, phrase.Name(filepath.Base(p.source.File))
	switch {
	case len(of.Files()) == 1 && len(p.source.Cuts) == 0:
		if of.Joined != nil {
			j.say("Nothing is cut away", "Undo brings all of "+name+" back, as its file has it.")
		}
	case len(of.Files()) == 1:
		j.carry("cut "+name, scans.CutAlone(p.source.File, p.source.Cuts...), 0)
	default:
		j.carry("cut "+name, of.Joined.Cut(p.scan, p.source.Cuts...), 0)
	}
}

// closed ends the page's pictures.
func (p *cutPage) closed() {
	p.j.tasks.faces.Drop()
	p.side.stop()
	p.j.cutting = nil
	p.j.left(p.dialog)
}
