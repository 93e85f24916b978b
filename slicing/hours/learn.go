package hours

import (
	"fmt"
	"math"
	"slices"
)

// A Record is the minutes that a side really took, beside what was reckoned before anything was learned. Records are plain
// values that can be kept in a file.
type Record struct {
	Machine  string  `json:"machine"` // key in the catalogue
	Layer    int     `json:"layer"`   // from 1
	Down     bool    `json:"down"`    // the lower side
	Reckoned float64 `json:"reckoned_min"`
	Took     float64 `json:"took_min"`
}

// ratio is how many times as long as reckoned it took; ok is false for a record that says nothing.
func (r Record) ratio() (times float64, ok bool) {
	times = r.Took / r.Reckoned
	return times, r.Took > 0 && r.Reckoned > 0 && !math.IsInf(times, 0) && times > 0
}

// A Factor is how many times as long as reckoned a machine takes. The zero Factor has learned nothing and changes nothing.
type Factor struct {
	Times     float64 // the median of the ratios
	Low, High float64 // half of the ratios lie between these: the quartiles
	Sides     int     // that it was learned from
}

// Learn fits the factor of one machine: the median of what each side took to what was reckoned, which one odd side can't
// move far. Records that are not of this machine or that hold no times are passed over; a side that was entered again counts
// as it was entered last.
func Learn(records []Record, machine string) Factor {
	type side struct {
		layer    int
		down     bool
		reckoned float64
	}
	var ratios []float64
	at := map[side]int{}
	for _, r := range records {
		times, ok := r.ratio()
		if !ok || r.Machine != machine {
			continue
		}
		s := side{r.Layer, r.Down, r.Reckoned}
		if i, again := at[s]; again {
			ratios[i] = times
			continue
		}
		at[s] = len(ratios)
		ratios = append(ratios, times)
	}
	if len(ratios) == 0 {
		return Factor{}
	}
	slices.Sort(ratios)
	return Factor{quantile(ratios, 0.5), quantile(ratios, 0.25), quantile(ratios, 0.75), len(ratios)}
}

// quantile is the value below which a share of sorted values lies, between neighbours in proportion.
func quantile(sorted []float64, share float64) float64 {
	at := share * float64(len(sorted)-1)
	i := int(at)
	if i+1 >= len(sorted) {
		return sorted[i]
	}
	return sorted[i] + (at-float64(i))*(sorted[i+1]-sorted[i])
}

// Known says that there is something to go by.
func (f Factor) Known() bool { return f.Sides > 0 && f.Times > 0 }

// Of is the time that a side will take as far as is known; metres and retracts stay.
func (f Factor) Of(t SideTime) SideTime {
	if f.Known() {
		t.RoughMin *= f.Times
		t.FinishMin *= f.Times
	}
	return t
}

// Text says what was learned in a sentence.
func (f Factor) Text() string {
	switch {
	case !f.Known():
		return "Nothing learned yet: enter the minutes that a side really took."
	case f.Sides == 1:
		return fmt.Sprintf("Learned from 1 side: it takes %.2f times as long as reckoned.", f.Times)
	}
	return fmt.Sprintf("Learned from %d sides: they take %.2f times as long as reckoned, half of them %.2f to %.2f times.",
		f.Sides, f.Times, f.Low, f.High)
}
