package export

import (
	"math"

	"grainstack/slicing/geom"
	"grainstack/slicing/mesh"
	"grainstack/slicing/panel"
	"grainstack/slicing/plane"
)

// Solid is the panel as it lies for one side: a closed 2-manifold with its corner at the origin and z from 0 to the panel's
// thickness. Columns end on its faces, within 0.02 mm, and without an error where they are flush with the panel's; where wood
// ends there is an upright wall from column to column, which is moved out to the outline of a part by up to half a step. Where
// such a wall is straight and as high as the panel no column but its first and last is a corner. Side B is side A turned about
// the axis, exactly but for rounding to float32.
func (m *PanelModel) Solid(f panel.Face) *mesh.Mesh {
	r := relief{PanelModel: m, cells: m.cells()}
	for side := range r.points {
		r.points[side], r.flats[side] = make([]int32, r.nx*r.ny), r.flatCells(side)
	}
	for side := range r.points {
		r.flush(side)
		r.carved(side)
	}
	r.walls()
	if f == panel.SideB {
		return m.TurnOver(&r.out)
	}
	return &r.out
}

// TurnOver is the solid of one side as it lies with the other side up: half a turn about the panel's axis.
func (m *PanelModel) TurnOver(s *mesh.Mesh) *mesh.Mesh {
	x, y, z := float32(m.plan.X), float32(m.plan.Y), float32(m.plan.Thickness)
	out := &mesh.Mesh{Points: make([]mesh.Point, len(s.Points)), Triangles: s.Triangles}
	for i, p := range s.Points {
		if m.plan.TurnAlongY {
			out.Points[i] = mesh.Point{x - p[0], p[1], z - p[2]}
		} else {
			out.Points[i] = mesh.Point{p[0], y - p[1], z - p[2]}
		}
	}
	return out
}

// A relief is a panel's columns on the way to a solid. A cell lies between four columns and is named by the lower left one.
type relief struct {
	*PanelModel
	cells  []bool
	flats  [2][]bool  // per cell whether its face on a side is flush with the panel's
	points [2][]int32 // per column one more than the point at its bottom and its top
	out    mesh.Mesh
}

// cells are the cells with wood at all four corners. Where two meet only in a corner one of them is taken out.
func (m *PanelModel) cells() []bool {
	cells := make([]bool, m.nx*m.ny)
	for j := range m.ny - 1 {
		for i := range m.nx - 1 {
			n := j*m.nx + i
			cells[n] = m.wood(n) && m.wood(n+1) && m.wood(n+m.nx) && m.wood(n+m.nx+1)
		}
	}
	for again := true; again; {
		again = false
		for j := 1; j < m.ny-1; j++ {
			for i := 1; i < m.nx-1; i++ {
				n := j*m.nx + i
				a, b, c, d := n-m.nx-1, n-m.nx, n-1, n
				if cells[a] && cells[d] && !cells[b] && !cells[c] {
					cells[d], again = false, true
				} else if cells[b] && cells[c] && !cells[a] && !cells[d] {
					cells[c], again = false, true
				}
			}
		}
	}
	return cells
}

// cell reports whether there is a cell at a place, which may be off the panel.
func (r *relief) cell(i, j int) bool {
	return i >= 0 && j >= 0 && i < r.nx-1 && j < r.ny-1 && r.cells[j*r.nx+i]
}

// heights are where the columns end on a side.
func (m *PanelModel) heights(side int) []float32 {
	if side == upper {
		return m.top
	}
	return m.bottom
}

// point is the number of the point where a column ends on a side. It is made when it is asked for first.
func (r *relief) point(p spot, side int) int32 {
	n := p.y*r.nx + p.x
	id := &r.points[side][n]
	if *id == 0 {
		at := r.fitted(n)
		r.out.Points = append(r.out.Points, mesh.Point{onGrain(at.X), onGrain(at.Y), r.heights(side)[n]})
		*id = int32(len(r.out.Points))
	}
	return *id - 1
}

// mostMoved is how far a point may be moved, in steps: less than half, so that two never meet.
const mostMoved = 0.49

// onGrain rounds a length to a 4096th of a mm: such places keep their bits when a panel of whole millimetres is turned over.
func onGrain(v float64) float32 { return float32(math.Round(v*4096) / 4096) }

// fitted is the place of a column, moved out to where the part ends if there is no wood beside it, or no more than half a
// step into the corner where there is none across it alone.
func (r *relief) fitted(n int) geom.Vec2 {
	p := r.place(n)
	i, j := n%r.nx, n/r.nx
	if i == 0 || j == 0 || i == r.nx-1 || j == r.ny-1 {
		return p
	}
	right, left := r.beyond(toRight, n, 1), r.beyond(toLeft, n, -1)
	top, bottom := r.beyond(toTop, n, r.nx), r.beyond(toBottom, n, -r.nx)
	x, y := right-left, top-bottom
	if r.wood(n+1) && r.wood(n-1) && r.wood(n+r.nx) && r.wood(n-r.nx) {
		x, y = r.corner(n)
	}
	return geom.Vec2{X: p.X + r.sx*x, Y: p.Y + r.sy*y}
}

// beyond is how far the part reaches beyond a column, in steps, towards a neighbour without wood.
func (r *relief) beyond(way, n, to int) float64 {
	if r.wood(n + to) {
		return 0
	}
	return min(float64(r.ends[way][n]), mostMoved)
}

// corner is how far, in steps, a column in an inner corner of the lattice moves towards the one column across it that has no
// wood: on to the line between the outline's places on either side of that.
func (r *relief) corner(n int) (x, y float64) {
	found := 0
	for _, d := range [4][2]int{{1, 1}, {-1, 1}, {-1, -1}, {1, -1}} {
		if r.wood(n + d[1]*r.nx + d[0]) {
			continue
		}
		found++
		across, up := toRight, toTop
		if d[0] < 0 {
			across = toLeft
		}
		if d[1] < 0 {
			up = toBottom
		}
		a := float64(r.ends[across][n+d[1]*r.nx]) // on the row beyond, how far the part goes on
		b := float64(r.ends[up][n+d[0]])          // and on the column beyond
		if a == 0 && b == 0 {                     // no part ends there
			return 0, 0
		}
		x, y = float64(d[0])*min((1+a)/2, mostMoved), float64(d[1])*min((1+b)/2, mostMoved)
	}
	if found != 1 {
		return 0, 0
	}
	return x, y
}

// add adds a triangle that is counter-clockwise seen from above, turned over on the lower face.
func (r *relief) add(side int, a, b, c int32) {
	if side == lower {
		b, c = c, b
	}
	r.out.Triangles = append(r.out.Triangles, mesh.Triangle{a, b, c})
}

// flatCells are the cells whose face is flush with the panel's.
func (r *relief) flatCells(side int) []bool {
	z, face := r.heights(side), float32(0)
	if side == upper {
		face = float32(r.plan.Thickness)
	}
	out := make([]bool, len(r.cells))
	for n, is := range r.cells {
		out[n] = is && z[n] == face && z[n+1] == face && z[n+r.nx] == face && z[n+r.nx+1] == face
	}
	return out
}

// flat reports whether there is a cell at a place, which may be off the panel, whose face is flush with the panel's.
func (r *relief) flat(i, j, side int) bool {
	return i >= 0 && j >= 0 && i < r.nx-1 && j < r.ny-1 && r.flats[side][j*r.nx+i]
}

// flush fills what is level with a face of the panel without a point within.
func (r *relief) flush(side int) {
	var rims []rimEdge
	for j := range r.ny - 1 {
		for i := range r.nx - 1 {
			if !r.flat(i, j, side) {
				continue
			}
			r.beside(i, j, func(to spot, from, end spot) {
				if !r.flat(to.x, to.y, side) && !r.idle(from) {
					rims = append(rims, rimEdge{from: r.point(from, side), to: r.point(r.straight(from, end), side)})
				}
			})
		}
	}
	var chains rimming
	rings, ids := chains.rings(rims, r.out.Points, false)
	triangles, _ := plane.Triangulate(rings)
	for _, t := range triangles {
		a, b, c := ids[t[0]], ids[t[1]], ids[t[2]]
		if a != b && b != c && c != a {
			r.add(side, a, b, c)
		}
	}
}

// idle reports whether a column stands within a straight wall of the panel's full thickness, where the solid needs no corner.
func (r *relief) idle(p spot) bool {
	right, left := r.full(p.x, p.y-1) && r.full(p.x, p.y), r.full(p.x-1, p.y-1) && r.full(p.x-1, p.y)
	above, below := r.full(p.x-1, p.y) && r.full(p.x, p.y), r.full(p.x-1, p.y-1) && r.full(p.x, p.y-1)
	switch {
	case right && !r.cell(p.x-1, p.y-1) && !r.cell(p.x-1, p.y), left && !r.cell(p.x, p.y-1) && !r.cell(p.x, p.y):
		return r.unmoved(p.x, p.y-1) && r.unmoved(p.x, p.y) && r.unmoved(p.x, p.y+1)
	case above && !r.cell(p.x-1, p.y-1) && !r.cell(p.x, p.y-1), below && !r.cell(p.x-1, p.y) && !r.cell(p.x, p.y):
		return r.unmoved(p.x-1, p.y) && r.unmoved(p.x, p.y) && r.unmoved(p.x+1, p.y)
	}
	return false
}

// full reports whether a cell is flush with both faces of the panel.
func (r *relief) full(i, j int) bool { return r.flat(i, j, lower) && r.flat(i, j, upper) }

// unmoved reports whether a column's point stays on the lattice.
func (r *relief) unmoved(i, j int) bool {
	n := j*r.nx + i
	return r.fitted(n) == r.place(n)
}

// straight is where a wall that begins with a side of a cell has its next corner.
func (r *relief) straight(from, end spot) spot {
	dx, dy := end.x-from.x, end.y-from.y
	for r.idle(end) {
		end = spot{end.x + dx, end.y + dy}
	}
	return end
}

// beside visits the four neighbours of a cell, with the ends of the side between, the cell on its left.
func (r *relief) beside(i, j int, visit func(to, from, end spot)) {
	a, b, c, d := spot{i, j}, spot{i + 1, j}, spot{i + 1, j + 1}, spot{i, j + 1}
	visit(spot{i, j - 1}, a, b)
	visit(spot{i + 1, j}, b, c)
	visit(spot{i, j + 1}, c, d)
	visit(spot{i - 1, j}, d, a)
}

// walls closes the cells where they have no neighbour.
func (r *relief) walls() {
	for j := range r.ny - 1 {
		for i := range r.nx - 1 {
			if !r.cell(i, j) {
				continue
			}
			r.beside(i, j, func(to, from, end spot) {
				if r.cell(to.x, to.y) || r.idle(from) {
					return
				}
				end = r.straight(from, end)
				a, b := r.point(from, lower), r.point(end, lower)
				c, d := r.point(end, upper), r.point(from, upper)
				r.add(upper, a, b, c)
				r.add(upper, a, c, d)
			})
		}
	}
}
