package prove

import (
	"cmp"
	"math"
	mathbits "math/bits"
	"slices"
)

// cover is the question which fewest sets hold every element: here the readings that together catch every mistake.
//
// First the question is made smaller without changing its answer: an element that lies in every set in which another one lies
// needs no attention (row dominance), a set that lies within another one is not needed (column dominance), the only set that
// holds an element must be taken. Then a lower bound comes from the Lagrangian relaxation by subgradient steps, an upper
// one from greedy covers along the way, and branch and bound closes the gap if it can within its count of steps. Source: A.
// Caprara, P. Toth, M. Fischetti, "Algorithms for the set covering problem", Annals of Operations Research 98 (2000), from memory.
type cover struct {
	rows, columns int
	sets          []bitset // of each column, over rows
	in            [][]int  // of each row: the columns that hold it
	cost          []int    // of each column, to choose among covers of one size
	steps         int      // how many branches may still be tried
	best          []int
	bound         int
	u             []float64 // a dual solution: no column's rows sum to more than 1
}

// coverSteps is how many branches are tried before a cover counts as good enough. It bounds the work, and so the answer doesn't
// depend on the clock.
const coverSteps = 60_000

// fewest returns columns that hold every row of the sets, and a number that no such choice can beat. Rows that no column holds are left
// out. The answer depends on nothing but the input.
func fewest(rows int, sets []bitset, cost []int) (chosen []int, bound int) {
	small := reduce(rows, sets, cost)
	if len(small.rows) == 0 {
		return small.taken, len(small.taken)
	}
	c := &cover{rows: len(small.rows), columns: len(small.columns), steps: coverSteps}
	c.in = make([][]int, c.rows)
	place := make([]int, rows)
	for n, r := range small.rows {
		place[r] = n
	}
	for n, k := range small.columns {
		set := newBitset(c.rows)
		for _, r := range small.rows {
			if sets[k].has(r) {
				set.add(place[r])
				c.in[place[r]] = append(c.in[place[r]], n)
			}
		}
		c.sets, c.cost = append(c.sets, set), append(c.cost, cost[k])
	}
	c.solve()
	chosen = slices.Clone(small.taken)
	for _, n := range c.best {
		chosen = append(chosen, small.columns[n])
	}
	return chosen, len(small.taken) + c.bound
}

// reduced is what is left of a question after the easy answers.
type reduced struct {
	rows, columns []int
	taken         []int
}

func reduce(rows int, sets []bitset, cost []int) reduced {
	// Which columns hold a row, as sets over columns, to compare rows.
	holds := make([]bitset, rows)
	for r := range holds {
		holds[r] = newBitset(len(sets))
	}
	for k, s := range sets {
		s.each(func(r int) { holds[r].add(k) })
	}
	var left reduced
	live := newBitset(len(sets))
	for k := range sets {
		live.add(k)
	}
	for r := range rows {
		if holds[r].count() > 0 {
			left.rows = append(left.rows, r)
		}
	}
	for {
		before := len(left.rows)
		left.rows = undominatedRows(left.rows, holds)
		left.columns = undominatedColumns(left.rows, sets, live, cost)
		kept := newBitset(len(sets))
		for _, k := range left.columns {
			kept.add(k)
		}
		fewer := !kept.equal(live)
		live = kept
		for _, r := range left.rows {
			for n := range holds[r] {
				holds[r][n] &= live[n]
			}
		}
		// The only column that holds a row must be taken.
		for _, r := range left.rows {
			if holds[r].count() != 1 {
				continue
			}
			holds[r].each(func(k int) {
				if !slices.Contains(left.taken, k) {
					left.taken = append(left.taken, k)
				}
			})
		}
		left.rows = slices.DeleteFunc(left.rows, func(r int) bool {
			return slices.ContainsFunc(left.taken, func(k int) bool { return sets[k].has(r) })
		})
		if len(left.rows) == before && !fewer {
			break
		}
	}
	if len(left.rows) == 0 {
		left.columns = nil
	}
	return left
}

// undominatedRows leaves out each row that is held by every column that holds some other row.
func undominatedRows(rows []int, holds []bitset) []int {
	order := slices.Clone(rows)
	size := map[int]int{}
	for _, r := range rows {
		size[r] = holds[r].count()
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(size[a], size[b]) })
	var kept []int
	for _, r := range order {
		if !slices.ContainsFunc(kept, func(k int) bool { return holds[k].within(holds[r]) }) {
			kept = append(kept, r)
		}
	}
	slices.Sort(kept)
	return kept
}

// undominatedColumns leaves out each live column whose rows, of those that are left, all lie in another's. Of two that hold the
// same rows the cheaper stays.
func undominatedColumns(rows []int, sets []bitset, live bitset, cost []int) []int {
	type short struct {
		column, size int
		set          bitset
	}
	var list []short
	live.each(func(k int) {
		s := short{column: k, set: newBitset(len(rows))}
		for n, r := range rows {
			if sets[k].has(r) {
				s.set.add(n)
				s.size++
			}
		}
		if s.size > 0 {
			list = append(list, s)
		}
	})
	slices.SortStableFunc(list, func(a, b short) int {
		return cmp.Or(-cmp.Compare(a.size, b.size), cmp.Compare(cost[a.column], cost[b.column]), cmp.Compare(a.column, b.column))
	})
	by := make([][]int, len(rows)) // those kept, by row
	var kept []int
	for n := range list {
		s := &list[n]
		rarest := -1
		s.set.each(func(r int) {
			if rarest < 0 || len(by[r]) < len(by[rarest]) {
				rarest = r
			}
		})
		if slices.ContainsFunc(by[rarest], func(k int) bool { return s.set.within(list[k].set) }) {
			continue
		}
		s.set.each(func(r int) { by[r] = append(by[r], n) })
		kept = append(kept, s.column)
	}
	slices.Sort(kept)
	return kept
}

// solve finds best and bound.
func (c *cover) solve() {
	c.best = c.greedy(make([]float64, c.rows))
	c.relax()
	if c.bound < len(c.best) {
		covered := newBitset(c.rows)
		c.branch(nil, covered, c.sum(covered))
		if c.steps > 0 { // every branch was tried
			c.bound = len(c.best)
		}
	}
	slices.Sort(c.best)
}

// greedy covers the rows, each time with the column that holds the greatest weight of those still bare; weights u lead it, with
// the plain number of rows where they say nothing.
func (c *cover) greedy(u []float64) []int {
	bare := c.rows
	covered := newBitset(c.rows)
	var chosen []int
	for bare > 0 {
		best, most := -1, 0.0
		for k, s := range c.sets {
			value := 0.0
			for n, w := range s {
				for w &^= covered[n]; w != 0; w &= w - 1 {
					value += 0.1 + u[n*64+mathbits.TrailingZeros64(w)]
				}
			}
			if value > most*(1+1e-12) || best >= 0 && value > most*(1-1e-12) && c.cost[k] < c.cost[best] {
				best, most = k, value
			}
		}
		chosen = append(chosen, best)
		c.sets[best].each(func(r int) {
			if !covered.has(r) {
				covered.add(r)
				bare--
			}
		})
	}
	return c.lean(chosen)
}

// lean leaves out columns that the others make needless, the dearest first.
func (c *cover) lean(chosen []int) []int {
	times := make([]int, c.rows)
	for _, k := range chosen {
		c.sets[k].each(func(r int) { times[r]++ })
	}
	slices.SortStableFunc(chosen, func(a, b int) int { return -cmp.Compare(c.cost[a], c.cost[b]) })
	return slices.DeleteFunc(chosen, func(k int) bool {
		needed := false
		c.sets[k].each(func(r int) { needed = needed || times[r] == 1 })
		if !needed {
			c.sets[k].each(func(r int) { times[r]-- })
		}
		return !needed
	})
}

// relax finds the lower bound, the dual solution u, and better covers along the way.
//
// For multipliers u ≥ 0 the sum of u over rows, less what columns would gain (1 - their u, where negative), is no more than the fewest
// columns. Subgradient steps raise it.
func (c *cover) relax() {
	u := make([]float64, c.rows)
	for r := range u {
		least := math.Inf(1)
		for _, k := range c.in[r] {
			least = min(least, 1/float64(c.sets[k].count()))
		}
		u[r] = least
	}
	best := make([]float64, c.rows)
	top, step, stale := math.Inf(-1), 1.0, 0
	gradient := make([]float64, c.rows)
	reduced := make([]float64, c.columns)
	for round := range 600 {
		value := c.lagrangian(u, reduced, gradient)
		if value > top+1e-9 {
			top, stale = value, 0
			copy(best, u)
		} else if stale++; stale >= 15 {
			step, stale = step/1.6, 0
			copy(u, best)
			value = c.lagrangian(u, reduced, gradient)
		}
		if round%20 == 0 {
			if g := c.greedy(u); len(g) < len(c.best) {
				c.best = g
			}
		}
		if c.bound = int(math.Ceil(top - 1e-6)); c.bound >= len(c.best) || step < 1e-3 {
			break
		}
		norm := 0.0
		for _, g := range gradient {
			norm += g * g
		}
		if norm == 0 {
			break
		}
		size := step * max(float64(len(c.best))*1.02-value, 0.1) / norm
		for r := range u {
			u[r] = max(0, u[r]+size*gradient[r])
		}
	}
	// A column whose reduced cost lifts the bound to the best cover's size is in no better one.
	c.lagrangian(best, reduced, gradient)
	c.u = best
	for k, s := range c.sets {
		if top+max(reduced[k], 0) > float64(len(c.best))-1+1e-6 {
			c.drop(k)
			continue
		}
		// Make the dual hold for every column that stays, so that any part of it bounds any part of the question.
		sum := 0.0
		s.each(func(r int) { sum += c.u[r] })
		if sum > 1 {
			s.each(func(r int) { c.u[r] /= sum })
		}
	}
}

func (c *cover) drop(k int) {
	for r := range c.in {
		c.in[r] = slices.DeleteFunc(c.in[r], func(n int) bool { return n == k })
	}
}

// lagrangian returns the bound at u, with each column's reduced cost and the subgradient.
func (c *cover) lagrangian(u, reduced, gradient []float64) float64 {
	value := 0.0
	for r := range u {
		value += u[r]
		gradient[r] = 1
	}
	for k, s := range c.sets {
		cost := 1.0
		for n, w := range s {
			for ; w != 0; w &= w - 1 {
				cost -= u[n*64+mathbits.TrailingZeros64(w)]
			}
		}
		reduced[k] = cost
		if cost < 0 {
			value += cost
			s.each(func(r int) { gradient[r]-- })
		}
	}
	return value
}

// sum adds up the dual solution over the bare rows.
func (c *cover) sum(covered bitset) float64 {
	total := 0.0
	for r := range c.rows {
		if !covered.has(r) {
			total += c.u[r]
		}
	}
	return total
}

// branch tries to cover the bare rows with fewer columns than the best cover has.
func (c *cover) branch(chosen []int, covered bitset, bare float64) {
	if c.steps <= 0 {
		return
	}
	c.steps--
	if len(chosen)+int(math.Ceil(bare-1e-6)) >= len(c.best) {
		return
	}
	// The row that leaves the fewest ways.
	row := -1
	for r := range c.rows {
		if !covered.has(r) && (row < 0 || len(c.in[r]) < len(c.in[row])) {
			row = r
		}
	}
	if row < 0 {
		c.best = slices.Clone(chosen)
		return
	}
	if c.independent(covered)+len(chosen) >= len(c.best) {
		return
	}
	order := slices.Clone(c.in[row])
	gain := func(k int) float64 {
		g := 0.0
		c.sets[k].each(func(r int) {
			if !covered.has(r) {
				g += c.u[r] + 1e-3
			}
		})
		return g
	}
	slices.SortStableFunc(order, func(a, b int) int { return -cmp.Compare(gain(a), gain(b)) })
	for _, k := range order {
		next := slices.Clone(covered)
		for n := range next {
			next[n] |= c.sets[k][n]
		}
		c.branch(append(chosen, k), next, c.sum(next))
	}
}

// independent counts bare rows of which no two lie in one column: each needs its own.
func (c *cover) independent(covered bitset) int {
	order := []int{}
	for r := range c.rows {
		if !covered.has(r) {
			order = append(order, r)
		}
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(len(c.in[a]), len(c.in[b])) })
	taken := newBitset(c.rows)
	n := 0
	for _, r := range order {
		if taken.has(r) {
			continue
		}
		n++
		for _, k := range c.in[r] {
			for i, w := range c.sets[k] {
				taken[i] |= w
			}
		}
	}
	return n
}
