package job

import (
	"context"

	"grainstack/slicing/geom"
	"grainstack/slicing/mend"
	"grainstack/slicing/mesh"
)

// Sized is the piece with the size of its scan as the settings mend it: debris that they leave out doesn't count. It is the
// piece itself where that changes nothing. A piece that Mend or Close gave is sized already.
func (p *Piece) Sized(ctx context.Context, s Settings) (*Piece, error) {
	share := s.Mending().DebrisShare
	if s.Mend.Off || p.Scan.Findings.Shells < 2 {
		share = -1 // nothing is debris
	}
	kept := p.Scan.Mesh
	switch {
	case share == p.sizedShare:
		return p, nil
	case share > 0:
		var err error
		if kept, err = mend.WithoutDebris(ctx, kept, p.Scan.Adjacency, share); err != nil {
			return nil, err
		}
	}
	if kept == p.sized {
		return p, nil
	}
	q := *p
	q.sized, q.sizedShare = kept, share
	return &q, nil
}

// ScanSize is how far the turned scan reaches along the three axes, in file units: all of it but debris, before mending. What
// mending takes off besides (a floor, what is sawn off) counts, and so the piece may be lower than its scan; what it adds
// does not. It goes over the scan's points.
func (p *Piece) ScanSize(t geom.Turn) geom.Vec {
	var size [3]float64
	for i := range size {
		low, high := extent(p.sized, geom.Vec{X: t[i][0], Y: t[i][1], Z: t[i][2]})
		size[i] = high - low
	}
	return geom.Vec{X: size[0], Y: size[1], Z: size[2]}
}

// ScaleForHeight is the scale at which the turned scan is as high as asked, mm: see ScanSize; 1 for a scan without height.
func (p *Piece) ScaleForHeight(t geom.Turn, height float64) float64 {
	return scaleFor(p.ScanSize(t).Z, height)
}

// ScaleForHeight is that of the standing's piece, by a look-up where the turn is the standing's.
func (s *Standing) ScaleForHeight(t geom.Turn, height float64) float64 {
	if t == s.Stand.Turn {
		return scaleFor(s.ScanSize.Z/s.Stand.Scale, height)
	}
	return s.Piece.ScaleForHeight(t, height)
}

// scaleFor is the scale at which so many units are so many mm; 1 for none.
func scaleFor(units, mm float64) float64 {
	if !(units > 0) {
		return 1
	}
	return mm / units
}

// extent is how far a mesh reaches along a direction.
func extent(m *mesh.Mesh, along geom.Vec) (low, high float64) {
	for i, q := range m.Points {
		z := along.Dot(q.Vec())
		if i == 0 {
			low, high = z, z
		}
		low, high = min(low, z), max(high, z)
	}
	return low, high
}
