package files

import (
	"fmt"
	"math"

	"grainstack/render/sheet"
	"grainstack/slicing/geom"
	"grainstack/slicing/job"
	"grainstack/slicing/panel"
	"grainstack/slicing/workshop"
)

// PanelView is what the sheet of a panel shows: panel i of the layout, from 0. marked are parts that lie where they may not.
func PanelView(w *workshop.Workshop, i int, picked panel.ID, marked ...panel.ID) sheet.PanelView {
	if !w.Withheld.None() || i < 0 || i >= len(w.Layout.Panels) {
		return sheet.PanelView{Message: w.Withheld.String()}
	}
	p := w.Layout.Panels[i]
	v := sheet.PanelView{
		Number: p.Number, Count: w.Panels(), Size: geom.Vec2{X: w.For.PanelX, Y: w.For.PanelY}, Flip: flip(w.Register.Axis),
		Edge: w.Edge(), UsedPercent: p.UsedPercent,
	}
	if len(w.Boards) > 1 {
		v.Board = panelBoard(w, p)
	}
	for _, c := range w.ClampSpots() {
		if !c.Turned {
			v.Clamps = append(v.Clamps, sheet.PanelClamp{Box2: c.Box2, Number: c.Number})
		}
	}
	for _, d := range w.Register.Dowels {
		v.Dowels = append(v.Dowels, sheet.Peg{At: d.At, Diameter: d.Diameter})
	}
	for _, at := range p.Placed {
		part, ok := w.Part(at.Part)
		if !ok {
			continue
		}
		v.Parts = append(v.Parts, PartView(w, part, at))
		if at.Part == picked {
			v.Picked = len(v.Parts)
		}
		for _, m := range marked {
			v.Parts[len(v.Parts)-1].Clash = v.Parts[len(v.Parts)-1].Clash || m == at.Part
		}
	}
	return v
}

// panelBoard is what a panel is sawn from, and what is planed off it.
func panelBoard(w *workshop.Workshop, p panel.Panel) string {
	text := boardName(w, w.BoardOf(p))
	for _, at := range p.Placed {
		if i := at.Part.Layer - 1; i >= 0 && i < len(w.Figures.Layers) {
			return fmt.Sprintf("%s, %.4g mm off each face", text, w.Figures.Layers[i].Skim)
		}
	}
	return text
}

// boardName is the name of a board that is sawn.
func boardName(w *workshop.Workshop, key string) string {
	for _, k := range w.Boards {
		if k.Board.Key == key {
			return k.Board.Name
		}
	}
	return key
}

func flip(a panel.Axis) sheet.Flip {
	if a == panel.AlongY {
		return sheet.AboutY
	}
	return sheet.AboutX
}

// PartView is what the sheet shows of a part that lies so on its panel.
func PartView(w *workshop.Workshop, p *workshop.Part, at panel.Placed) sheet.PanelPart {
	v := sheet.PanelPart{Name: partName(w, p.ID), Outline: w.Bench.Outline(at), Boundary: w.Boundary(p).Map(at.Apply), Locked: at.Locked}
	for _, t := range p.Tabs {
		v.Tabs = append(v.Tabs, sheet.PanelTab{At: at.Apply(t.At), Out: turned(at, t.Out), Width: t.Width, Length: w.Margin, Root: t.Root})
	}
	for _, h := range w.PinHoles(p) {
		v.Pins = append(v.Pins, sheet.Peg{At: at.Apply(h.At), Diameter: h.Diameter, Lower: h.Lower})
	}
	for _, j := range w.Joints {
		if core := j.LowerCore; j.Contact.Below == p.Layer && len(core) > 0 {
			v.Core = ownShare(core, p).Map(at.Apply)
		}
		if core := j.UpperCore; j.Above == p.Layer && len(v.Core) == 0 {
			v.Core = ownShare(core, p).Map(at.Apply)
		}
	}
	return v
}

// SawViews are the boards as they are sawn, kind by kind.
func SawViews(w *workshop.Workshop) []sheet.SawView {
	var out []sheet.SawView
	for _, kind := range w.Boards {
		numbers := kind.Panels
		for _, s := range kind.Saw.Boards {
			v := sheet.SawView{Number: len(out) + 1, Count: w.Boards.Count(), Name: kind.Board.Name, Size: geom.Vec2{X: kind.Sheet.X, Y: kind.Sheet.Y}, Panels: s.Panels, Offcuts: s.Offcuts}
			for _, cut := range s.Cuts {
				v.Cuts = append(v.Cuts, [2]geom.Vec2{cut.From, cut.To})
			}
			v.Numbers, numbers = numbers[:len(s.Panels)], numbers[len(s.Panels):]
			out = append(out, v)
		}
	}
	return out
}

// GlueUpView is what the glue-up sheet shows.
func GlueUpView(w *workshop.Workshop, st *job.Standing) sheet.GlueUpView {
	if !w.Withheld.None() {
		return sheet.GlueUpView{Message: w.Withheld.String()}
	}
	v := sheet.GlueUpView{Outline: front(st)}
	for _, l := range w.Figures.Layers {
		v.Layers = append(v.Layers, sheet.GlueLayer{Number: l.Number, Bottom: l.Bottom, Top: l.Top, Turned: l.Turned})
	}
	looks := make(map[int]bool)
	for _, f := range w.GlueUp.Findings {
		for _, layer := range f.Layers() {
			looks[layer] = true
		}
	}
	for _, s := range w.GlueUp.Stages {
		for _, p := range s.Pressings {
			v.Pressings = append(v.Pressings, sheet.GluePressing{
				Number: p.Number, Stage: s.Number, From: p.Lower.First, Upper: p.Upper.First, To: p.Upper.Last,
				GlueG: p.Joint.WetG, ForceN: p.Joint.ForceN, Clamps: p.Joint.Clamps, MassG: p.Result.MassG, Marked: looks[p.Joint.Above],
			})
		}
	}
	return v
}

// frontRows is how many heights a front view is drawn at.
const frontRows = 240

// front is how wide the piece is from the front, by height.
func front(st *job.Standing) []sheet.Span {
	out := make([]sheet.Span, frontRows+1)
	step := st.Height() / frontRows
	for i := range out {
		out[i] = sheet.Span{Z: float64(i) * step, Min: math.Inf(1), Max: math.Inf(-1)}
	}
	for _, r := range st.Silhouette() {
		for i, a := range r {
			b := r[(i+1)%len(r)]
			if a.Y > b.Y {
				a, b = b, a
			}
			for k := max(0, int(a.Y/step)); k <= min(frontRows, int(b.Y/step)+1); k++ {
				t := 0.0
				if b.Y > a.Y {
					t = math.Max(0, math.Min(1, (out[k].Z-a.Y)/(b.Y-a.Y)))
				}
				x := a.X + (b.X-a.X)*t
				out[k].Min, out[k].Max = math.Min(out[k].Min, x), math.Max(out[k].Max, x)
			}
		}
	}
	var kept []sheet.Span
	for _, s := range out {
		if s.Min <= s.Max {
			kept = append(kept, s)
		}
	}
	return kept
}
