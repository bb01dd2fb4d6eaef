package prove

import "math"

// islands are groups of nodes that resistances connect, with the effective resistance between any two groups of one island.
// It is made once and solved again and again without new memory.
//
// The effective resistance between i and j is Z_ii + Z_jj - 2 Z_ij, where Z is the inverse of the island's conductance matrix
// with one node left out (grounded); the left-out node has zeros. One inverse gives all pairs. Source: D. J. Klein, M. Randic,
// "Resistance distance", J. Math. Chem. 12 (1993), from memory; it follows from Ohm's and Kirchhoff's laws. That every effective
// resistance grows with every single resistance, so that the least and the most come from all at their least and all at
// their most, is Rayleigh's monotonicity law (P. G. Doyle, J. L. Snell, "Random walks and electric networks", 1984, chapter 4,
// from memory).
type islands struct {
	slot   []int // of each group among those that have a resistance; -1
	groups []int // the groups, by slot
	island []int // of each slot
	within []int // its number in the island
	z      [][]float64
	size   []int
	parent []int
	matrix []float64
}

// solve finds the islands of the edges between the given number of groups; ohms says which of an edge's values counts. An
// infinite one is no connection.
func (s *islands) solve(groups int, edges []groupEdge, ohms func(*groupEdge) float64) {
	s.slot = reuse(s.slot, groups)
	for n := range s.slot {
		s.slot[n] = -1
	}
	s.groups, s.parent = s.groups[:0], s.parent[:0]
	slot := func(g int) int {
		if s.slot[g] < 0 {
			s.slot[g] = len(s.groups)
			s.groups = append(s.groups, g)
			s.parent = append(s.parent, s.slot[g])
		}
		return s.slot[g]
	}
	for n := range edges {
		e := &edges[n]
		if math.IsInf(ohms(e), 1) {
			continue
		}
		a, b := s.root(slot(e.a)), s.root(slot(e.b))
		s.parent[max(a, b)] = min(a, b)
	}
	n := len(s.groups)
	s.island, s.within = reuse(s.island, n), reuse(s.within, n)
	s.size = s.size[:0]
	for i := range n {
		if r := s.root(i); r == i {
			s.island[i], s.within[i] = len(s.size), 0
			s.size = append(s.size, 1)
		} else {
			k := s.island[r]
			s.island[i], s.within[i] = k, s.size[k]
			s.size[k]++
		}
	}
	for len(s.z) < len(s.size) {
		s.z = append(s.z, nil)
	}
	for k := range s.size {
		s.z[k] = s.invert(k, edges, ohms)
	}
}

// invert returns Z of island k, of its size less one, row by row.
func (s *islands) invert(k int, edges []groupEdge, ohms func(*groupEdge) float64) []float64 {
	n := s.size[k] - 1
	s.matrix = reuse(s.matrix, n*n)
	g := s.matrix
	clear(g)
	for i := range edges {
		e := &edges[i]
		r := ohms(e)
		a, b := s.slot[e.a], s.slot[e.b]
		if math.IsInf(r, 1) || s.island[a] != k {
			continue
		}
		a, b = s.within[a]-1, s.within[b]-1
		if a >= 0 {
			g[a*n+a] += 1 / r
		}
		if b >= 0 {
			g[b*n+b] += 1 / r
		}
		if a >= 0 && b >= 0 {
			g[a*n+b] -= 1 / r
			g[b*n+a] -= 1 / r
		}
	}
	z := reuse(s.z[k], n*n)
	copy(z, g)
	// In place, by elimination on the diagonal: the matrix is symmetric and positive definite, so no pivot is needed.
	for p := range n {
		d := 1 / z[p*n+p]
		z[p*n+p] = 1
		for j := range n {
			z[p*n+j] *= d
		}
		for i := range n {
			if i == p {
				continue
			}
			f := z[i*n+p]
			if f == 0 {
				continue
			}
			z[i*n+p] = 0
			for j := range n {
				z[i*n+j] -= f * z[p*n+j]
			}
		}
	}
	return z
}

// between returns the effective resistance between two different groups, infinite where they aren't of one island.
func (s *islands) between(a, b int) float64 {
	if !s.sameIsland(a, b) {
		return math.Inf(1)
	}
	a, b = s.slot[a], s.slot[b]
	k := s.island[a]
	n, z := s.size[k]-1, s.z[k]
	a, b = s.within[a]-1, s.within[b]-1
	total := 0.0
	if a >= 0 {
		total += z[a*n+a]
	}
	if b >= 0 {
		total += z[b*n+b]
	}
	if a >= 0 && b >= 0 {
		total -= z[a*n+b] + z[b*n+a]
	}
	return total
}

// sameIsland reports whether resistances connect two groups.
func (s *islands) sameIsland(a, b int) bool {
	i, j := s.slot[a], s.slot[b]
	return i >= 0 && j >= 0 && s.island[i] == s.island[j]
}

func (s *islands) root(n int) int {
	for s.parent[n] != n {
		s.parent[n] = s.parent[s.parent[n]]
		n = s.parent[n]
	}
	return n
}

// reuse returns a slice of the length, in the old memory where it is big enough. What is in it is of no meaning.
func reuse[E any](old []E, length int) []E {
	if cap(old) < length {
		return make([]E, length)
	}
	return old[:length]
}
