package book

// firstPage is the page to read first: what needs a look, and the cautions.
func (m *maker) firstPage() {
	m.begin("Before the first cut")
	if len(m.book.Findings) > 0 {
		m.head("What needs a look", 2*bodyLead)
		m.bullets(m.book.Findings, true)
	}
	if len(m.book.Aside) > 0 {
		m.head("Set aside, to be seen to by hand", 2*bodyLead)
		m.bullets(m.book.Aside, false)
	}
	m.head("Cautions", 3*bodyLead)
	m.paragraph("Reminders only: the rules where you work and the makers' instructions and data sheets come first.", sideMargin, m.wide())
	m.y += 8
	for _, c := range cautions() {
		m.room(3 * bodyLead)
		m.y += 2
		m.lead(c.Name, c.Value)
	}
}

// lead is a caution: its name at the left, its words beside it.
func (m *maker) lead(name, words string) {
	const indent = 104
	lines := wrap(m.letters, words, bodySize, false, m.wide()-indent)
	m.room(float64(len(lines)) * bodyLead)
	m.text(boldAt(m, name, sideMargin, m.y+bodyLead-3.5))
	m.paragraph(words, sideMargin+indent, m.wide()-indent)
	m.y += 6
}

// cautions are the hazards of this work. Figures: hardwood dust, Directive 2004/37/EC as amended by 2017/2398, and NIOSH's
// recommended limit (OSHA wood-dust page); noise, Directive 2003/10/EC and NIOSH; lifting, NIOSH 94-110; rags, 29 CFR
// 1910.107(g)(3) and the NFPA's advice.
func cautions() []Entry {
	return []Entry{
		{Name: "Dust", Value: "Fine wood dust harms lungs and nose, and plywood dust carries glue. Extract at the cutter, wear a close-fitting mask for routing and sanding, and don't sweep dry. Limits for hardwood dust over a day: 2 mg/m³ in the European Union; 1 mg/m³ is what NIOSH recommends in the United States."},
		{Name: "Noise", Value: "A router in plywood is often louder than 85 dB(A), where hearing protection is due. Wear it, and mind those around you."},
		{Name: "Spinning cutters", Value: "Wear eye protection. Nothing loose near the cutter: sleeves, hair, cords, gloves. Isolate the spindle before you touch the cutter, and stay with the machine while it runs: a loose part or a blunt cutter can start a fire in the dust."},
		{Name: "Holding down", Value: "Check clamps, dowels and tabs on both sides before each pass. Keep the first pass of a panel at hand on the stop button."},
		{Name: "Lifting", Value: "Boards and sub-stacks are heavier than they look. NIOSH's figure for the best of lifts is 23 kg (51 lb), and less for loads held away from the body. The glue-up names what wants two people."},
		{Name: "Glue and finish", Value: "Air the room. Gloves against glue and finish, as their data sheets say; keep finishes from flames and sparks."},
		{Name: "Rags", Value: "Rags with oil or solvent finish can catch fire by themselves. Never in a heap: dry them flat outdoors, or close them under water in a metal can, and empty it every day."},
	}
}
