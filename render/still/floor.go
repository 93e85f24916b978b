package still

import (
	"context"
	"math"

	"grainstack/render/look"
	"grainstack/slicing/geom"
	"grainstack/slicing/par"
)

// A ground is the light on a level plane under the piece, in cells: the floor or the plinth's top. Each direction's shadow is
// softened by as much as that direction stands for, the more the farther above its thrower is (Fernando, Percentage-closer
// soft shadows, SIGGRAPH 2005), by sums over squares from a summed table (Crow, Summed-area tables for texture mapping,
// SIGGRAPH 1984).
type ground struct {
	z     float64   // mm
	low   geom.Vec2 // corner
	side  float64   // mm of a cell
	cells int       // a side
	table int       // values a side of the summed tables: one more
	light [][3]float32
	full  [3]float32 // where nothing is in the way
	// scratch of one direction
	behind       []float32
	shade, depth []float32 // summed tables: of cells in shadow, and of how far they lie behind
}

// groundReach is half the ground's side in parts of the piece's radius.
const groundReach = 2.6

// newGround makes a ground at a height with so many cells a side.
func newGround(s *Scene, z float64, cells int) *ground {
	table := cells + 1
	at := s.View.Placement
	radius := s.Body.Radius() * at.Scale
	mid := at.Apply(s.Body.Centre())
	return &ground{
		z: z, side: 2 * groundReach * radius / float64(cells), cells: cells, table: table,
		low:    geom.Vec2{X: mid.X - groundReach*radius, Y: mid.Y - groundReach*radius},
		light:  make([][3]float32, cells*cells),
		behind: make([]float32, cells*cells),
		shade:  make([]float32, table*table),
		depth:  make([]float32, table*table),
	}
}

// lightGround adds up what comes down on the ground from all directions of the present look.
func (w *work) lightGround(ctx context.Context, g *ground) error {
	clear(g.light)
	g.full = [3]float32{}
	for i := range w.rays {
		r := &w.rays[i]
		if r.towards.Z <= 0 {
			continue
		}
		if err := w.throw(ctx, g, i); err != nil {
			return err
		}
		g.sum()
		if err := w.fall(ctx, g, r); err != nil {
			return err
		}
	}
	return nil
}

// throw finds what lies in the shadow of one direction, and how far behind what throws it.
func (w *work) throw(ctx context.Context, g *ground, ray int) error {
	r := &w.rays[ray]
	n := g.cells
	return par.Spans(ctx, n, 32, func(from, to int) {
		places := make([]look.Place, n)
		for y := from; y < to; y++ {
			for x := range places {
				places[x] = look.Place{
					X: float32(g.low.X + (float64(x)+0.5)*g.side), Y: float32(g.low.Y + (float64(y)+0.5)*g.side),
					Z: float32(g.z), NZ: 1,
				}
			}
			row := g.behind[y*n : (y+1)*n]
			w.depths[ray].Behind(places, w.lift, row)
			if w.blocked && g.z < 0 {
				for x := range row {
					if row[x] == 0 {
						row[x] = through(&w.block, float64(places[x].X), float64(places[x].Y), r.towards)
					}
				}
			}
		}
	})
}

// sum makes the summed tables.
func (g *ground) sum() {
	n := g.cells
	for y := range n {
		shade, depth := float32(0), float32(0)
		above, row := g.shade[y*g.table:], g.shade[(y+1)*g.table:]
		aboveDepth, rowDepth := g.depth[y*g.table:], g.depth[(y+1)*g.table:]
		for x, b := range g.behind[y*n : (y+1)*n] {
			if b > 0 {
				shade++
				depth += b
			}
			row[x+1], rowDepth[x+1] = above[x+1]+shade, aboveDepth[x+1]+depth
		}
	}
}

// fall adds one direction's light, and where it is hidden what the piece throws back instead.
func (w *work) fall(ctx context.Context, g *ground, r *ray) error {
	down := float32(r.towards.Z)
	var open, shut [3]float32
	for i := range open {
		open[i] = r.colour[i] * down
		if r.part == above {
			shut[i] = open[i] * w.bounce[i] * underside
		}
		g.full[i] += open[i]
	}
	// How many cells one direction's shadow is softened by, for each mm that it was thrown.
	soft := float32(r.width / math.Sqrt(r.towards.Z) / g.side)
	return par.Spans(ctx, g.cells, 32, func(from, to int) {
		for y := from; y < to; y++ {
			for x := range g.cells {
				lit := 1 - g.shadow(x, y, soft)
				c := &g.light[y*g.cells+x]
				for i := range c {
					c[i] += shut[i] + lit*(open[i]-shut[i])
				}
			}
		}
	})
}

// widest is the widest softening, in cells to either side.
const widest = 48

// shadow is the share of a cell's surroundings that lies in shadow: in a square as wide as the shadow there is soft.
func (g *ground) shadow(x, y int, soft float32) float32 {
	n, _ := g.over(g.shade, x, y, widest)
	if n == 0 {
		return 0
	}
	far, _ := g.over(g.depth, x, y, widest)
	half := min(widest, soft*far/n)
	k := int(half)
	in, all := g.over(g.shade, x, y, k)
	more, allMore := g.over(g.shade, x, y, min(k+1, widest))
	part := half - float32(k)
	return (in + part*(more-in)) / (all + part*(allMore-all))
}

// over is the sum of a table over the cells up to half to either side, and how many cells that are.
func (g *ground) over(table []float32, x, y, half int) (sum, count float32) {
	x0, x1 := max(0, x-half), min(g.cells, x+half+1)
	y0, y1 := max(0, y-half), min(g.cells, y+half+1)
	sum = table[y1*g.table+x1] - table[y0*g.table+x1] - table[y1*g.table+x0] + table[y0*g.table+x0]
	return sum, float32((x1 - x0) * (y1 - y0))
}

// at is the light at a place, smooth between the cells; near the rim it goes over to the full light.
func (g *ground) at(px, py float32) look.Lit {
	x, y := (px-float32(g.low.X))/float32(g.side)-0.5, (py-float32(g.low.Y))/float32(g.side)-0.5
	last := float32(g.cells - 1)
	l := g.full
	if x >= 0 && y >= 0 && x < last && y < last {
		i, j := int(x), int(y)
		fx, fy := x-float32(i), y-float32(j)
		c := g.light[j*g.cells+i:]
		rim := min(1, min(x, y, last-x, last-y)/(last/12))
		for k := range l {
			top := c[0][k] + fx*(c[1][k]-c[0][k])
			low := c[g.cells][k] + fx*(c[g.cells+1][k]-c[g.cells][k])
			l[k] += rim * (top + fy*(low-top) - l[k])
		}
	}
	return look.Lit{Red: l[0], Green: l[1], Blue: l[2], Clear: 1, Sky: 1}
}

// weigh takes from weights what the ground does not throw back along a ray that comes from it.
func (g *ground) weigh(places []look.Place, r *ray, weights []float32) {
	k := float32(1 / g.side)
	dx, dy := float32(r.towards.X/-r.towards.Z), float32(r.towards.Y/-r.towards.Z)
	lx, ly := float32(g.low.X), float32(g.low.Y)
	full, cells := 1/max(g.full[1], 1e-6), float32(g.cells)
	for j := range places {
		p := &places[j]
		if weights[j] <= 0 {
			continue
		}
		h := max(p.Z, 0)
		x, y := (p.X+h*dx-lx)*k, (p.Y+h*dy-ly)*k
		if x >= 0 && y >= 0 && x < cells && y < cells {
			weights[j] *= min(1, g.light[int(y)*g.cells+int(x)][1]*full)
		}
	}
}
