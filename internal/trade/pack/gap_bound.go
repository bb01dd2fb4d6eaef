package pack

// room is area that only rectangles up to a length can fill.
type room struct {
	length int32
	area   int64
}

// leastWaste is a bound on the waste above a skyline: the greater of what the columns above it and what the rows between its
// shoulders must waste.
func (g *gapSearch) leastWaste(here *gapLevel) int64 {
	g.rooms = g.rooms[:0]
	for _, s := range here.line {
		g.roomFor(g.h-s.y, s.w)
	}
	w := g.unfilled(here.up, g.byHeight)
	if w > here.waste {
		return w
	}
	g.rooms = g.rooms[:0]
	g.rows(here.line)
	return max(w, g.unfilled(here.across, g.byWidth))
}

// rows gathers the free stretches of all rows: each begins and ends at higher ground or at a wall.
func (g *gapSearch) rows(line []ground) {
	open := g.open[:0] // stretches that go on to the right, each lower than the one before
	for i := 0; i <= len(line); i++ {
		next := ground{g.w, 0, g.h}
		if i < len(line) {
			next = line[i]
		}
		x := next.x
		for len(open) > 0 && open[len(open)-1].y < next.y {
			s := open[len(open)-1]
			open = open[:len(open)-1]
			ceiling := next.y
			if len(open) > 0 {
				ceiling = min(ceiling, open[len(open)-1].y)
			}
			g.roomFor(next.x-s.x, ceiling-s.y)
			x = s.x // above its ceiling the stretch goes on: by itself, or as part of the one before it
		}
		if len(open) == 0 || open[len(open)-1].y != next.y {
			open = append(open, ground{x, 0, next.y})
		}
	}
	g.open = open
}

// roomFor adds n rows or columns of the given free length, joined to those of the same length.
func (g *gapSearch) roomFor(length, n int32) {
	if length == 0 {
		return
	}
	area := int64(length) * int64(n)
	at := len(g.rooms)
	for at > 0 && g.rooms[at-1].length > length {
		at--
	}
	if at > 0 && g.rooms[at-1].length == length {
		g.rooms[at-1].area += area
		return
	}
	g.rooms = append(g.rooms, room{})
	copy(g.rooms[at+1:], g.rooms[at:])
	g.rooms[at] = room{length, area}
}

// unfilled is the area of the rooms that must stay empty. A row can only be filled as far as lengths of remaining rectangles
// add up, and only by those not longer than itself: short rooms first are given to short rectangles, as many as there are.
func (g *gapSearch) unfilled(can sums, order []shape) int64 {
	var waste, stock int64
	next := 0
	for _, r := range g.rooms {
		full := can.below(r.length)
		usable := r.area / int64(r.length) * int64(full)
		waste += r.area - usable
		for next < len(order) && order[next].length <= full {
			stock += order[next].area * int64(g.left[order[next].kind])
			next++
		}
		if stock < usable {
			waste += usable - stock
			stock = 0
		} else {
			stock -= usable
		}
	}
	return waste
}

// shape is a kind with the least length that it can have along an axis.
type shape struct {
	kind   int
	length int32
	area   int64
}
