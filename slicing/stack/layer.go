package stack

import (
	"fmt"
	"math"
)

// sliverShare is the share of the piece's extent below which a height difference means nothing: positions are float32,
// whose last place is up to 1.2e-7 of the value, and a file that was turned before it was saved is off by a few of those.
// A piece 240 mm high in layers of 16 mm thus has 15 layers even if its top comes out at 240.00002.
const sliverShare = 1e-6

// mostLayers bounds a stack: a thickness that asks for more is a slip of the keyboard.
const mostLayers = 10000

// A Slab is one layer of the stack: the wood of the piece between two heights, and the panel that it is carved from.
type Slab struct {
	Number      int     // from 1, counted from the floor
	Bottom, Top float64 // where the piece's wood begins and ends
	PanelBottom float64 // lower face of the skimmed panel; its upper face is one thickness higher
}

// Thickness is the height of the piece's wood in the layer.
func (s Slab) Thickness() float64 { return s.Top - s.Bottom }

// Layers divides a height into layers of one thickness. The first joint lies firstJoint above the floor, in
// (0, thickness], so that the first layer may use only the upper part of its panel; the last uses what is left. A layer that
// would hold less than a millionth of the height is not made.
func Layers(height, thickness, firstJoint float64) ([]Slab, error) {
	n, firstJoint, err := count(height, thickness, firstJoint)
	if err != nil {
		return nil, err
	}
	slabs := make([]Slab, n)
	for i := range slabs {
		s := Slab{Number: i + 1, Bottom: firstJoint + float64(i-1)*thickness, Top: firstJoint + float64(i)*thickness}
		s.PanelBottom = s.Bottom
		if i == 0 {
			s.Bottom = 0
		}
		if i == n-1 {
			s.Top = height
		}
		slabs[i] = s
	}
	return slabs, nil
}

// A Rest is what is left over where a height is divided into layers.
type Rest struct {
	Layers int     // as Layers makes them
	Last   float64 // height of the wood in the last layer
	Whole  bool    // the last layer's wood ends at its panel's upper face

	// Scaling the piece by Fewer or More makes the stack come out whole with FewerLayers or MoreLayers layers, the nearest
	// smaller and greater size at which it does; the thickness and the first joint stay as they are. FewerLayers is 0 where
	// there is no smaller one.
	Fewer, More             float64
	FewerLayers, MoreLayers int
}

// Remainder says how the last layer comes out, and which scale factors would make the stack whole.
func Remainder(height, thickness, firstJoint float64) (Rest, error) {
	n, firstJoint, err := count(height, thickness, firstJoint)
	if err != nil {
		return Rest{}, err
	}
	top := firstJoint + float64(n-1)*thickness // of the last panel
	r := Rest{Layers: n, Last: height, Whole: math.Abs(top-height) <= sliverShare*height, FewerLayers: n - 1, MoreLayers: n}
	if n > 1 {
		r.Last = height - (top - thickness)
	}
	if r.Whole {
		r.MoreLayers = n + 1
	}
	r.More = (firstJoint + float64(r.MoreLayers-1)*thickness) / height
	if r.FewerLayers > 0 {
		r.Fewer = (firstJoint + float64(r.FewerLayers-1)*thickness) / height
	}
	return r, nil
}

// count is the number of layers, and the first joint as it is used: a joint at the floor is none, so the first layer is whole.
func count(height, thickness, firstJoint float64) (layers int, joint float64, err error) {
	sliver := sliverShare * height
	switch {
	case !(height > 0) || math.IsInf(height, 0):
		return 0, 0, fmt.Errorf("stack: a height of %g mm is not positive", height)
	case !(thickness > 0) || math.IsInf(thickness, 0):
		return 0, 0, fmt.Errorf("stack: a layer of %g mm is not positive", thickness)
	case !(firstJoint > 0) || firstJoint > thickness+sliver:
		return 0, 0, fmt.Errorf("stack: the first joint at %g mm is not in the first layer of %g mm", firstJoint, thickness)
	case height/thickness > mostLayers:
		return 0, 0, fmt.Errorf("stack: %g mm in layers of %g mm makes more than %d layers", height, thickness, mostLayers)
	}
	if firstJoint <= sliver || firstJoint > thickness {
		firstJoint = thickness
	}
	if height <= firstJoint+sliver {
		return 1, firstJoint, nil
	}
	return 1 + int(math.Ceil((height-firstJoint-sliver)/thickness)), firstJoint, nil
}
