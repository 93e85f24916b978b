package panel

import (
	"context"
	"math"
	"testing"

	"github.com/peterstace/simplefeatures/geom"

	own "grainstack/slicing/geom"
)

// usual is a common panel, a 6.35 mm cutter with 2 mm clearance, clamps at two corners and dowels on the centre line.
func usual() Rules {
	return Rules{PanelX: 600, PanelY: 600, Margin: 8.35, Edge: 10, Seed: 1}
}

func held() Rules {
	r := usual()
	r.Clamps = []ClampSpot{
		{Box2: own.Box2{Max: own.Vec2{X: 60, Y: 30}}, Number: 1},
		{Box2: own.Box2{Min: own.Vec2{X: 540, Y: 570}, Max: own.Vec2{X: 600, Y: 600}}, Number: 2},
	}
	r.Dowels = []Dowel{{own.Vec2{X: 20, Y: 300}, 8}, {own.Vec2{X: 572, Y: 300}, 8}}
	return r
}

func newBench(t testing.TB, parts []Part, r Rules) *Bench {
	t.Helper()
	b, err := NewBench(context.Background(), parts, r)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

func arrange(t testing.TB, parts []Part, r Rules, steps int) Layout {
	t.Helper()
	l, err := newBench(t, parts, r).Rearrange(context.Background(), Layout{}, steps, nil)
	if err != nil {
		t.Fatal(err)
	}
	return l
}

// foreign is a region for the independent library: the outline first, its holes after it.
func foreign(g own.Region) geom.Geometry {
	var rings []geom.LineString
	for _, r := range g {
		var xy []float64
		for i := range len(r) + 1 {
			xy = append(xy, r[i%len(r)].X, r[i%len(r)].Y)
		}
		rings = append(rings, geom.NewLineString(geom.NewSequence(xy, geom.DimXY)))
	}
	return geom.NewPolygon(rings).AsGeometry()
}

// verify measures a layout with the independent library: every part once, in its grain's turn, inside, and nowhere nearer
// to anything than allowed.
func verify(t testing.TB, l Layout, parts []Part, r Rules) {
	t.Helper()
	const tolerance = 1e-5
	left := map[ID]Part{}
	for _, p := range parts {
		left[p.ID] = p
	}
	for _, m := range l.TooLarge {
		delete(left, m.Part)
	}
	for _, panel := range l.Panels {
		var laid []geom.Geometry
		area := 0.0
		for _, q := range panel.Placed {
			p, ok := left[q.Part]
			if !ok {
				t.Fatalf("%v is laid twice or unknown", q.Part)
			}
			delete(left, q.Part)
			if p.Turned != (q.TurnDeg%180 == 90) {
				t.Errorf("%v is turned by %d", q.Part, q.TurnDeg)
			}
			g := make(own.Region, len(p.Shadow))
			sin, cos := math.Sincos(float64(q.TurnDeg) * math.Pi / 180)
			for i, ring := range p.Shadow {
				for _, v := range ring {
					g[i] = append(g[i], own.Vec2{X: cos*v.X - sin*v.Y + q.At.X, Y: sin*v.X + cos*v.Y + q.At.Y})
				}
			}
			box := g.Box()
			if edge := min(box.Min.X, box.Min.Y, r.PanelX-box.Max.X, r.PanelY-box.Max.Y); edge < r.Edge-tolerance {
				t.Errorf("%v is %g mm from the edge", q.Part, edge)
			}
			laid = append(laid, foreign(g))
			area += g.Area()
		}
		if got, want := panel.UsedPercent, 100*area/(r.PanelX*r.PanelY); math.Abs(got-want) > 1e-6 {
			t.Errorf("panel %d: used %g %%, want %g", panel.Number, got, want)
		}
		for i, a := range laid {
			for _, b := range laid[:i] {
				if d, ok := geom.Distance(a, b); !ok || d < r.Margin-tolerance {
					t.Errorf("panel %d: parts %g mm apart", panel.Number, d)
				}
			}
			for _, c := range r.Clamps {
				if d, _ := geom.Distance(a, foreign(boxOutline(c.Box2).region)); d < r.Margin-tolerance {
					t.Errorf("panel %d: %g mm from a clamp", panel.Number, d)
				}
			}
			for _, c := range r.Dowels {
				at := geom.XY{X: c.At.X, Y: c.At.Y}.AsPoint().AsGeometry()
				if d, _ := geom.Distance(a, at); d-c.Diameter/2 < r.Margin-tolerance {
					t.Errorf("panel %d: %g mm from a dowel", panel.Number, d-c.Diameter/2)
				}
			}
		}
	}
	for id := range left {
		t.Errorf("%v is nowhere", id)
	}
}
