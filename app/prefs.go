package app

// Keys of what is remembered from one sitting to the next.
const (
	prefWidth  = "window-width"
	prefHeight = "window-height"
	prefShade  = "shade"
	prefText   = "text"
	prefUnits  = "units"
	prefRecent = "recent"
	prefLarge  = "large-sheets"
	prefBegun  = "begun"
)
