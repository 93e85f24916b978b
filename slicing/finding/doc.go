// Package finding is what needs a look, as values: a kind with how bad it is, the places where it is found, and figures. It takes
// what other packages have measured and gives it back in order, like ones together, and in sentences for a maker in the units that
// are shown. No other package words a finding.
package finding
