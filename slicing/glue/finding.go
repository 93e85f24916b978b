package glue

import (
	"math"

	"grainstack/slicing/finding"
)

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

func (r Rules) findings(layers []Layer, joints []Joint, p Plan) []finding.Finding {
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
	return finding.Gather(out)
}

// loose names parts without anything beneath them.
func loose(layers []Layer, joints []Joint) (out []finding.Finding) {
	for i := 1; i < len(layers); i++ {
		if joints[i-1].Pairs == nil || i < len(joints) && joints[i].Pairs == nil {
			continue // which parts meet is not known
		}
		for part := 1; part <= layers[i].Parts; part++ {
			if meets(joints[i-1].Pairs, part, true) {
				continue
			}
			kind := finding.Hanging
			if i == len(joints) || !meets(joints[i].Pairs, part, false) {
				kind = finding.Drops
			}
			out = append(out, finding.Of(kind, finding.Place{Layer: layers[i].Number, Part: part}))
		}
	}
	return out
}

// contact names joints that hold nothing and rims that are too narrow.
func (r Rules) contact(j Joint) (out []finding.Finding) {
	if !(j.Area > 0) {
		return []finding.Finding{finding.InLayers(finding.Apart, j.Above)}
	}
	if j.Rim > 0 && j.Rim < r.LeastRim {
		out = append(out, finding.Of(finding.ThinRim, finding.Place{Layer: j.Above, Size: j.Rim}).With(r.LeastRim))
	}
	return out
}

// small names joints that are too small.
func (r Rules) small(joints []Joint) (out []finding.Finding) {
	add := func(j Joint, part int, area float64) {
		if part > 0 && len(j.Pairs) == 1 {
			part = 0
		}
		out = append(out, finding.Of(finding.WeakJoint, finding.Place{Layer: j.Above, Part: part, Size: area}).With(r.LeastJoint))
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
	return out
}

// pressing names what makes a pressing hard: open time, clamps, weight.
func (r Rules) pressing(q Pressing) (out []finding.Finding) {
	say := func(k finding.Kind, size, more, against float64) {
		at := finding.Place{Layer: q.Joint.Above, Size: size, More: [2]float64{float64(q.Number), more}}
		out = append(out, finding.Of(k, at).With(against))
	}
	if r.Glue.OpenMin > 0 && q.CloseMin > r.Glue.OpenMin {
		say(finding.ShortOpen, math.Ceil(q.CloseMin), 0, r.Glue.OpenMin)
	}
	if r.Clamp.Opening > 0 && q.Result.Height() > r.Clamp.Opening {
		say(finding.TallPressing, q.Result.Height(), 0, r.Clamp.Opening)
	}
	if r.Clamp.Count > 0 && q.Joint.Clamps > r.Clamp.Count {
		say(finding.FewClamps, float64(q.Joint.Clamps), 0, float64(r.Clamp.Count))
	}
	if q.People != 1 {
		limit := q.LimitG / 1000
		if q.People == 0 {
			limit = 0
		}
		say(finding.Heavy, q.Upper.MassG/1000, limit, 0)
	}
	return out
}
