package solver

import (
	"minim/pantry"
	"minim/profile"
)

// allow widens each limit that a drink broke as it was approved to what nobody
// could tell from where that drink stood, so that a swap mends nothing that nobody
// asked about, and returns what these limits are called.
func (r *rework) allow(was *Answer) []string {
	var loose []string
	for i := range r.problem.limits {
		l := &r.problem.limits[i]
		v := was.Profile[l.property].Value
		if l.broken(v) == 0 {
			continue
		}
		loose = append(loose, l.written)
		alike := alikeAt(l.property, v)
		if v < l.low {
			l.low = alike.low
		} else {
			l.high = alike.high
		}
	}
	return loose
}

// alikeAt limits a property to what nobody could tell from the value v: what is not
// perceptible, or one sizeAt of what has no JND.
func alikeAt(p profile.Property, v float64) limit {
	at := aim{property: p, low: v, high: v}
	if limits := imperceptible(&at); len(limits) > 0 {
		return limits[0]
	}
	room := sizeAt(p, v)
	return limit{property: p, low: v - room, high: v + room, scale: room}
}

// withoutBrokenRatios is the spec without the ratios that its own amounts do not
// keep, and what these are called.
func (c *change) withoutBrokenRatios() (*pantry.Spec, []string, error) {
	was := withoutTargets(c.spec)
	was.Ratios = keptRatios(was)
	if len(was.Ratios) == 0 {
		return c.spec, nil, nil
	}
	was.Glass, was.Reference = 0, nil
	out := *c.spec
	out.Ratios = nil
	var loose []string
	for _, r := range c.spec.Ratios {
		was.Ratios = []pantry.Ratio{r}
		if len(keptRatios(was)) == 0 {
			out.Ratios = append(out.Ratios, r)
			continue
		}
		a, err := Report(Question{Spec: was, Shelf: c.shelf})
		if err != nil {
			return nil, nil, err
		}
		if len(a.Broken) == 0 {
			out.Ratios = append(out.Ratios, r)
			continue
		}
		loose = append(loose, a.Broken[0].Written)
	}
	return &out, loose, nil
}

// limitedOnly is what aims at the drink's own level where the approved profile
// has nothing but a limit on the property, as strength has after lightening.
func limitedOnly(t pantry.Target, was *Answer) (pantry.Target, bool) {
	v := &was.Profile[t.Property]
	if t.Aimed || v.refused || (t.Property != profile.Volume && !hasJND(t.Property)) {
		return t, false
	}
	aim := aimAt(t.Property, v.Value)
	aim.AtLeast, aim.AtMost, aim.Place = t.AtLeast, t.AtMost, t.Place
	return aim, true
}

func hasJND(p profile.Property) bool {
	_, ok := p.JND()
	return ok
}
