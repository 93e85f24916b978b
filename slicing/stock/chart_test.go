package stock_test

import (
	"strings"
	"testing"

	"grainstack/assets/stocktest"
	"grainstack/slicing/stock"
)

// chart has what an edge of a solid carbide router bit takes in plywood at a depth of its diameter, inches by diameter in inches:
// asttooling.com/pages/speeds-and-feeds-charts. Between two sizes it is taken to change evenly, and below the smallest with the width
// (from memory).
var chart = [][3]float64{{0, 0, 0}, {1.0 / 8, .003, .005}, {1.0 / 4, .006, .009}, {3.0 / 8, .015, .018}, {1.0 / 2, .018, .021}}

const inch = 25.4

// charted is the least and the most that the chart has for a width, mm.
func charted(wide float64) (least, most float64) {
	for k := 1; k < len(chart); k++ {
		a, b := chart[k-1], chart[k]
		if wide <= b[0]*inch+1e-9 {
			t := (wide - a[0]*inch) / ((b[0] - a[0]) * inch)
			return (a[1] + t*(b[1]-a[1])) * inch, (a[2] + t*(b[2]-a[2])) * inch
		}
	}
	return 0, 0
}

// TestChipLoads: at the feeds and speeds of the catalogue each cutter's edges take what the chart says, or less where the machine
// that is set out with can't feed as fast at its lowest speed; the source beside the feed names the chart.
func TestChipLoads(t *testing.T) {
	c := stocktest.Catalogue(t)
	m, _ := c.Machine(c.First.Machine)
	fastest := m.FeedMmMin / m.MinRPM // mm for each turn of the spindle
	for _, k := range c.Cutters {
		wide := k.Diameter
		if k.Shape == stock.Taper {
			wide = k.WidthAt(k.Stepdown)
		}
		least, most := charted(wide)
		if !(least > 0) {
			t.Errorf("the chart has nothing as wide as the %s", k.Name)
			continue
		}
		load := k.ChipLoad()
		can := least*float64(k.Flutes) <= fastest
		t.Logf("%s: %.3f mm an edge, the chart has %.3f to %.3f", k.Name, load, least, most)
		if load > most || can && load < least {
			t.Errorf("%s takes %.3f mm an edge, and the chart has %.3f to %.3f", k.Name, load, least, most)
		}
		if s := k.Sources["feedMmMin"]; !strings.Contains(s, "asttooling.com/pages/speeds-and-feeds-charts") {
			t.Errorf("%s: the source of its feed is %q", k.Name, s)
		}
	}
}
