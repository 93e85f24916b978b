package sheet_test

import (
	"fmt"
	"os"

	"grainstack/render/draw"
	"grainstack/render/sheet"
)

func ExampleStick() {
	letters, err := draw.LoadLetters(os.DirFS("../../assets"))
	if err != nil {
		fmt.Println(err)
		return
	}
	var v sheet.StickView
	for i := range 4 {
		z := 16 * float64(i)
		v.Layers = append(v.Layers, sheet.StickLayer{Number: i + 1, Bottom: z, Top: z + 16, PanelBottom: z, PanelTop: z + 16})
	}
	s := sheet.Stick(v, sheet.Style{Ink: draw.LightInk(), Letters: letters}, 110, 500)
	number, ok := s.LayerAt(s.Y(40))
	fmt.Println("40 mm up is layer", number, ok)
	// Output: 40 mm up is layer 3 true
}
