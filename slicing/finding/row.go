package finding

// A measure is what the size of a kind's places is in.
type measure uint8

const (
	uncounted measure = iota // the sentence names all places
	lengths
	areas
	volumes
	minutes
	masses // kg
	counts
	joints
)

// A row is how a kind is named and measured.
type row struct {
	name    string // in files
	measure measure
	least   bool // the least place is the worst
}

var rows = [kinds]row{
	TooLow: {name: "too low"},

	NoFoot:     {name: "no foot"},
	FallsOver:  {name: "falls over"},
	TipsEasily: {name: "tips easily"},

	Drops:     {name: "drops"},
	Apart:     {name: "apart"},
	Unheld:    {name: "unheld"},
	Crowded:   {name: "crowded"},
	HeldThin:  {name: "held by thin tabs"},
	HeldBadly: {name: "held on some sides"},
	LoosePart: {name: "loose part", measure: areas, least: true},
	Neck:      {name: "loose part", measure: lengths, least: true},
	Splinter:  {name: "splinter", measure: volumes},
	Hanging:   {name: "hanging part"},
	ThinRing:  {name: "thin ring", measure: lengths, least: true},
	ThinRim:   {name: "thin rim", measure: lengths, least: true},
	WeakJoint: {name: "weak joint", measure: areas, least: true},

	Withheld:      {name: "withheld"},
	TooLargeGuess: {name: "too large"},
	TooLarge:      {name: "too large", measure: lengths},
	Obstructed:    {name: "obstructed"},
	Unsawable:     {name: "unsawable"},
	ClampOnDowel:  {name: "clamp on dowel"},
	ThinLast:      {name: "thin last layer", measure: lengths},
	SmallPart:     {name: "small part", measure: lengths, least: true},
	TallPressing:  {name: "tall pressing", measure: lengths},
	FewClamps:     {name: "few clamps", measure: counts},
	ShortOpen:     {name: "short open time", measure: minutes},
	Heavy:         {name: "heavy", measure: masses},
	Dislodged:     {name: "dislodged"},
	LostSplit:     {name: "lost joint line"},
	MissedSplit:   {name: "missed joint line"},
	NoPins:        {name: "no pins"},
	PinAtEdge:     {name: "pin at edge", measure: lengths, least: true},

	Undercut:    {name: "trapped", measure: volumes},
	BeyondReach: {name: "out of reach", measure: lengths},
	BeyondEdge:  {name: "too deep", measure: lengths},
	ShankRubs:   {name: "shank", measure: lengths},
	NoFit:       {name: "no fit", measure: lengths},

	Crossed:    {name: "crossed", measure: joints},
	TooHigh:    {name: "crossed", measure: joints},
	Moved:      {name: "moved surface", measure: lengths},
	OwnDoubled: {name: "grain doesn't cross"},
	AllDoubled: {name: "grain doubled"},
	Doubled:    {name: "grain doubled"},
	SkimSliver: {name: "thin veneer"},
	PlanedThin: {name: "thin veneer of a board"},
	ThinWood:   {name: "thin wood", measure: lengths, least: true},
	Uneven:     {name: "uneven tabs"},

	TabsOver:      {name: "tabs over the wood"},
	Sliver:        {name: "slivers", measure: volumes},
	StaysSolid:    {name: "stays solid"},
	ShutHollow:    {name: "shut hollow", measure: volumes},
	InnerUndercut: {name: "trapped core", measure: volumes},
	CoarseColumns: {name: "coarse columns"},
}
