package jobfile_test

import (
	"context"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"grainstack/assets/stocktest"
	"grainstack/slicing/job"
	"grainstack/slicing/jobfile"
)

// TestEarlierJobs: jobs that an earlier program wrote open, and saved again they say the same, field by field. Those of
// testdata/jobs have odd settings of every kind (odd), settings beyond what a rule reaches (ends), none where none will do
// (none), and the form of the first version (first), which lacks what came later.
func TestEarlierJobs(t *testing.T) {
	c := stocktest.Catalogue(t)
	for _, name := range []string{"usual", "odd", "ends", "none", "first"} {
		t.Run(name, func(t *testing.T) {
			at := filepath.Join("testdata", "jobs", name+".grainstack")
			j, err := jobfile.Open(context.Background(), at, "", c, nil)
			if err != nil {
				t.Fatal(err)
			}
			again := filepath.Join(t.TempDir(), "again.grainstack")
			if err := j.Save(again, true); err != nil {
				t.Fatal(err)
			}
			was, is := fieldsOf(t, at), fieldsOf(t, again)
			if len(was) < 100 && name != "first" {
				t.Fatalf("the job has %d fields", len(was))
			}
			for path, value := range was {
				if path != ".grainstack_job" && !strings.HasPrefix(path, ".piece") && is[path] != value {
					t.Errorf("%s is %v, and was %v", path, is[path], value)
				}
			}
			if name == "first" && (j.Settings.Wall != 17 || j.Settings.Shop != job.DefaultShop()) {
				t.Errorf("the first version's job has a wall of %g mm and the shop %+v", j.Settings.Wall, j.Settings.Shop)
			}
		})
	}
}

// fieldsOf are the values of a JSON file by their paths.
func fieldsOf(t *testing.T, path string) map[string]any {
	t.Helper()
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	var all any
	if err := json.Unmarshal(text, &all); err != nil {
		t.Fatal(err)
	}
	out := map[string]any{}
	var walk func(at string, v any)
	walk = func(at string, v any) {
		switch v := v.(type) {
		case map[string]any:
			for name, one := range v {
				walk(at+"."+name, one)
			}
		case []any:
			for i, one := range v {
				walk(fmt.Sprint(at, ".", i), one)
			}
		default:
			out[at] = v
		}
	}
	walk("", all)
	return out
}
