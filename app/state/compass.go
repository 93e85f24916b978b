package state

import (
	"grainstack/app/task"
	"grainstack/slicing/compass"
	"grainstack/slicing/geom"
	"grainstack/slicing/job"
	"grainstack/slicing/stock"
)

// A CompassKey is all that directions hang on: the piece and the settings without its turn.
type CompassKey struct {
	Piece    *job.Piece
	Settings job.Settings
	Stock    *stock.Catalogue
}

// A Compass is what is known of the directions that the stack could run in.
type Compass struct {
	Found   *compass.Map // nil until something has been found
	Of      CompassKey   // that it is of
	Weights compass.Weights
	Measure compass.Measure  // that the map shows
	Pointed *compass.Bearing // under the pointer: the finished piece is shown as it would stand
}

func newCompass() Compass { return Compass{Weights: compass.UsualWeights(), Measure: compass.Trapped} }

// CompassKey is the key of the present directions.
func (b *Bench) CompassKey() CompassKey {
	k := CompassKey{Settings: b.Settings(), Stock: b.Shelf.Now}
	k.Settings.Turn = geom.Turn{}
	if b.Model != nil {
		k.Piece = b.Model.Piece
	}
	return k
}

// Directions are what has been found for the present piece, maybe with older settings; nil where nothing has.
func (b *Bench) Directions() *compass.Map {
	if b.Model == nil || b.Compass.Of.Piece != b.Model.Piece {
		return nil
	}
	return b.Compass.Found
}

// DirectionsStale reports whether they are of other settings.
func (b *Bench) DirectionsStale() bool { return b.Compass.Of != b.CompassKey() }

// BestBearing is the best of what has been found, by the weights.
func (b *Bench) BestBearing() (*compass.Bearing, bool) {
	m := b.Directions()
	if m == nil {
		return nil, false
	}
	i, ok := m.Best(b.Compass.Weights)
	if !ok {
		return nil, false
	}
	return &m.Bearings[i], true
}

// CompassFault says why directions can't be compared, "" where they can.
func (b *Bench) CompassFault() string {
	if at := b.Tasks.Compass; at.State == task.Failed {
		return "Directions can't be compared: " + at.Fault
	}
	return ""
}
