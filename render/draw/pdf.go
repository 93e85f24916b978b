package draw

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"io"
	"io/fs"
	"strconv"
	"time"

	"github.com/go-pdf/fpdf"

	"grainstack/slicing/geom"
)

// A PDF is a document of pages that drawings and pictures are put on, in millimetres from a page's top left corner. Its
// letters are embedded, as far as they are used. The same calls give the same bytes. It keeps its first error until Write.
type PDF struct {
	to       *fpdf.Fpdf
	letters  *Letters
	at       geom.Vec2 // of the drawing that is being played
	perUnit  float64   // mm
	dash     string    // as set on this page
	alpha    uint8
	pictures int
}

// pdfFont is the family's name inside the document.
const pdfFont = "Lato"

// NewPDF is a document without pages that letters with l; fsys has the same fonts as LoadLetters reads.
func NewPDF(l *Letters, fsys fs.FS, title string) (*PDF, error) {
	to := fpdf.NewCustom(&fpdf.InitType{UnitStr: "mm"})
	for i, name := range []string{"fonts/Lato-Regular.ttf", "fonts/Lato-Bold.ttf"} {
		b, err := fs.ReadFile(fsys, name)
		if err != nil {
			return nil, fmt.Errorf("draw: pdf: %w", err)
		}
		to.AddUTF8FontFromBytes(pdfFont, [...]string{"", "B"}[i], b)
	}
	to.SetCatalogSort(true)
	to.SetCreationDate(time.Unix(0, 0).UTC())
	to.SetModificationDate(time.Unix(0, 0).UTC())
	to.SetProducer("Grainstack", true)
	to.SetTitle(title, true)
	to.SetAutoPageBreak(false, 0)
	to.SetMargins(0, 0, 0)
	to.SetLineJoinStyle("round")
	if err := to.Error(); err != nil {
		return nil, fmt.Errorf("draw: pdf: %w", err)
	}
	return &PDF{to: to, letters: l, perUnit: 1, alpha: 255}, nil
}

// Page begins a page of w × h mm.
func (p *PDF) Page(w, h float64) {
	p.to.AddPageFormat("P", fpdf.SizeType{Wd: w, Ht: h})
	p.dash = ""
}

// Mark puts the page that is being drawn into the document's table of contents; level 0 is the outermost.
func (p *PDF) Mark(words string, level int) { p.to.Bookmark(words, level, 0) }

// Place puts a drawing on the page: its top left corner at, each drawing unit mm wide. Its paper is not drawn.
func (p *PDF) Place(d *Drawing, at geom.Vec2, mm float64) {
	p.at, p.perUnit = at, mm
	d.Play(p)
}

// jpegQuality keeps wood grain clean at a tenth of a PNG's size.
const jpegQuality = 88

// Picture puts a picture on the page, filling box; transparent places come out as they are on black.
func (p *PDF) Picture(img image.Image, box geom.Box2) {
	var buf bytes.Buffer
	if err := jpeg.Encode(&buf, img, &jpeg.Options{Quality: jpegQuality}); err != nil {
		p.to.SetError(err)
		return
	}
	p.pictures++
	name := "picture " + strconv.Itoa(p.pictures)
	options := fpdf.ImageOptions{ImageType: "JPEG"}
	p.to.RegisterImageOptionsReader(name, options, &buf)
	size := box.Size()
	p.to.ImageOptions(name, box.Min.X, box.Min.Y, size.X, size.Y, false, options, 0, "")
}

// Write writes the document; no page can be added afterwards.
func (p *PDF) Write(w io.Writer) error {
	if err := p.to.Output(w); err != nil {
		return fmt.Errorf("draw: pdf: %w", err)
	}
	return nil
}

func (p *PDF) place(v geom.Vec2) geom.Vec2 { return p.at.Add(v.Scale(p.perUnit)) }

// straight is a colour without its alpha multiplied in, as documents want it.
func straight(c color.RGBA) color.NRGBA { return color.NRGBAModel.Convert(c).(color.NRGBA) }

func (p *PDF) opacity(c color.NRGBA) {
	if c.A != p.alpha {
		p.alpha = c.A
		p.to.SetAlpha(float64(c.A)/255, "Normal")
	}
}

// Fill is part of Backend.
func (p *PDF) Fill(r geom.Region, c color.RGBA) {
	n := straight(c)
	p.opacity(n)
	p.to.SetFillColor(int(n.R), int(n.G), int(n.B))
	for _, ring := range r {
		p.path(ring, true)
	}
	p.to.DrawPath("f")
}

// Lines is part of Backend.
func (p *PDF) Lines(pen Pen, lines []Line) {
	p.take(pen)
	for _, l := range lines {
		p.path(l.Points, l.Closed)
	}
	p.to.DrawPath("D")
}

// Segments is part of Backend.
func (p *PDF) Segments(pen Pen, segs []Segment) {
	p.take(pen)
	for i := range segs {
		p.path(segs[i][:], false)
	}
	p.to.DrawPath("D")
}

func (p *PDF) path(points []geom.Vec2, closed bool) {
	for i, v := range points {
		v = p.place(v)
		if i == 0 {
			p.to.MoveTo(v.X, v.Y)
		} else {
			p.to.LineTo(v.X, v.Y)
		}
	}
	if closed {
		p.to.ClosePath()
	}
}

// take sets colour, width and dashes.
func (p *PDF) take(pen Pen) {
	c := straight(pen.Color)
	p.opacity(c)
	p.to.SetDrawColor(int(c.R), int(c.G), int(c.B))
	p.to.SetLineWidth(pen.Width * p.perUnit)
	dash := make([]float64, len(pen.Dash))
	for i, v := range pen.Dash {
		dash[i] = v * p.perUnit
	}
	if key := fmt.Sprint(dash); key != p.dash {
		p.dash = key
		end := "butt"
		if pen.dotted() {
			end = "round"
		}
		p.to.SetLineCapStyle(end)
		p.to.SetDashPattern(dash, 0)
	}
}

// Text is part of Backend.
func (p *PDF) Text(t Text) {
	c := straight(t.Color)
	p.opacity(c)
	p.to.SetTextColor(int(c.R), int(c.G), int(c.B))
	p.to.SetFont(pdfFont, [...]string{"", "B"}[weight(t.Bold)], 0)
	p.to.SetFontUnitSize(t.Size * p.perUnit)
	at := p.place(t.At)
	before := p.letters.Width(t.Words, t.Size, t.Bold) * p.perUnit * [...]float64{0, 0.5, 1}[t.Align]
	if !t.Up {
		p.to.Text(at.X-before, at.Y, t.Words)
		return
	}
	p.to.TransformBegin()
	p.to.TransformRotate(90, at.X, at.Y)
	p.to.Text(at.X-before, at.Y, t.Words)
	p.to.TransformEnd()
}
