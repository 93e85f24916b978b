package state

import (
	"grainstack/app/task"
	"grainstack/slicing/compass"
	"grainstack/slicing/geom"
)

// A Compass is what is known of the directions that the stack could run in.
type Compass struct {
	bench *Piece

	Found   *compass.Map // nil until something has been found
	Of      CompassKey   // that it is of
	Weights compass.Weights
	Measure compass.Measure  // that the map shows
	Pointed *compass.Bearing // under the pointer: the finished piece is shown as it would stand
}

func newCompass(b *Piece) Compass {
	return Compass{bench: b, Weights: compass.UsualWeights(), Measure: compass.Trapped}
}

// Key is the key of the present directions.
func (c *Compass) Key() CompassKey {
	k := CompassKey{Settings: c.bench.Settings(), Stock: c.bench.Shelf.Now}
	k.Settings.Turn = geom.Turn{}
	if c.bench.Model != nil {
		k.Piece = c.bench.Model.Piece
	}
	return k
}

// Directions are what has been found for the present piece, maybe with older settings; nil where nothing has.
func (c *Compass) Directions() *compass.Map {
	if c.bench.Model == nil || c.Of.Piece != c.bench.Model.Piece {
		return nil
	}
	return c.Found
}

// Stale reports whether they are of other settings.
func (c *Compass) Stale() bool { return c.Of != c.Key() }

// Best is the best of what has been found, by the weights.
func (c *Compass) Best() (*compass.Bearing, bool) {
	m := c.Directions()
	if m == nil {
		return nil, false
	}
	i, ok := m.Best(c.Weights)
	if !ok {
		return nil, false
	}
	return &m.Bearings[i], true
}

// Fault says why directions can't be compared, "" where they can.
func (c *Compass) Fault() string {
	if at := c.bench.Tasks.Compass; at.State == task.Failed {
		return "Directions can't be compared: " + at.Fault
	}
	return ""
}
