package metalwork

import (
	"math"
	"slices"
)

// The small dense algebra of patterns: at most a few dozen unknowns, so plain methods that are easy to check.

// symmetric is a symmetric matrix, both halves filled.
type symmetric [][]float64

func newSymmetric(n int) symmetric {
	a := make(symmetric, n)
	for i := range a {
		a[i] = make([]float64, n)
	}
	return a
}

// addOuter adds w·g·gᵀ.
func (a symmetric) addOuter(g []float64, w float64) {
	for i, gi := range g {
		if gi == 0 {
			continue
		}
		for j, gj := range g {
			a[i][j] += w * gi * gj
		}
	}
}

// times returns a·v.
func (a symmetric) times(v []float64) []float64 {
	r := make([]float64, len(v))
	for i := range a {
		r[i] = dot(a[i], v)
	}
	return r
}

func dot(a, b []float64) float64 {
	s := 0.0
	for i := range a {
		s += a[i] * b[i]
	}
	return s
}

// solve returns x with (a + ridge·diagonal)·x = b by Cholesky's method; false where a isn't positive definite.
func (a symmetric) solve(b []float64, ridge float64) ([]float64, bool) {
	n := len(b)
	l := newSymmetric(n)
	for i := range n {
		for j := range i + 1 {
			s := a[i][j]
			if i == j {
				s += ridge*a[i][i] + ridge*1e-9
			}
			for k := range j {
				s -= l[i][k] * l[j][k]
			}
			if i != j {
				l[i][j] = s / l[j][j]
				continue
			}
			if s <= 0 || math.IsNaN(s) {
				return nil, false
			}
			l[i][i] = math.Sqrt(s)
		}
	}
	x := slices.Clone(b)
	for i := range n {
		for k := range i {
			x[i] -= l[i][k] * x[k]
		}
		x[i] /= l[i][i]
	}
	for i := n - 1; i >= 0; i-- {
		for k := i + 1; k < n; k++ {
			x[i] -= l[k][i] * x[k]
		}
		x[i] /= l[i][i]
	}
	return x, true
}

// eigen returns the eigenvalues of a and, as rows, its eigenvectors, by Jacobi's rotations.
func (a symmetric) eigen() (values []float64, vectors [][]float64) {
	n := len(a)
	m, v := newSymmetric(n), newSymmetric(n)
	for i := range n {
		copy(m[i], a[i])
		v[i][i] = 1
	}
	for range 60 {
		off, all := 0.0, 0.0
		for i := range n {
			for j := range n {
				all += m[i][j] * m[i][j]
				if i != j {
					off += m[i][j] * m[i][j]
				}
			}
		}
		if off <= 1e-30*all {
			break
		}
		for p := range n {
			for q := p + 1; q < n; q++ {
				if m[p][q] == 0 {
					continue
				}
				theta := (m[q][q] - m[p][p]) / (2 * m[p][q])
				t := 1 / (math.Abs(theta) + math.Sqrt(theta*theta+1))
				if theta < 0 {
					t = -t
				}
				c := 1 / math.Sqrt(t*t+1)
				s := t * c
				for k := range n {
					m[k][p], m[k][q] = c*m[k][p]-s*m[k][q], s*m[k][p]+c*m[k][q]
				}
				for k := range n {
					m[p][k], m[q][k] = c*m[p][k]-s*m[q][k], s*m[p][k]+c*m[q][k]
					v[p][k], v[q][k] = c*v[p][k]-s*v[q][k], s*v[p][k]+c*v[q][k]
				}
			}
		}
	}
	for i := range n {
		values = append(values, m[i][i])
	}
	return values, v
}

// inverse returns the inverse of a on the part of the space where it has one, and the directions in which it has none.
func (a symmetric) inverse() (inverse symmetric, free [][]float64) {
	values, vectors := a.eigen()
	most := 0.0
	for _, e := range values {
		most = max(most, e)
	}
	inverse = newSymmetric(len(a))
	for i, e := range values {
		if e <= 1e-10*most {
			free = append(free, vectors[i])
			continue
		}
		inverse.addOuter(vectors[i], 1/e)
	}
	return inverse, free
}
