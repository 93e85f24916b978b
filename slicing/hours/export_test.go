package hours

// CoreRows is the row measure of the core's skin that faces up or down.
func CoreRows(l Layer, up bool) float64 { return l.coreRows(up) }
