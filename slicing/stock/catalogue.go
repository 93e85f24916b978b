package stock

import "encoding/json"

// A Catalogue is all the stock there is to choose from, in the order of its file. Keys are unique within a kind.
type Catalogue struct {
	Boards   []Board
	Species  []Species
	Cutters  []Cutter
	Machines []Machine
	Glues    []Glue
	Finishes []Finish
	Panels   []Panel
	First    Choice

	own map[[2]string]json.RawMessage // the maker's own entries as they are written, by kind and key
}

// Choice is one of each kind, by key.
type Choice struct {
	Board   string `json:"board"`
	Rough   string `json:"rough"`  // cutter of the rough pass
	Finish  string `json:"finish"` // cutter of the finish pass
	Machine string `json:"machine"`
	Glue    string `json:"glue"`
	Coat    string `json:"coat"` // finish on the wood
	Panel   string `json:"panel"`
}

// Board gives the board with that key; ok is false when there is none.
func (c *Catalogue) Board(key string) (_ Board, ok bool) {
	return find(c.Boards, key, func(b Board) string { return b.Key })
}

// Wood gives the species with that key; ok is false when there is none.
func (c *Catalogue) Wood(key string) (_ Species, ok bool) {
	return find(c.Species, key, func(s Species) string { return s.Key })
}

// Cutter gives the cutter with that key; ok is false when there is none.
func (c *Catalogue) Cutter(key string) (_ Cutter, ok bool) {
	return find(c.Cutters, key, func(t Cutter) string { return t.Key })
}

// Machine gives the machine with that key; ok is false when there is none.
func (c *Catalogue) Machine(key string) (_ Machine, ok bool) {
	return find(c.Machines, key, func(m Machine) string { return m.Key })
}

// Glue gives the glue with that key; ok is false when there is none.
func (c *Catalogue) Glue(key string) (_ Glue, ok bool) {
	return find(c.Glues, key, func(g Glue) string { return g.Key })
}

// Finish gives the finish with that key; ok is false when there is none.
func (c *Catalogue) Finish(key string) (_ Finish, ok bool) {
	return find(c.Finishes, key, func(f Finish) string { return f.Key })
}

// Panel gives the panel size with that key; ok is false when there is none.
func (c *Catalogue) Panel(key string) (_ Panel, ok bool) {
	return find(c.Panels, key, func(p Panel) string { return p.Key })
}

func find[T any](all []T, key string, keyOf func(T) string) (T, bool) {
	for _, one := range all {
		if keyOf(one) == key {
			return one, true
		}
	}
	var none T
	return none, false
}
