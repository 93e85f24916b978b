package hours

// A Ratio is how the simulation came out beside the estimate for the same settings, rough and finish pass apart. Estimates
// for other settings are scaled by it until they are simulated in their turn. The zero Ratio knows nothing and changes nothing.
type Ratio struct{ Rough, Finish float64 }

// Tie sets a simulated time against what had been estimated. A pass that takes no time by either stays as it is.
func Tie(estimated, simulated SideTime) Ratio {
	return Ratio{share(simulated.RoughMin, estimated.RoughMin), share(simulated.FinishMin, estimated.FinishMin)}
}

// share is a over b, or 0 where that says nothing.
func share(a, b float64) float64 {
	if r := a / b; a > 0 && b > 0 && r < 1e6 {
		return r
	}
	return 0
}

// Of is an estimate brought to what the simulation has shown.
func (r Ratio) Of(t SideTime) SideTime {
	if r.Rough > 0 {
		t.RoughMin *= r.Rough
		t.RoughMetres *= r.Rough
	}
	if r.Finish > 0 {
		t.FinishMin *= r.Finish
		t.FinishMetres *= r.Finish
	}
	return t
}

// Off is how far an estimate was off the simulation, as a share of it: 0.05 is five percent too long. ok is false where
// nothing was simulated.
func Off(estimated, simulated SideTime) (share float64, ok bool) {
	if !(simulated.Minutes() > 0) {
		return 0, false
	}
	return estimated.Minutes()/simulated.Minutes() - 1, true
}
