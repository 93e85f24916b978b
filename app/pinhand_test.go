package app

import (
	"strings"
	"testing"

	"grainstack/app/edit"
	"grainstack/slicing/geom"
	"grainstack/slicing/workshop"

	"fyne.io/fyne/v2"
)

// TestAPinThatWouldShowIsRefusedWhileItMoves: there is wood enough on the joint's faces, but the cone narrows upwards, and at its
// end the pin would be too near to the surface; and in the hollow it is refused as well.
func TestAPinThatWouldShowIsRefusedWhileItMoves(t *testing.T) {
	r := laidRig(t)
	r.wall(28)
	v := r.laid("the layout")
	i := 0
	for i < len(v.Joints) && len(v.Joints[i].Pins) == 0 {
		i++
	}
	if i == len(v.Joints) {
		t.Fatal("there are no pins")
	}
	j := &v.Joints[i]
	wants := workshop.PinWants(v.For.Shop)
	radius := 60 - j.Z*30/64 // of the faces that meet
	shows := geom.Vec2{X: radius - wants - 1}
	if room, near := j.PinRoom(shows); room >= wants || near != workshop.Outside {
		t.Fatalf("1 mm inside what the faces allow there are %.2f mm to %v", room, near)
	}
	hollow := geom.Vec2{}
	if room, near := j.PinRoom(hollow); room != 0 || near != workshop.InHollow {
		t.Fatalf("in the middle there are %.2f mm to %v", room, near)
	}
	number, at, _ := v.Layout.Find(v.Parts[i].ID)
	for _, tt := range []struct {
		spot  geom.Vec2
		words string
	}{{shows, "to the surface and wants"}, {hollow, "come out at the hollow"}} {
		r.panels.At = number
		h := edit.Hold{What: edit.Pin, Part: v.Parts[i].ID, Number: number, At: at, Joint: i, Item: 0, Spot: j.Pins[0].At}
		r.panels.Hand = edit.TakeByKey(v, h)
		r.panels.Hand.Hold = r.panels.Hand.To(at.Apply(tt.spot))
		r.changed()
		r.until("the picture with the pin in the hand", func() bool { return !r.panels.Busy() && len(r.queue) == 0 })
		if words := r.margin.words.Text(); !strings.Contains(words, tt.words) || r.panels.Hand.Good != h {
			t.Errorf("held at %v: %q", tt.spot, words)
		}
		r.keyPanel(fyne.KeyReturn)
		if words := r.margin.words.Text(); !strings.HasSuffix(words, "It is back where it was.") || len(r.bench.Places().Pins) > 0 {
			t.Errorf("let go at %v: %q, %d places", tt.spot, words, len(r.bench.Places().Pins))
		}
	}
}
