package prove

import (
	"cmp"
	mathbits "math/bits"
	"slices"
)

// cover is the question which fewest columns hold every row: here the readings that together catch every mistake.
//
// The question is made smaller without changing its answer (choose_reduce.go) and falls into parts that have nothing to do with
// one another. Each part that greed doesn't settle goes to the linear program (choose_program.go).
type cover struct {
	sets []bitset // of each column, over rows
	cost []int    // of each column, to choose among covers of one size
	rows int
	work *int // how much may still be done
}

// coverWork is how many figures of the linear program are changed before a cover counts as good enough. It bounds the time, and
// as it isn't the clock, the answer doesn't depend on the machine.
const coverWork = 150_000_000

// fewest returns columns that hold every row that any column holds, and a number that no such choice can beat. The answer depends
// on nothing but the input.
func fewest(rows int, sets []bitset, cost []int) (chosen []int, bound int) {
	work := coverWork
	c := &cover{sets: sets, cost: cost, rows: rows, work: &work}
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
	parts := c.parts(q)
	slices.SortStableFunc(parts, func(a, b question) int { return cmp.Compare(len(a.rows), len(b.rows)) })
	for _, p := range parts {
		small := c.renumbered(p)
		best, known := small.answer(small.all())
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
	small := &cover{rows: len(q.rows), work: c.work}
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
	for r := range c.rows {
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

// answer returns a cover and a number that no cover can beat.
func (c *cover) answer(q question) (chosen []int, bound int) {
	chosen = c.greedy(q, nil)
	if bound = c.independent(q); bound == len(chosen) {
		return chosen, bound
	}
	return c.program(q, c.shorten(q, chosen, bound), bound)
}

// shortenTries is how often a cover is taken apart and put together again in the hope of a smaller one.
const shortenTries = 300

// shorten takes some columns out of the cover, weighs the rows anew and covers what is bare again, and keeps what isn't
// larger. The weights come from a fixed row of numbers, so the answer is always the same.
func (c *cover) shorten(q question, chosen []int, bound int) []int {
	best := slices.Clone(chosen)
	now := slices.Clone(chosen)
	weights := make([]float64, c.rows)
	row := uint64(1)
	draw := func(n int) int {
		row = row*6364136223846793005 + 1442695040888963407 // Knuth's MMIX, The Art of Computer Programming 2, 3.3.4, from memory
		return int(row >> 33 % uint64(n))
	}
	for range shortenTries {
		if len(best) == bound {
			break
		}
		for n := range weights {
			weights[n] = float64(draw(100)) / 100
		}
		part := question{columns: q.columns}
		kept := slices.Clone(now)
		for range 2 + len(now)/4 {
			n := draw(len(kept))
			kept = slices.Delete(kept, n, n+1)
		}
		for _, r := range q.rows {
			if !slices.ContainsFunc(kept, func(k int) bool { return c.sets[k].has(r) }) {
				part.rows = append(part.rows, r)
			}
		}
		next := c.lean(q, append(kept, c.greedy(part, weights)...))
		if len(next) <= len(now) {
			now = next
		}
		if len(now) < len(best) {
			best = slices.Clone(now)
		}
	}
	return best
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

// greedy covers the rows, each time with the column that holds the greatest weight of bare ones; without weights, the most. weights are
// by row.
func (c *cover) greedy(q question, weights []float64) []int {
	bare := newBitset(c.rows)
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
					if weights != nil {
						value += weights[n*64+mathbits.TrailingZeros64(w)]
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
	times := make([]int, c.rows)
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

// independent counts rows of which no two lie in one column: each needs its own.
func (c *cover) independent(q question) int {
	in := c.holders(q)
	order := make([]int, len(q.rows))
	for n := range order {
		order[n] = n
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(len(in[a]), len(in[b])) })
	taken := newBitset(c.rows)
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
