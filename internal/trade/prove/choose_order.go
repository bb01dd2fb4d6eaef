package prove

import (
	"slices"
)

// inOrder puts the readings into the order of the least walking and switching, beginning with all switches at rest: the nearest
// next one first, then turned and moved pieces of the way as long as that shortens it (2-opt and or-opt, the travelling salesman's
// usual hand tools). It turns each reading so that a probe that can stay does.
func (w *weighing) inOrder(list []column) []column {
	if len(list) == 0 {
		return list
	}
	n := len(list)
	far := make([][]int, n)
	for i := range far {
		far[i] = make([]int, n)
		for j := range far[i] {
			far[i][j] = w.between(&list[i], &list[j])
		}
	}
	way := nearest(list, far)
	shorten(way, far)
	ordered := make([]column, 0, n)
	for _, k := range way {
		c := list[k]
		if last := len(ordered) - 1; last >= 0 {
			if before := ordered[last]; before.q == c.p || before.p == c.q || before.p != c.p && before.q != c.q && w.nearer(before, c) {
				c.p, c.q = c.q, c.p
			}
		}
		ordered = append(ordered, c)
	}
	return ordered
}

// nearest makes a way by going to the nearest reading each time, from one with the fewest settings.
func nearest(list []column, far [][]int) []int {
	start := 0
	for k := range list {
		if list[k].setup < list[start].setup {
			start = k
		}
	}
	way := []int{start}
	gone := make([]bool, len(list))
	gone[start] = true
	for len(way) < len(list) {
		here, next := way[len(way)-1], -1
		for k := range list {
			if !gone[k] && (next < 0 || far[here][k] < far[here][next]) {
				next = k
			}
		}
		gone[next] = true
		way = append(way, next)
	}
	return way
}

// shorten turns and moves pieces of the way until none helps; the first reading stays the first.
func shorten(way []int, far [][]int) {
	step := func(i, j int) int {
		if j >= len(way) {
			return 0
		}
		return far[way[i]][way[j]]
	}
	for range 4 * len(way) {
		better := false
		for i := 1; i < len(way); i++ {
			for j := i + 1; j < len(way); j++ {
				now := step(i-1, i) + step(j, j+1)
				turned := far[way[i-1]][way[j]]
				if j+1 < len(way) {
					turned += far[way[i]][way[j+1]]
				}
				if turned < now {
					slices.Reverse(way[i : j+1])
					better = true
				}
			}
		}
		if !better {
			return
		}
	}
}

// between is what it takes to go from one reading to another: switches to set, probes to move, places to walk to.
func (w *weighing) between(a, b *column) int {
	total := 0
	if a.setup != b.setup {
		one, other := &w.setups[a.setup], &w.setups[b.setup]
		for d := range w.box.devices {
			if one.position[d] != other.position[d] {
				total += 20
				if w.box.devices[d].relay {
					total += 10
				}
			}
		}
	}
	total += min(w.moved(a.p, b.p)+w.moved(a.q, b.q), w.moved(a.p, b.q)+w.moved(a.q, b.p))
	return total
}

// moved is what it takes to move one probe.
func (w *weighing) moved(p, q int) int {
	if p == q {
		return 0
	}
	a, b := w.box.device(p), w.box.device(q)
	switch {
	case a.Place != b.Place:
		return 12
	case a.Tag != b.Tag:
		return 3
	}
	return 2
}

// nearer reports whether the probes move less if the second reading is turned.
func (w *weighing) nearer(a, b column) bool {
	return w.moved(a.p, b.q)+w.moved(a.q, b.p) < w.moved(a.p, b.p)+w.moved(a.q, b.q)
}
