package workshop

import (
	"sync"

	"grainstack/slicing/geom"
	"grainstack/slicing/panel"
)

// seats remember what doesn't depend on where a part lies: where its outline takes tabs, and how they stand in its wood. They are
// asked for anew with each layout that is tried. Safe for concurrent use.
type seats struct {
	mu    sync.Mutex
	sites map[[2]float64]*panel.TabSites // by width and backing
	feet  map[seat]panel.Foot
}

// A seat is a place on an outline, and a tab's width.
type seat struct {
	ring         int
	along, width float64
}

func newSeats() *seats {
	return &seats{sites: make(map[[2]float64]*panel.TabSites), feet: make(map[seat]panel.Foot)}
}

// on are the sites along an outline.
func (s *seats) on(g geom.Region, r panel.TabRules) (*panel.TabSites, error) {
	key := [2]float64{r.Width, r.Backing}
	s.mu.Lock()
	t := s.sites[key]
	s.mu.Unlock()
	if t != nil {
		return t, nil
	}
	t, err := panel.NewTabSites(g, r)
	if err != nil {
		return nil, err
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	s.sites[key] = t
	return t, nil
}

// foot is how a tab stands, as work says where that isn't known yet.
func (s *seats) foot(t panel.Tab, work func() panel.Foot) panel.Foot {
	key := seat{t.Ring, t.Along, t.Width}
	s.mu.Lock()
	f, known := s.feet[key]
	s.mu.Unlock()
	if known {
		return f
	}
	f = work()
	s.mu.Lock()
	defer s.mu.Unlock()
	s.feet[key] = f
	return f
}
