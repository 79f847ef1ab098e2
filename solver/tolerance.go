package solver

import "math"

// tolerance says how far serves of the drink of x steps come apart; nil where
// nothing that is aimed at has a JND.
func (w *work) tolerance(x []float64) *Tolerance {
	s := w.newServes()
	if s == nil {
		return nil
	}
	s.lookAt(x)
	return &Tolerance{ByHand: s.variation(byHand), Overall: s.variation(every)}
}

// variation sums up what the sources that count make of the drink at hand.
//
// The variance of property k is Σ_j J_kj² var_j over the independent sources j,
// J the slopes; the share of a pour is its part of that sum, for the property
// that varies most.
func (s *serves) variation(counts pick) Variation {
	n := len(s.properties)
	covariance := s.covariance(counts)
	var v Variation
	worst := 0
	for k, p := range s.properties {
		variance := covariance[k*n+k]
		v.Properties = append(v.Properties, PropertySpread{Property: p, JND: math.Sqrt(variance)})
		if variance > covariance[worst*n+worst] {
			worst = k
		}
	}
	v.Worst = s.properties[worst]
	share := make([]float64, len(s.work.pours)+1) // the ice last
	for i := range s.sources {
		one := &s.sources[i]
		if !counts(one) {
			continue
		}
		at := one.pour
		if at == theIce {
			at = len(share) - 1
		}
		e := s.effect[i*n+worst]
		share[at] += e * e
	}
	most := 0
	for at := range share {
		if share[at] > share[most] {
			most = at
		}
	}
	if total := covariance[worst*n+worst]; total > 0 {
		v.Share = share[most] / total
		v.Pour = "ice"
		if most < len(s.work.pours) {
			v.Pour = s.work.pours[most].written.Name
		}
	}
	v.Chance, v.StandardError = s.chance(counts)
	return v
}
