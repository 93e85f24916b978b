package ticket

// Against says beside each figure by how much it differs from a trial's: weight, layers, panels, glue and hours, "" for
// nothing. Without a name no trial is chosen.
func (t *Ticket) Against(name string, by [5]string) {
	for i, c := range t.cells {
		if c.versus.Text() == by[i] && (c.against == name || by[i] == "") {
			continue
		}
		c.versus.Say(by[i])
		if c.against = name; by[i] == "" {
			c.against = ""
		}
		c.Refresh()
	}
}
