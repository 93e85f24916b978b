package finding

// A sentence is what there is to say of a kind.
type sentence struct {
	what func(teller) string
	do   func(teller) string // nil where what says it already
}

// sentences are those of all kinds; they lie in one file for each class.
var sentences = [kinds]sentence{
	TooLow: {what: tooLow, do: always("Scans carry no unit: say in which it is, or set its scale or its height.")},

	NoFoot:     {what: noFoot, do: footed},
	FallsOver:  {what: fallsOver, do: footed},
	TipsEasily: {what: tipsEasily, do: footed},

	Drops:     {what: drops, do: always("Tilt the piece, or move the first joint.")},
	Apart:     {what: apart, do: always("Tilt the piece, or move the first joint.")},
	Unheld:    {what: unheld, do: always("Take narrower or thinner tabs, or screw it down.")},
	Crowded:   {what: crowded, do: always("Move it into the open.")},
	HeldThin:  {what: heldThin, do: always("Take thinner tabs, or screw it down.")},
	HeldBadly: {what: heldBadly, do: always("Take narrower tabs, or screw it down.")},
	LoosePart: {what: loosePart, do: always("Leave a tab there, or move the joints.")},
	Neck:      {what: neck, do: always("Leave a tab there, or move the joints.")},
	Splinter:  {what: splinter, do: always("Make the piece larger, move the joints, cap the layer, or glue it in again.")},
	Hanging:   {what: hanging, do: hangingDo},
	ThinRing:  {what: thinRing, do: thinRingDo},
	ThinRim:   {what: thinRim, do: always("Make the wall thicker, or leave one of the two solid.")},
	WeakJoint: {what: weakJoint, do: always("Put a dowel through, tilt the piece, or move the first joint.")},

	Withheld:      {what: named},
	TooLargeGuess: {what: tooLargeGuess, do: always("Take a larger panel, another stand or a smaller scale.")},
	TooLarge:      {what: tooLarge, do: tooLargeDo},
	Obstructed:    {what: obstructed, do: always("Move those, use a larger panel, stand the piece another way, make it smaller, or split the layer along a joint line.")},
	Unsawable:     {what: func(t teller) string { return "The boards can't be sawn so: " + t.reason() + "." }},
	ClampOnDowel:  {what: clampOnDowel, do: always("Move the clamp along the edge.")},
	ThinLast:      {what: thinLast, do: thinLastDo},
	SmallPart:     {what: smallPart, do: always("Move the joints, or carve it on its neighbour by hand.")},
	TallPressing:  {what: tallPressing, do: always("Take longer clamps, threaded rod through the hollow, or weights.")},
	FewClamps:     {what: fewClamps, do: always("Borrow some, or set each harder over stiff cauls.")},
	ShortOpen:     {what: shortOpen, do: always("Spread with two people, or take a slower glue.")},
	Heavy:         {what: heavy, do: heavyDo},
	Dislodged:     {what: dislodged, do: always("It is laid anew.")},
	LostSplit:     {what: lostSplit, do: always("Take back its joint line.")},
	MissedSplit:   {what: missedSplit, do: always("Move it, or take it back.")},
	NoPins:        {what: noPins, do: always("Take thinner pins, or line it up by its outline.")},
	PinAtEdge:     {what: pinAtEdge, do: always("Move it inwards.")},

	Undercut:    {what: undercut, do: undercutDo},
	BeyondReach: {what: beyondReach, do: always("Take a longer cutter or thinner layers.")},
	BeyondEdge:  {what: beyondEdge, do: always("Take a cutter with a longer edge, or thinner layers.")},
	ShankRubs:   {what: shankRubs, do: always("Take a cutter with a longer edge or a thinner shank.")},
	NoFit:       {what: noFit, do: always("Finish with a smaller ball, or clean it up by hand.")},

	Crossed:    {what: crossed, do: crossedDo},
	TooHigh:    {what: crossed, do: tooHighDo},
	Moved:      {what: movedSurface, do: always("See whether anything is missing there; a finer grid keeps more.")},
	OwnDoubled: {what: ownDoubled, do: always("It is common practice to cross the grain at every joint: turn one of the two layers, or keep it if the stripe is wanted.")},
	AllDoubled: {what: always("At every joint two veneers of the same grain meet although layers are turned."), do: always("With this board and skim, lay the layers all the same way.")},
	Doubled:    {what: doubled, do: doubledDo},
	SkimSliver: {what: skimSliver, do: skimSliverDo},
	PlanedThin: {what: planedThin, do: planedThinDo},
	ThinWood:   {what: thinWood, do: always("Move the joints, or handle it with care.")},
	Uneven:     {what: uneven, do: always("Cut slowly there, or take narrower tabs.")},

	TabsOver:      {what: tabsOver},
	Sliver:        {what: slivers},
	StaysSolid:    {what: staysSolid},
	ShutHollow:    {what: shutHollow, do: always("A thinner wall, or a joint that runs through, opens it.")},
	InnerUndercut: {what: innerUndercut},
	CoarseColumns: {what: coarseColumns},
}

// always is one sentence whatever the finding.
func always(text string) func(teller) string { return func(teller) string { return text } }

func named(t teller) string { return t.reason() }
