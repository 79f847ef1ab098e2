package leastsquares

import "math"

// build scales p by powers of two, which is exact.
func (w *Workspace) build(p *Problem) {
	n, mE, mG := p.A.Cols, rowCount(p.E), rowCount(p.G)
	s := &w.main
	s.resize(n, p.A.Rows, mE+mG, mE)
	w.reference = resized(w.reference, n)
	w.shift = exponentOf(largestOf(p.B))
	w.equilibrate(p)
	for j := range n {
		column := s.aColumn(j)
		for i := range column {
			column[i] = p.A.At(i, j)
		}
		scale(column, -w.exponent[j])
		up := w.exponent[j] - w.shift
		s.lower[j] = math.Ldexp(p.lower(j), up)
		s.upper[j] = math.Ldexp(p.upper(j), up)
		w.reference[j] = 0
		if p.Reference != nil {
			w.reference[j] = math.Ldexp(p.Reference[j], up)
		}
		start := w.reference[j]
		if w.start != nil {
			start = math.Ldexp(w.start[j], up)
		}
		s.x[j] = min(max(start, s.lower[j]), s.upper[j])
	}
	copy(s.b, p.B)
	scale(s.b, -w.shift)
	for i := range mE + mG {
		source, right := p.constraint(i)
		row := s.cRow(i)
		for j, v := range source {
			row[j] = math.Ldexp(v, -w.exponent[j]-w.rowExponent[i])
		}
		s.rhs[i] = math.Ldexp(right, -w.rowExponent[i]-w.shift)
	}
}

// scale multiplies x by a power of two.
func scale(x []float64, exponent int) {
	if exponent == 0 {
		return
	}
	if exponent < -1000 || exponent > 1000 {
		for i, v := range x {
			x[i] = math.Ldexp(v, exponent)
		}
		return
	}
	by := math.Ldexp(1, exponent)
	for i := range x {
		x[i] *= by
	}
}

// span is the range of the exponents of nonzero numbers.
type span struct {
	least, most int
	any         bool
}

func (s *span) add(exponent int) {
	if !s.any {
		*s = span{exponent, exponent, true}
		return
	}
	s.least, s.most = min(s.least, exponent), max(s.most, exponent)
}

// middle is the exponent of the geometric mean of the ends.
func (s span) middle() int { return (s.least + s.most) / 2 }

// equilibrate chooses the exponents of columns and rows. Without constraints
// each column of A is scaled to about 1. With them, A as a whole, each row of E
// and G and each column across all are scaled in turn to a geometric mean of 1,
// which undoes the units of variables and rows wherever they came from; rows
// are scaled to a maximum of 1 last.
func (w *Workspace) equilibrate(p *Problem) {
	n, rows := p.A.Cols, rowCount(p.E)+rowCount(p.G)
	w.exponent = resized(w.exponent, n)
	w.rowExponent = resized(w.rowExponent, rows)
	w.aimSpan = resized(w.aimSpan, n)
	for j := range n {
		w.aimSpan[j] = span{}
		w.exponent[j] = 0
		if largest := largestInColumn(p.A, j); largest > 0 {
			w.aimSpan[j].add(exponentOf(largest))
			if rows == 0 {
				w.exponent[j] = exponentOf(largest)
			}
		}
	}
	if rows == 0 {
		return
	}
	for range 3 {
		whole := w.scaleRows(p).middle()
		for j := range n {
			var column span
			if aim := w.aimSpan[j]; aim.any {
				column.add(aim.most - whole)
			}
			for i := range rows {
				if row, _ := p.constraint(i); row[j] != 0 {
					column.add(exponentOf(row[j]) - w.rowSpan[i].middle())
				}
			}
			w.exponent[j] = column.middle()
		}
	}
	whole := w.scaleRows(p).most
	for j := range w.exponent {
		w.exponent[j] += whole
	}
	for i, row := range w.rowSpan {
		w.rowExponent[i] = row.most - whole
	}
}

// scaleRows computes the spans of the rows of E and G in scaled columns, and
// returns that of A.
func (w *Workspace) scaleRows(p *Problem) span {
	var whole span
	for j, aim := range w.aimSpan {
		if aim.any {
			whole.add(aim.most - w.exponent[j])
		}
	}
	w.rowSpan = resized(w.rowSpan, len(w.rowExponent))
	for i := range w.rowSpan {
		w.rowSpan[i] = span{}
		row, _ := p.constraint(i)
		for j, v := range row {
			if v != 0 {
				w.rowSpan[i].add(exponentOf(v) - w.exponent[j])
			}
		}
	}
	return whole
}

func largestOf(x []float64) float64 {
	largest := 0.0
	for _, v := range x {
		largest = max(largest, math.Abs(v))
	}
	return largest
}

func largestInColumn(m *Matrix, j int) float64 {
	largest := 0.0
	for i := range rowCount(m) {
		largest = max(largest, math.Abs(m.At(i, j)))
	}
	return largest
}

// exponentOf returns e with |v| 2^-e in [1/2, 1); 0 for zero.
func exponentOf(v float64) int {
	_, e := math.Frexp(v)
	return e
}

// columnSize is the norm of column j of the last problem's A, in its units.
func (w *Workspace) columnSize(j int) float64 {
	return math.Ldexp(w.main.columnNorm[j], w.exponent[j])
}
