package stock_test

import (
	"strings"
	"testing"
	"testing/fstest"

	"grainstack/assets"
	"grainstack/slicing/stock"
)

func load(text string) (*stock.Catalogue, error) {
	return stock.Load(fstest.MapFS{"own.json": {Data: []byte(text)}}, "own.json")
}

func text(t testing.TB) string {
	b, err := assets.FS.ReadFile("stock.json")
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

// Each row spoils one thing in the good catalogue; the error has to name the entry and what is wrong with it.
func TestLoadRefuses(t *testing.T) {
	good := text(t)
	for _, tt := range []struct{ name, old, new, want string }{
		{"negative thickness", `"thickness": {"value": 17.7,`, `"thickness": {"value": -17.7,`, `board "birch-18-13": thickness is -17.7, wants 0.5 to 300`},
		{"recipe does not sum", `"thickness": {"value": 17.7,`, `"thickness": {"value": 18,`, `board "birch-18-13": the 13 veneers sum to 17.700 mm, the board measures 18 mm`},
		{"nought density", `"density": {"value": 685,`, `"density": {"value": 0,`, `board "birch-18-13": density is 0`},
		{"missing figure", `"density": {"value": 685,`, `"density": null, "nominal": {"value": 18,`, `board "birch-18-13": density is missing`},
		{"flat veneer", `{"thickness": 1.15, "grain"`, `{"thickness": 0, "grain"`, `board "birch-18-13": veneer 1: thickness is 0`},
		{"odd grain", `"grain": "along"`, `"grain": "up"`, `board "birch-18-13": veneer 1: the grain is "up", wants along, across or plain`},
		{"unknown species", `"species": "birch"}`, `"species": "brich"}`, `board "birch-18-13": veneer 1: no species "brich"`},
		{"key used twice", `"key": "birch-12-9"`, `"key": "birch-18-13"`, `board "birch-18-13": the key is used twice`},
		{"no key", `"key": "birch-18-13"`, `"key": ""`, `board "": has no key`},
		{"no name", `"name": "Bare, sanded"`, `"name": ""`, `finish "bare": has no name`},
		{"tone of two numbers", `[81.1, 7.2, 20.0]`, `[81.1, 7.2]`, `species "birch": long has 2 numbers, wants 3`},
		{"tone too light", `[81.1, 7.2, 20.0]`, `[181.1, 7.2, 20.0]`, `species "birch": long is [181.1 7.2 20]`},
		{"half a flute", `"flutes": {"value": 2,`, `"flutes": {"value": 2.5,`, `cutter "ball-6.35": flutes is 2.5, wants a whole number from 1 to 12`},
		{"odd shape", `"shape": "ball"`, `"shape": "bowl"`, `cutter "ball-6.35": the shape is "bowl", wants flat, ball, bull or taper`},
		{"three glued faces", `"faces": {"value": 2,`, `"faces": {"value": 3,`, `glue "pva": faces is 3`},
		{"first not there", `"board": "birch-18-13"`, `"board": "oak"`, `first: board: no board "oak"`},
		{"slip in a figure's name", `"density": {"value": 685,`, `"densty": {"value": 685,`, `densty`},
		{"slip inside a figure", `"density": {"value": 685,`, `"density": {"vlaue": 685,`, `vlaue`},
		{"word for a number", `"density": {"value": 685,`, `"density": {"value": "heavy",`, `line `},
		{"too great for a float", `"density": {"value": 685,`, `"density": {"value": 1e999,`, `1e999`},
		{"comma lost", `"boards": [`, `"boards" [`, `line `},
		{"cut short", good[len(good)/2:], ``, `stops too early`},
		{"empty", good, ``, `stops too early`},
		{"two catalogues", good, good + good, `something follows`},
	} {
		t.Run(tt.name, func(t *testing.T) {
			if !strings.Contains(good, tt.old) {
				t.Fatalf("the catalogue has no %s to spoil", tt.old)
			}
			_, err := load(strings.Replace(good, tt.old, tt.new, 1))
			if err == nil {
				t.Fatal("taken")
			}
			if !strings.Contains(err.Error(), tt.want) || !strings.Contains(err.Error(), "own.json") {
				t.Errorf("got %q, want it to hold %q and the file", err, tt.want)
			}
		})
	}
}

// Every fault is listed, not the first only.
func TestLoadListsAll(t *testing.T) {
	spoiled := strings.NewReplacer(`"value": 685,`, `"value": 0,`, `"value": 695,`, `"value": -1,`).Replace(text(t))
	_, err := load(spoiled)
	if err == nil || !strings.Contains(err.Error(), "birch-18-13") || !strings.Contains(err.Error(), "birch-12-9") {
		t.Errorf("got %v, want both boards", err)
	}
}

// A bare number is a figure without a source.
func TestBareFigure(t *testing.T) {
	plain := strings.Replace(text(t), `"density": {"value": 685, "source": "trade birch plywood data sheet (United Kingdom)"}`, `"density": 690`, 1)
	c, err := load(plain)
	if err != nil {
		t.Fatal(err)
	}
	b, _ := c.Board("birch-18-13")
	if b.Density != 690 || b.Sources["density"] != "" {
		t.Errorf("got %g from %q", b.Density, b.Sources["density"])
	}
}

func TestLoadMissing(t *testing.T) {
	if _, err := stock.Load(fstest.MapFS{}, "none.json"); err == nil || !strings.Contains(err.Error(), "none.json") {
		t.Errorf("got %v", err)
	}
}

// small is the least catalogue that is taken.
const small = `{"first":{"board":"b","rough":"c","finish":"c","machine":"m","glue":"g","coat":"f","panel":"p"},
"boards":[{"key":"b","name":"B","nominal":18,"thickness":3,"sheetX":9,"sheetY":9,"density":500,"glueLine":0.1,"glueTone":[30,9,9],
 "recipe":{"veneers":[{"thickness":1,"grain":"along","species":"s"},{"thickness":2,"grain":"across","species":"s"}]}}],
"species":[{"key":"s","name":"S","long":{"value":[80,7,20],"source":"x"},"dark":[70,7,20],"end":[60,8,18],"vary":2}],
"cutters":[{"key":"c","name":"C","shape":"ball","diameter":6,"flutes":2,"cutLength":20,"reach":30,"shank":6,"feedMmMin":2000,
 "plungeMmMin":800,"rpm":14000,"stepdown":3,"stepover":0.5}],
"machines":[{"key":"m","name":"M","travelX":600,"travelY":600,"travelZ":90,"rapidMmMin":5000,"feedMmMin":4000,"rapidZMmMin":2000,
 "feedZMmMin":1000,"accelMmS2":400,"accelZMmS2":250,"junction":0.01,"minRPM":9000,"maxRPM":30000}],
"glues":[{"key":"g","name":"G","spreadGM2":110,"faces":2,"solids":0.5,"openMin":8,"clampMin":45,"softMPa":0.8,"hardMPa":1.4,"line":0.1,"tone":[70,4,20]}],
"finishes":[{"key":"f","name":"F","coats":0,"shift":0,"endShift":0,"chroma":1,"gloss":0}],
"panels":[{"key":"p","name":"P","x":600,"y":600}]}`

func FuzzLoad(f *testing.F) {
	if _, err := load(small); err != nil {
		f.Fatal(err)
	}
	f.Add(small)
	f.Add(small[:len(small)/3])
	f.Add(`{"boards":[{"thickness":{"value":1},"recipe":{"veneers":[{}]}}]}`)
	f.Add(`{"species":[{"long":[1,2,3],"dark":null}]}`)
	f.Fuzz(func(t *testing.T, s string) {
		c, err := load(s)
		if err != nil {
			return
		}
		for _, b := range c.Boards { // what was taken can be used
			if _, err := b.Skimmed(b.Thickness / 4); err != nil {
				t.Errorf("%v", err)
			}
		}
	})
}

func BenchmarkLoad(b *testing.B) {
	for b.Loop() {
		if _, err := stock.Load(assets.FS, "stock.json"); err != nil {
			b.Fatal(err)
		}
	}
}
