package solidtest

import (
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"grainstack/slicing/mesh"
)

// A RealSolid is one that somebody made, with its file's name.
type RealSolid struct {
	*mesh.Mesh
	Name string
}

// Real are the solids among the examples of module model3d, where that is at hand.
func Real(t *testing.T) (all []RealSolid) {
	dir, err := exec.Command("go", "list", "-m", "-f", "{{.Dir}}", "github.com/unixpickle/model3d").Output()
	if err != nil {
		t.Skip("the module is not at hand:", err)
	}
	root := strings.TrimSpace(string(dir))
	models := filepath.Join(root, "examples", "renderings", "showcase", "models")
	for _, path := range []string{
		filepath.Join(models, "curvy_thing.stl.gz"), filepath.Join(models, "pumpkin_stem.stl.gz"), filepath.Join(models, "rocks.stl.gz"),
		filepath.Join(models, "rose.stl.gz"), filepath.Join(root, "model3d", "test_data", "non_intersecting_hook.stl"),
	} {
		m, _, err := mesh.Open(path)
		if err != nil {
			if !errors.Is(err, os.ErrNotExist) {
				t.Error(err)
			}
			continue
		}
		all = append(all, RealSolid{m, filepath.Base(path)})
	}
	if len(all) < 3 {
		t.Errorf("only %d real solids found", len(all))
	}
	return all
}
