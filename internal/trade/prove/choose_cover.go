package prove

import (
	"cmp"
	"math"
	mathbits "math/bits"
	"slices"
)

// cover is the question which fewest columns hold every row: here the readings that together catch every mistake.
//
// The question is made smaller without changing its answer (choose_reduce.go) and falls into parts that have nothing to do with
// one another. Of each part a lower bound comes from the Lagrangian relaxation by subgradient steps and from rows of which no
// two lie in one column, an upper one from greedy covers led by the multipliers; columns that are too dear for a better cover
// go; branch and bound closes the gap that is left, each branch treated like the whole. Source: A. Caprara, P. Toth, M. Fischetti,
// "Algorithms for the set covering problem", Annals of Operations Research 98 (2000), from memory.
type cover struct {
	sets []bitset  // of each column, over rows
	cost []int     // of each column, to choose among covers of one size
	u    []float64 // multipliers, by row: each question begins with those that the one before ended with
	work *int      // how much may still be done
}

// coverWork is how much is done, in looks at one row of one column, before a cover counts as good enough. It bounds the time, and
// as it isn't the clock, the answer doesn't depend on the machine.
const coverWork = 250_000_000

// fewest returns columns that hold every row that any column holds, and a number that no such choice can beat. The answer depends
// on nothing but the input.
func fewest(rows int, sets []bitset, cost []int) (chosen []int, bound int) {
	work := coverWork
	c := &cover{sets: sets, cost: cost, u: make([]float64, rows), work: &work}
	held := newBitset(rows)
	for _, s := range sets {
		for n, w := range s {
			held[n] |= w
		}
	}
	q := question{}
	held.each(func(r int) { q.rows = append(q.rows, r) })
	for k := range sets {
		q.columns = append(q.columns, k)
	}
	q.rows = c.undominatedRows(q) // first: it makes the many columns few
	q, _ = c.reduce(q)            // every row is held by some column
	chosen, bound = q.taken, len(q.taken)
	for _, p := range c.parts(q) {
		small := c.renumbered(p)
		best, known := small.answerPart(small.all(), len(p.rows)+1)
		for _, k := range best {
			chosen = append(chosen, p.columns[k])
		}
		bound += known
	}
	slices.Sort(chosen)
	return chosen, bound
}

// renumbered returns a part of the question as a cover of its own.
func (c *cover) renumbered(q question) *cover {
	small := &cover{u: make([]float64, len(q.rows)), work: c.work}
	for _, k := range q.columns {
		set := newBitset(len(q.rows))
		for n, r := range q.rows {
			if c.sets[k].has(r) {
				set.add(n)
			}
		}
		small.sets, small.cost = append(small.sets, set), append(small.cost, c.cost[k])
	}
	return small
}

// all asks for the whole.
func (c *cover) all() question {
	q := question{}
	for r := range c.u {
		q.rows = append(q.rows, r)
	}
	for k := range c.sets {
		q.columns = append(q.columns, k)
	}
	return q
}

// question is a part of the whole: rows to be held by some of the columns, beside those taken already.
type question struct {
	rows, columns, taken []int
}

// answer returns a cover of fewer than limit columns, those taken among them, and a number that no cover can beat; nil where
// there is none or none was found, and then the bound says how far it is known.
func (c *cover) answer(q question, limit int) (chosen []int, bound int) {
	*c.work -= 4 * len(q.rows) * len(q.columns)
	q, ok := c.reduce(q)
	switch {
	case !ok:
		return nil, limit
	case len(q.taken) >= limit:
		return nil, limit
	case len(q.rows) == 0:
		return q.taken, len(q.taken)
	}
	parts := c.parts(q)
	if len(parts) == 1 {
		chosen, bound = c.answerPart(parts[0], limit-len(q.taken))
		if chosen == nil {
			return nil, bound + len(q.taken)
		}
		return append(slices.Clone(q.taken), chosen...), bound + len(q.taken)
	}
	chosen = slices.Clone(q.taken)
	bound = len(q.taken)
	least := make([]int, len(parts))
	for n, p := range parts {
		least[n] = c.independent(p)
		bound += least[n]
	}
	for n, p := range parts {
		part, known := c.answerPart(p, limit-(bound-least[n]))
		bound += known - least[n]
		if part == nil {
			return nil, bound
		}
		chosen = append(chosen, part...)
	}
	if len(chosen) >= limit {
		return nil, bound
	}
	return chosen, bound
}

// answerPart is answer for one part, which nothing makes smaller.
func (c *cover) answerPart(q question, limit int) (chosen []int, bound int) {
	best := c.greedy(q, nil)
	bound = c.independent(q)
	if bound < min(len(best), limit) {
		var dropped bool
		best, bound, dropped = c.relax(&q, best, bound, limit)
		if dropped && bound < min(len(best), limit) && *c.work > 0 {
			// What is left without the columns that are too dear: a better cover, if there is one.
			under := min(len(best), limit)
			better, known := c.answer(q, under)
			if better != nil {
				return better, max(bound, min(known, len(better)))
			}
			return shorter(best, limit), max(bound, min(known, under))
		}
	}
	if bound >= min(len(best), limit) {
		return shorter(best, limit), min(bound, len(best))
	}
	if *c.work <= 0 {
		return shorter(best, limit), bound
	}
	best, bound = c.branch(q, best, bound, limit)
	return shorter(best, limit), bound
}

// shorter returns the cover if it is below the limit.
func shorter(cover []int, limit int) []int {
	if len(cover) < limit {
		return cover
	}
	return nil
}

// branch tries each column that holds the row with the fewest; what comes behind one is tried without it.
func (c *cover) branch(q question, best []int, bound, limit int) ([]int, int) {
	in := c.holders(q)
	row := 0
	for n := range q.rows {
		if len(in[n]) < len(in[row]) {
			row = n
		}
	}
	order := slices.Clone(in[row])
	gain := map[int]float64{}
	for _, k := range order {
		for _, r := range q.rows {
			if c.sets[k].has(r) {
				gain[k] += c.u[r] + 1e-3
			}
		}
	}
	slices.SortStableFunc(order, func(a, b int) int { return -cmp.Compare(gain[a], gain[b]) })
	least := math.MaxInt
	columns := slices.Clone(q.columns)
	u := slices.Clone(c.u)
	for _, k := range order {
		if *c.work <= 0 {
			return best, bound
		}
		columns = slices.DeleteFunc(columns, func(x int) bool { return x == k })
		next := question{taken: []int{k}, columns: slices.Clone(columns)}
		for _, r := range q.rows {
			if !c.sets[k].has(r) {
				next.rows = append(next.rows, r)
			}
		}
		copy(c.u, u)
		better, known := c.answer(next, min(len(best), limit))
		if better != nil {
			best = better
		}
		least = min(least, known)
	}
	return best, min(max(bound, least), max(bound, min(len(best), limit)))
}

// holders returns, for each row of the question, its columns that hold it.
func (c *cover) holders(q question) [][]int {
	in := make([][]int, len(q.rows))
	for n, r := range q.rows {
		for _, k := range q.columns {
			if c.sets[k].has(r) {
				in[n] = append(in[n], k)
			}
		}
	}
	return in
}

// greedy covers the rows, each time with the column that holds the greatest weight u of bare ones; without weights, the most.
func (c *cover) greedy(q question, u []float64) []int {
	bare := newBitset(len(c.u))
	for _, r := range q.rows {
		bare.add(r)
	}
	left := len(q.rows)
	var chosen []int
	for left > 0 {
		best, most := -1, 0.0
		for _, k := range q.columns {
			value := 0.0
			for n, w := range c.sets[k] {
				for w &= bare[n]; w != 0; w &= w - 1 {
					value += 0.1
					if u != nil {
						value += u[n*64+mathbits.TrailingZeros64(w)]
					}
				}
			}
			if value > most*(1+1e-12) || best >= 0 && value > most*(1-1e-12) && c.cost[k] < c.cost[best] {
				best, most = k, value
			}
		}
		chosen = append(chosen, best)
		c.sets[best].each(func(r int) {
			if bare.has(r) {
				bare.remove(r)
				left--
			}
		})
	}
	return c.lean(q, chosen)
}

// lean leaves out columns that the others make needless, the dearest first.
func (c *cover) lean(q question, chosen []int) []int {
	times := make([]int, len(c.u))
	for _, k := range chosen {
		c.sets[k].each(func(r int) { times[r]++ })
	}
	slices.SortStableFunc(chosen, func(a, b int) int { return -cmp.Compare(c.cost[a], c.cost[b]) })
	return slices.DeleteFunc(chosen, func(k int) bool {
		if slices.ContainsFunc(q.rows, func(r int) bool { return times[r] == 1 && c.sets[k].has(r) }) {
			return false
		}
		c.sets[k].each(func(r int) { times[r]-- })
		return true
	})
}

// relax raises the bound by subgradient steps, looks for better covers along the way, and drops the columns that are in no
// cover better than the best, or than the limit.
//
// For multipliers u ≥ 0 the sum of u over the rows, less what columns would gain (1 - their u, where negative), is no more than the
// fewest columns; with a column's positive reduced cost added, no more than the fewest with that column.
func (c *cover) relax(q *question, best []int, bound, limit int) ([]int, int, bool) {
	l := newLagrangian(c, q)
	top, step, stale := math.Inf(-1), 1.0, 0
	keep := slices.Clone(l.u)
	value := l.value()
	for round := range 400 {
		if value > top+1e-7 {
			top, stale = value, 0
			copy(keep, l.u)
		} else if stale++; stale >= 8 {
			step, stale = step/2, 0
			copy(l.u, keep)
			value = l.value()
		}
		if round%25 == 10 {
			l.store()
			if g := c.greedy(*q, c.u); len(g) < len(best) {
				best = g
			}
		}
		bound = max(bound, int(math.Ceil(top-1e-6)))
		if bound >= min(len(best), limit) || step < 0.01 {
			break
		}
		norm := 0.0
		for _, g := range l.gradient {
			norm += float64(g * g)
		}
		if norm == 0 {
			break
		}
		size := step * max(float64(len(best))-value, 0.3) / norm
		for n := range l.u {
			l.u[n] = max(0, l.u[n]+size*float64(l.gradient[n]))
		}
		value = l.value()
		*c.work -= l.size
	}
	copy(l.u, keep)
	l.value()
	l.store()
	under := float64(min(len(best), limit)) - 1
	before := len(q.columns)
	n := -1
	q.columns = slices.DeleteFunc(slices.Clone(q.columns), func(int) bool {
		n++
		return top+max(l.reduced[n], 0) > under+1e-6
	})
	return best, bound, len(q.columns) < before
}

// lagrangian is the relaxation of one question.
type lagrangian struct {
	cover    *cover
	q        *question
	in       [][]int32 // of each column: its rows, by their place in the question
	u        []float64 // by place
	reduced  []float64 // of each column
	gradient []int     // of each row
	size     int       // rows of all columns
}

func newLagrangian(c *cover, q *question) *lagrangian {
	l := &lagrangian{cover: c, q: q, in: make([][]int32, len(q.columns)), u: make([]float64, len(q.rows)), reduced: make([]float64, len(q.columns)), gradient: make([]int, len(q.rows))}
	place := make([]int32, len(c.u))
	for n := range place {
		place[n] = -1
	}
	for n, r := range q.rows {
		place[r] = int32(n)
	}
	for n, k := range q.columns {
		c.sets[k].each(func(r int) {
			if place[r] >= 0 {
				l.in[n] = append(l.in[n], place[r])
			}
		})
		l.size += len(l.in[n])
	}
	for n, r := range q.rows {
		if l.u[n] = c.u[r]; l.u[n] == 0 {
			l.u[n] = 0.1
		}
	}
	return l
}

// value returns the bound at u, and sets each column's reduced cost and the subgradient.
func (l *lagrangian) value() float64 {
	value := 0.0
	for n := range l.u {
		value += l.u[n]
		l.gradient[n] = 1
	}
	for k, rows := range l.in {
		cost := 1.0
		for _, r := range rows {
			cost -= l.u[r]
		}
		l.reduced[k] = cost
		if cost < 0 {
			value += cost
			for _, r := range rows {
				l.gradient[r]--
			}
		}
	}
	return value
}

// store hands the multipliers to the cover.
func (l *lagrangian) store() {
	for n, r := range l.q.rows {
		l.cover.u[r] = l.u[n]
	}
}

// independent counts rows of which no two lie in one column: each needs its own.
func (c *cover) independent(q question) int {
	in := c.holders(q)
	order := make([]int, len(q.rows))
	for n := range order {
		order[n] = n
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(len(in[a]), len(in[b])) })
	taken := newBitset(len(c.u))
	count := 0
	for _, n := range order {
		if taken.has(q.rows[n]) {
			continue
		}
		count++
		for _, k := range in[n] {
			for i, w := range c.sets[k] {
				taken[i] |= w
			}
		}
	}
	return count
}
