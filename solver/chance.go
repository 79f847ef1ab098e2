package solver

import (
	"math"
	"math/rand/v2"

	"minim/profile"
)

// How many directions the first-order chance is averaged over, and how many
// serves are drawn to compare it with the full model.
const (
	directionsDrawn = 2_000
	servesDrawn     = 1_000
)

// noticed is the squared distance in JND at which a serve is noticeably off. Any
// single property that is makes the total so.
const noticed = profile.Perceptible * profile.Perceptible

// Serves that first order puts less than noticed/plain or more than
// noticed·plain off are taken at its word: no more than half or twice the
// distance.
const plain = 4

// chance is the probability that a serve is noticeably off, and the standard
// error of that:
//
//	P = P₁ + mean of (F - L) over drawn serves
//
// P₁ is the probability by first order, L is 1 where first order puts a serve
// off and F where the full model does: a control variate, which needs few draws
// as the two mostly agree. The seeds are fixed, so the same drink has the same
// chance.
func (s *serves) chance(counts pick) (probability, standardError float64) {
	r := rand.New(rand.NewPCG(1, 0x7365727665))
	first, variance := s.firstOrderChance(counts, r)
	z := make([]float64, len(s.sources))
	sum, squares := 0.0, 0.0
	for range servesDrawn {
		for i := range s.sources {
			if counts(&s.sources[i]) {
				z[i] = r.NormFloat64()
			}
		}
		linear := s.squaredOff(z)
		if linear < noticed/plain || linear > noticed*plain {
			continue
		}
		if off := s.squaredOffFully(z) >= noticed; off != (linear >= noticed) {
			squares++
			if off {
				sum++
			} else {
				sum--
			}
		}
	}
	mean := sum / servesDrawn
	variance += (squares/servesDrawn - mean*mean) / servesDrawn
	return min(max(first+mean, 0), 1), math.Sqrt(variance)
}

// firstOrderChance is the probability that yᵀy >= noticed for a normal y with the
// covariance C = L Lᵀ of the properties, and the variance of the estimate. Along
// a direction u the squared length of a normal vector is χ² distributed, so
//
//	P₁ = mean over directions u of P(χ²_n >= noticed / ‖L u‖²)
func (s *serves) firstOrderChance(counts pick, r *rand.Rand) (probability, variance float64) {
	n := len(s.properties)
	factor := cholesky(s.covariance(counts), n)
	z := make([]float64, n)
	sum, squares := 0.0, 0.0
	for range directionsDrawn {
		length, stretched := 0.0, 0.0
		for k := range n {
			z[k] = r.NormFloat64()
			length += z[k] * z[k]
			y := inner(factor[k*n:k*n+k+1], z[:k+1])
			stretched += y * y
		}
		if stretched > 0 {
			p := chiSquareBeyond(noticed*length/stretched, n)
			sum += p
			squares += p * p
		}
	}
	mean := sum / directionsDrawn
	return mean, max(0, squares/directionsDrawn-mean*mean) / directionsDrawn
}

// chiSquareBeyond is the probability that a χ² of n >= 1 degrees of freedom is
// more than x >= 0:
//
//	n even: e^(-x/2) Σ_{k < n/2} (x/2)^k / k!
//	n odd:  erfc √(x/2) + e^(-x/2) Σ_{k=1}^{(n-1)/2} (x/2)^(k-1/2) / Γ(k+1/2)
//
// Source: M. Abramowitz and I. A. Stegun, Handbook of Mathematical Functions
// (1964), 26.4.4 and 26.4.5; from memory.
func chiSquareBeyond(x float64, n int) float64 {
	half := x / 2
	sum, term, k := 0.0, 1.0, 0.0
	if n%2 == 1 {
		sum, term, k = math.Erfc(math.Sqrt(half)), 2*math.Sqrt(half/math.Pi), 0.5
	}
	decay := math.Exp(-half)
	for range n / 2 {
		sum += decay * term
		k++
		term *= half / k
	}
	return sum
}

// cholesky returns the lower triangle L, row-major, with L Lᵀ = c, for a
// covariance of any rank.
func cholesky(c []float64, n int) []float64 {
	l := make([]float64, n*n)
	for k := range n {
		for i := k; i < n; i++ {
			rest := c[i*n+k] - inner(l[i*n:i*n+k], l[k*n:k*n+k])
			switch pivot := l[k*n+k]; {
			case i == k && rest > 1e-14*c[k*n+k]:
				l[k*n+k] = math.Sqrt(rest)
			case i > k && pivot > 0:
				l[i*n+k] = rest / pivot
			}
		}
	}
	return l
}
