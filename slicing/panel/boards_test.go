package panel

import (
	"context"
	"errors"
	"fmt"
	"testing"

	"pgregory.net/rapid"

	own "grainstack/slicing/geom"
)

// boarded gives every n-th part of a statue another board.
func boarded(parts []Part, every int) []Part {
	for i := range parts {
		parts[i].Board = "birch"
		if i%every == 0 {
			parts[i].Board = "walnut"
		}
	}
	return parts
}

// TestPanelsNeverMixBoards: whatever is laid, locked and laid again, each panel holds parts of one board, every part lies once,
// panels are numbered once, and locked parts stay.
func TestPanelsNeverMixBoards(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		parts := boarded(statue(rapid.Uint64Range(1, 50).Draw(t, "seed"), rapid.IntRange(2, 7).Draw(t, "layers"), 60), rapid.IntRange(2, 4).Draw(t, "every"))
		b, err := NewBench(context.Background(), parts, usual())
		if err != nil {
			t.Fatal(err)
		}
		l := single(t, b, Layout{}, rapid.IntRange(0, 40).Draw(t, "steps"))
		if len(l.Panels) == 0 {
			return
		}
		i := rapid.IntRange(0, len(l.Panels)-1).Draw(t, "panel")
		for k := range l.Panels[i].Placed {
			l.Panels[i].Placed[k].Locked = true
		}
		again := single(t, b, l, rapid.IntRange(0, 40).Draw(t, "more steps"))
		for _, q := range l.Panels[i].Placed {
			if n, at, ok := again.Find(q.Part); !ok || n != l.Panels[i].Number || at != q {
				t.Fatalf("the locked %v went from panel %d to panel %d", q.Part, l.Panels[i].Number, n)
			}
		}
	})
}

// single lays parts and checks that no panel holds parts of two boards.
func single(t *rapid.T, b *Bench, from Layout, steps int) Layout {
	l, err := b.Rearrange(context.Background(), from, steps, nil)
	if err != nil {
		t.Fatal(err)
	}
	if hits := b.Check(l); len(hits) > 0 {
		t.Fatalf("collision: %v", hits[0])
	}
	lies, numbers := map[ID]int{}, map[int]bool{}
	for _, p := range l.Panels {
		if numbers[p.Number] || p.Number < 1 {
			t.Fatalf("panel %d is there twice or is none", p.Number)
		}
		numbers[p.Number] = true
		board, _ := b.Board(p)
		for _, q := range p.Placed {
			lies[q.Part]++
			if own := b.parts[b.index[q.Part]].Board; own != board {
				t.Fatalf("panel %d is of %s and holds %v of %s", p.Number, board, q.Part, own)
			}
		}
	}
	for _, p := range b.parts {
		if lies[p.ID] != 1 {
			t.Fatalf("%v lies %d times", p.ID, lies[p.ID])
		}
	}
	return l
}

// TestOneBoardIsLaidAsBefore: a name for the only board changes nothing.
func TestOneBoardIsLaidAsBefore(t *testing.T) {
	want := arrange(t, statue(3, 8, 80), usual(), 60)
	named := statue(3, 8, 80)
	for i := range named {
		named[i].Board = "birch"
	}
	if got := arrange(t, named, usual(), 60); fmt.Sprint(got) != fmt.Sprint(want) {
		t.Errorf("got %v, want %v", got, want)
	}
}

// TestBoardsKeepApart: two squares that have room on one panel lie on two where they are of two boards; put by hand on one
// panel they collide, and locked there they are refused.
func TestBoardsKeepApart(t *testing.T) {
	square := own.Region{{{X: 0, Y: 0}, {X: 100, Y: 0}, {X: 100, Y: 100}, {X: 0, Y: 100}}}
	parts := []Part{{ID: ID{1, 0}, Shadow: square, Board: "birch"}, {ID: ID{2, 0}, Shadow: square, Board: "walnut"}}
	l := arrange(t, parts, usual(), 20)
	if len(l.Panels) != 2 {
		t.Fatalf("%d panels, want 2", len(l.Panels))
	}
	b := newBench(t, parts, usual())
	one := Layout{Panels: []Panel{{Number: 1, Placed: []Placed{{Part: ID{1, 0}, At: own.Vec2{X: 50, Y: 50}, Locked: true}}}}}
	second := Placed{Part: ID{2, 0}, At: own.Vec2{X: 300, Y: 300}, Locked: true}
	ok, hits := b.Fits(one, 1, second)
	if ok || len(hits) != 1 || hits[0].Kind != OtherBoard || hits[0].Part != (ID{1, 0}) {
		t.Errorf("fits %v, hits %v", ok, hits)
	}
	if ok, _ := b.Fits(one, 2, second); !ok {
		t.Error("an empty panel takes no part of another board")
	}
	one.Panels[0].Placed = append(one.Panels[0].Placed, second)
	if _, err := b.Rearrange(context.Background(), one, 5, nil); !errors.Is(err, errLocked) {
		t.Errorf("two boards locked on one panel: %v", err)
	}
	far := Layout{Panels: []Panel{{Number: 1 << 30, Placed: []Placed{{Part: ID{1, 0}, At: own.Vec2{X: 50, Y: 50}, Locked: true}}}}}
	if _, err := b.Rearrange(context.Background(), far, 0, nil); err == nil {
		t.Error("a panel far beyond all is taken")
	}
}
