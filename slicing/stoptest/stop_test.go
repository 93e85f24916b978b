package stoptest

import (
	"context"
	"testing"
	"time"
)

// spin takes so much processor time and looks every so often whether it was called off.
func spin(ctx context.Context, whole, every time.Duration) error {
	for begun, looked := CPU(), CPU(); CPU()-begun < whole; {
		if CPU()-looked > every {
			if looked = CPU(); ctx.Err() != nil {
				return ctx.Err()
			}
		}
	}
	return nil
}

// TestOff: work that looks often ends soon, work that looks only now and then does not.
func TestOff(t *testing.T) {
	Soon(t, 0.2, func(ctx context.Context) error { return spin(ctx, 100*time.Millisecond, time.Millisecond) })
	late, err := off(100*time.Millisecond, func(ctx context.Context) error { return spin(ctx, 3*time.Second, time.Second) })
	if err != nil || late < 500*time.Millisecond {
		t.Errorf("it looked after a second, and was called off after 0.1: %v, %v", late, err)
	}
}
