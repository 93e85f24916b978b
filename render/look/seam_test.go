package look

import "testing"

// TestSeamsAreToldFromVeneers: at a joint a pixel is darker, by the same however far the glue line is below what it spans; between
// joints, on pixels that span most of a layer, and where nobody wants them, nothing changes.
func TestSeamsAreToldFromVeneers(t *testing.T) {
	d := &Dress{Wood: Wood{Veneers: []Veneer{{Thickness: 16}}}}
	if newSeams(d, 100) != nil {
		t.Fatal("seams that nobody wants")
	}
	d.Seams = true
	s := newSeams(d, 100)
	if len(s.at) != 6 || s.at[0] != 16 || s.at[5] != 96 || s.gap != 16 {
		t.Fatalf("joints at %v, %v apart", s.at, s.gap)
	}
	for _, tt := range []struct {
		h, foot float32
		dark    bool
	}{{16, 1, true}, {16, 0.1, true}, {16.4, 1, true}, {48, 2, true}, {24, 1, false}, {8, 1, false}, {99, 1, false}, {16, 6, false}} {
		red, green, blue := s.over(0.5, 0.4, 0.3, tt.h, tt.foot)
		if dark := red < 0.45 && green < 0.36 && blue < 0.27; dark != tt.dark || !dark && red != 0.5 {
			t.Errorf("at %v mm with %v mm a pixel: %.3f %.3f %.3f", tt.h, tt.foot, red, green, blue)
		}
	}
}
