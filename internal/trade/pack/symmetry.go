package pack

// symmetry keeps one of several arrangements that are the same but for the order of bodies that can't be told apart, or for a
// mirror. Nothing is said where the problem itself isn't symmetric.
func (m *model) symmetry() {
	t := m.task
	copies := map[int]int{}
	last := map[int]int{} // by kind: the body before this one
	for n := range t.p.Items {
		kind := t.solids[n].kind
		copies[kind]++
		if before, there := last[kind]; there {
			m.order(before, n)
		}
		last[kind] = n
	}
	largest, single := -1, -1
	for n := range t.p.Items {
		if largest < 0 || t.weight(n) > t.weight(largest) {
			largest = n
		}
		if copies[t.solids[n].kind] == 1 && (single < 0 || t.weight(n) > t.weight(single)) {
			single = n
		}
	}
	for axis := range 3 {
		which := single
		if single < 0 && axis == 0 {
			which = t.solids[largest].kind // of several the one furthest to the left
		}
		if which >= 0 && t.mirrors(axis) {
			m.nearHalf(which, axis)
		}
	}
}

// order says that of two bodies that can't be told apart a lies left of b, or, in line with it, below.
func (m *model) order(a, b int) {
	x, y := m.at[a][0], m.at[b][0]
	m.less(x, 0, y)
	m.add(m.beforeWith(touching, b, a, 0).not())
	m.less(x, 1, y, m.beforeWith(touching, b, a, 1))
}

// mirrors reports whether the problem is the same seen in a mirror along the axis.
func (t *task) mirrors(axis int) bool {
	p := t.p
	if len(p.Blocks) > 0 || p.Open[2*axis] != p.Open[2*axis+1] {
		return false
	}
	for n := range p.Items {
		if p.Items[n].Fixed != nil || p.Items[n].limited() {
			return false
		}
		for _, air := range t.solids[n].air {
			if air[2*axis] != air[2*axis+1] {
				return false
			}
		}
	}
	return true
}

// nearHalf keeps the middle of a body in the near half of the room.
func (m *model) nearHalf(n, axis int) {
	s := &m.task.solids[n]
	room, unit := m.task.p.Room[axis], m.task.unit[axis]
	for _, limit := range m.steps(len(s.turns), func(turn int) int32 {
		return -floor(room-int(s.size[turn][axis])*unit, 2*unit)
	}) {
		m.less(m.at[n][axis], limit.value, view{m.zero, 0}, m.turnIn(n, limit.set))
	}
}
