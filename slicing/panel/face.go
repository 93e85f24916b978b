package panel

// A Face is one side of a panel as it lies on the machine.
type Face int

// Side A is carved first, side B after the panel was turned over about the axis through its register dowels.
const (
	SideA Face = iota
	SideB
)

// String is the side as it is written on the panel.
func (f Face) String() string {
	if f == SideB {
		return "B"
	}
	return "A"
}
