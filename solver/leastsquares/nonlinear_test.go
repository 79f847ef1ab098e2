package leastsquares

import (
	"encoding/json"
	"math"
	"math/cmplx"
	"testing"
)

// complexModel differentiates functions by the complex step, Im f(x + ih) / h,
// which is exact to rounding (W. Squire and G. Trapp, Using complex variables
// to estimate derivatives of real functions, 1998; from memory).
type complexModel struct {
	function func(b []complex128, value []complex128)
}

func (m complexModel) Values(x, value []float64, jacobian *Matrix) {
	const h = 1e-200
	b, v := make([]complex128, len(x)), make([]complex128, len(value))
	for j := range x {
		b[j] = complex(x[j], 0)
	}
	m.function(b, v)
	for i := range v {
		value[i] = real(v[i])
	}
	if jacobian == nil {
		return
	}
	for j := range x {
		b[j] = complex(x[j], h)
		m.function(b, v)
		b[j] = complex(x[j], 0)
		for i := range v {
			jacobian.Set(i, j, imag(v[i])/h)
		}
	}
}

// regressions are the models of the statistical reference data sets, b1 being
// b[0].
var regressions = map[string]func(b []complex128, x complex128) complex128{
	"strd_misra1a": func(b []complex128, x complex128) complex128 { return b[0] * (1 - cmplx.Exp(-b[1]*x)) },
	"strd_misra1b": func(b []complex128, x complex128) complex128 {
		return b[0] * (1 - cmplx.Pow(1+b[1]*x/2, -2))
	},
	"strd_chwirut2": func(b []complex128, x complex128) complex128 { return cmplx.Exp(-b[0]*x) / (b[1] + b[2]*x) },
	"strd_danwood":  func(b []complex128, x complex128) complex128 { return b[0] * cmplx.Pow(x, b[1]) },
	"strd_mgh09": func(b []complex128, x complex128) complex128 {
		return b[0] * (x*x + x*b[1]) / (x*x + x*b[2] + b[3])
	},
	"strd_mgh17": func(b []complex128, x complex128) complex128 {
		return b[0] + b[1]*cmplx.Exp(-x*b[3]) + b[2]*cmplx.Exp(-x*b[4])
	},
	"strd_rat42": func(b []complex128, x complex128) complex128 { return b[0] / (1 + cmplx.Exp(b[1]-b[2]*x)) },
	"strd_rat43": func(b []complex128, x complex128) complex128 {
		return b[0] / cmplx.Pow(1+cmplx.Exp(b[1]-b[2]*x), 1/b[3])
	},
	"strd_eckerle4": func(b []complex128, x complex128) complex128 {
		z := (x - b[2]) / b[1]
		return b[0] / b[1] * cmplx.Exp(-0.5*z*z)
	},
	"strd_boxbod": func(b []complex128, x complex128) complex128 { return b[0] * (1 - cmplx.Exp(-b[1]*x)) },
	"strd_thurber": func(b []complex128, x complex128) complex128 {
		return (b[0] + x*(b[1]+x*(b[2]+x*b[3]))) / (1 + x*(b[4]+x*(b[5]+x*b[6])))
	},
	"strd_hahn1": func(b []complex128, x complex128) complex128 {
		return (b[0] + x*(b[1]+x*(b[2]+x*b[3]))) / (1 + x*(b[4]+x*(b[5]+x*b[6])))
	},
}

// aims fills the aim rows of a problem: one number each, unit weights.
func aims(p *NonlinearProblem, targets, scales []float64) {
	p.Low, p.High, p.Scale = targets, targets, scales
	p.Weight = make([]float64, len(targets))
	for i := range p.Weight {
		p.Weight[i] = 1
	}
}

func ones(n int) []float64 {
	x := make([]float64, n)
	for i := range x {
		x[i] = 1
	}
	return x
}

func TestRegressionReachesCertifiedValues(t *testing.T) {
	checks := loadChecks(t)
	for _, id := range []string{
		"strd_misra1a", "strd_misra1b", "strd_chwirut2", "strd_danwood", "strd_mgh09", "strd_mgh17",
		"strd_rat42", "strd_rat43", "strd_eckerle4", "strd_boxbod", "strd_thurber", "strd_hahn1",
	} {
		c := checks[id]
		for k, start := range [][]float64{c.Start1, c.Start2} {
			p := NonlinearProblem{Start: start, Model: complexModel{func(b, value []complex128) {
				for i, x := range c.XData {
					value[i] = regressions[id](b, complex(x, 0))
				}
			}}}
			aims(&p, c.YData, ones(len(c.YData)))
			s, err := SolveNonlinear(p)
			if err != nil {
				t.Fatal(err)
			}
			t.Logf("%s start %d: %d iterations, KKT %.1e", id, k+1, s.Iterations, s.KKT)
			if s.Status != Optimal || !near(s.Objective, c.Expected.Objective, c.Tolerance) {
				t.Errorf("%s from start %d: %v, objective %.12g, want %.12g; %s", id, k+1, s.Status, s.Objective, c.Expected.Objective, c.Source)
				continue
			}
			if id == "strd_mgh17" && s.X[4] < s.X[3] {
				// The two exponentials may change places.
				s.X[1], s.X[2], s.X[3], s.X[4] = s.X[2], s.X[1], s.X[4], s.X[3]
			}
			for j, want := range c.Expected.X {
				if id == "strd_eckerle4" && j < 2 && s.X[0] < 0 {
					// (-b1, -b2, b3) is the same curve.
					want = -want
				}
				if math.Abs(s.X[j]-want) > c.Tolerance*math.Abs(want) {
					t.Errorf("%s from start %d: b%d = %.12g, want %.12g", id, k+1, j+1, s.X[j], want)
				}
			}
		}
	}
}

// ratioModel has the values (P x)_k / V and, last, V = v.x + d x_i x_j / (x_i + x_j).
func (c check) ratioModel(t *testing.T) complexModel {
	var contraction struct {
		I, J int
		D    float64
	}
	if c.Contraction != nil && string(c.Contraction) != "null" {
		if err := json.Unmarshal(c.Contraction, &contraction); err != nil {
			t.Fatal(err)
		}
	}
	return complexModel{func(x, value []complex128) {
		volume := complex(0, 0)
		for j, v := range c.V {
			volume += complex(v, 0) * x[j]
		}
		if contraction.D != 0 {
			xi, xj := x[contraction.I], x[contraction.J]
			volume += complex(contraction.D, 0) * xi * xj / (xi + xj)
		}
		for k, row := range c.P {
			sum := complex(0, 0)
			for j, a := range row {
				sum += complex(a, 0) * x[j]
			}
			value[k] = sum / volume
		}
		value[len(c.P)] = volume
	}}
}

func TestRatioProblems(t *testing.T) {
	checks := loadChecks(t)
	for _, id := range []string{"ratio_ls_exact_fit", "ratio_ls_bound_active", "ratio_ls_contraction", "ratio_ls_overdetermined"} {
		c := checks[id]
		p := NonlinearProblem{Model: c.ratioModel(t)}
		n := len(c.V)
		p.Lower, p.Upper = boundsOf(c.Lower, n, math.Inf(-1)), boundsOf(c.Upper, n, math.Inf(1))
		p.Start = make([]float64, n)
		for j := range p.Start {
			p.Start[j] = 0.25 * p.Upper[j]
		}
		aims(&p, append(append([]float64(nil), c.T...), *c.VolumeTarget), append(append([]float64(nil), c.S...), *c.VolumeScale))
		s, err := SolveNonlinear(p)
		if err != nil {
			t.Fatal(err)
		}
		t.Logf("%s: %d iterations, KKT %.1e", id, s.Iterations, s.KKT)
		if s.Status != Optimal || !near(s.Objective, c.Expected.Objective, c.Tolerance) {
			t.Errorf("%s: %v, objective %.12g, want %.12g", id, s.Status, s.Objective, c.Expected.Objective)
		}
		for j, want := range c.Expected.X {
			if math.Abs(s.X[j]-want) > 1e-5*math.Max(1, want) {
				t.Errorf("%s: x[%d] = %.10g, want %.10g", id, j, s.X[j], want)
			}
		}
		for j, want := range c.Expected.Multipliers["upper"] {
			if !near(s.UpperMultiplier[j], want, 1e-5) {
				t.Errorf("%s: upper multiplier %d is %.10g, want %.10g", id, j, s.UpperMultiplier[j], want)
			}
		}
	}
}
