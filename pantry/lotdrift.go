package pantry

import "math"

// Drift is how one figure of an ingredient moves from lot to lot.
type Drift struct {
	Figure LotFigure
	// Count is how many readings there are, Mean their mean and Spread their
	// standard deviation (with n-1); 0 for a single one.
	Count        int
	Mean, Spread float64
	// Last is the newest reading.
	Last float64
	// PerWeek is the slope of the least-squares line through the readings over
	// time, HasTrend false where all are of one day.
	PerWeek  float64
	HasTrend bool
	// PerWeekSpread is the standard error of the slope, from three readings on;
	// never less than what the instrument's own ± makes of it.
	PerWeekSpread float64
}

// Drift returns the drift of every figure that was measured of the ingredient
// of that name, over all lots that go by one of its names. The error is a
// *NameError.
func (s *Shelf) Drift(lots []Lot, name string) ([]Drift, error) {
	wanted, err := s.Find(name)
	if err != nil {
		return nil, err
	}
	var own []Lot
	for _, l := range lots {
		if i, err := s.Find(l.Ingredient); err == nil && i == wanted {
			own = append(own, l)
		}
	}
	_, newest, _ := newestOf(own)
	var all []Drift
	for f := range LotFigure(LotFigures) {
		var weeks, values []float64
		last := 0.0
		lastAt := math.Inf(-1)
		for _, l := range own {
			if r := l.Readings[f]; r.Known {
				week := float64(l.Date.Unix()) / (7 * 24 * 3600)
				weeks, values = append(weeks, week), append(values, r.Value)
				if week >= lastAt {
					last, lastAt = r.Value, week
				}
			}
		}
		if len(values) == 0 {
			continue
		}
		if newest[f].Known {
			last = newest[f].Value
		}
		d := line(weeks, values, f)
		d.Figure, d.Last = f, last
		all = append(all, d)
	}
	return all, nil
}

// line fits a straight line to values over weeks:
//
//	slope = Σ (t - t̄)(v - v̄) / Σ (t - t̄)²,  its ± = √(Σ residual² / (n - 2) / Σ (t - t̄)²)
func line(weeks, values []float64, f LotFigure) Drift {
	n := float64(len(values))
	d := Drift{Count: len(values)}
	middle := 0.0
	for k := range values {
		d.Mean += values[k] / n
		middle += weeks[k] / n
	}
	vv, tt, tv := 0.0, 0.0, 0.0
	for k := range values {
		v, t := values[k]-d.Mean, weeks[k]-middle
		vv, tt, tv = vv+v*v, tt+t*t, tv+t*v
	}
	if n > 1 {
		d.Spread = math.Sqrt(vv / (n - 1))
	}
	if tt < 1e-9 {
		return d
	}
	d.HasTrend, d.PerWeek = true, tv/tt
	instrument := f.Spread(d.Mean) / math.Sqrt(tt)
	scatter := 0.0
	if n > 2 {
		scatter = math.Sqrt(max(0, vv-tv*tv/tt) / (n - 2) / tt)
	}
	d.PerWeekSpread = max(instrument, scatter)
	return d
}
