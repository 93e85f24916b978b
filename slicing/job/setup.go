package job

import (
	"grainstack/slicing/hours"
	"grainstack/slicing/stock"
)

// Setup is the machine and its cutters as the settings run them. The machine may want a greater safe height than they do.
func (s Settings) Setup(c *stock.Catalogue) hours.Setup {
	m, _ := c.Machine(s.Machine)
	u := hours.Defaults(s.Rough.In(c), s.Fine.In(c), m)
	u.SafeHeight, u.Clearance, u.AcrossGrain = max(s.SafeHeight, m.Controller.SafeHeight), s.Clearance, s.AcrossGrain
	if s.Rough.StockToLeave > 0 {
		u.Leave = s.Rough.StockToLeave
	}
	return u
}

// A chosen is what settings name of a catalogue, as the maker uses it: looked up once, when figures are begun.
type chosen struct {
	setup  hours.Setup
	usual  Blank // of layers with no board of their own
	glue   stock.Glue
	finish stock.Finish
}

func (s Settings) chosen(c *stock.Catalogue) chosen {
	k := chosen{setup: s.Setup(c), usual: s.unmixed().Blanks(c).usual}
	k.glue, _ = s.GlueIn(c)
	k.finish, _ = s.FinishIn(c)
	return k
}

// In is the cutter of the catalogue with the maker's own figures where there are any.
func (u CutterUse) In(c *stock.Catalogue) stock.Cutter {
	k, _ := c.Cutter(u.Key)
	for _, o := range []struct {
		own float64
		to  *float64
	}{{u.FeedMmMin, &k.FeedMmMin}, {u.PlungeMmMin, &k.PlungeMmMin}, {u.RPM, &k.RPM}, {u.Stepdown, &k.Stepdown}, {u.Stepover, &k.Stepover}} {
		if o.own > 0 {
			*o.to = o.own
		}
	}
	return k
}
