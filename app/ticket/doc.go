// Package ticket is the strip of totals under the pictures: large quiet figures, each with where it comes from, and the
// sentences about what needs a look.
//
// It takes figures and a word about how current they are; it reports which layer a sentence sends the maker to.
package ticket
