package pack

import "slices"

// What of the items gets its interval before the first gets its x, and how wide the intervals are in proportion to the items,
// both in percent. Measured: squares of sides 1 to 18 or 20 take four to twenty times as long with 100 and 35.
const (
	intervalsFirst = 66
	intervalWidth  = 22
)

// columnSearch fills a plate by settling all x before any y. Until an item's x is known, an interval of it is: then the
// columns that it covers wherever it lies in the interval are known, and how high it stands in each. Settling the large items
// first leaves each column with a free height that only lower items can fill, which bounds the waste.
type columnSearch struct {
	plate
	items []column
	order []move
	free  []int32 // free height of each column
	count []int32 // columns by their free height
	stock []int32 // widths still to be placed, by height
	ys    rowSearch
	need  []int32
	reach [][]int32 // by move: how much of a free height the items not yet at their x can fill
	gaps  []int32   // by item: it doesn't stand as near to the left wall as this without touching it

	steps, limit int64
	stop         func() bool
	ended        bool
	spots        []spot
}

// move is a step of the search: an item's interval, or its x within the interval.
type move struct {
	item  int
	exact bool
}

// column is one item of a columnSearch.
type column struct {
	kind   int32
	w, h   int32
	turned bool
	lo, hi int32 // its x
	twin   bool  // of the same kind as the one before
}

func newColumnSearch(f plate, o *Options, limit int64) *columnSearch {
	c := &columnSearch{plate: f, limit: limit, stop: o.Stop}
	for i, k := range f.kinds {
		for n := range k.items {
			c.items = append(c.items, column{kind: int32(i), w: k.w, h: k.h, twin: n > 0})
		}
	}
	c.free = slices.Repeat([]int32{f.h}, int(f.w))
	c.count = make([]int32, f.h+1)
	c.count[f.h] = f.w
	c.need = make([]int32, f.h+1)
	longest := f.h
	for _, k := range f.kinds {
		longest = max(longest, k.w, k.h)
	}
	c.stock = make([]int32, longest+1)
	for i := range c.items {
		it := &c.items[i]
		c.stock[c.leastHeight(it)] += c.stockWidth(it)
	}
	cut := (len(c.items)*intervalsFirst + 50) / 100
	for i := range cut {
		c.order = append(c.order, move{i, false})
	}
	for i := range cut {
		c.order = append(c.order, move{i, true})
	}
	for i := cut; i < len(c.items); i++ {
		c.order = append(c.order, move{i, false}, move{i, true})
	}
	c.findReach()
	c.findGaps()
	return c
}

// findReach works out c.reach from the sums of heights.
func (c *columnSearch) findReach() {
	c.reach = make([][]int32, len(c.order)+1)
	can := cleared(nil, int(c.h>>6)+1)
	for m := len(c.order); m >= 0; m-- {
		if m < len(c.order) && c.order[m].exact {
			if k := &c.kinds[c.items[c.order[m].item].kind]; k.turns {
				can.add(k.h, k.w)
			} else {
				can.add(k.h, 0)
			}
		}
		c.reach[m] = make([]int32, c.h+1)
		for f := range c.reach[m] {
			c.reach[m][f] = can.below(int32(f))
		}
	}
}

// findGaps works out c.gaps. If all that fits into a gap at the left wall fits, stacked, beside the item as well, then the item can be
// moved to the wall and what stood in the gap to its other side.
func (c *columnSearch) findGaps() {
	c.gaps = make([]int32, len(c.kinds))
	for i := range c.kinds {
		k := &c.kinds[i]
		least := k.h
		widest := k.w
		if k.turns {
			least = min(k.w, k.h)
			widest = least
		}
		for d := int32(1); d < widest; d++ {
			stack := int32(0)
			for j := range c.kinds {
				o := &c.kinds[j]
				n := int32(len(o.items))
				switch {
				case o.turns && max(o.w, o.h) <= d:
					stack += n * min(o.w, o.h)
				case o.turns && min(o.w, o.h) <= d:
					stack += n * max(o.w, o.h)
				case !o.turns && o.w <= d:
					stack += n * o.h
				}
			}
			if stack > least {
				break
			}
			c.gaps[i] = d
		}
	}
}

func (c *columnSearch) leastHeight(it *column) int32 {
	if c.kinds[it.kind].turns {
		return min(it.w, it.h)
	}
	return it.h
}

func (c *columnSearch) stockWidth(it *column) int32 {
	if c.kinds[it.kind].turns {
		return max(it.w, it.h)
	}
	return it.w
}

func (c *columnSearch) run() Verdict {
	switch {
	case c.waste < 0:
		return Impossible
	case c.next(0):
		return Found
	case c.ended:
		return NotFound
	}
	return Impossible
}

func (c *columnSearch) step() bool {
	c.steps++
	if c.limit > 0 && c.steps > c.limit || c.steps&1023 == 0 && c.stop != nil && c.stop() {
		c.ended = true
	}
	return !c.ended
}

func (c *columnSearch) next(m int) bool {
	if m == len(c.order) {
		return c.rest()
	}
	if !c.step() {
		return false
	}
	if c.order[m].exact {
		return c.values(m, c.order[m].item)
	}
	return c.intervals(m, c.order[m].item)
}

func (c *columnSearch) intervals(m, n int) bool {
	it := &c.items[n]
	k := &c.kinds[it.kind]
	for turn := range 2 {
		if turn == 1 && !k.turns {
			break
		}
		w, h := k.w, k.h
		if turn == 1 {
			w, h = h, w
		}
		end := c.w - w
		if h > c.h || end < 0 {
			continue
		}
		if n == 0 {
			end /= 2
		}
		chunk := max(1, w*intervalWidth/100)
		least, all := c.leastHeight(it), c.stockWidth(it)
		c.stock[least] -= all
		it.w, it.h, it.turned = w, h, turn == 1
		for lo := int32(0); lo <= end; lo += chunk {
			hi := min(lo+chunk-1, end)
			gap := c.gaps[it.kind]
			if lo > 0 && hi <= gap {
				continue
			}
			if it.twin && it.turned == c.items[n-1].turned && lo < c.items[n-1].lo {
				continue
			}
			it.lo, it.hi = lo, hi
			if from, to := hi, lo+w; c.take(from, to, h) {
				c.stock[h] += w - max(0, to-from)
				if c.fillable(m+1) && c.next(m+1) {
					return true
				}
				c.stock[h] -= w - max(0, to-from)
				c.give(from, to, h)
			}
			if c.ended {
				return false
			}
		}
		it.w, it.h = k.w, k.h
		c.stock[least] += all
	}
	return false
}

func (c *columnSearch) values(m, n int) bool {
	it := &c.items[n]
	lo, hi := it.lo, it.hi
	if lo == hi {
		return c.next(m + 1)
	}
	from, to := hi, max(hi, lo+it.w)
	c.stock[it.h] -= it.w - (to - from)
	defer func() {
		it.lo, it.hi = lo, hi
		c.stock[it.h] += it.w - (to - from)
	}()
	for x := lo; x <= hi; x++ {
		if x > 0 && x <= c.gaps[it.kind] {
			continue
		}
		it.lo, it.hi = x, x
		// The columns from..to are its own already.
		if from == to {
			if c.take(x, x+it.w, it.h) {
				if c.fillable(m+1) && c.next(m+1) {
					return true
				}
				c.give(x, x+it.w, it.h)
			}
		} else if c.take(x, from, it.h) {
			if c.take(to, x+it.w, it.h) {
				if c.fillable(m+1) && c.next(m+1) {
					return true
				}
				c.give(to, x+it.w, it.h)
			}
			c.give(x, from, it.h)
		}
		if c.ended {
			return false
		}
	}
	return false
}

// take stands a height h into the columns from..to; false if one has no room for it.
func (c *columnSearch) take(from, to, h int32) bool {
	for x := from; x < to; x++ {
		if c.free[x] < h {
			c.give(from, x, h)
			return false
		}
		c.count[c.free[x]]--
		c.free[x] -= h
		c.count[c.free[x]]++
	}
	return true
}

func (c *columnSearch) give(from, to, h int32) {
	for x := from; x < to; x++ {
		c.count[c.free[x]]--
		c.free[x] += h
		c.count[c.free[x]]++
	}
}

// fillable reports whether the free heights can be filled with no more waste than there may be.
func (c *columnSearch) fillable(m int) bool {
	reach := c.reach[m]
	clear(c.need)
	waste := int32(0)
	for h, n := range c.count {
		if n != 0 {
			full := reach[h]
			c.need[full] += n
			waste += n * (int32(h) - full)
		}
	}
	stock := int32(0)
	for h, n := range c.need[1:] {
		stock += int32(h+1) * (c.stock[h+1] - n)
		if stock < 0 {
			waste -= stock
			stock = 0
		}
	}
	return int64(waste) <= c.waste
}

// rest settles all y, with all x known.
func (c *columnSearch) rest() bool {
	for i := range c.items {
		if !c.leans(i) {
			return false
		}
	}
	return c.ys.run(c)
}

// leans reports whether an item lies at the left wall or where another one ends, as all do that are pushed left.
func (c *columnSearch) leans(i int) bool {
	x := c.items[i].lo
	if x == 0 {
		return true
	}
	for j := range c.items {
		if o := &c.items[j]; o.lo+o.w == x {
			return true
		}
	}
	return false
}
