package leastsquares

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// negligibleCurvature is the share of the linear part of a Hessian that the
// rounding of differences may reach.
const negligibleCurvature = 1e-10

// curvatureRows returns rows whose squares, ||rows d - right||^2, have the
// gradient of F at x and, as Hessian, that of the Lagrangian
//
//	2 sum_i (w_i / s_i^2) (J_i J_i^T + r_i Hess value_i) + sum_i mu_i Hess value_i
//
// over the aims with r_i != 0, made positive by the absolute values of its
// eigenvalues. Second derivatives are central differences of the Jacobian; where
// they are no more than the rounding of those it returns nil.
func (it *iteration) curvatureRows(multiplier []float64) (*Matrix, []float64) {
	p, n, m := it.problem, len(it.x), len(it.value)
	hessian := mat.NewSymDense(n, nil)
	half := make([]float64, n)
	weight := make([]float64, m)
	for i, w := range p.Weight {
		if multiplier != nil {
			weight[i] = multiplier[i] / 2
		}
		if w == 0 {
			continue
		}
		r := distance(it.value[i], p.Low[i], p.High[i])
		if r == 0 && p.Low[i] < p.High[i] {
			continue
		}
		scale := w / (p.Scale[i] * p.Scale[i])
		weight[i] += scale * r
		row := it.jacobian.Row(i)
		for j := range n {
			half[j] += scale * r * row[j]
			for k := j; k < n; k++ {
				hessian.SetSym(j, k, hessian.At(j, k)+scale*row[j]*row[k])
			}
		}
	}
	// Columns of very different units would drown each other's eigenvalues.
	unit := make([]float64, n)
	for j := range unit {
		unit[j] = 1
		if diagonal := hessian.At(j, j); diagonal > 0 {
			unit[j] = 1 / math.Sqrt(diagonal)
		}
	}
	second := NewMatrix(n, n)
	value, ahead, behind := make([]float64, m), NewMatrix(m, n), NewMatrix(m, n)
	x := append([]float64(nil), it.x...)
	for j := range n {
		// The cube root of the rounding unit balances truncation and rounding.
		h := 6e-6 * math.Abs(it.x[j])
		if h == 0 {
			h = 6e-6 * unit[j]
		}
		up := min(it.x[j]+h, p.upper(j))
		down := max(it.x[j]-h, p.lower(j))
		if !(up > down) {
			continue
		}
		x[j] = up
		p.Model.Values(x, value, ahead)
		x[j] = down
		p.Model.Values(x, value, behind)
		x[j] = it.x[j]
		for i, w := range weight {
			if w == 0 {
				continue
			}
			for k := range n {
				if change := w * (ahead.At(i, k) - behind.At(i, k)) / (up - down); isFinite(change) {
					second.Data[j*n+k] += change
				}
			}
		}
	}
	linear, curved := 0.0, 0.0
	for j := range n {
		for k := j; k < n; k++ {
			bend := (second.At(j, k) + second.At(k, j)) / 2 * unit[j] * unit[k]
			straight := hessian.At(j, k) * unit[j] * unit[k]
			linear, curved = max(linear, math.Abs(straight)), max(curved, math.Abs(bend))
			hessian.SetSym(j, k, straight+bend)
		}
	}
	if curved <= negligibleCurvature*linear {
		return nil, nil
	}
	var eigen mat.EigenSym
	if !eigen.Factorize(hessian, true) {
		panic("leastsquares: eigenvalues of a finite symmetric matrix did not converge")
	}
	values := eigen.Values(nil)
	var vectors mat.Dense
	eigen.VectorsTo(&vectors)
	most := 0.0
	for _, v := range values {
		most = max(most, math.Abs(v))
	}
	rows, right := NewMatrix(n, n), make([]float64, n)
	for k, v := range values {
		v = math.Abs(v)
		if v <= 1e-12*most {
			// Flat: no step this way.
			continue
		}
		root := math.Sqrt(v)
		slope := 0.0
		for j := range n {
			slope += vectors.At(j, k) * half[j] * unit[j]
			rows.Set(k, j, root*vectors.At(j, k)/unit[j])
		}
		right[k] = -slope / root
	}
	return rows, right
}
