// Package unit reads and prints lengths, angles, weights, volumes, areas and times the way a maker writes them. Inside the
// program lengths are mm, areas mm², volumes mm³, weights g, times minutes; only here do they become anything else.
// The inch is 25.4 mm exactly (international yard and pound agreement, 1959).
package unit
