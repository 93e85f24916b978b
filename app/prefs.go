package app

// Keys of what is remembered from one sitting to the next.
const (
	prefWidth  = "window-width"
	prefHeight = "window-height"
	prefShade  = "shade"
	prefUnits  = "units"
	prefRecent = "recent"
)
