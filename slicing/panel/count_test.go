package panel

import (
	"context"
	"errors"
	"testing"
)

// TestCountAgainstArrange: as many panels as a layout has, or one more or fewer; each board by itself; the same every time.
func TestCountAgainstArrange(t *testing.T) {
	ctx := context.Background()
	rules := Rules{PanelX: 420, PanelY: 300, Margin: 9, Edge: 14}
	off := 0
	for seed := range uint64(3) {
		for _, every := range []int{0, 3} {
			parts := statue(seed, 10, 60)
			if every > 0 {
				parts = boarded(parts, every)
			}
			b, err := NewBench(ctx, parts, rules)
			if err != nil {
				t.Fatal(err)
			}
			got, err := b.Count(ctx, CountSteps)
			if err != nil {
				t.Fatal(err)
			}
			l, err := b.Rearrange(ctx, Layout{}, 200, nil)
			if err != nil {
				t.Fatal(err)
			}
			if want := len(l.Panels); got < want-1 || got > want+1 || want < 2 {
				t.Errorf("seed %d, boards %v: %d panels counted, %d laid", seed, every > 0, got, want)
			} else if got != want {
				off++
			}
			if again, _ := b.Count(ctx, CountSteps); again != got {
				t.Errorf("seed %d: %d panels counted, then %d", seed, got, again)
			}
		}
	}
	t.Logf("%d of 6 counted one more or fewer than laid", off)
	if off > 3 {
		t.Errorf("%d of 6 counts are not what is laid", off)
	}
}

func TestCountCalledOff(t *testing.T) {
	b, err := NewBench(context.Background(), statue(1, 10, 60), Rules{PanelX: 420, PanelY: 300, Margin: 9, Edge: 14})
	if err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := b.Count(ctx, CountSteps); !errors.Is(err, context.Canceled) {
		t.Errorf("called off: %v", err)
	}
}
