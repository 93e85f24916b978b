package geom

import "math"

// A Box is an axis-parallel box. EmptyBox is the start for growing one; the zero Box is the point at the origin.
type Box struct{ Min, Max Vec }

// EmptyBox holds nothing: Add makes it the box of one point.
func EmptyBox() Box {
	inf := math.Inf(1)
	return Box{Vec{inf, inf, inf}, Vec{-inf, -inf, -inf}}
}

// Empty reports whether the box holds no point.
func (b Box) Empty() bool { return b.Max.X < b.Min.X || b.Max.Y < b.Min.Y || b.Max.Z < b.Min.Z }

// Add returns the box grown to hold p.
func (b Box) Add(p Vec) Box {
	return Box{
		Vec{math.Min(b.Min.X, p.X), math.Min(b.Min.Y, p.Y), math.Min(b.Min.Z, p.Z)},
		Vec{math.Max(b.Max.X, p.X), math.Max(b.Max.Y, p.Y), math.Max(b.Max.Z, p.Z)},
	}
}

// Size is the extent along each axis, zero for an empty box.
func (b Box) Size() Vec {
	if b.Empty() {
		return Vec{}
	}
	return b.Max.Sub(b.Min)
}

// Center is the middle of the box.
func (b Box) Center() Vec { return b.Min.Add(b.Max).Scale(0.5) }

// A Box2 is an axis-parallel rectangle.
type Box2 struct{ Min, Max Vec2 }

// EmptyBox2 holds nothing.
func EmptyBox2() Box2 {
	inf := math.Inf(1)
	return Box2{Vec2{inf, inf}, Vec2{-inf, -inf}}
}

// Empty reports whether the rectangle holds no point.
func (b Box2) Empty() bool { return b.Max.X < b.Min.X || b.Max.Y < b.Min.Y }

// Add returns the rectangle grown to hold p.
func (b Box2) Add(p Vec2) Box2 {
	return Box2{
		Vec2{math.Min(b.Min.X, p.X), math.Min(b.Min.Y, p.Y)},
		Vec2{math.Max(b.Max.X, p.X), math.Max(b.Max.Y, p.Y)},
	}
}

// Union returns the smallest rectangle that holds both.
func (b Box2) Union(c Box2) Box2 {
	if c.Empty() {
		return b
	}
	return b.Add(c.Min).Add(c.Max)
}

// Size is the extent along each axis, zero for an empty rectangle.
func (b Box2) Size() Vec2 {
	if b.Empty() {
		return Vec2{}
	}
	return b.Max.Sub(b.Min)
}
