package mesh

import (
	"io"
	"path/filepath"
	"slices"

	"grainstack/slicing/disk"
)

// Read reads a solid's surface, welds equal points and puts triangles and points in spatial order. The kind of file is told
// by its contents; name is used in messages only. size is how many bytes r has. Memory follows the bytes that are there,
// never what a header promises; every coordinate is finite and every corner's number is in range.
//
// The error is a *FormatError where the file is broken, an *UnsupportedError where it is a kind that is not read, else
// what r said.
func Read(r io.ReaderAt, size int64, name string) (*Mesh, Raw, error) {
	scan, err := readAll(&source{r: r, size: size, name: name})
	return scan.Mesh, scan.Raw, err
}

func readAll(s *source) (Scan, error) {
	head, err := s.head()
	if err != nil {
		return Scan{}, err
	}
	if s.size == 0 {
		return Scan{}, &FormatError{File: s.name, Fault: "the file is empty", Remedy: remedyAgain}
	}
	for _, f := range formats() {
		if !f.looksLike(head, s.size) {
			continue
		}
		s.format = f.name
		facets, err := f.read(s)
		if err != nil {
			return Scan{}, err
		}
		if s.bare != nil {
			return Scan{Points: s.bare, Raw: Raw{Format: s.format, Colours: s.colours}}, nil
		}
		m, raw, err := build(s, facets)
		return Scan{Mesh: m, Raw: raw}, err
	}
	return Scan{}, foreign(head, s.name)
}

// Open reads the file at path.
func Open(path string) (*Mesh, Raw, error) {
	scan, err := openAs(path, false)
	return scan.Mesh, scan.Raw, err
}

// OpenScan is Open, and takes files of points without faces (PLY) too.
func OpenScan(path string) (Scan, error) { return openAs(path, true) }

func openAs(path string, takesPoints bool) (Scan, error) {
	f, err := disk.Open(path)
	if err != nil {
		return Scan{}, err
	}
	defer f.Close()
	info, err := f.Stat()
	if err != nil {
		return Scan{}, err
	}
	return readAll(&source{r: f, size: info.Size(), name: filepath.Base(path), takesPoints: takesPoints})
}

// A format is one kind of file: its name for messages, how its files' names end, how its first bytes are known, how it is read.
type format struct {
	name      string
	ending    string
	looksLike func(head []byte, size int64) bool
	read      func(s *source) ([]facet, error)
}

// formats are tried in this order: arithmetic first, since a binary STL's header may say anything.
func formats() []format {
	return []format{
		{"binary STL", ".stl", exactSTL, readSTL},
		{"gzip", ".gz", looksLikeGzip, readGzip},
		{"3MF", ".3mf", looksLikeZip, read3MF},
		{"PLY", ".ply", looksLikePLY, readPLY},
		{"OFF", ".off", looksLikeOFF, readOFF},
		{"ASCII STL", ".stl", looksLikeTextSTL, readTextSTL},
		{"binary STL", ".stl", likelySTL, readSTL},
		{"OBJ", ".obj", looksLikeOBJ, readOBJ},
	}
}

// Endings are how the names of files end that are read, in small letters; what a file is, is told by its contents.
func Endings() (all []string) {
	for _, f := range formats() {
		if !slices.Contains(all, f.ending) {
			all = append(all, f.ending)
		}
	}
	return all
}

// build makes the mesh out of the file's facets.
func build(s *source, facets []facet) (*Mesh, Raw, error) {
	raw := Raw{Format: s.format, Facets: len(facets), UnitMM: s.unitMM, Colours: s.colours}
	if len(facets) == 0 {
		return nil, Raw{}, s.fault(0, 0, remedySurface, "the file holds no triangles")
	}
	m, dropped := weld(facets, spatialOrder(facets, bounds(facets)))
	raw.ZeroArea = dropped
	if len(m.Triangles) == 0 {
		return nil, Raw{}, s.fault(0, 0, remedySurface, "all %d triangles are without area", len(facets))
	}
	return m, raw, nil
}

// bounds is the box of all corners.
func bounds(facets []facet) extent {
	parts := make([]extent, (len(facets)+span-1)/span)
	run(len(facets), span, func(from, to int) {
		e := emptyExtent()
		for i := from; i < to; i++ {
			f := &facets[i]
			e.add(f[0])
			e.add(f[1])
			e.add(f[2])
		}
		parts[from/span] = e
	})
	all := emptyExtent()
	for _, e := range parts {
		all.join(e)
	}
	return all
}
