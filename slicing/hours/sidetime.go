package hours

// SideTime is the router's work on one side.
type SideTime struct {
	RoughMin, FinishMin       float64
	RoughMetres, FinishMetres float64
	Retracts                  int // times that the cutter is lifted to the safe height; the estimate does not count them
}

// Minutes is rough and finish pass together.
func (t SideTime) Minutes() float64 { return t.RoughMin + t.FinishMin }
