package finding

// A Class is how bad a finding is.
type Class uint8

// The classes, the worst first.
const (
	Unsized    Class = iota // its size can't be meant: all else hangs on it
	Topples                 // the piece can't stand
	Loose                   // something stays loose, while it is carved or in the piece
	Unmakeable              // something can't be made so
	Unreached               // wood stays where no cutter gets
	Unsightly               // it can be made, and it will show or break
	Slight                  // nobody will see it
)

// String is the class in a few words.
func (c Class) String() string {
	return [...]string{"size in doubt", "can't stand", "stays loose", "can't be made", "out of reach", "ugly", "slight"}[c]
}

// Weight is how large a place of the class is marked: 3 for what would spoil the piece, 2 for wood that stays, 1 for the rest.
func (c Class) Weight() int {
	switch {
	case c <= Unmakeable:
		return 3
	case c == Unreached:
		return 2
	}
	return 1
}

// A Kind says what is the matter. Kinds are in order, the worst first.
type Kind uint8

// The kinds, with what Size (of a place), Figures and Name mean; More where it is used.
const (
	TooLow Kind = iota // Figures: mm high

	NoFoot     // it stands on a point or an edge; Figures: mm to be sawn off to stand, degrees at which it tips then
	FallsOver  // Figures: mm that its centre lies outside its foot, then as NoFoot
	TipsEasily // Figures: degrees at which it tips, then as NoFoot

	Drops     // a part touches neither the layer below nor the one above
	Apart     // two layers don't touch, the place is the upper
	Unheld    // a part that no tab holds; Figures: width of a tab
	Crowded   // a part without room for its tabs
	HeldThin  // a part whose tabs are too thin; Figures: mm² of the weakest, of a whole one
	HeldBadly // a part with tabs on some sides only; Figures: width of a tab
	LoosePart // Size mm² in plan
	Neck      // Size mm that two halves of a part hang together by
	Splinter  // Size mm³ that comes off while it is carved; Figures: mm that it hangs on by; More: mm on the Panel
	Hanging   // a part with nothing beneath it
	ThinRing  // Size mm of wood round the hollow at a joint; Figures: what is wanted
	ThinRim   // the same against what a joint takes
	WeakJoint // Size mm² that layers meet on; Figures: what is wanted

	Withheld      // Why: there are no figures
	TooLargeGuess // before parts are laid: Figures: mm along the edges; Size and More: extent of the part and Figures of the panel
	TooLarge      // a part fits no panel; Size mm, More: its width, per cent of scale that fit; Figures: room of a panel
	Obstructed    // a part fits a panel, but not clear of its clamps and dowels
	Unsawable     // Why: it is so
	ClampOnDowel  // Size: number of the clamp; More: of the dowel, 1 once the panel is turned over
	ThinLast      // Size mm of the last layer; Figures: scale that loses it
	SmallPart     // Size mm of its longer side; More: its shorter, mm³
	TallPressing  // Size mm; More: number of the pressing; Figures: opening of the clamps
	FewClamps     // Size: clamps that are wanted; More: number of the pressing; Figures: clamps that there are
	ShortOpen     // Size: minutes that it takes; More: number of the pressing; Figures: minutes that the glue stays open
	Heavy         // Size kg; More: number of the pressing, kg for one person, 0 where nobody can hold it close
	Dislodged     // a locked part is laid anew, and Why
	LostSplit     // a joint line of a part that is gone
	MissedSplit   // a joint line beside its part
	NoPins        // Figures: diameter of a pin
	PinAtEdge     // Size mm of wood; Name: what is near; Figures: mm wanted

	Undercut    // Size mm³; More: mm high at the most
	BeyondReach // Size mm too deep; More: depth, reach; Name of the place: the side, Name: the cutter
	BeyondEdge  // Size mm too deep; More: depth, cutting length
	ShankRubs   // Size mm; Name of the place: the side; More: 1 for the collet nut
	NoFit       // Size mm that stay; More: number of places

	Crossed    // a joint goes through what shall stay whole; Size: how many; More: from and to, mm; Figures: first joint that does better, how many go through then, how many now
	TooHigh    // the same, where what shall stay whole is higher than a layer: Figures: the layer
	Moved      // Size mm that the surface lies off the scan's where it was built anew
	OwnDoubled // the grain doesn't cross, by a layer's own board or turn
	AllDoubled // at every joint
	Doubled    // Figures: joints; 1 where layers are turned
	SkimSliver // Figures: mm that the skim leaves, 1 for the uppermost veneer
	PlanedThin // Figures: mm of the layer, that its veneer keeps, of layers that lose it; Name: the board
	ThinWood   // Size mm; More: how wide, 0 for an upright wall
	Uneven     // a stretch without a tab; Figures: width of a tab, how far apart they are wanted

	TabsOver      // Figures: mm that tabs run on over the wood
	Sliver        // Size mm³ too small to be made; Figures: mm³ and mm under which it is
	StaysSolid    // Figures: the wall
	ShutHollow    // Size mm³ of hollow that stays wood
	InnerUndercut // Size mm³ of hollow under an overhang
	CoarseColumns // Figures: mm between the columns, usual
	kinds
)

// Class is how bad a kind is.
func (k Kind) Class() Class {
	switch {
	case k <= TooLow:
		return Unsized
	case k <= TipsEasily:
		return Topples
	case k <= WeakJoint:
		return Loose
	case k <= PinAtEdge:
		return Unmakeable
	case k <= NoFit:
		return Unreached
	case k <= Uneven:
		return Unsightly
	}
	return Slight
}

// Hidden reports whether nobody will see it on the piece.
func (k Kind) Hidden() bool {
	return k == InnerUndercut || k == CoarseColumns || k == ShutHollow || k == StaysSolid
}

// String names the kind in files.
func (k Kind) String() string { return k.row().name }

func (k Kind) row() *row { return &rows[min(k, kinds-1)] }
