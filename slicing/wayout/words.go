package wayout

import (
	"grainstack/slicing/finding"
	"grainstack/slicing/geom"
	"grainstack/slicing/unit"
)

// placeWords say where on the piece a place lies.
func placeWords(at, size geom.Vec) string {
	return finding.Words{}.Whereabouts(finding.Place{At: at, Where: finding.Whereabouts(at, size)})
}

// volumeWords is a volume for a sentence, mm³.
func volumeWords(v float64) string { return unit.Volume(v, unit.Metric) }
