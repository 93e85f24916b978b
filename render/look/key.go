package look

// A depth key puts the slab's number first, then depth, then the facet: the least key is what a ray meets first. Equal
// depths go to the lower facet number.
const (
	facetBits = 64 - slabBits - depthBits
	facetMask = 1<<facetBits - 1
	nothing   = ^uint64(0)
	faceFacet = facetMask // stands for a slab's plane; its depth is nil, the ray having just come in
)

// keyFacet, keySlab and keyDepth are the parts of a key.
func keyFacet(key uint64) int { return int(key & facetMask) }

func keySlab(key uint64) int { return int(key >> (64 - slabBits)) }

func keyDepth(key uint64) float32 { return float32(key >> facetBits & depthMax) }

// slabBits is the room for a slab's number in a depth key; more layers than that are drawn closed.
const slabBits = 10
