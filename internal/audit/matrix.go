package audit

import "math"

// matrix is a square of numbers by rows.
type matrix struct {
	n  int
	at []float64
}

func newMatrix(n int) matrix { return matrix{n, make([]float64, n*n)} }

func (m matrix) row(i int) []float64 { return m.at[i*m.n : (i+1)*m.n] }

// addOuter adds by·v·vᵀ.
func (m matrix) addOuter(by float64, v []float64) {
	for i, a := range v {
		if a == 0 {
			continue
		}
		row := m.row(i)
		for j, b := range v {
			row[j] += by * a * b
		}
	}
}

// cholesky turns a positive definite matrix into its lower root, in place. What rounding
// makes of a pivot is kept above zero by the matrix' own scale.
func (m matrix) cholesky() {
	least := 0.0
	for i := range m.n {
		least = max(least, m.row(i)[i])
	}
	least = max(least*1e-14, math.SmallestNonzeroFloat64)
	for i := range m.n {
		ri := m.row(i)
		for j := 0; j <= i; j++ {
			rj := m.row(j)
			s := ri[j] - dot(ri[:j], rj[:j])
			if i == j {
				ri[i] = math.Sqrt(max(s, least))
			} else {
				ri[j] = s / rj[j]
			}
		}
	}
}

// lower solves L·x = v in place, m holding L.
func (m matrix) lower(v []float64) {
	for i := range m.n {
		row := m.row(i)
		v[i] = (v[i] - dot(row[:i], v[:i])) / row[i]
	}
}

// upper solves Lᵀ·x = v in place.
func (m matrix) upper(v []float64) {
	for i := m.n - 1; i >= 0; i-- {
		v[i] /= m.row(i)[i]
		for j, l := range m.row(i)[:i] {
			v[j] -= l * v[i]
		}
	}
}

// inverse is that of a positive definite matrix, which it leaves as its root.
func (m matrix) inverse() matrix {
	m.cholesky()
	inv := newMatrix(m.n)
	for i := range m.n {
		// It is symmetric, so that a column is worked out from its diagonal down alone; of
		// the unit vector there is nothing above.
		v := inv.row(i)
		v[i] = 1
		for r := i; r < m.n; r++ {
			row := m.row(r)
			v[r] = (v[r] - dot(row[i:r], v[i:r])) / row[r]
		}
		for r := m.n - 1; r >= i; r-- {
			row := m.row(r)
			v[r] /= row[r]
			for c := i; c < r; c++ {
				v[c] -= row[c] * v[r]
			}
		}
		for r := i + 1; r < m.n; r++ {
			inv.row(r)[i] = v[r]
		}
	}
	return inv
}

// along is the standard deviation of a weighted sum of unknowns.
func (m matrix) along(v []float64) float64 {
	s := 0.0
	for i, a := range v {
		if a != 0 {
			s += a * dot(m.row(i), v)
		}
	}
	return math.Sqrt(max(s, 0))
}

func dot(a, b []float64) float64 {
	s := 0.0
	for i, v := range a {
		s += v * b[i]
	}
	return s
}
