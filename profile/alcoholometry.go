package profile

// EthanolDensity is the density of pure ethanol at 20 °C.
//
// Source: OIML R 22, International alcoholometric tables (1975), the general
// formula at p = 1, t = 20 °C.
const EthanolDensity KilogramPerCubicMetre = 789.239

// Coefficients of the general formula of OIML R 22 (1975). Temperatures are of
// IPTS-68, within 0.01 K of ITS-90 here.
var (
	r22A = [12]float64{
		998.20123, -192.9769495, 389.1238958, -1668.103923, 13522.15441, -88292.78388,
		306287.4042, -613838.1234, 747017.2998, -547846.1354, 223446.0334, -39032.85426,
	}
	r22B = [6]float64{
		-0.20618513, -0.0052682542, 3.6130013e-05, -3.8957702e-07, 7.169354e-09, -9.9739231e-11,
	}
	r22C = [5][]float64{
		{
			0.1693443461530087, -10.46914743455169, 71.96353469546523, -704.7478054272792,
			3924.090430035045, -12101.64659068747, 22486.46550400788, -26055.62982188164,
			18523.73922069467, -7420.201433430137, 1285.617841998974,
		},
		{
			-0.0119301300505701, 0.2517399633803461, -2.170575700536993, 13.53034988843029,
			-50.29988758547014, 109.635566657757, -142.2753946421155, 108.043594285623,
			-44.14153236817392, 7.442971530188783,
		},
		{
			-0.0006802995733503803, 0.01876837790289664, -0.2002561813734156, 1.02299296671922,
			-2.895696483903638, 4.810060584300675, -4.672147440794683, 2.458043105903461,
			-0.5411227621436812,
		},
		{4.075376675622027e-06, -8.76305857347111e-06, 6.515031360099368e-06, -1.51578483698721e-06},
		{-2.788074354782409e-08, 1.345612883493354e-08},
	}
)

// EthanolWaterDensity returns the density of a mixture of ethanol and water of
// ethanol mass fraction p at temperature t:
//
//	ρ(p,t) = A₁ + Σ_{k=2..12} A_k p^(k-1) + Σ_{k=1..6} B_k (t-20)^k
//	         + Σ_{i=1..5} Σ_{k=1..mᵢ} C_{i,k} p^k (t-20)^i,  m = 11, 10, 9, 4, 2
//
// Valid from -20 °C (where liquid) to 40 °C and for p from 0 to 1; below the
// freezing curve it is an extrapolation. p is clamped to its range.
//
// Source: OIML R 22, International alcoholometric tables (1975).
func EthanolWaterDensity(p MassFraction, t Celsius) KilogramPerCubicMetre {
	x := min(max(float64(p), 0), 1)
	d := float64(t) - 20
	rho, _ := polynomial(r22A[:], x)
	power := d
	for i := range r22B {
		rho += r22B[i] * power
		if i < len(r22C) {
			c, _ := polynomial(r22C[i], x)
			rho += x * c * power
		}
		power *= d
	}
	return KilogramPerCubicMetre(rho)
}

// ethanolWaterSpecificVolume returns the specific volume in ml/g of the
// mixture of ethanol mass fraction p at 20 °C, and its slope in p.
func ethanolWaterSpecificVolume(p float64) (v, slope float64) {
	rho, rise := polynomial(r22A[:], p)
	v = 1000 / rho
	return v, -v * rise / rho
}

// StrengthOf returns the alcoholic strength at 20 °C of a mixture of ethanol
// and water of ethanol mass fraction p: 100 p ρ(p, 20 °C) / ρ(1, 20 °C).
//
// Source: OIML R 22 (1975), definition of alcoholic strength by volume.
func StrengthOf(p MassFraction) PercentVolume {
	return PercentVolume(100 * float64(p) * float64(EthanolWaterDensity(p, 20)) / float64(EthanolDensity))
}

// MassFractionOf undoes StrengthOf for strengths from 0 to 100 % vol, by
// bisection: the strength rises with the mass fraction. Strengths outside are
// clamped.
func MassFractionOf(strength PercentVolume) MassFraction {
	low, high := 0.0, 1.0
	for high-low > 1e-15 {
		middle := (low + high) / 2
		if middle == low || middle == high {
			break
		}
		if StrengthOf(MassFraction(middle)) < strength {
			low = middle
		} else {
			high = middle
		}
	}
	return MassFraction((low + high) / 2)
}
