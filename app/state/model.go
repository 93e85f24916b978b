package state

import (
	"sync"

	"grainstack/app/picture"
	"grainstack/app/session"
	"grainstack/render/look"
	"grainstack/slicing/chalk"
	"grainstack/slicing/field"
	"grainstack/slicing/job"
	"grainstack/slicing/jobfile"
	"grainstack/slicing/mesh"
	"grainstack/slicing/scans"
)

// A Model is a piece with everything that pictures of it need, whatever its settings.
type Model struct {
	Piece      *job.Piece
	Key        MendKey      // how it was mended
	Settings   job.Settings // to begin with
	Job        jobfile.Job  // as it was opened: what the window doesn't change is saved as it was
	Full, Thin *look.Body
	Grid       *field.Grid // nil until the hollow is known

	// Of the facets of either body, made when they are first asked for.
	Index, ThinIndex func() *chalk.Index
	tints            map[session.Over][2]func() [][3]uint8 // what can be laid over the wood, on either body
}

// NewModel is a piece as it was read, with the job that it came with and the settings to begin with.
func NewModel(j jobfile.Job, s job.Settings) *Model {
	m := &Model{Piece: j.Piece, Job: j, Settings: s, Key: MendKey{Scan: j.Piece.Scan}} // not looked through: no settings ask for that
	m.dress()
	return m
}

// Mended is the model of the same scan mended otherwise; its piece may be the same.
func (m *Model) Mended(p *job.Piece, key MendKey) *Model {
	with := *m
	with.Key = key
	if p != m.Piece {
		with.Piece, with.Grid = p, nil
		if p.Mesh != m.Piece.Mesh {
			with.dress()
		}
	}
	return &with
}

// Hollowed is the model with its hollow known, and with it how open its surface is to the sky.
func (m *Model) Hollowed(grid *field.Grid) *Model {
	with := *m
	with.Grid = grid
	with.Full = m.Full.WithOpenness(grid.Openness(m.Piece.Mesh.Points, nil))
	with.Thin = with.Full
	if m.Piece.Thin != m.Piece.Mesh {
		with.Thin = m.Thin.WithOpenness(grid.Openness(m.Piece.Thin.Points, nil))
	}
	return &with
}

// Plan is how the piece was joined of scans, nil for a piece of one file.
func (m *Model) Plan() *scans.Plan {
	if m.Piece.Joined == nil {
		return nil
	}
	return m.Piece.Joined.Plan
}

// dress makes what pictures of the piece need.
func (m *Model) dress() {
	m.Full = look.NewBody(m.Piece.Mesh)
	m.Thin = m.Full
	p := m.Piece
	m.Index = sync.OnceValue(func() *chalk.Index { return chalk.NewIndex(p.Mesh) })
	m.ThinIndex = sync.OnceValue(func() *chalk.Index { return chalk.NewIndex(p.Thin) })
	if p.Thin != p.Mesh {
		m.Thin = look.NewBody(p.Thin)
	}
	m.tints = map[session.Over][2]func() [][3]uint8{session.ScanTints: tintsOf(p, func() *mesh.Colours { return p.Raw.Colours })}
	if p.Joined != nil {
		m.tints[session.ApartTints] = tintsOf(p, func() *mesh.Colours { return picture.Apart(p.Joined) })
	}
}

// tintsOf are colours on a piece and on its thinned mesh.
func tintsOf(p *job.Piece, from func() *mesh.Colours) (out [2]func() [][3]uint8) {
	for i, surface := range []*mesh.Mesh{p.Mesh, p.Thin} {
		out[i] = sync.OnceValue(func() [][3]uint8 { return from().On(surface) })
	}
	return out
}

// TintsOn is what is laid over the wood on one of the bodies, nil for nothing.
func (m *Model) TintsOn(b *look.Body, o session.Over) [][3]uint8 {
	tints, ok := m.tints[o]
	switch {
	case !ok:
		return nil
	case b == m.Thin && m.Thin != m.Full:
		return tints[1]()
	}
	return tints[0]()
}
