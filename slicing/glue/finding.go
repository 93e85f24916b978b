package glue

import (
	"fmt"
	"math"
	"strings"
)

// A Finding is something about the glue-up that needs a look: a sentence with a place and a way out.
type Finding struct {
	Layer, Part int // from 1; 0 where it concerns all
	Text        string
}

// hanging tells for each joint whether a part of the layer below it has nothing beneath itself and hangs from that joint.
func hanging(layers []Layer, joints []Joint) []bool {
	out := make([]bool, len(joints))
	for i := 1; i < len(joints); i++ {
		for part := 1; part <= layers[i].Parts; part++ {
			out[i] = out[i] || !meets(joints[i-1].Pairs, part, true) && meets(joints[i].Pairs, part, false)
		}
	}
	return out
}

// meets reports whether a part is in one of the pairs: as the one above or as the one below.
func meets(pairs []Pair, part int, above bool) bool {
	for _, p := range pairs {
		if p.Area > 0 && (above && p.Above == part || !above && p.Below == part) {
			return true
		}
	}
	return false
}

func (r Rules) findings(layers []Layer, joints []Joint, p Plan) []Finding {
	out := loose(layers, joints)
	for _, j := range joints {
		out = append(out, r.contact(j)...)
	}
	out = append(out, r.small(joints)...)
	for _, s := range p.Stages {
		for _, q := range s.Pressings {
			out = append(out, r.pressing(q)...)
		}
	}
	return out
}

// loose names parts without anything beneath them.
func loose(layers []Layer, joints []Joint) (out []Finding) {
	for i := 1; i < len(layers); i++ {
		if joints[i-1].Pairs == nil || i < len(joints) && joints[i].Pairs == nil {
			continue // which parts meet is not known
		}
		for part := 1; part <= layers[i].Parts; part++ {
			if meets(joints[i-1].Pairs, part, true) {
				continue
			}
			n := layers[i].Number
			text := fmt.Sprintf("Layer %d, part %d has nothing beneath it: glue it to layer %d first, both upside down, and let it hang from there.", n, part, n+1)
			if i == len(joints) || !meets(joints[i].Pairs, part, false) {
				text = fmt.Sprintf("Layer %d, part %d touches neither the layer below nor the one above: it stays loose. Tilt the piece, or move the first joint.", n, part)
			}
			out = append(out, Finding{n, part, text})
		}
	}
	return out
}

// contact names joints that hold nothing and rims that are too narrow.
func (r Rules) contact(j Joint) (out []Finding) {
	if !(j.Area > 0) {
		return []Finding{{Layer: j.Above, Text: fmt.Sprintf("Layers %d and %d don't touch: nothing holds them together. Tilt the piece, or move the first joint.", j.Below, j.Above)}}
	}
	if j.Rim > 0 && j.Rim < r.LeastRim {
		out = append(out, Finding{Layer: j.Above, Text: fmt.Sprintf("Layers %d and %d: the rim is %.1f mm wide at its narrowest, less than the %.1f mm wanted for a joint. Make the wall thicker, or leave one of the two solid.", j.Below, j.Above, j.Rim, r.LeastRim)})
	}
	return out
}

// small names joints that are too small: one by itself, several in one sentence with their places, under the smallest.
func (r Rules) small(joints []Joint) []Finding {
	var places []string
	least, of := math.Inf(1), Finding{}
	add := func(j Joint, part int, area float64) {
		where := fmt.Sprintf("%d and %d", j.Below, j.Above)
		if part > 0 && len(j.Pairs) > 1 {
			where += fmt.Sprintf(", part %d", part)
		}
		if places = append(places, fmt.Sprintf("%s on %.1f cm²", where, area/100)); area < least {
			least, of = area, Finding{j.Above, part, fmt.Sprintf("Layers %s meet on %.1f cm² only, less than the %.1f cm² wanted.", where, area/100, r.LeastJoint/100)}
		}
	}
	for _, j := range joints {
		if len(j.Pairs) == 0 && j.Area > 0 && j.Area < r.LeastJoint {
			add(j, 0, j.Area)
		}
		for _, p := range j.Pairs {
			if j.Area > 0 && p.Area > 0 && p.Area < r.LeastJoint {
				add(j, p.Above, p.Area)
			}
		}
	}
	if len(places) == 0 {
		return nil
	}
	if len(places) > 1 {
		of.Text = fmt.Sprintf("At %d places layers meet on less than the %.1f cm² wanted: %s.", len(places), r.LeastJoint/100, strings.Join(places, "; "))
	}
	of.Text += " Put a dowel through, tilt the piece, or move the first joint."
	return []Finding{of}
}

// pressing names what makes a pressing hard: open time, clamps, weight.
func (r Rules) pressing(q Pressing) (out []Finding) {
	where := fmt.Sprintf("Pressing %d, layers %d and %d", q.Number, q.Joint.Below, q.Joint.Above)
	say := func(format string, args ...any) {
		out = append(out, Finding{Layer: q.Joint.Above, Text: where + ": " + fmt.Sprintf(format, args...)})
	}
	if r.Glue.OpenMin > 0 && q.CloseMin > r.Glue.OpenMin {
		say("spreading and clamping take about %.0f min, the glue stays open for %.0f min. Spread with two people, or take a slower glue.", math.Ceil(q.CloseMin), r.Glue.OpenMin)
	}
	if r.Clamp.Opening > 0 && q.Result.Height() > r.Clamp.Opening {
		say("the stack is %.0f mm tall and the clamps open to %.0f mm. Take longer clamps, threaded rod through the hollow, or weights.", q.Result.Height(), r.Clamp.Opening)
	}
	if r.Clamp.Count > 0 && q.Joint.Clamps > r.Clamp.Count {
		say("it takes %d clamps and there are %d. Borrow some, or set each harder over stiff cauls.", q.Joint.Clamps, r.Clamp.Count)
	}
	switch kg := q.Upper.MassG / 1000; {
	case q.People == 0:
		say("the upper sub-stack weighs %.1f kg and is too wide to be held close to the body. Lift it with a helper on each side, or with a hoist.", kg)
	case q.People > 1:
		say("the upper sub-stack weighs %.1f kg; for one person the NIOSH figure is %.1f kg here. Lift it with %d people or a hoist.", kg, q.LimitG/1000, q.People)
	}
	return out
}
