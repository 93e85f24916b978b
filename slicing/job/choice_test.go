package job_test

import (
	"reflect"
	"strings"
	"testing"

	"grainstack/assets/stocktest"
	"grainstack/slicing/geom"
	"grainstack/slicing/job"
	"grainstack/slicing/unit"
)

// leaves visits every number, word and yes-and-no of a value, with its name.
func leaves(v reflect.Value, name string, each func(name string, v reflect.Value)) {
	switch v.Kind() {
	case reflect.Struct:
		for i := range v.NumField() {
			leaves(v.Field(i), name+"."+v.Type().Field(i).Name, each)
		}
	case reflect.Array:
		for i := range v.Len() {
			leaves(v.Index(i), name, each)
		}
	default:
		each(name, v)
	}
}

// TestEveryChoiceIsTold: whatever single setting differs, it is said, and nothing else is.
func TestEveryChoiceIsTold(t *testing.T) {
	c := stocktest.Catalogue(t)
	from := job.Default(c)
	count := 0
	leaves(reflect.ValueOf(&from).Elem(), "", func(name string, v reflect.Value) { count++ })
	for k := range count {
		to, i, changed := from, 0, ""
		leaves(reflect.ValueOf(&to).Elem(), "", func(name string, v reflect.Value) {
			if i++; i-1 != k {
				return
			}
			changed = name
			switch v.Kind() {
			case reflect.Float64:
				v.SetFloat(v.Float() + 1.5)
			case reflect.Bool:
				v.SetBool(!v.Bool())
			case reflect.String:
				v.SetString(v.String() + "5:x")
			case reflect.Int:
				v.SetInt(v.Int() ^ 1)
			case reflect.Uint64:
				v.SetUint(v.Uint() + 1)
			case reflect.Pointer:
				v.Set(reflect.New(v.Type().Elem()))
			default:
				t.Fatalf("%s is of a kind that no test changes", name)
			}
		})
		got := job.Choices(from, to, c, unit.Metric)
		if len(got) != 1 || got[0].From == got[0].To && got[0].From != "" {
			t.Errorf("%s changed, and this is told: %v", changed, got)
		}
	}
	if got := job.Choices(from, from, c, unit.Metric); len(got) != 0 {
		t.Errorf("nothing changed, and this is told: %v", got)
	}
}

func TestChoicesInAMakersWords(t *testing.T) {
	c := stocktest.Catalogue(t)
	from := job.Default(c)
	to := from
	to.Turn, to.Wall, to.CapTop, to.Board, to.Alternate = geom.TurnXYZ(0, 90, 0), 0, 2, "beech-18-13", false
	to.PanelX, to.Mix = 900, "5:beech-18-13, 9:turn"
	var lines []string
	for _, one := range job.Choices(from, to, c, unit.Metric) {
		lines = append(lines, one.String())
	}
	want := "stand as it came → sideways 90°\nboard Birch 18 mm, 13-ply → Beech 18 mm, 13-ply\nlayers every second turned → all the same way\n" +
		"layers of their own none → 5 Beech 18 mm, 13-ply; 9 turned\nwall 20 mm → solid\nsolid layers above 1 → 2\npanel 600 mm × 600 mm → 900 mm × 600 mm"
	if got := strings.Join(lines, "\n"); got != want {
		t.Errorf("told\n%s\nwant\n%s", got, want)
	}
}
