package pack

// rowSearch settles the y of items whose x is known, from below: of the valleys of the skyline it takes the one with the
// fewest possibilities. How much of each column stays empty is known beforehand. The possibilities of a valley are those of gapSearch.
type rowSearch struct {
	c      *columnSearch
	w, h   int32
	height []int32   // of each column's skyline
	empty  []int32   // what may still be wasted in each column
	y      []int32   // of each item, -1 if not placed
	at     [][]int32 // items by x
	todo   int
}

func (r *rowSearch) run(c *columnSearch) bool {
	r.c, r.w, r.h = c, c.w, c.h
	if r.height == nil {
		r.height = make([]int32, c.w)
		r.empty = make([]int32, c.w)
		r.y = make([]int32, len(c.items))
		r.at = make([][]int32, c.w)
	}
	clear(r.height)
	copy(r.empty, c.free)
	for x := range r.at {
		r.at[x] = r.at[x][:0]
	}
	for i := range c.items {
		r.y[i] = -1
		r.at[c.items[i].lo] = append(r.at[c.items[i].lo], int32(i))
	}
	r.todo = len(c.items)
	if !r.descend() {
		return false
	}
	c.spots = c.spots[:0]
	for i, it := range c.items {
		c.spots = append(c.spots, spot{it.kind, it.lo, r.y[i], it.turned})
	}
	return true
}

func (r *rowSearch) descend() bool {
	if r.todo == 0 {
		return true
	}
	if !r.c.step() {
		return false
	}
	// Choose a valley.
	bx, bg, bl, br, fewest := int32(0), int32(0), int32(0), int32(0), 1<<30
	for x := int32(0); x < r.w; {
		y := r.height[x]
		end := x + 1
		for end < r.w && r.height[end] == y {
			end++
		}
		left, right := r.h, r.h
		if x > 0 {
			left = r.height[x-1]
		}
		if end < r.w {
			right = r.height[end]
		}
		if left > y && right > y {
			n := r.possibilities(x, end, y, left, right)
			if n == 0 {
				return false
			}
			if n < fewest {
				bx, bg, bl, br, fewest = x, end, left, right, n
			}
		}
		x = end
	}
	x, end, l, rt := bx, bg, bl, br
	y := r.height[x]
	for _, i := range r.at[x] {
		if r.fits(i, end, y) && r.place(i, y) {
			return true
		}
		if r.c.ended {
			return false
		}
	}
	// First one away from the left.
	if x > 0 {
		deep := l - y
		n := int32(0)
		found := false
		for x+n < end && r.empty[x+n] >= deep {
			r.empty[x+n] -= deep
			r.height[x+n] = l
			n++
			if x+n == end {
				break
			}
			for _, i := range r.at[x+n] {
				if r.c.items[i].h > deep && r.fits(i, end, y) && r.place(i, y) {
					found = true
					break
				}
			}
			if found {
				return true
			}
			if r.c.ended {
				break
			}
		}
		for j := x; j < x+n; j++ {
			r.empty[j] += deep
			r.height[j] = y
		}
		if r.c.ended {
			return false
		}
	}
	up := min(l, rt)
	if !r.wastable(x, end, up-y) {
		return false
	}
	for j := x; j < end; j++ {
		r.empty[j] -= up - y
		r.height[j] = up
	}
	if r.descend() {
		return true
	}
	for j := x; j < end; j++ {
		r.empty[j] += up - y
		r.height[j] = y
	}
	return false
}

func (r *rowSearch) wastable(x, end, deep int32) bool {
	for j := x; j < end; j++ {
		if r.empty[j] < deep {
			return false
		}
	}
	return true
}

func (r *rowSearch) fits(i, end, y int32) bool {
	it := &r.c.items[i]
	if r.y[i] >= 0 || it.lo+it.w > end || y+it.h > r.h {
		return false
	}
	return i != 0 || 2*y <= r.h-it.h
}

func (r *rowSearch) place(i, y int32) bool {
	it := &r.c.items[i]
	for j := it.lo; j < it.lo+it.w; j++ {
		r.height[j] = y + it.h
	}
	r.y[i] = y
	r.todo--
	if r.descend() {
		return true
	}
	r.todo++
	r.y[i] = -1
	for j := it.lo; j < it.lo+it.w; j++ {
		r.height[j] = y
	}
	return false
}

func (r *rowSearch) possibilities(x, end, y, l, rt int32) int {
	n := 0
	for _, i := range r.at[x] {
		if r.fits(i, end, y) {
			n++
		}
	}
	if x > 0 {
		deep := l - y
		for j := x; j+1 < end && r.empty[j] >= deep; j++ {
			for _, i := range r.at[j+1] {
				if r.c.items[i].h > deep && r.fits(i, end, y) {
					n++
				}
			}
		}
	}
	if up := min(l, rt); r.wastable(x, end, up-y) {
		n++
	}
	return n
}
