package geom

import "math"

// A Vec is a point or a direction in space.
type Vec struct{ X, Y, Z float64 }

// Add returns v + w.
func (v Vec) Add(w Vec) Vec { return Vec{v.X + w.X, v.Y + w.Y, v.Z + w.Z} }

// Sub returns v - w.
func (v Vec) Sub(w Vec) Vec { return Vec{v.X - w.X, v.Y - w.Y, v.Z - w.Z} }

// Scale returns f·v.
func (v Vec) Scale(f float64) Vec { return Vec{f * v.X, f * v.Y, f * v.Z} }

// Dot is the scalar product.
func (v Vec) Dot(w Vec) float64 { return v.X*w.X + v.Y*w.Y + v.Z*w.Z }

// Cross is the vector product, right-handed.
func (v Vec) Cross(w Vec) Vec {
	return Vec{v.Y*w.Z - v.Z*w.Y, v.Z*w.X - v.X*w.Z, v.X*w.Y - v.Y*w.X}
}

// Len is the Euclidean length.
func (v Vec) Len() float64 { return math.Sqrt(v.Dot(v)) }

// Unit is v at length 1; the zero vector stays zero.
func (v Vec) Unit() Vec {
	n := v.Len()
	if n == 0 {
		return Vec{}
	}
	return v.Scale(1 / n)
}

// A Vec2 is a point or a direction in a plane, usually a joint seen from above.
type Vec2 struct{ X, Y float64 }

// Add returns v + w.
func (v Vec2) Add(w Vec2) Vec2 { return Vec2{v.X + w.X, v.Y + w.Y} }

// Sub returns v - w.
func (v Vec2) Sub(w Vec2) Vec2 { return Vec2{v.X - w.X, v.Y - w.Y} }

// Scale returns f·v.
func (v Vec2) Scale(f float64) Vec2 { return Vec2{f * v.X, f * v.Y} }

// Dot is the scalar product.
func (v Vec2) Dot(w Vec2) float64 { return v.X*w.X + v.Y*w.Y }

// Cross is the signed area of the parallelogram on v and w.
func (v Vec2) Cross(w Vec2) float64 { return v.X*w.Y - v.Y*w.X }

// Len is the Euclidean length.
func (v Vec2) Len() float64 { return math.Hypot(v.X, v.Y) }
