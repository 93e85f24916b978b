package unit

import (
	"errors"
	"fmt"
)

// Said is a sentence with figures, which are written in whatever units it is read in. The zero value says nothing.
type Said struct {
	format string
	args   []any
}

// A figure writes itself in whatever units it is read in.
type figure interface{ In(System) string }

// Figures of a sentence: a length, an area, a volume, a mass, a feed, in mm, mm², mm³, g, mm/min. All are written by %s.
type (
	MmMin float64
	Mm    float64
	Mm2   float64
	Mm3   float64
	Grams float64
)

// Span is a stretch from one length to another, and Sides are two lengths with a sign between them, mm.
type (
	Span  struct{ From, To float64 }
	Sides struct{ X, Y float64 }
)

// In is the length in units.
func (v Mm) In(u System) string { return Length(float64(v), u) }

// In is the area in units.
func (v Mm2) In(u System) string { return Area(float64(v), u) }

// In is the volume in units.
func (v Mm3) In(u System) string { return Volume(float64(v), u) }

// In is the mass in units.
func (v Grams) In(u System) string { return Mass(float64(v), u) }

// In is the feed in units.
func (v MmMin) In(u System) string { return Feed(float64(v), u) }

// In is the stretch in units.
func (v Span) In(u System) string { return Between(v.From, v.To, u) }

// In are the sides in units, which stand once.
func (v Sides) In(u System) string { return bare(v.X, u) + " × " + Length(v.Y, u) }

// bare is a length without its unit.
func bare(mm float64, u System) string {
	text, unit := Length(mm, u), len(" mm")
	return text[:len(text)-unit]
}

func (v Mm) String() string    { return v.In(Metric) }
func (v Mm2) String() string   { return v.In(Metric) }
func (v Mm3) String() string   { return v.In(Metric) }
func (v MmMin) String() string { return v.In(Metric) }
func (v Grams) String() string { return v.In(Metric) }
func (v Span) String() string  { return v.In(Metric) }
func (v Sides) String() string { return v.In(Metric) }

// Say is a sentence as fmt.Sprintf makes it, but for its figures and for sentences within it.
func Say(format string, args ...any) Said {
	if false {
		_ = fmt.Sprintf(format, args...) // for vet, which checks formats then
	}
	return Said{format, args}
}

// In is the sentence in units.
func (s Said) In(u System) string {
	args := make([]any, len(s.args))
	for i, a := range s.args {
		if f, ok := a.(figure); ok {
			a = f.In(u)
		}
		args[i] = a
	}
	return fmt.Sprintf(s.format, args...)
}

// String is the sentence in metric units.
func (s Said) String() string { return s.In(Metric) }

// None reports whether nothing is said.
func (s Said) None() bool { return s.format == "" }

// Error is a fault that is told in whatever units it is read in.
type Error struct{ Said }

// Error is the fault in metric units.
func (e Error) Error() string { return e.String() }

// Errorf is Say as an error.
func Errorf(format string, args ...any) error {
	if false {
		_ = fmt.Sprintf(format, args...) // as in Say
	}
	return Error{Say(format, args...)}
}

// Told is what an error says: with its figures, where it was made by Errorf.
func Told(err error) Said {
	var e Error
	if errors.As(err, &e) && e.Error() == err.Error() {
		return e.Said
	}
	return Say("%s", err.Error())
}
