package prove

import (
	"cmp"
	"slices"
)

// reduce makes a question smaller without changing its answer, until nothing changes: a row that lies in every column in which
// another row lies needs no attention, a column that lies within another is not needed, the only column that holds a row is
// taken. ok is false where no column holds some row.
func (c *cover) reduce(q question) (smaller question, ok bool) {
	q.taken = slices.Clone(q.taken)
	for {
		rows, columns := len(q.rows), len(q.columns)
		q.columns = c.undominatedColumns(q)
		q.rows = c.undominatedRows(q)
		in := c.holders(q)
		var only []int
		for n := range q.rows {
			switch len(in[n]) {
			case 0:
				return q, false
			case 1:
				if !slices.Contains(only, in[n][0]) {
					only = append(only, in[n][0])
				}
			}
		}
		if only != nil {
			q.taken = append(q.taken, only...)
			q.rows = slices.DeleteFunc(q.rows, func(r int) bool {
				return slices.ContainsFunc(only, func(k int) bool { return c.sets[k].has(r) })
			})
			q.columns = slices.DeleteFunc(q.columns, func(k int) bool { return slices.Contains(only, k) })
		}
		if len(q.rows) == rows && len(q.columns) == columns {
			return q, true
		}
	}
}

// undominatedRows leaves out each row that every column of some other row holds.
func (c *cover) undominatedRows(q question) []int {
	holds := make([]bitset, len(q.rows))
	place := make([]int, c.rows)
	for n := range place {
		place[n] = -1
	}
	for n, r := range q.rows {
		holds[n] = newBitset(len(q.columns))
		place[r] = n
	}
	size := make([]int, len(q.rows))
	for n, k := range q.columns {
		c.sets[k].each(func(r int) {
			if p := place[r]; p >= 0 {
				holds[p].add(n)
				size[p]++
			}
		})
	}
	order := make([]int, len(q.rows))
	for n := range order {
		order[n] = n
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(size[a], size[b]) })
	var kept []int
	for _, n := range order {
		if !slices.ContainsFunc(kept, func(k int) bool { return holds[k].within(holds[n]) }) {
			kept = append(kept, n)
		}
	}
	slices.Sort(kept)
	for n, k := range kept {
		kept[n] = q.rows[k]
	}
	return kept
}

// undominatedColumns leaves out each column whose rows, of those in question, all lie in another's. Of two that hold the
// same rows the cheaper stays.
func (c *cover) undominatedColumns(q question) []int {
	type short struct {
		column, size int
		set          bitset
	}
	mask := newBitset(c.rows)
	for _, r := range q.rows {
		mask.add(r)
	}
	var list []short
	for _, k := range q.columns {
		s := short{column: k, set: slices.Clone(c.sets[k])}
		for n := range s.set {
			s.set[n] &= mask[n]
		}
		if s.size = s.set.count(); s.size > 0 {
			list = append(list, s)
		}
	}
	slices.SortStableFunc(list, func(a, b short) int {
		return cmp.Or(-cmp.Compare(a.size, b.size), cmp.Compare(c.cost[a.column], c.cost[b.column]), cmp.Compare(a.column, b.column))
	})
	by := make([][]int, c.rows) // those kept, by row
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

// parts takes a question apart into those that share no column.
func (c *cover) parts(q question) []question {
	in := c.holders(q)
	part := map[int]int{} // of each column
	var rows [][]int
	var columns [][]int
	for n, r := range q.rows {
		home := -1
		for _, k := range in[n] {
			other, there := part[k]
			switch {
			case !there:
			case home < 0:
				home = other
			case other != home: // two parts become one
				for _, x := range columns[other] {
					part[x] = home
				}
				rows[home], columns[home] = append(rows[home], rows[other]...), append(columns[home], columns[other]...)
				rows[other], columns[other] = nil, nil
			}
		}
		if home < 0 {
			home = len(rows)
			rows, columns = append(rows, nil), append(columns, nil)
		}
		rows[home] = append(rows[home], r)
		for _, k := range in[n] {
			if _, there := part[k]; !there {
				part[k] = home
				columns[home] = append(columns[home], k)
			}
		}
	}
	var list []question
	for n := range rows {
		if rows[n] != nil {
			slices.Sort(rows[n])
			slices.Sort(columns[n])
			list = append(list, question{rows: rows[n], columns: columns[n]})
		}
	}
	return list
}
