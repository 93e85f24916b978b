package mesh_test

import (
	"bytes"
	"compress/gzip"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/hschendel/stl"
	"github.com/unixpickle/model3d/model3d"

	"grainstack/slicing/mesh"
	"grainstack/slicing/solidtest"
)

// The STL package reads the same facets from both kinds of file, to the bit and in the file's order as far as welding can
// tell.
func TestAgreesWithSTLPackage(t *testing.T) {
	m := solidtest.Bumpy(70, 5000)
	for _, file := range [][]byte{binarySTL(t, m), textSTL(t, m)} {
		theirs, err := stl.ReadAll(bytes.NewReader(file))
		if err != nil {
			t.Fatal(err)
		}
		ours, raw, err := read(file)
		if err != nil || raw.Facets != len(theirs.Triangles) {
			t.Fatalf("%+v, %v", raw, err)
		}
		count := map[[3][3]float32]int{}
		for _, f := range theirs.Triangles {
			count[[3][3]float32{f.Vertices[0], f.Vertices[1], f.Vertices[2]}]++
		}
		for _, c := range ours.Triangles {
			count[[3][3]float32{ours.Points[c[0]], ours.Points[c[1]], ours.Points[c[2]]}]--
		}
		for f, n := range count {
			if n != 0 {
				t.Fatalf("%s: facet %v: %d more in theirs", raw.Format, f, n)
			}
		}
	}
}

// Normals written are those of the corners' order.
func TestWriteSTLNormals(t *testing.T) {
	s, err := stl.ReadAll(bytes.NewReader(binarySTL(t, solidtest.Sphere(10, 1000))))
	if err != nil {
		t.Fatal(err)
	}
	if err := s.Validate(); len(err) != 0 {
		t.Errorf("%d facets are faulty: %v", len(err), err)
	}
}

// Real models agree with model3d's own reader and sums: volume, area, and whether there is anything to mend.
func TestAgreesWithModel3D(t *testing.T) {
	files := models(t)
	for _, path := range files {
		file := unpack(t, path)
		ours, raw, err := read(file)
		if err != nil {
			t.Errorf("%s: %v", filepath.Base(path), err)
			continue
		}
		triangles, err := theirRead(path, file)
		if err != nil {
			t.Fatal(err)
		}
		theirs := model3d.NewMeshTriangles(triangles)
		f := mesh.Inspect(ours, ours.Adjacency())
		t.Logf("%s: %d facets, volume %.6g, area %.6g, %d shells, %d open, %d many, %d flipped, solid %v", filepath.Base(path),
			raw.Facets, f.Volume, f.Area, f.Shells, f.OpenEdges, f.NonManifoldEdges, f.FlippedEdges, f.Solid())
		if raw.Facets != len(triangles) {
			t.Errorf("%s: %d facets, they have %d", filepath.Base(path), raw.Facets, len(triangles))
		}
		closed := f.OpenEdges == 0 && f.FlippedEdges == 0 && f.NonManifoldEdges == 0
		if want := theirs.Volume(); closed && !near(f.Volume, want, 1e-9) {
			t.Errorf("%s: volume %v, they have %v", filepath.Base(path), f.Volume, want)
		}
		if want := theirs.Area(); !near(f.Area, want, 1e-9) {
			t.Errorf("%s: area %v, they have %v", filepath.Base(path), f.Area, want)
		}
		if broken := theirs.NeedsRepair(); broken != (f.OpenEdges+f.NonManifoldEdges+f.FlippedEdges > 0) {
			t.Errorf("%s: to be mended %v, we have %+v", filepath.Base(path), broken, f)
		}
	}
}

// models are the solids that come with the module's sources.
func models(t *testing.T) []string {
	t.Helper()
	out, err := exec.Command("go", "list", "-m", "-f", "{{.Dir}}", "github.com/unixpickle/model3d").Output()
	dir := strings.TrimSpace(string(out))
	if err != nil || dir == "" {
		t.Skip("the sources of github.com/unixpickle/model3d are not there: run \"go mod download\" first")
	}
	var files []string
	for _, pattern := range []string{
		"examples/renderings/showcase/models/*.stl.gz", "examples/renderings/*/*.stl", "model3d/test_data/*.stl.gz", "model3d/test_data/*.off",
	} {
		found, err := filepath.Glob(filepath.Join(dir, pattern))
		if err != nil {
			t.Fatal(err)
		}
		files = append(files, found...)
	}
	if len(files) < 5 {
		t.Fatalf("%d models in %s, want at least 5", len(files), dir)
	}
	return files
}

func unpack(t *testing.T, path string) []byte {
	t.Helper()
	file, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if !strings.HasSuffix(path, ".gz") {
		return file
	}
	z, err := gzip.NewReader(bytes.NewReader(file))
	if err != nil {
		t.Fatal(err)
	}
	file, err = io.ReadAll(z)
	if err != nil {
		t.Fatal(err)
	}
	return file
}

func theirRead(path string, file []byte) ([]*model3d.Triangle, error) {
	if strings.HasSuffix(path, ".off") {
		return model3d.ReadOFF(bytes.NewReader(file))
	}
	return model3d.ReadSTL(bytes.NewReader(file))
}
