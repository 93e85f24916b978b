// Package stocktest gives tests the catalogue that comes with the program.
package stocktest

import (
	"testing"

	"grainstack/assets"
	"grainstack/slicing/stock"
)

// Catalogue is the program's own catalogue.
func Catalogue(t testing.TB) *stock.Catalogue {
	t.Helper()
	c, err := stock.Load(assets.FS, "stock.json")
	if err != nil {
		t.Fatal(err)
	}
	return c
}
