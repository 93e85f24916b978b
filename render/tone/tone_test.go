package tone

import (
	"fmt"
	"math"
	"testing"
)

// Lab of the woods: silver birch native and after 48 months of indoor sunlight (Dudiak & Dzurenda, Acta Facultatis
// Xylologiae Zvolen); beech false heartwood, marble and ring type (Wood Research, abstract). The bytes are worked out from
// them with CIE 15 and IEC 61966-2-1.
func TestWoodBytes(t *testing.T) {
	for _, tt := range []struct {
		name string
		lab  Lab
		want [3]uint8
	}{
		{"birch, native", Lab{81.1, 7.2, 20.0}, [3]uint8{229, 196, 165}},
		{"birch, 48 months of sun", Lab{68.2, 13.1, 25.9}, [3]uint8{204, 157, 120}},
		{"beech heart, marble", Lab{65.2, 13.2, 19.2}, [3]uint8{193, 149, 125}},
		{"beech heart, ring", Lab{63.7, 12.6, 20.1}, [3]uint8{188, 145, 119}},
		{"white", Lab{100, 0, 0}, [3]uint8{255, 255, 255}},
		{"black", Lab{0, 0, 0}, [3]uint8{0, 0, 0}},
	} {
		got := tt.lab.Light().Bytes()
		for i := range got {
			if d := int(got[i]) - int(tt.want[i]); d < -1 || d > 1 {
				t.Errorf("%s: got %v, want %v within 1", tt.name, got, tt.want)
				break
			}
		}
	}
}

func TestLabThereAndBack(t *testing.T) {
	for L := 5.0; L <= 95; L += 10 {
		for a := -20.0; a <= 20; a += 10 {
			for b := -20.0; b <= 30; b += 10 {
				in := Lab{L, a, b}
				if d := in.Light().Lab().Difference(in); d > 0.1 {
					t.Errorf("%v came back as %v", in, in.Light().Lab())
				}
			}
		}
	}
}

func TestByteAgainstTheCurve(t *testing.T) {
	worst := 0.0
	for i := range 100001 {
		c := float64(i) / 100000
		worst = max(worst, math.Abs(float64(Byte(float32(c)))-255*Encode(c)))
	}
	if worst > 0.85 {
		t.Errorf("table is off by %.3f of a byte, want at most 0.85", worst)
	}
	for b := range 256 {
		if got := Byte(decoded[b]); int(got) != b {
			t.Errorf("byte %d comes back as %d", b, got)
		}
	}
	for _, c := range []float32{-1, float32(math.NaN()), float32(math.Inf(-1))} {
		if Byte(c) != 0 {
			t.Errorf("Byte(%v) = %d, want 0", c, Byte(c))
		}
	}
	if Byte(7) != 255 || Byte(float32(math.Inf(1))) != 255 {
		t.Error("light above the screen's white is not cut off at 255")
	}
}

func TestEncodeMeetsDecode(t *testing.T) {
	for i := range 1001 {
		c := float64(i) / 1000
		if got := Decode(Encode(c)); math.Abs(got-c) > 1e-6 {
			t.Errorf("%g comes back as %g", c, got)
		}
	}
}

func ExampleLab_Light() {
	birch := Lab{81.1, 7.2, 20.0}
	fmt.Println(birch.Light().Bytes())
	// Output: [229 196 165]
}

// TestHex: every third colour of a cube comes back from Lab as it was written. Lab of sRGB white, mid grey and red under D65:
// 100, 0, 0; 53.59, 0, 0 (#808080); 53.24, 80.09, 67.20 (IEC 61966-2-1 with CIE 15, figures as colour handbooks print them).
func TestHex(t *testing.T) {
	for v := 0; v < 1<<24; v += 40_503 {
		want := fmt.Sprintf("#%06x", v)
		lab, err := ParseHex(want)
		if err != nil || lab.Hex() != want {
			t.Fatalf("%s comes back as %s: %v", want, lab.Hex(), err)
		}
	}
	for text, want := range map[string]Lab{"ffffff": {100, 0, 0}, "#808080": {53.59, 0, 0}, "#FF0000": {53.24, 80.09, 67.20}} {
		if got, err := ParseHex(text); err != nil || got.Difference(want) > 0.1 {
			t.Errorf("%s is %.2f, want %.2f: %v", text, got, want, err)
		}
	}
	for _, text := range []string{"", "fff", "#12345g", "+12345", "1234567", "0x1234"} {
		if _, err := ParseHex(text); err == nil {
			t.Errorf("%q is taken", text)
		}
	}
}
