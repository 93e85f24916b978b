package book

import (
	"fmt"
	"image"
	"image/color"
	"math"
	"os"
	"testing"

	"grainstack/render/draw"
	"grainstack/render/sheet"
	"grainstack/slicing/geom"
	"grainstack/slicing/glue"
	"grainstack/slicing/panel"
	"grainstack/slicing/stock"
	"grainstack/slicing/unit"
)

const assets = "../../assets"

func letters(t testing.TB) *draw.Letters {
	t.Helper()
	l, err := draw.LoadLetters(os.DirFS(assets))
	if err != nil {
		t.Fatal(err)
	}
	return l
}

// blob is a closed line about c whose radius swells and shrinks, n points, counter-clockwise.
func blob(c geom.Vec2, rx, ry, swell float64, n int) geom.Ring {
	r := make(geom.Ring, n)
	for i := range r {
		a := 2 * math.Pi * float64(i) / float64(n)
		f := 1 + swell*(math.Cos(2*a+0.4)+0.5*math.Sin(3*a))
		r[i] = geom.Vec2{X: c.X + rx*f*math.Cos(a), Y: c.Y + ry*f*math.Sin(a)}
	}
	return r
}

// look is a made-up picture: a striped ball in soft light.
func look(w, h int) image.Image {
	img := image.NewRGBA(image.Rect(0, 0, w, h))
	r := 0.4 * float64(h)
	for y := range h {
		for x := range w {
			u, v := (float64(x)-float64(w)/2)/r, (float64(y)-float64(h)/2)/r
			c := color.RGBA{246, 241, 231, 255}
			if d := u*u + v*v; d < 1 {
				light := 0.55 + 0.45*math.Max(0, (math.Sqrt(1-d)-u*0.4-v*0.6)/1.3)
				if int(math.Floor((v+1)*40))%2 == 0 {
					light *= 0.82
				}
				c = color.RGBA{uint8(229 * light), uint8(190 * light), uint8(150 * light), 255}
			}
			img.SetRGBA(x, y, c)
		}
	}
	return img
}

// bowl is the outline of the made-up piece at a layer, and its hollow.
func bowl(i, n int) (outline, core geom.Region) {
	f := 0.55 + 0.45*math.Sin(math.Pi*(float64(i)+0.8)/(float64(n)+1))
	outline = geom.Region{blob(geom.Vec2{}, 165*f, 120*f, 0.08, 240)}
	if i > 0 && i < n-1 {
		core = geom.Region{blob(geom.Vec2{}, 165*f-34, 120*f-34, 0.06, 160)}
	}
	return outline, core
}

// sample is the book of a made-up piece of n layers.
func sample(t testing.TB, n int, paper Paper, units unit.System) Book {
	b := Book{
		Title: "Listening hare, half size", Subtitle: "hare-scan.ply · 330 × 240 × 236 mm · birch plywood 18 mm, 13 veneers", Date: "3 May",
		Paper: paper, Units: units, Look: look(900, 700),
		Ticket: []Entry{
			{"Weight", unit.Mass(6420, units), "saves " + unit.Mass(3100, units)}, {"Layers", fmt.Sprint(n), "16 mm each, the last 12 mm"}, {"Panels", "8", "600 × 600 mm"}, {"Boards", "1", "1220 × 2440 mm"},
			{"Router", "31.5 h", "and 4.2 h by hand, ± 20 %"}, {"Glue", unit.Mass(310, units), "white wood glue (PVA, D2)"}, {"Varnish", "105 ml", "3 coats"}, {"Tips at", "24.5°", "towards the left"},
		},
		Findings: []string{
			"Layer 7: 14 cm³ under the chin can't be reached. Tilt 8 degrees forward, or split the layer.",
			"Pressing 14, layers 8 and 9: the stack is 236 mm tall and the clamps open to 200 mm. Take longer clamps, threaded rod through the hollow, or weights.",
		},
		Aside:  []string{"Undercut at the front left, 25 mm up, in layer 2: 0.85 cm³ of wood can't be reached from either side and stays. With the bent gouge."},
		Buy:    []Purchase{{"Birch plywood 18 mm", "1 board of 1220 × 2440 mm", "96.00", "18 mm thick, planed to 16 mm"}, {What: "White wood glue (PVA, D2)", Amount: "310 g"}, {What: "Clear varnish, satin", Amount: "105 ml"}, {What: "Dowels 8 mm", Amount: "56", Remark: "24 mm long"}},
		Finish: Finish{Area: 381200, Allowance: 0.38, Grits: []int{120, 150, 180}, Name: "clear varnish, satin", Coats: 3, Litres: 0.035, RecoatH: 12},
	}
	sampleLayers(&b, n)
	samplePanels(t, &b, n)
	sampleGlue(&b, n)
	return b
}

func sampleLayers(b *Book, n int) {
	for i := range n {
		outline, core := bowl(i, n)
		v := sheet.LayerView{
			Number: i + 1, Count: n, Bottom: 16 * float64(i), Top: 16 * float64(i+1), Turned: i%2 == 1, Widest: outline, Core: core,
			Pins: []sheet.Peg{{At: geom.Vec2{X: -outline[0].Box().Size().X/2 + 17, Y: 4}}, {At: geom.Vec2{X: outline[0].Box().Size().X/2 - 21, Y: 12}, Lower: true}},
		}
		b.Layers = append(b.Layers, Layer{v, []string{"1 part · " + unit.Mass(430, b.Units) + " · joint below " + unit.Area(21000, b.Units), "rim " + unit.Length(14, b.Units) + " at the narrowest · panel 3"}})
	}
}

func samplePanels(t testing.TB, b *Book, n int) {
	register, err := panel.Registration(600, 600, panel.AlongX, panel.OnCentreLine, 10, 12, 20)
	if err != nil {
		t.Fatal(err)
	}
	count := (n + 1) / 2
	plan, err := panel.Saw(count, 600, 600, panel.Sheet{X: 2440, Y: 1220, Kerf: 3})
	if err != nil {
		t.Fatal(err)
	}
	first := 1
	for _, s := range plan.Boards {
		v := sheet.SawView{Number: s.Number, Count: len(plan.Boards), Name: "birch plywood 18 mm", Size: geom.Vec2{X: 2440, Y: 1220}, Panels: s.Panels, Offcuts: s.Offcuts, First: first}
		for _, c := range s.Cuts {
			v.Cuts = append(v.Cuts, [2]geom.Vec2{c.From, c.To})
		}
		first += len(s.Panels)
		b.Boards = append(b.Boards, v)
	}
	for i := range count {
		v := sheet.PanelView{Number: i + 1, Count: count, Size: geom.Vec2{X: 600, Y: 600}, Edge: 12, UsedPercent: 34.2}
		for _, d := range register.Dowels {
			v.Dowels = append(v.Dowels, sheet.Peg{At: d.At, Diameter: d.Diameter})
		}
		for k := range 2 {
			if layer := 2*i + k; layer < n {
				v.Parts = append(v.Parts, samplePart(layer, n, geom.Vec2{X: 290, Y: 155 + 290*float64(k)}))
			}
		}
		rough, fine := "flat 8 mm, 2 flutes · 18 000 rpm · 2500 mm/min · stepdown 4 mm · stepover 3.2 mm · leaves 0.8 mm", "ball 6 mm, 2 flutes · 18 000 rpm · 3000 mm/min · stepover 0.5 mm"
		b.Panels = append(b.Panels, Panel{v, []Step{
			{false, "Clamp the panel, side A up", "on the spoilboard, clear of the carve boundaries", 6},
			{false, "Drill the register dowels", "10 mm drill, through the panel and 12 mm into the spoilboard", 3},
			{false, "Skim side A", "1 mm off the face, so that it is flat", 0},
			{false, "Rough pass, side A", rough, 52},
			{true, "Turn the panel over to side B", "on the same two dowels", 4},
			{true, "Skim side B", "1 mm off the face", 0},
			{true, "Rough pass, side B", rough, 49},
			{true, "Change the cutter", "to ball 6 mm, 2 flutes", 5},
			{true, "Finish pass, side B", fine, 71},
			{true, "Drill the pins of side B", "4 holes of 8 mm, 12 mm deep", 0},
			{false, "Turn the panel back to side A", "on the same two dowels", 4},
			{false, "Finish pass, side A", fine, 74},
			{false, "Drill the pins of side A", "4 holes of 8 mm, 12 mm deep", 0},
			{false, "Mark the parts", "number, upper face, front", 0},
			{false, "Free the parts", "saw through the tabs", 0},
		}})
	}
}

func samplePart(layer, n int, at geom.Vec2) sheet.PanelPart {
	outline, core := bowl(layer, n)
	move := func(g geom.Region, f float64) geom.Region {
		out := make(geom.Region, len(g))
		for i, r := range g {
			for _, p := range r {
				out[i] = append(out[i], p.Scale(1+f/p.Len()).Add(at))
			}
		}
		return out
	}
	p := sheet.PanelPart{Name: fmt.Sprint(layer + 1), Outline: move(outline, 0), Core: move(core, 0), Boundary: move(outline, 12)}
	for k := range 5 {
		root := p.Outline[0][k*48+10]
		out := root.Sub(at)
		p.Tabs = append(p.Tabs, sheet.PanelTab{At: root, Out: out.Scale(1 / out.Len()), Width: 9, Length: 13})
	}
	wide := outline.Box().Size().X / 2
	p.Pins = []sheet.Peg{{At: at.Add(geom.Vec2{X: 17 - wide, Y: 4}), Diameter: 8}, {At: at.Add(geom.Vec2{X: wide - 21, Y: 12}), Diameter: 8}}
	return p
}

func sampleGlue(b *Book, n int) {
	v := sheet.GlueUpView{}
	var layers []glue.Layer
	var contacts []glue.Contact
	for i := range n {
		z := 16 * float64(i)
		v.Layers = append(v.Layers, sheet.GlueLayer{Number: i + 1, Bottom: z, Top: z + 16, Turned: i%2 == 1})
		layers = append(layers, glue.Layer{Number: i + 1, Bottom: z, Top: z + 16, MassG: 430, Size: geom.Vec2{X: 330, Y: 240}, Parts: 1})
		if i > 0 {
			contacts = append(contacts, glue.Contact{Below: i, Above: i + 1, Area: 21000, Density: 685})
		}
	}
	for k := range 60 {
		z := 16 * float64(n) * float64(k) / 59
		r := 165 * (0.55 + 0.45*math.Sin(math.Pi*(z/16+0.3)/(float64(n)+1)))
		v.Outline = append(v.Outline, sheet.Span{Z: z, Min: -r, Max: r})
	}
	pva := stock.Glue{SpreadGM2: 110, Faces: 2, Solids: 0.5, OpenMin: 8, ClampMin: 45, SoftMPa: 0.85, HardMPa: 1.4}
	clamp := glue.Clamp{ForceN: 4000, Opening: 200}
	plan := glue.Order(layers, glue.Join(contacts, pva, clamp), glue.Rules{Glue: pva, Clamp: clamp})
	for _, s := range plan.Stages {
		stage := Stage{Number: s.Number, Minutes: s.Minutes}
		for _, p := range s.Pressings {
			v.Pressings = append(v.Pressings, sheet.GluePressing{
				Number: p.Number, Stage: s.Number, From: p.Lower.First, Upper: p.Upper.First, To: p.Upper.Last,
				GlueG: p.Joint.WetG, ForceN: p.Joint.ForceN, Clamps: p.Joint.Clamps, MassG: p.Result.MassG,
			})
			stage.Pressings = append(stage.Pressings, Pressing{
				Number: p.Number, Lower: [2]int{p.Lower.First, p.Lower.Last}, Upper: [2]int{p.Upper.First, p.Upper.Last}, Area: p.Joint.Area, GlueG: p.Joint.WetG,
				ForceN: p.Joint.ForceN, Clamps: p.Joint.Clamps, CloseMin: p.CloseMin, LiftG: p.Upper.MassG, People: p.People, MakesG: p.Result.MassG,
			})
		}
		b.Glue.Stages = append(b.Glue.Stages, stage)
	}
	b.Glue.View = v
	b.Datum = []Entry{{Name: "Board", Value: "Birch plywood, 18 mm thick, 1 mm off each face: planed 16 mm."}, {Name: "X and Y zero", Value: "The lower left corner of the panel."}}
	b.Glue.Notes = []string{"White wood glue (PVA, D2), 110 g/m² on both faces: close every joint within 8 min, leave it in the clamps for 45 min.", "Dry-fit every joint with its dowels before the glue comes out. Wipe squeeze-out from the hollow before the next stage closes it."}
}
