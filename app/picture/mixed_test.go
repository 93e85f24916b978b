package picture

import (
	"testing"

	"grainstack/render/look"
	"grainstack/render/tone"
	"grainstack/slicing/job"
	"grainstack/slicing/stock"
)

// TestMixedLayersAreDressed: a band of walnut and a turned layer reach the look and the story stick, layer by layer, at the
// panels' heights; layers beyond the top leave the dress plain.
func TestMixedLayersAreDressed(t *testing.T) {
	st, f, c := bench(t)
	s := f.For
	if woods, layers := Mixed(s, c, st.Height()); woods != nil || layers != nil {
		t.Error("a stack without a mix has layers of its own")
	}
	s.Mix = "999:walnut-18-13"
	if woods, layers := Mixed(s, c, st.Height()); woods != nil || layers != nil {
		t.Error("a layer beyond the top is dressed")
	}
	s.Mix = "2:walnut-18-13, 3:turn"
	woods, layers := Mixed(s, c, st.Height())
	if len(woods) != 1 || len(layers) != len(f.Layers) {
		t.Fatalf("%d woods, %d layers, want 1 and %d", len(woods), len(layers), len(f.Layers))
	}
	for i, l := range layers {
		want := look.Layer{Bottom: f.Layers[i].PanelBottom, Turned: i%2 == 1}
		if i == 1 {
			want.Wood = 1
		}
		if i == 2 {
			want.Turned = true
		}
		if l != want {
			t.Errorf("layer %d is %+v, want %+v", i+1, l, want)
		}
	}
	walnut, _ := c.Wood("walnut")
	if got := woods[0].Veneers[0].Long; got != tone.Lab(walnut.Long) {
		t.Errorf("the band is %v, want walnut's %v", got, walnut.Long)
	}
	mixed, err := job.Settle(t.Context(), st, s, c)
	if err != nil {
		t.Fatal(err)
	}
	v := Stick(st, mixed, c, 1)
	if v.Layers[0].Veneers != nil || len(v.Layers[1].Veneers) != 13 || v.Layers[1].Veneers[0].Long != byLab(walnut.Long) || !v.Layers[2].Turned {
		t.Errorf("the stick shows %+v", v.Layers[:3])
	}
}

// TestOwnTonesReachTheLook: measured tones stand for those of the usual board, long grain by the veneer's run, and are not
// varnished again; another wood keeps the catalogue's, and another board of the same wood doesn't.
func TestOwnTonesReachTheLook(t *testing.T) {
	st, f, c := bench(t)
	s := f.For
	s.Tones = job.Tones{Own: true, Light: stock.Lab{74, 10, 29}, Dark: stock.Lab{62, 13, 31}, End: stock.Lab{51, 14, 27}}
	s.Mix = "2:walnut-18-13, 3:birch-21-15"
	w := WoodOf(s, c)
	if varnish, _ := c.Finish(s.Finish); w.Finish != (look.Finish{Gloss: varnish.Gloss}) || !(varnish.Gloss > 0) {
		t.Errorf("measured tones are varnished again: %+v", w.Finish)
	}
	for i, v := range w.Veneers {
		want := s.Tones.Light
		if !v.Along {
			want = s.Tones.Dark
		}
		if v.Long != tone.Lab(want) || v.End != tone.Lab(s.Tones.End) {
			t.Errorf("veneer %d is %v and %v, want %v and %v", i+1, v.Long, v.End, want, s.Tones.End)
		}
	}
	woods, _ := Mixed(s, c, st.Height())
	walnut, _ := c.Wood("walnut")
	if woods[0].Finish.Shift == 0 || woods[0].Veneers[0].Long != tone.Lab(walnut.Long) {
		t.Errorf("the walnut takes the birch's tones: %+v", woods[0].Veneers[0])
	}
	if woods[1].Finish != w.Finish || woods[1].Veneers[1].Long != tone.Lab(s.Tones.Light) {
		t.Errorf("thicker birch is %v", woods[1].Veneers[1].Long)
	}
	s.Tones.Own = false
	birch, _ := c.Wood("birch")
	if w := WoodOf(s, c); w.Finish.Shift == 0 || w.Veneers[0].Long != tone.Lab(birch.Long) {
		t.Errorf("taken back, the birch is %v", w.Veneers[0].Long)
	}
}
