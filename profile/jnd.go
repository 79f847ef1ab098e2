package profile

import "math"

// JND is the law of a property's just-noticeable difference: the difference
// that one taster in one comparison names correctly 75 % of the time in a
// two-alternative forced choice.
//
//	size(c) = sqrt(T² + (k c)²)
//
// T is the detection threshold in the property's unit, k the Weber fraction.
// The form is the generalised Weber law with independent noises (Laming,
// Sensory Analysis, 1986; from memory).
type JND struct {
	Threshold     float64
	WeberFraction float64
}

// The laws of the properties. Thresholds and Weber fractions are of one
// person and one comparison; laboratories differ by a factor of two.
var (
	// Threshold: Mao et al., npj Science of Food 6:33 (2022), 4.24 g/L rounded.
	// Weber fraction: Schutz & Pilgrim, J. Exp. Psychol. 54:41 (1957), from memory.
	sweetJND = JND{4.0, 0.17}
	// Threshold between Mao et al. 2022 (0.057 g/L) and compilations (0.1 to
	// 0.25 g/L); Weber fraction in the middle of Mao 2022 (0.18), tartaric acid
	// in wine (J. Food Sci. 28, 1963: 0.211) and Schutz & Pilgrim (0.22). Estimates.
	acidJND = JND{0.10, 0.20}
	// Compilations (10 mmol/L) and Schutz & Pilgrim 1957, both from memory.
	saltJND = JND{0.60, 0.15}
	// Threshold: European Pharmacopoeia 2.8.15, bitterness value of quinine
	// hydrochloride. Weber fraction: Schutz & Pilgrim 1957 (caffeine), from memory.
	bitterJND = JND{5.0, 0.30}
	// Yamaguchi, Physiol. Behav. 49 (1991), 0.12 g/L rounded up; Yamaguchi &
	// Kimizuka (1979). Both from memory.
	umamiJND = JND{0.15, 0.21}
	// Fitted to Yu & Pickering, Am. J. Enol. Vitic. 59 (2008): 1.03 to 1.32 % vol
	// at 11.5 to 13.4 % vol, and to about 4 % vol at 35 to 41 % vol. Estimate.
	strengthJND = JND{0.60, 0.10}
	// Threshold: Puleo et al., 0.44 g/L; Weber fraction an estimate.
	carbonationJND = JND{0.44, 0.15}
	// Threshold extrapolated below the tested range (estimate); Weber fraction:
	// Camacho et al., J. Food Sci. (2015), 10 to 100 mPa·s.
	viscosityJND = JND{0.70, 0.26}
	// An absolute tolerance; no difference threshold of beverages in the mouth
	// was found. Estimate.
	temperatureJND = JND{2.0, 0}
)

// Size returns one JND at level c, in the unit of c.
func (j JND) Size(c float64) float64 {
	return math.Hypot(j.Threshold, j.WeberFraction*c)
}

// Level returns the level c on the scale whose unit is one JND everywhere, the
// integral of dc/size(c):
//
//	J(c) = asinh(k c / T) / k, and c / T where k is 0.
func (j JND) Level(c float64) float64 {
	if j.WeberFraction == 0 {
		return c / j.Threshold
	}
	return math.Asinh(j.WeberFraction*c/j.Threshold) / j.WeberFraction
}

// At returns the level c whose place on the JND scale is n; it undoes Level.
func (j JND) At(n float64) float64 {
	if j.WeberFraction == 0 {
		return n * j.Threshold
	}
	return math.Sinh(j.WeberFraction*n) * j.Threshold / j.WeberFraction
}

// Perceptible is the miss, in JND, from which a taster may notice it.
const Perceptible = 0.5

// roundedMiss is what a miss of a whole number of steps may be off by, in JND: a
// target is written to six figures, and one JND is a tenth of a level or more.
const roundedMiss = 1e-4

// Noticed says in words how a miss of n JND fares in a side-by-side tasting. A
// whole step is one up to roundedMiss. The steps are estimates: group studies put
// their detection point near 0.5.
func Noticed(n float64) string {
	switch n = math.Abs(n); {
	case n < Perceptible:
		return "not noticed"
	case n < 1-roundedMiss:
		return "borderline"
	case n < 2-roundedMiss:
		return "noticeable side by side"
	default:
		return "plain"
	}
}
