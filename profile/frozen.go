package profile

// FrozenAt returns the ice in s when it has settled at t: none at its freezing
// point or above it, else the water that has to leave for the rest to have its
// freezing point at t,
//
//	T_f(s - x water) = t
//
// by bisection on 0 to all of the water. For ethanol in water alone this is the
// lever rule, 1 - p/p(t) of the mass, p(t) the mass fraction that freezes at t.
// It has the error of FreezingPoint, and leaves out sugar and salts that come
// out of solution in the cold. A freezing point changes as the rest grows
// stronger, so no drink is ever frozen through.
//
// Source: freezing points of the CRC Handbook, see FreezingPoint.
func (s State) FrozenAt(t Celsius) Gram {
	if s.FreezingPoint() <= t {
		return 0
	}
	left := s
	return Gram(rising(0, s[WaterGrams], func(ice float64) bool {
		left[WaterGrams] = s[WaterGrams] - ice
		return left.FreezingPoint() > t
	}))
}
