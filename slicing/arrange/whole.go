package arrange

import (
	"math"
	"math/big"
	"math/bits"

	"grainstack/slicing/mesh"
)

// wholeShift is the least power of two by which all coordinates of m are whole numbers.
func wholeShift(m *mesh.Mesh) int {
	shift := 0
	for _, p := range m.Points {
		for _, v := range p {
			if v == 0 {
				continue
			}
			b := math.Float32bits(v)
			exponent, mantissa := int(b>>23&0xff), b&(1<<23-1)
			if exponent > 0 {
				mantissa |= 1 << 23
			} else {
				exponent = 1
			}
			shift = max(shift, 150-exponent-bits.TrailingZeros32(mantissa))
		}
	}
	return shift
}

// whole is v times 2 to the shift, which is a whole number.
func whole(v float64, shift int) *big.Int {
	f, e := math.Frexp(v)
	n := big.NewInt(int64(f * (1 << 53)))
	if e += shift - 53; e >= 0 {
		return n.Lsh(n, uint(e))
	}
	return n.Rsh(n, uint(-e)) // only zeros go
}

// quotient is the float nearest to x/w, scaled back by 2 to the shift.
func quotient(x, w *big.Int, shift int) float64 {
	if x.Sign() == 0 {
		return 0
	}
	q := new(big.Float).SetPrec(64).Quo(new(big.Float).SetPrec(128).SetInt(x), new(big.Float).SetPrec(128).SetInt(w))
	v, _ := q.SetMantExp(q, -shift).Float64()
	return v
}

// A sum adds products of whole numbers up.
type sum struct{ all, one big.Int }

func (s *sum) add(a, b *big.Int) { s.all.Add(&s.all, s.one.Mul(a, b)) }
func (s *sum) sub(a, b *big.Int) { s.all.Sub(&s.all, s.one.Mul(a, b)) }

// det2 is ad - bc.
func det2(a, b, c, d *big.Int) *big.Int {
	var s sum
	s.add(a, d)
	s.sub(b, c)
	return &s.all
}
