package workshop

// A Watch is who follows a workshop while it is worked out; either may be nil. Neither is called by two at once.
type Watch struct {
	// Tell is told what is in hand and how much of the whole is done, from 0 to 1 and never less than before.
	Tell func(step string, done float64)
	// Early is given the same workshop with the first layout that was found, before the layout is improved.
	Early func(*Workshop)
}

// A stage is what is in hand.
type stage int

const (
	cuttingOut stage = iota
	pinning
	weighing
	layingFirst
	layingCloser
	holding
	layingRoomier
	stages
)

// begin is what a stage is called, and how much of the whole is done when it begins, as the demo piece has it.
func (s stage) begin() (words string, done float64) {
	one := [stages + 1]struct {
		words string
		done  float64
	}{
		{"cutting the parts out", 0}, {"placing the pins", 0.05}, {"weighing the piece", 0.2}, {"laying the parts out", 0.2},
		{"laying the parts closer", 0.25}, {"placing the tabs", 0.8}, {"making room for tabs", 0.85}, {"", 1},
	}[s]
	return one.words, one.done
}

// tell says how much of a stage is done, from 0 to 1.
func (w Watch) tell(s stage, done float64) {
	if w.Tell == nil {
		return
	}
	words, from := s.begin()
	_, to := (s + 1).begin()
	w.Tell(words, from+(to-from)*done)
}
