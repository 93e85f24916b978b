package fieldtest

import (
	"errors"
	"fmt"
	"io/fs"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
)

// A made is a folder that the program wrote, with what it was told to make.
type made struct {
	dir    string
	report *report
	tab    tabSize
	alongY bool // panels are turned over about the line across them
	parts  table
	frames map[string][]place // the panels' edges, by number
}

// notFinite are figures that no list and no drawing may hold.
var notFinite = regexp.MustCompile(`(?i)\b[+-]?(nan|inf|infinity)\b`)

// check measures everything in the folder.
func (m *made) check(f *faults) {
	m.checkWords(f)
	m.checkLayers(f)
	var err error
	if m.parts, err = readCSV(filepath.Join(m.dir, "lists", "parts.csv")); err != nil {
		f.add("files", "%v", err)
		return
	}
	m.checkLists(f)
	m.frames = map[string][]place{}
	for _, p := range m.report.Panels {
		m.checkPanel(p.Number, f)
	}
	m.checkPins(f)
}

// checkWords looks for figures that are not finite.
func (m *made) checkWords(f *faults) {
	for _, pattern := range []string{"lists/*.csv", "panels/*.csv", "outlines/*.svg", "outlines/*.dxf", "*.txt"} {
		names, _ := filepath.Glob(filepath.Join(m.dir, pattern)) // the patterns are right
		for _, name := range names {
			text, err := os.ReadFile(name)
			if err != nil {
				f.add("files", "%v", err)
			} else if found := notFinite.Find(text); found != nil {
				f.add("not finite", "%s holds %q", filepath.Base(name), found)
			}
		}
	}
}

// checkLayers holds the layers' solids against the figures.
func (m *made) checkLayers(f *faults) {
	t := m.report.Totals
	sum := 0.0
	for _, l := range m.report.Layers {
		name := fmt.Sprintf("layer-%02d.stl", l.Number)
		s, err := readSTL(filepath.Join(m.dir, "layers", name))
		if err != nil {
			f.add("files", "%v", err)
			continue
		}
		if len(s.points) == 0 {
			if l.Wood > share*t.Wood {
				f.add("layer's volume", "%s holds nothing, %.4g cm³ are told", name, l.Wood)
			}
			continue
		}
		if n := s.open(); n > 0 {
			f.add("layer not closed", "%s: %d open edges", name, n)
		}
		v := s.volume() / 1000
		f.near("layer's volume", name+", cm³", v, l.Wood, share*(t.Wood+t.Core))
		sum += v
		low, high := s.box()
		if low[2] < l.Bottom-0.01 || high[2] > l.Top+0.01 {
			f.add("layer's height", "%s goes from %.3f to %.3f mm, its layer from %.3f to %.3f", name, low[2], high[2], l.Bottom, l.Top)
		}
	}
	f.near("layers' volume", "all layers, cm³", sum, t.Wood, share*t.Wood)
}

// checkLists holds the lists against the report.
func (m *made) checkLists(f *faults) {
	rows := map[string]map[string]string{}
	for _, row := range m.parts {
		rows[row["layer"]+"."+row["part"]] = row
	}
	laid := 0
	for _, p := range m.report.Panels {
		for _, q := range p.Parts {
			laid++
			row := rows[fmt.Sprintf("%d.%d", q.Layer, q.Part)]
			if row == nil {
				f.add("lists", "part %d.%d of panel %d is in no row of parts.csv", q.Layer, q.Part, p.Number)
				continue
			}
			for name, want := range map[string]float64{"panel": float64(p.Number), "middle x mm": q.X, "middle y mm": q.Y, "turn deg": float64(q.TurnDeg), "tabs": float64(q.Tabs)} {
				f.near("lists", fmt.Sprintf("part %d.%d, %s", q.Layer, q.Part, name), figure(row[name]), want, 0.0051)
			}
		}
	}
	listed := 0
	for _, row := range m.parts {
		if row["panel"] != "none" {
			listed++
		}
	}
	if laid != listed {
		f.add("lists", "%d parts lie on panels by the report, %d by parts.csv", laid, listed)
	}
	made := map[int]int{} // parts of each layer by the list, those of a split one as one
	for _, row := range m.parts {
		made[int(figure(row["layer"]))]++
	}
	for _, s := range m.report.Seams {
		made[s.Layer]--
	}
	for _, l := range m.report.Layers {
		if made[l.Number] != l.Parts {
			f.add("lists", "layer %d has %d parts by the report, %d by parts.csv", l.Number, l.Parts, made[l.Number])
		}
	}
	m.checkGlue(f)
	m.checkBoards(f)
}

// checkGlue holds the list of pressings against the report.
func (m *made) checkGlue(f *faults) {
	t, err := readCSV(filepath.Join(m.dir, "lists", "glue-up.csv"))
	if err != nil {
		if len(m.report.GlueUp) > 0 {
			f.add("files", "%v", err)
		}
		return
	}
	var rows table
	for _, row := range t {
		if row["stage"] != "0" { // seams, glued before
			rows = append(rows, row)
		}
	}
	if len(rows) != len(m.report.GlueUp) {
		f.add("lists", "%d pressings in glue-up.csv, %d in the report", len(rows), len(m.report.GlueUp))
		return
	}
	for i, p := range m.report.GlueUp {
		what := fmt.Sprintf("pressing %d, ", p.Number)
		f.near("lists", what+"glue", figure(rows[i]["glue g"]), p.GlueG, 0.051)
		f.near("lists", what+"clamps", figure(rows[i]["clamps"]), float64(p.Clamps), 0)
		f.near("lists", what+"lift", figure(rows[i]["lift kg"]), p.LiftKg, 0.0051)
		f.near("lists", what+"result", figure(rows[i]["makes kg"]), p.MakesKg, 0.0051)
	}
}

// checkBoards holds the list of what to buy against the report.
func (m *made) checkBoards(f *faults) {
	t, err := readCSV(filepath.Join(m.dir, "lists", "shopping.csv"))
	if err != nil {
		f.add("files", "%v", err)
		return
	}
	if m.report.Boards == nil {
		return
	}
	var bought []float64
	for _, row := range t {
		if n, _, ok := strings.Cut(row["how much"], " of "); ok {
			bought = append(bought, figure(n))
		}
	}
	for i, k := range m.report.Boards.Kinds {
		if i >= len(bought) || bought[i] != float64(k.Count) {
			f.add("lists", "%d boards of %s by the report, the shopping list has %v", k.Count, k.Board, bought)
		}
	}
	panels := 0
	for _, k := range m.report.Boards.Kinds {
		panels += k.Panels
	}
	if panels != len(m.report.Panels) {
		f.add("lists", "%d panels are laid, %d sawn", len(m.report.Panels), panels)
	}
}

// A laidPart is a part on a panel as list and drawing have it.
type laidPart struct {
	name  string
	held  bool
	tabs  int
	rings [][]place // the outer one
	good  int       // tabs of full section to the frame
	worst float64   // share of a full section
}

// crumb is the most that a body may have which is no loose wood but dust, mm³.
const crumb = 1.0

// checkPanel measures a panel's solids.
func (m *made) checkPanel(number int, f *faults) {
	side := func(face string) string {
		return filepath.Join(m.dir, "panels", fmt.Sprintf("panel-%02d-%s.stl", number, face))
	}
	a, err := readSTL(side("A"))
	if err != nil {
		f.add("files", "%v", err)
		return
	}
	b, err := readSTL(side("B"))
	if err != nil {
		f.add("files", "%v", err)
		return
	}
	d, err := readDXF(filepath.Join(m.dir, "outlines", fmt.Sprintf("panel-%02d-A.dxf", number)))
	if err != nil {
		f.add("files", "%v", err)
		return
	}
	for name, s := range map[string]*solid{"A": a, "B": b} {
		if n := s.open(); n > 0 {
			f.add("panel not closed", "panel %d, side %s: %d open edges", number, name, n)
		}
	}
	va := a.volume()
	f.near("panel's sides", fmt.Sprintf("panel %d, volume of side B against A, mm³", number), b.volume(), va, share*va)
	parts := m.partsOn(number, d, f)
	pr := newProber(a, 1)
	g := newGround(pr, parts, d)
	g.checkIsles(number, f)
	m.checkTabs(number, d, pr, g, parts, f)
	m.checkLoose(number, a, parts, f)
	checkHoles(number, d, pr, f)
	m.checkListed(number, d, f)
}

// nearby is how far a body may lie from where it is told, mm: two columns.
const nearby = 1.0

// checkLoose looks for wood that comes off and that no list tells of: a part without two sound tabs may lie loose as a whole, and
// splinters where they are listed.
func (m *made) checkLoose(number int, s *solid, parts []*laidPart, f *faults) {
	told := m.splintersOn(number, f)
	var whole []*laidPart
	for _, p := range parts {
		if !p.held {
			whole = append(whole, p)
		}
	}
	over := func(b *body, low, high place) bool {
		return b.low[0] < high.x+nearby && b.high[0] > low.x-nearby && b.low[1] < high.y+nearby && b.high[1] > low.y-nearby
	}
	var loose []string
	for _, b := range s.bodies()[1:] {
		if b.volume <= crumb || slices.ContainsFunc(told, func(t [2]place) bool { return over(&b, t[0], t[1]) }) {
			continue
		}
		i := slices.IndexFunc(whole, func(p *laidPart) bool {
			low, high := bounds(slices.Concat(p.rings...))
			return over(&b, low, high)
		})
		if i < 0 {
			loose = append(loose, fmt.Sprintf("%.1f mm³ at %.1f, %.1f mm", b.volume, (b.low[0]+b.high[0])/2, (b.low[1]+b.high[1])/2))
			continue
		}
		whole = slices.Delete(whole, i, i+1)
	}
	if len(loose) > 0 {
		f.add("loose wood", "panel %d has loose bodies that nobody is told of: %s", number, strings.Join(loose, ", "))
	}
}

// splintersOn are the corners of what comes off the parts of a panel, as the list has it.
func (m *made) splintersOn(number int, f *faults) (out [][2]place) {
	file := filepath.Join(m.dir, "lists", "splinters.csv")
	if _, err := os.Stat(file); errors.Is(err, fs.ErrNotExist) {
		return nil // nothing comes off
	}
	rows, err := readCSV(file)
	if err != nil {
		f.add("files", "%v", err)
	}
	for _, row := range rows {
		if row["panel"] == fmt.Sprint(number) {
			out = append(out, [2]place{{figure(row["from x mm"]), figure(row["from y mm"])}, {figure(row["to x mm"]), figure(row["to y mm"])}})
		}
	}
	return out
}

// partsOn are the parts of a panel with their outlines in the drawing.
func (m *made) partsOn(number int, d *drawing, f *faults) (parts []*laidPart) {
	for _, row := range m.parts {
		if row["panel"] != fmt.Sprint(number) {
			continue
		}
		p := &laidPart{name: row["layer"] + "." + row["part"], held: row["held"] == "yes", tabs: int(figure(row["tabs"])), worst: 1}
		at, size := place{figure(row["middle x mm"]), figure(row["middle y mm"])}, place{figure(row["length mm"]), figure(row["width mm"])}
		if turn := figure(row["turn deg"]); turn == 90 || turn == 270 {
			size.x, size.y = size.y, size.x
		}
		off := math.Inf(1)
		if p.rings, off = outlinesAt(d.lines["OUTLINE"], at, size); off > outlineNear {
			f.add("drawings", "panel %d: no outline lies where the list has part %s, the nearest is %.2f mm off", number, p.name, off)
			continue
		}
		parts = append(parts, p)
	}
	return parts
}

// outlineNear is how far an outline may be off middle and size that the list has, mm.
const outlineNear = 3.0

// outlinesAt is the outline that lies nearest to where a part is listed, and how far off it is; where none lies there the outlines
// within that together do, as of a part whose pieces hang together by a sheet without thickness.
func outlinesAt(all [][]place, at, size place) (rings [][]place, off float64) {
	apart := func(low, high place) float64 {
		return low.plus(high).times(0.5).minus(at).long() + high.minus(low).minus(size).long()
	}
	off = math.Inf(1)
	for _, ring := range all {
		if d := apart(bounds(ring)); d < off {
			off, rings = d, [][]place{ring}
		}
	}
	if off <= outlineNear {
		return rings, off
	}
	var within [][]place
	var corners []place
	for _, ring := range all {
		low, high := bounds(ring)
		if d := low.plus(high).times(0.5).minus(at); math.Abs(d.x)+(high.x-low.x)/2 < size.x/2+outlineNear && math.Abs(d.y)+(high.y-low.y)/2 < size.y/2+outlineNear {
			within, corners = append(within, ring), append(corners, low, high)
		}
	}
	if len(within) > 1 {
		if d := apart(bounds(corners)); d < off {
			return within, d
		}
	}
	return rings, off
}

func bounds(ring []place) (low, high place) {
	low, high = ring[0], ring[0]
	for _, p := range ring {
		low, high = place{min(low.x, p.x), min(low.y, p.y)}, place{max(high.x, p.x), max(high.y, p.y)}
	}
	return low, high
}
