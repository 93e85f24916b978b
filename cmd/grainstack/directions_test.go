package main

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"math"
	"strings"
	"testing"

	"grainstack/slicing/geom"
	"grainstack/slicing/solidtest"
)

func directionsOf(t *testing.T, args ...string) map[string]any {
	t.Helper()
	var out bytes.Buffer
	if err := run(context.Background(), append([]string{"directions"}, args...), &out); err != nil {
		t.Fatal(err)
	}
	var r map[string]any
	if err := json.Unmarshal(out.Bytes(), &r); err != nil {
		t.Fatal(err)
	}
	return r
}

// TestDirections: a cylinder that leans in its file is lowest square to its axis; programs rely on the fields' names, on unit
// vectors, and on the turn that takes the direction up.
func TestDirections(t *testing.T) {
	lean := geom.TurnXYZ(40, 25, 0)
	axis := lean.Apply(geom.Vec{Z: 1})
	path := write(t, "rod.stl", solidtest.Turned(solidtest.Frustum(20, 20, 150, 48), lean))
	r := directionsOf(t, path, "-n", "40", "-wall", "0", "-weights", "layers=5,trapped=0,hours=0,panels=0,stripes=0,tip=0,joint=0")
	list := r["directions"].([]any)
	if len(list) < 40 {
		t.Fatalf("%d directions, want 40 and more", len(list))
	}
	up := func(d map[string]any) geom.Vec {
		return geom.Vec{X: d["x"].(float64), Y: d["y"].(float64), Z: d["z"].(float64)}
	}
	unbeaten, fewest := 0, math.Inf(1)
	for _, one := range list {
		d := one.(map[string]any)
		for _, n := range strings.Fields("layers trapped_cm3 trapped_core_cm3 router_min panels weight_kg joint_min_cm2 stripe_share tip_deg") {
			if _, ok := d[n].(float64); !ok {
				t.Fatalf("a direction lacks %s: %v", n, d)
			}
		}
		if d["unbeaten"].(bool) {
			unbeaten++
		}
		fewest = min(fewest, d["layers"].(float64))
		deg := d["turn_deg"].([]any)
		turn := geom.TurnXYZ(deg[0].(float64), deg[1].(float64), deg[2].(float64))
		if math.Abs(up(d).Len()-1) > 1e-9 || turn.Apply(up(d)).Sub(geom.Vec{Z: 1}).Len() > 1e-5 {
			t.Errorf("%v is turned to %v", up(d), turn.Apply(up(d)))
		}
	}
	best := r["best"].(map[string]any)
	if best["layers"].(float64) != fewest || math.Abs(up(best).Dot(axis)) > math.Sin(20*math.Pi/180) {
		t.Errorf("the best has %v layers of %v, %v along the axis", best["layers"], fewest, up(best).Dot(axis))
	}
	if n := len(r["unbeaten"].([]any)); n != unbeaten || n == 0 {
		t.Errorf("%d are listed as unbeaten, %d are marked", n, unbeaten)
	}
}

func TestDirectionsWrongWords(t *testing.T) {
	path := write(t, "box.stl", solidtest.Box(30, 40, 50))
	for _, args := range [][]string{{path, "-n", "0"}, {path, "-n", "100000"}, {path, "-weights", "beauty=1"}, {path, "-weights", "layers"}, {}} {
		var out bytes.Buffer
		err := run(context.Background(), append([]string{"directions"}, args...), &out)
		var wrong *usageError
		if !errors.As(err, &wrong) {
			t.Errorf("%v: got %v, want a word on usage", args[min(1, len(args)):], err)
		}
	}
}
