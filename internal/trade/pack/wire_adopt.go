package pack

import "slices"

// take lays the bodies as the places say.
func (w *wiring) take(places []Place) {
	for n := range w.yard.bodies {
		s := &w.task.solids[n]
		if n >= w.yard.items {
			w.yard.lay(n, 0)
			w.yard.bodies[n].at = s.low
			continue
		}
		w.yard.lay(n, max(slices.Index(s.turns, places[n].Turn), 0))
		for axis := range 3 {
			w.yard.bodies[n].at[axis] = int32(places[n].At[axis])
		}
	}
}

// lies is a relation that holds between two bodies.
type lies struct {
	axis    int
	kind    gapKind
	swapped bool
}

// gapOf is the distance that a relation wants between two bodies as they lie, the one before given first.
func (w *wiring) gapOf(kind gapKind, before, behind, axis int) int32 {
	switch kind {
	case aired:
		return max(w.yard.bodies[before].air[2*axis+1], w.yard.bodies[behind].air[2*axis])
	case parted:
		return w.yard.apart[before*len(w.yard.bodies)+behind]
	}
	return 0
}

// relationsOf appends the relations that hold between two bodies that lie right, as few and with as much play as there are.
func (w *wiring) relationsOf(list []lies, i, j int) []lies {
	slack := func(c lies) int32 {
		a, b := i, j
		if c.swapped {
			a, b = j, i
		}
		x, y := &w.yard.bodies[a], &w.yard.bodies[b]
		return y.at[c.axis] - x.at[c.axis] - x.size[c.axis] - w.gapOf(c.kind, a, b, c.axis)
	}
	if w.yard.apart[i*len(w.yard.bodies)+j] > 0 {
		best, most := lies{}, int32(-1)
		for axis := range 2 {
			for _, swapped := range [2]bool{false, true} {
				if c := (lies{axis, parted, swapped}); slack(c) > most {
					best, most = c, slack(c)
				}
			}
		}
		list = append(list, best)
	}
	best, most := lies{}, int32(-1)
	var clear [3]lies
	count := 0
	for axis := range 3 {
		for _, swapped := range [2]bool{false, true} {
			c := lies{axis, aired, swapped}
			if s := slack(c); s > most {
				best, most = c, s
			}
			c.kind = touching
			if slack(c) >= 0 {
				clear[count] = c
				count++
			}
		}
	}
	if most >= 0 {
		return append(list, best)
	}
	return append(list, clear[:min(count, 2)]...)
}

func (w *wiring) literalOf(c lies, i, j int) literal {
	if c.swapped {
		i, j = j, i
	}
	return w.m.beforeWith(c.kind, i, j, c.axis)
}

// adopt takes an arrangement, shortens its wires as far as its relations allow, and keeps it if it is better than the best.
// It returns what it came to.
func (w *wiring) adopt(places []Place) []Place {
	if w.depth == 0 {
		w.check()
	}
	places = slices.Clone(places)
	for range 20 {
		w.sortTwins(places)
		w.take(places)
		wire := int64(Measure(w.p, places))
		if wire < w.best && len(Check(w.p, places)) == 0 {
			w.best, w.places = wire, slices.Clone(places)
			for n := range w.turns {
				w.turns[n] = w.yard.bodies[n].turn
			}
		}
		if !w.slide() {
			return places
		}
		next := w.yard.places()
		if int64(Measure(w.p, next)) >= wire {
			return places
		}
		places = next
	}
	return places
}

// slide moves the bodies, each on its side of the others, to where the wires are shortest.
func (w *wiring) slide() bool {
	w.pinned = make([]int, len(w.yard.bodies))
	for n := range w.pinned {
		w.pinned[n] = w.yard.bodies[n].turn
	}
	defer func() { w.pinned = nil }()
	w.frames[0].load(w)
	for n := range w.yard.items {
		if len(w.m.turn[n]) > 1 {
			w.reword(n)
		}
	}
	n := len(w.yard.bodies)
	var list []lies
	for axis := range w.axes {
		a := &w.axes[axis]
		for i := range n {
			if len(w.m.turn[i]) > 1 && a.node[i] != 0 {
				s, b := &w.task.solids[i], &w.yard.bodies[i]
				a.flow.want(0, a.node[i], 2*s.wall[b.turn][2*axis]+b.size[axis], endless)
				a.flow.want(a.node[i], 0, -2*s.wall[b.turn][2*axis+1]-b.size[axis], endless)
			}
		}
	}
	for j := range n {
		for i := range j {
			if i >= w.yard.items {
				continue
			}
			list = w.relationsOf(list[:0], i, j)
			for _, c := range list {
				before, behind := i, j
				if c.swapped {
					before, behind = j, i
				}
				a := &w.axes[c.axis]
				x, y := &w.yard.bodies[before], &w.yard.bodies[behind]
				if a.node[before] == a.node[behind] {
					continue
				}
				a.flow.want(a.node[before], a.node[behind], x.size[c.axis]+y.size[c.axis]+
					2*w.gapOf(c.kind, before, behind, c.axis)+a.plus[before]-a.plus[behind], endless)
			}
		}
	}
	for axis := range w.axes {
		if !w.axes[axis].flow.solve(1 << 60) {
			return false
		}
	}
	for n := range w.yard.bodies {
		b := &w.yard.bodies[n]
		for axis := range w.axes {
			a := &w.axes[axis]
			b.at[axis] = (a.flow.potential[a.node[n]] + a.plus[n] - b.size[axis]) >> 1
		}
	}
	return true
}
