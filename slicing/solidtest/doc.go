// Package solidtest makes solids for tests: shapes whose volume and area are known from textbooks, and a large organic
// one for benchmarks. It is imported by tests only.
//
// All solids are closed, welded and wound counter-clockwise seen from outside; lengths are whatever the caller measures
// in. Curved shapes have their points on the true surface, so a facetted ball is a little smaller than the ball: the
// shortfall goes with the square of the facets' length. Shapes are the same on every run; Shuffle is seeded by the caller.
package solidtest
