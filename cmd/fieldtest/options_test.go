package fieldtest

import (
	"flag"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"
)

// What can be asked of the tests beyond the short form.
var (
	settings = flag.Int("settings", 0, "random settings that each piece is tried with; 0 for the short form")
	pieces   = flag.String("pieces", "", "names of pieces with commas between them; all where nothing is said")
	onlyCase = flag.Int("case", -1, "the one case that is tried of each piece, counted from 0")
	seed     = flag.Uint64("seed", 1, "of the random settings")
	tallest  = flag.Float64("tallest", everyHeight.most, "mm that a piece may be asked to be at the most")
	scans    = flag.Int("scans", 0, "bad scans that are made and tried; 0 for the short form")
	program  = flag.String("program", "", "the built program; it is built where nothing is said")
	keep     = flag.String("keep", "", "folder in which jobs and what was made of them are left")
	limit    = flag.Duration("limit", 3*time.Minute, "that one command may take")
)

// fieldSet is the folder with the meshes.
const fieldSet = "GRAINSTACK_FIELD_SET"

// fieldPieces are the meshes of the field set, in the order of their names.
func fieldPieces(t *testing.T) (files []string) {
	t.Helper()
	dir := os.Getenv(fieldSet)
	if dir == "" {
		if os.Getenv("CI") == "true" {
			t.Fatalf("%s is not set: cmd/fieldset.sh brings the meshes and says where they are", fieldSet)
		}
		t.Skipf("THE FIELD SET IS SKIPPED: %s is not set; cmd/fieldset.sh brings the meshes and says where they are", fieldSet)
	}
	for _, pattern := range []string{"*.off", "*.obj"} {
		found, err := filepath.Glob(filepath.Join(dir, pattern))
		if err != nil {
			t.Fatal(err)
		}
		files = append(files, found...)
	}
	slices.SortFunc(files, func(a, b string) int { return strings.Compare(pieceName(a), pieceName(b)) })
	if *pieces != "" {
		wanted := strings.Split(*pieces, ",")
		files = slices.DeleteFunc(files, func(f string) bool { return !slices.Contains(wanted, pieceName(f)) })
	}
	if len(files) == 0 {
		t.Fatalf("no piece to try in %s", dir)
	}
	return files
}

// pieceName is a mesh file's name without folder and ending.
func pieceName(file string) string {
	return strings.TrimSuffix(filepath.Base(file), filepath.Ext(file))
}

// built is the program's path.
func built(t *testing.T) string {
	t.Helper()
	if *program != "" {
		return *program
	}
	to := filepath.Join(t.TempDir(), "grainstack")
	if out, err := exec.Command("go", "build", "-tags", "migrated_fynedo", "-o", to, "grainstack/cmd/grainstack").CombinedOutput(); err != nil {
		t.Fatalf("the program can't be built: %v\n%s", err, out)
	}
	return to
}

// workFolder is where the files of one case go.
func workFolder(t *testing.T, name string) string {
	t.Helper()
	if *keep == "" {
		return t.TempDir()
	}
	dir := filepath.Join(*keep, name)
	if err := os.MkdirAll(dir, 0o755); err != nil {
		t.Fatal(err)
	}
	return dir
}
