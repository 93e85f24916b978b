package stock_test

import (
	"strings"
	"testing"

	"grainstack/slicing/stock"
	"grainstack/slicing/unit"
)

// machine is a stock file with one machine, and what it says of its programs.
func machine(programs string) []byte {
	return []byte(`{"machines":[{"key":"mine","name":"Mine","travelX":600,"travelY":600,"travelZ":90,"rapidMmMin":5000,"feedMmMin":4000,"rapidZMmMin":2000,
"feedZMmMin":1000,"accelMmS2":300,"accelZMmS2":200,"junction":0.01,"minRPM":8000,"maxRPM":24000` + programs + `}]}`)
}

// What a machine's entry leaves out of its programs is usual, and what it says is taken.
func TestController(t *testing.T) {
	for text, want := range map[string]stock.Controller{
		"":                 stock.UsualController(),
		`,"programs":{}`:   stock.UsualController(),
		`,"programs":null`: stock.UsualController(),
		`,"programs":{"zero":"dowel","zeroHeight":"bed","units":"inch","safeHeight":8,"spindle":false,"pause":true,"arcs":false,"mostBytes":50000,"mostLines":2000,"firstLines":["G54"],"lastLines":["M9"]}`: {
			Zero: stock.AtDowel, Height: stock.OnBed, Units: unit.Inch, SafeHeight: 8, Pause: true, MostBytes: 50000, MostLines: 2000, First: []string{"G54"}, Last: []string{"M9"}},
	} {
		c, _, err := catalogue(t).Merge("own", machine(text))
		if err != nil {
			t.Errorf("%s: %v", text, err)
			continue
		}
		m, _ := c.Machine("mine")
		got := m.Controller
		if got.Zero != want.Zero || got.Height != want.Height || got.Units != want.Units || got.SafeHeight != want.SafeHeight || got.Spindle != want.Spindle ||
			got.Pause != want.Pause || got.Arcs != want.Arcs || got.MostBytes != want.MostBytes || got.MostLines != want.MostLines ||
			strings.Join(got.First, ";") != strings.Join(want.First, ";") || strings.Join(got.Last, ";") != strings.Join(want.Last, ";") {
			t.Errorf("%s: %+v", text, got)
		}
	}
}

// What is wrong is told with the machine, the figure and what it wants.
func TestControllerFaults(t *testing.T) {
	for programs, want := range map[string]string{
		`{"zero":"left"}`:            `zero is "left", wants corner, middle or dowel`,
		`{"zeroHeight":"top"}`:       `zeroHeight is "top", wants face or bed`,
		`{"units":"cm"}`:             `units is "cm", wants mm or inch`,
		`{"safeHeight":-1}`:          "safeHeight is -1, wants 0 to 200",
		`{"safeHeight":500}`:         "safeHeight is 500, wants 0 to 200",
		`{"mostBytes":100}`:          "mostBytes is 100: a program needs 4096 bytes at the least",
		`{"mostBytes":50000.5}`:      "mostBytes is 50000.5, wants a whole number",
		`{"mostLines":-3}`:           "mostLines is -3, wants a whole number",
		`{"mostLines":7}`:            "mostLines is 7: a program needs 100 lines at the least",
		`{"firstLines":["G0\nZ-5"]}`: "firstLines has the line",
		`{"firstLines":["µ"]}`:       "firstLines has the line",
		`{"lastLines":[""]}`:         "lastLines has the line",
		`{"lastLines":"M9"}`:         "Programs.LastLines",
		`{"spindle":"yes"}`:          "Programs.Spindle",
		`{"laser":true}`:             "laser",
	} {
		_, _, err := catalogue(t).Merge("own", machine(`,"programs":`+programs))
		if err == nil || !strings.Contains(err.Error(), want) || !strings.Contains(err.Error(), "line 1") {
			t.Errorf("%s: %v", programs, err)
		} else if n := strings.Count(err.Error(), "\n"); n > 0 {
			t.Errorf("%s: told %d times: %v", programs, n+1, err)
		}
	}
}
