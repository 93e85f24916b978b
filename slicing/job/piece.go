package job

import (
	"context"
	"math"
	"path/filepath"
	"strings"

	"grainstack/slicing/field"
	"grainstack/slicing/mesh"
	"grainstack/slicing/phrase"
	"grainstack/slicing/scans"
)

// A Piece is the sculpture: the surface that a file gave, or what mending made of it, welded, ordered, checked. It is in the
// file's own units and frame, and never changes; how it stands is a Standing.
type Piece struct {
	Name      string // for titles
	File      string // path, "" for a piece that no file holds
	Mesh      *mesh.Mesh
	Adjacency mesh.Adjacency
	Raw       mesh.Raw
	Findings  mesh.Findings
	Thin      *mesh.Mesh // far fewer triangles, for pictures while something is dragged; never for figures

	Scan   *Scan         // what was read
	Joined *scans.Joined // that it was joined of, nil for a piece of one file
	Mended Mended        // what was done to it to make Mesh

	sized      *mesh.Mesh // what of the scan counts for its size
	sizedShare float64    // the share of the largest shell under which debris doesn't; negative for all of it
}

// thinCells is how many cells the thinned mesh has along the piece's longest side: about two pixels of a picture each.
const thinCells = 260

// OpenPiece reads a mesh file. Its errors are sentences for the maker: *mesh.FormatError, *mesh.UnsupportedError or what
// the file system said.
func OpenPiece(ctx context.Context, path string) (*Piece, error) {
	m, raw, err := mesh.Open(path)
	if err != nil {
		return nil, err
	}
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	p := NewPiece(titleOf(path), m, raw)
	p.File = path
	return p, ctx.Err()
}

// titleOf is what a piece of a file is called.
func titleOf(path string) string {
	base := filepath.Base(path)
	return phrase.Name(strings.TrimSuffix(base, filepath.Ext(base)))
}

// JoinPiece makes a piece of several scans. Its errors are sentences for the maker; report may be nil, it is given what is being done
// and the share of all that is done.
func JoinPiece(ctx context.Context, plan *scans.Plan, report func(step string, done float64)) (*Piece, error) {
	j, err := scans.Make(ctx, plan, report)
	if err != nil {
		return nil, err
	}
	first := plan.Sources[0].File
	raw := mesh.Raw{Format: "joined scans", Facets: len(j.Piece.Mesh.Triangles), UnitMM: j.Set.Scans[0].Raw.UnitMM, Colours: j.Colours()}
	if plan.Alone() {
		raw = j.Set.Scans[0].Raw
	}
	p := NewPiece(titleOf(first), j.Piece.Mesh, raw)
	p.File, p.Joined = first, j
	return p, ctx.Err()
}

// Files are the files that the piece is made of, none for a piece that no file holds.
func (p *Piece) Files() (all []string) {
	if p.Joined == nil {
		if p.File == "" {
			return nil
		}
		return []string{p.File}
	}
	for _, s := range p.Joined.Plan.Sources {
		all = append(all, s.File)
	}
	return all
}

// NewPiece checks a mesh and makes it a piece, as it is.
func NewPiece(name string, m *mesh.Mesh, raw mesh.Raw) *Piece {
	p := newPiece(name, m, m.Adjacency(), raw)
	p.Scan = &Scan{Mesh: m, Adjacency: p.Adjacency, Findings: p.Findings}
	p.sized, p.sizedShare = m, -1
	return p
}

func newPiece(name string, m *mesh.Mesh, adj mesh.Adjacency, raw mesh.Raw) *Piece {
	p := &Piece{Name: name, Mesh: m, Adjacency: adj, Raw: raw, Findings: mesh.Inspect(m, adj), Thin: m}
	if size := p.Findings.Size; len(m.Triangles) > 4*thinCells*thinCells {
		p.Thin = mesh.Thin(m, max(size.X, size.Y, size.Z)/thinCells)
	}
	return p
}

// WithSurface is the piece with another surface that stands for the same solid, its size among the rest.
func (p *Piece) WithSurface(m *mesh.Mesh) *Piece {
	if m == p.Mesh {
		return p
	}
	q := *p
	q.Mesh, q.Thin, q.Adjacency, q.sized = m, m, m.Adjacency(), m
	return &q
}

// Solid reports whether the piece can be trusted with figures that need an inside.
func (p *Piece) Solid() bool { return p.Findings.Solid() }

// NoInside says why a piece that is no solid has no inside that figures could be taken of; it begins in lower case.
func (p *Piece) NoInside() string {
	switch {
	case p.Findings.Crosses:
		return "the surface runs through itself"
	case p.Findings.OpenEdges > 0:
		return "the surface is not closed"
	}
	return "the surface is no solid"
}

// fieldCells is how many cells the field has along the piece's longest side: 2 mm for a piece of 400 mm, a tenth of a
// usual wall.
const fieldCells = 200

// Hollow builds the field that every hollow is taken from, once for all scales and turns. It wants a solid piece.
func (p *Piece) Hollow(ctx context.Context, progress func(done float64)) (*field.Grid, error) {
	return field.Build(ctx, p.Mesh, fieldCells, progress)
}

// CoarseHollow is Hollow with so many cells along the longest side, or as many more as it takes to tell a wall, in the piece's units,
// wherever Hollow tells it.
func (p *Piece) CoarseHollow(ctx context.Context, cells int, wall float64) (*field.Grid, error) {
	size := p.Mesh.Box().Size()
	need := math.Floor(max(size.X, size.Y, size.Z)/wall) + 1
	return field.Build(ctx, p.Mesh, max(cells, int(min(need, fieldCells))), nil)
}
