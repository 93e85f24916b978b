package job

import (
	"encoding/json"
	"fmt"
	"math"
	"strconv"
	"strings"

	"grainstack/slicing/geom"
	"grainstack/slicing/unit"
)

// A PanelEdge is an edge of a panel as it lies on the machine, seen by whoever stands before it; the panel's grain runs from
// left to right.
type PanelEdge int

// The edges, and none.
const (
	NoEdge PanelEdge = iota
	Left
	Right
	Front
	Back
)

var edgeNames = [...]string{"none", "left", "right", "front", "back"}

func (e PanelEdge) String() string {
	if e < NoEdge || e > Back {
		return fmt.Sprintf("edge %d", int(e))
	}
	return edgeNames[e]
}

// A PanelClamp holds panels down on the machine's bed: it reaches over an edge, with its middle so far from the edge's left or
// front end. All mm. The zero clamp is none.
type PanelClamp struct {
	Edge PanelEdge
	At   float64
	Wide float64 // along the edge
	Deep float64 // from the edge inwards
}

// PanelClamps are the clamps at hand; zeros at the end stand for none.
type PanelClamps [8]PanelClamp

// A usual clamp's finger, mm (common practice, no source).
const (
	clampWide = 50.0
	clampDeep = 30.0
)

// List is the clamps without the zeros.
func (c PanelClamps) List() []PanelClamp {
	for i, p := range c {
		if p.Edge == NoEdge {
			return c[:i:i]
		}
	}
	return c[:]
}

// MarshalJSON writes the clamps that there are.
func (c PanelClamps) MarshalJSON() ([]byte, error) { return json.Marshal(c.List()) }

// UnmarshalJSON reads as many clamps as there may be.
func (c *PanelClamps) UnmarshalJSON(text []byte) error {
	var list []PanelClamp
	if err := json.Unmarshal(text, &list); err != nil {
		return err
	}
	return c.set(list)
}

func (c *PanelClamps) set(list []PanelClamp) error {
	*c = PanelClamps{}
	if len(list) > len(c) {
		return fmt.Errorf("%d clamps are named for a panel: %d are the most", len(list), len(c))
	}
	copy(c[:], list)
	return nil
}

// ParsePanelClamps reads clamps such as "left:300, right:300:60x40": the edge, the place of the middle along it from the left
// or the front, and how wide and deep the clamp is where it is not the usual 50 x 30 mm. Lengths are in the usual unit or carry
// their own. The error is a sentence for the maker.
func ParsePanelClamps(s string, usual unit.Unit) (c PanelClamps, err error) {
	var list []PanelClamp
	for word := range strings.SplitSeq(s, ",") {
		if word = strings.TrimSpace(word); word == "" {
			continue
		}
		p, err := parseClamp(word, usual)
		if err != nil {
			return c, err
		}
		list = append(list, p)
	}
	if err = c.set(list); err != nil {
		return c, err
	}
	return c, c.check()
}

// Text is the clamps as ParsePanelClamps reads them with lengths in millimetres or inches, "" for none.
func (c PanelClamps) Text(u unit.System) string {
	figure := func(mm float64) string {
		if u == unit.Inch {
			return strconv.FormatFloat(math.Round(mm/25.4*1000)/1000, 'f', -1, 64)
		}
		return strconv.FormatFloat(math.Round(mm*100)/100, 'f', -1, 64)
	}
	var words []string
	for _, p := range c.List() {
		word := p.Edge.String() + ":" + figure(p.At)
		if p.Wide != clampWide || p.Deep != clampDeep {
			word += ":" + figure(p.Wide) + "x" + figure(p.Deep)
		}
		words = append(words, word)
	}
	return strings.Join(words, ", ")
}

func parseClamp(word string, usual unit.Unit) (p PanelClamp, err error) {
	fields := strings.Split(word, ":")
	for e := Left; e <= Back; e++ {
		if strings.EqualFold(strings.TrimSpace(fields[0]), e.String()) {
			p.Edge = e
		}
	}
	if p.Edge == NoEdge || len(fields) < 2 || len(fields) > 3 {
		return p, fmt.Errorf("a clamp is an edge, a place and if need be a size, as in left:300 or back:120:60x40, not %q", word)
	}
	if p.At, err = unit.ParseLength(fields[1], usual); err != nil {
		return p, fmt.Errorf("clamp %q: %w", word, err)
	}
	p.Wide, p.Deep = clampWide, clampDeep
	if len(fields) == 3 {
		wide, deep, ok := strings.Cut(fields[2], "x")
		if !ok {
			return p, fmt.Errorf("a clamp's size is its width and its depth, as in 60x40, not %q", fields[2])
		}
		if p.Wide, err = unit.ParseLength(wide, usual); err != nil {
			return p, fmt.Errorf("clamp %q: %w", word, err)
		}
		if p.Deep, err = unit.ParseLength(deep, usual); err != nil {
			return p, fmt.Errorf("clamp %q: %w", word, err)
		}
	}
	return p, nil
}

// check says what is wrong with the clamps.
func (c PanelClamps) check() error {
	for i, p := range c.List() {
		if p.Edge < NoEdge || p.Edge > Back {
			return fmt.Errorf("clamp %d holds no edge of the panel", i+1)
		}
		if !(p.At >= 0 && p.At < 1e5 && p.Wide > 0 && p.Wide < 1e4 && p.Deep > 0 && p.Deep < 1e4) {
			return fmt.Errorf("clamp %d at the panel's %v edge is at %g mm and %g × %g mm large: give more than 0", i+1, p.Edge, p.At, p.Wide, p.Deep)
		}
	}
	return nil
}

// On is what a clamp covers of a panel as it lies; it is empty where the clamp is beside the panel.
func (p PanelClamp) On(panelX, panelY float64) geom.Box2 {
	b := geom.Box2{Min: geom.Vec2{X: p.At - p.Wide/2}, Max: geom.Vec2{X: p.At + p.Wide/2}}
	switch p.Edge {
	case Front:
		b.Max.Y = p.Deep
	case Back:
		b.Min.Y, b.Max.Y = panelY-p.Deep, panelY
	case Left, Right:
		b = geom.Box2{Min: geom.Vec2{Y: p.At - p.Wide/2}, Max: geom.Vec2{X: p.Deep, Y: p.At + p.Wide/2}}
		if p.Edge == Right {
			b.Min.X, b.Max.X = panelX-p.Deep, panelX
		}
	}
	b.Min = geom.Vec2{X: math.Max(0, b.Min.X), Y: math.Max(0, b.Min.Y)}
	b.Max = geom.Vec2{X: math.Min(panelX, b.Max.X), Y: math.Min(panelY, b.Max.Y)}
	if b.Min.X >= b.Max.X || b.Min.Y >= b.Max.Y {
		return geom.EmptyBox2()
	}
	return b
}
