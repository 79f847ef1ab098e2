package solver

import (
	"slices"

	"minim/profile"
)

// search finds the ends of each property of a question.
type search struct {
	work   *work
	alone  *room
	starts [][]float64
	spans  []span
	// allHeld is whether all targets can be held together.
	allHeld bool
}

// span is the two ends of a property in a room: the least first. A search keeps
// that alone before that with the other targets held, property by property.
type span struct {
	property profile.Property
	room     *room
	ends     [2]extreme
}

// signs are the directions of the two ends of a span.
var signs = [2]float64{-1, 1}

// seek finds the ends of one property, alone and with the other targets held.
func (s *search) seek(p profile.Property) error {
	alone := span{property: p, room: s.alone}
	held := span{property: p, room: s.alone.holding(s.work.problem.aims, p)}
	if err := s.findEnds(&alone); err != nil {
		return err
	}
	possible, err := s.othersCanBeHeld(p)
	if err == nil && possible {
		err = s.findEnds(&held)
	}
	s.spans = append(s.spans, alone, held)
	return err
}

func (s *search) findEnds(one *span) (err error) {
	for side, sign := range signs {
		if one.ends[side], err = one.room.furthest(one.property, sign, s.starts); err != nil {
			return err
		}
	}
	return nil
}

// othersCanBeHeld tells whether some drink holds every target but that of p.
func (s *search) othersCanBeHeld(p profile.Property) (bool, error) {
	if s.allHeld || !s.work.problem.aimsAt(p) {
		return s.allHeld, nil
	}
	_, possible, err := s.canHold(slices.DeleteFunc(slices.Clone(s.work.problem.aims), func(a aim) bool { return a.property == p }))
	return possible, err
}

// drawnDrinks is how many drawn drinks are looked at for one beyond an end.
const drawnDrinks = 400

// settleRounds is how often the ends are compared with one another.
const settleRounds = 4

// settle starts again where a drink is known that lies beyond an end: the end of
// another property, a drink between two of them, or a drawn one. After it no
// held end lies outside the end alone.
func (s *search) settle() error {
	drawn := s.alone.draw(drawnDrinks)
	for range settleRounds {
		moved := false
		drinks := slices.Concat(drawn, s.endDrinks())
		values := make([]profile.Values, len(drinks))
		for i, x := range drinks {
			values[i] = s.alone.values(x, profile.AllProperties)
		}
		for n := range s.spans {
			one := &s.spans[n]
			for side, sign := range signs {
				better := one.beyond(side, drinks, values)
				if better == nil {
					continue
				}
				e, err := one.room.furthest(one.property, sign, [][]float64{better})
				if err != nil {
					return err
				}
				if end := &one.ends[side]; e.found && (!end.found || beyond(e.value, end.value, sign)) {
					*end, moved = e, true
				}
			}
		}
		if !moved {
			break
		}
	}
	return nil
}

// endDrinks are the drinks at the ends found so far, and those halfway between
// the ends of each span.
func (s *search) endDrinks() [][]float64 {
	var drinks [][]float64
	for n := range s.spans {
		ends := &s.spans[n].ends
		for side := range ends {
			if ends[side].found {
				drinks = append(drinks, ends[side].x)
			}
		}
		if ends[0].found && ends[1].found {
			middle := make([]float64, len(ends[0].x))
			for j := range middle {
				middle[j] = (ends[0].x[j] + ends[1].x[j]) / 2
			}
			drinks = append(drinks, middle)
		}
	}
	return drinks
}

// beyond is, of the drinks in the span's room, the one furthest beyond an end, or
// nil where there is none.
func (one *span) beyond(side int, drinks [][]float64, values []profile.Values) []float64 {
	end := &one.ends[side]
	var best []float64
	furthest, found := end.value, end.found
	for i, x := range drinks {
		if v := values[i][one.property]; (!found || beyond(v, furthest, signs[side])) && one.room.holds(x, &values[i]) {
			best, furthest, found = x, v, true
		}
	}
	return best
}

// ranges writes the spans as an answer: those of the targets, and of what else
// the open pours move.
func (s *search) ranges() []PropertyReach {
	var out []PropertyReach
	for n := 0; n < len(s.spans); n += 2 {
		alone, held := &s.spans[n], &s.spans[n+1]
		p := alone.property
		targeted := s.work.targetOf(p) != nil
		if !targeted && !beyond(alone.ends[1].value, alone.ends[0].value, 1) {
			continue
		}
		r := PropertyReach{Property: p, Alone: *s.spanOf(alone)}
		for i := range s.work.problem.aims {
			if a := &s.work.problem.aims[i]; a.property == p {
				r.Aimed, r.Low, r.High = true, a.low, a.high
			}
		}
		if held.ends[0].found && held.ends[1].found {
			r.Held = s.spanOf(held)
		}
		r.UnknownFrom = s.unknownFrom(alone)
		out = append(out, r)
	}
	return out
}

// spanOf writes the two ends of a span as drinks.
func (s *search) spanOf(one *span) *Span {
	var out Span
	for side, end := range []*End{&out.Least, &out.Greatest} {
		e := &one.ends[side]
		end.Value = e.value
		end.Pours, _ = s.work.poured(e.x)
		end.Stops, end.KKT = s.work.stops(one, signs[side], e)
	}
	return &out
}

// unknownFrom names the ingredients whose unknown figures could show at either
// end.
func (s *search) unknownFrom(one *span) []string {
	var names []string
	for side := range one.ends {
		x := one.ends[side].x
		d := s.work.problem.drink(x)
		v := s.alone.values(x, profile.AllProperties)
		for n, amount := range s.work.amounts(nil, x) {
			if amount == 0 {
				continue
			}
			shift, bounded := s.work.unknownShift(one.property, n, amount, &d, &v)
			if !bounded || shift >= namedUnknown || shift <= -namedUnknown {
				for _, name := range s.work.unknownNames(n, one.property) {
					if !slices.Contains(names, name) {
						names = append(names, name)
					}
				}
			}
		}
	}
	return names
}

// apart is the smallest set of targets that cannot all be held, found by leaving
// targets out one at a time while the rest still cannot.
func (s *search) apart() ([]profile.Property, error) {
	aims := slices.Clone(s.work.problem.aims)
	for i := 0; i < len(aims) && len(aims) > 1; {
		rest := slices.Delete(slices.Clone(aims), i, i+1)
		_, possible, err := s.canHold(rest)
		if err != nil {
			return nil, err
		}
		if possible {
			i++
		} else {
			aims = rest
		}
	}
	var out []profile.Property
	for i := range aims {
		out = append(out, aims[i].property)
	}
	return out, nil
}

// canHold tells whether some drink holds all of the aims, and gives the nearest.
func (s *search) canHold(aims []aim) ([]float64, bool, error) {
	held := s.alone.holding(aims, profile.Property(profile.Properties))
	nearest, err := held.nearest(aims, s.starts)
	return nearest.X, nearest.Violation <= brokenByMore, err
}
