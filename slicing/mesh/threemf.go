package mesh

import (
	"archive/zip"
	"bytes"
	"io"
	"strings"
)

func looksLikeZip(head []byte, _ int64) bool { return bytes.HasPrefix(head, []byte("PK\x03\x04")) }

// A packageFile is a 3MF file: a zip archive whose parts are found by relations (ECMA-376 part 2, Open Packaging Conventions).
type packageFile struct {
	source *source
	parts  map[string]*zip.File // by path without a slash before it, in small letters
	limit  int64                // bytes that may still be unpacked
	models map[string]*model    // read so far
}

// mostParts is how many model parts one file may be made of.
const mostParts = 4096

// read3MF reads all solids of the build, in place (3MF Core Specification 1.3, and of its production extension the paths to
// further model parts). What only makes the look, supports, and slices is left out; the first model's unit goes to s.
func read3MF(s *source) ([]facet, error) {
	z, err := zip.NewReader(io.NewSectionReader(s.r, 0, s.size), s.size)
	if err != nil {
		return nil, s.fault(0, 0, remedyAgain, "the archive's list of contents is missing or damaged")
	}
	p := &packageFile{source: s, parts: map[string]*zip.File{}, limit: packedLimit(s.size), models: map[string]*model{}}
	for _, f := range z.File {
		if name := partName(f.Name); p.parts[name] == nil {
			p.parts[name] = f
		}
	}
	root, err := p.root()
	if err != nil {
		return nil, err
	}
	if p.parts[root] == nil {
		return nil, &UnsupportedError{File: s.name, Looks: "a zip archive without a 3MF model", Remedy: asUnpack}
	}
	m, err := p.model(root)
	if err != nil {
		return nil, err
	}
	s.unitMM = m.unitMM
	return p.build(m)
}

func partName(path string) string { return strings.ToLower(strings.TrimLeft(path, "/\\")) }

// root is the path of the model that the package's own relations name, or where it usually is.
func (p *packageFile) root() (string, error) {
	const usual = "3d/3dmodel.model"
	relations := p.parts["_rels/.rels"]
	if relations == nil {
		return usual, nil
	}
	found := ""
	err := p.walk(relations, func(x *tags) {
		if !x.opening || localName(x.name) != "Relationship" || found != "" {
			return
		}
		if kind, _ := x.attribute("Type"); strings.HasSuffix(kind, "/3dmodel") {
			target, _ := x.attribute("Target")
			found = partName(target)
		}
	})
	if found == "" {
		found = usual
	}
	return found, err
}

// walk calls visit for each tag of a part.
func (p *packageFile) walk(f *zip.File, visit func(x *tags)) error {
	if f.UncompressedSize64 > uint64(p.limit) {
		return p.source.fault(0, 0, remedyPacked, "it unpacks to %d MB, which no solid packed into %d kB does",
			f.UncompressedSize64>>20, (p.source.size+1023)>>10)
	}
	r, err := f.Open()
	if err != nil {
		return p.source.packedFault(err)
	}
	defer r.Close()
	x := p.source.tags(r, p.limit)
	if x.have(2) && (x.buf[0] == 0xfe && x.buf[1] == 0xff || x.buf[0] == 0xff && x.buf[1] == 0xfe) {
		return &UnsupportedError{File: p.source.name, Looks: "a 3MF file written in UTF-16", Remedy: asMesh}
	}
	for x.next() {
		visit(x)
	}
	p.limit = x.limit
	return x.err
}

// attribute is the value of the attribute with the local name.
func (x *tags) attribute(name string) (value string, ok bool) {
	for _, a := range x.attributes {
		if localName(a.name) == name {
			return plainText(a.value), true
		}
	}
	return "", false
}

// plainText is value with XML's own five entities spelt out.
func plainText(value []byte) string {
	if bytes.IndexByte(value, '&') < 0 {
		return string(value)
	}
	return strings.NewReplacer("&lt;", "<", "&gt;", ">", "&quot;", `"`, "&apos;", "'", "&amp;", "&").Replace(string(value))
}

// localName is a name without its prefix.
func localName(name []byte) string {
	return string(name[bytes.LastIndexByte(name, ':')+1:])
}
