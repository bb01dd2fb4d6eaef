package pack

import (
	"math/bits"
	"slices"
)

// model is a task put to the searcher: a number for each coordinate, a question for each way in which two bodies may lie beside
// each other, and one for each turn.
type model struct {
	*searcher
	task   *task
	at     [][3]view
	turn   [][]literal          // by solid: the turn is that one
	oneOf  []map[uint64]literal // by solid: the turn is one of a set
	onRail map[int]int32        // number of each rail
	beside map[[4]int32]literal // by i, j, axis and gap: i lies before j with that gap
	zero   int32
	// wires says that not everything is pushed together in the end, so that what holds in every arrangement that is need not hold.
	wires bool
}

// view is a coordinate: a number and what is to be added to it.
type view struct{ number, plus int32 }

// newModel writes the task as questions, and of arrangements that differ in nothing but names keeps one.
func newModel(t *task) *model {
	m := bareModel(t, false)
	m.symmetry()
	for axis := range 3 {
		if t.room[axis] <= 1 {
			continue
		}
		c := t.bodies()
		if t.aired && axis < 2 {
			c = t.widened(1 - axis) // the air between bodies one above another takes up height as well
		}
		m.profiles = append(m.profiles, m.newProfile(c, axis))
	}
	return m
}

// bareModel writes the task as questions. For wires it may be used of arrangements that aren't pushed together: of a relation that is
// settled true it then only follows that bodies can be pushed together so.
func bareModel(t *task, wires bool) *model {
	m := &model{searcher: newSearcher(), task: t, onRail: map[int]int32{}, beside: map[[4]int32]literal{}, wires: wires}
	m.zero = m.number([]int32{0})
	m.coordinates()
	m.turns()
	m.walls()
	for j := range t.solids {
		for i := range j {
			if t.solids[i].block && t.solids[j].block {
				continue
			}
			m.pairOf(i, j)
		}
	}
	return m
}

// coordinates makes the numbers.
func (m *model) coordinates() {
	t := m.task
	var reach [3][][]uint64
	for axis := range 3 {
		if axis != 1 || len(t.rails) == 0 {
			reach[axis] = t.sums(axis)
		}
	}
	railLow, railHigh := map[int]int32{}, map[int]int32{}
	for _, s := range t.solids {
		if s.rail != 0 {
			low, high := s.low[1]-s.offset, s.high[1]-s.offset
			if before, there := railLow[s.rail]; there {
				low, high = max(low, before), min(high, railHigh[s.rail])
			}
			railLow[s.rail], railHigh[s.rail] = low, high
		}
	}
	for n, s := range t.solids {
		var at [3]view
		for axis := range 3 {
			switch {
			case s.low[axis] == s.high[axis] && (axis != 1 || s.rail == 0):
				at[axis] = view{m.zero, s.low[axis]}
			case axis == 1 && s.rail != 0:
				k, there := m.onRail[s.rail]
				if !there {
					if railLow[s.rail] > railHigh[s.rail] {
						m.bad = true
						railHigh[s.rail] = railLow[s.rail]
					}
					k = m.numberOf(railLow[s.rail], railHigh[s.rail], nil)
					m.onRail[s.rail] = k
				}
				at[axis] = view{k, s.offset}
			default:
				var set []uint64
				if reach[axis] != nil {
					set = reach[axis][n]
				}
				at[axis] = view{m.numberOf(s.low[axis], s.high[axis], set), 0}
			}
		}
		m.at = append(m.at, at)
	}
}

// numberOf makes a number of the values from low to high that are in the set; nil is all.
func (m *model) numberOf(low, high int32, set []uint64) int32 {
	values := make([]int32, 0, high-low+1)
	for v := low; v <= high; v++ {
		if set == nil || set[v>>6]>>(v&63)&1 == 1 {
			values = append(values, v)
		}
	}
	if len(values) == 0 {
		m.bad = true
		values = append(values, low)
	}
	return m.number(values)
}

// turns makes the questions about turns: exactly one of each body's.
func (m *model) turns() {
	for _, s := range m.task.solids {
		list := []literal{yes}
		switch n := len(s.turns); {
		case n == 2:
			l := m.free()
			list = []literal{l, l.not()}
		case n > 2:
			list = list[:0]
			for range n {
				list = append(list, m.free())
			}
			m.add(list...)
			for a := range n {
				for b := range a {
					m.add(list[a].not(), list[b].not())
				}
			}
		}
		m.turn = append(m.turn, list)
		m.oneOf = append(m.oneOf, map[uint64]literal{})
	}
}

// turnIn returns the literal "the body's turn is one of the set", a bit for each.
func (m *model) turnIn(body int, set uint64) literal {
	list := m.turn[body]
	all := uint64(1)<<len(list) - 1
	switch {
	case set == all:
		return yes
	case bits.OnesCount64(set) == 1:
		return list[bits.TrailingZeros64(set)]
	case bits.OnesCount64(all&^set) == 1:
		return list[bits.TrailingZeros64(all&^set)].not()
	}
	l, there := m.oneOf[body][set]
	if !there {
		l = m.free()
		m.oneOf[body][set] = l
		clause := []literal{l.not()}
		for n, turn := range list {
			if set>>n&1 == 1 {
				m.add(turn.not(), l)
				clause = append(clause, turn)
			} else {
				m.add(turn.not(), l.not())
			}
		}
		m.add(clause...)
	}
	return l
}

// walls keeps the bodies between the walls that their turns leave them.
func (m *model) walls() {
	for n, s := range m.task.solids {
		for axis := range 3 {
			at := m.at[n][axis]
			for _, limit := range m.steps(len(s.turns), func(turn int) int32 { return s.wall[turn][2*axis] }) {
				if limit.value > s.low[axis] {
					m.less(view{m.zero, 0}, limit.value, at, m.turnIn(n, limit.set))
				}
			}
			for _, limit := range m.steps(len(s.turns), func(turn int) int32 { return -s.wall[turn][2*axis+1] }) {
				if -limit.value < s.high[axis] {
					m.less(at, limit.value, view{m.zero, 0}, m.turnIn(n, limit.set))
				}
			}
		}
	}
}

// step is a value that is reached or passed in a set of turns.
type step struct {
	value int32
	set   uint64
}

// steps returns the values that a figure takes in the turns, rising, each with the turns in which it is that or more.
func (m *model) steps(turns int, of func(turn int) int32) []step {
	var list []step
	for turn := range turns {
		if v := of(turn); !slices.ContainsFunc(list, func(s step) bool { return s.value == v }) {
			list = append(list, step{value: v})
		}
	}
	slices.SortFunc(list, func(a, b step) int { return int(a.value - b.value) })
	for n := range list {
		for turn := range turns {
			if of(turn) >= list[n].value {
				list[n].set |= 1 << turn
			}
		}
	}
	return list
}

// less says: under the guards, x + c <= y.
func (m *model) less(x view, c int32, y view, guards ...literal) {
	c += x.plus - y.plus
	for _, g := range guards {
		if m.value[g] < 0 {
			return
		}
	}
	if x.number != y.number {
		m.addLess(x.number, y.number, c, guards...)
		return
	}
	if c <= 0 {
		return
	}
	clause := make([]literal, 0, 3)
	for _, g := range guards {
		clause = append(clause, g.not())
	}
	m.add(clause...)
}

// gapKind is which distance is meant between two bodies.
type gapKind int32

const (
	touching gapKind = iota // no more than not overlapping
	aired                   // the air that the facing sides want
	parted                  // the distance that the two must keep
)

// gap returns the distance between solid i in turn ti and solid j in turn tj behind it along the axis.
func (t *task) gap(kind gapKind, i, ti, j, tj, axis int) int32 {
	switch kind {
	case aired:
		return max(t.solids[i].air[ti][2*axis+1], t.solids[j].air[tj][2*axis])
	case parted:
		return t.apart[[2]int{min(i, j), max(i, j)}]
	}
	return 0
}

// before returns the literal "i lies before j along the axis, with that kind of gap". It is false if there is no room for that.
func (m *model) beforeWith(kind gapKind, i, j, axis int) literal {
	t := m.task
	a, b := &t.solids[i], &t.solids[j]
	reach := func(ti, tj int) int32 { return a.size[ti][axis] + t.gap(kind, i, ti, j, tj, axis) }
	if kind != touching && m.sameReach(kind, i, j, axis) {
		return m.beforeWith(touching, i, j, axis)
	}
	key := [4]int32{int32(i), int32(j), int32(axis), int32(kind)}
	if l, there := m.beside[key]; there {
		return l
	}
	least, greatest := reach(0, 0), reach(0, 0)
	for ti := range a.turns {
		for tj := range b.turns {
			least, greatest = min(least, reach(ti, tj)), max(greatest, reach(ti, tj))
		}
	}
	x, y := m.at[i][axis], m.at[j][axis]
	xLow, xHigh := m.bounds(x)
	yLow, yHigh := m.bounds(y)
	always := xHigh+greatest <= yLow && !m.wires
	l := yes.not()
	switch {
	case x.number == y.number && x.plus+least > y.plus || xLow+least > yHigh:
	case x.number == y.number && x.plus+greatest <= y.plus || always:
		l = yes
	default:
		l = m.free()
		m.reaches(l, x, y, i, j, reach, least)
	}
	m.beside[key] = l
	return l
}

// sameReach reports whether a gap of that kind is none at all in every turn.
func (m *model) sameReach(kind gapKind, i, j, axis int) bool {
	for ti := range m.task.solids[i].turns {
		for tj := range m.task.solids[j].turns {
			if m.task.gap(kind, i, ti, j, tj, axis) != 0 {
				return false
			}
		}
	}
	return true
}

// bounds returns between what values a coordinate lies.
func (m *model) bounds(v view) (low, high int32) {
	n := &m.numbers[v.number]
	return n.values[n.low] + v.plus, n.values[n.high] + v.plus
}

// reaches writes what "i before j" means in each turn: first what holds in all, then what more the turn of one of the two says, then
// what only both together say.
func (m *model) reaches(l literal, x, y view, i, j int, reach func(ti, tj int) int32, least int32) {
	a, b := &m.task.solids[i], &m.task.solids[j]
	m.less(x, least, y, l)
	ofI := func(ti int) int32 {
		v := reach(ti, 0)
		for tj := range b.turns {
			v = min(v, reach(ti, tj))
		}
		return v
	}
	ofJ := func(tj int) int32 {
		v := reach(0, tj)
		for ti := range a.turns {
			v = min(v, reach(ti, tj))
		}
		return v
	}
	for _, s := range m.steps(len(a.turns), ofI) {
		if s.value > least {
			m.less(x, s.value, y, l, m.turnIn(i, s.set))
		}
	}
	for _, s := range m.steps(len(b.turns), ofJ) {
		if s.value > least {
			m.less(x, s.value, y, l, m.turnIn(j, s.set))
		}
	}
	for ti := range a.turns {
		for tj := range b.turns {
			if v := reach(ti, tj); v > max(ofI(ti), ofJ(tj)) {
				m.less(x, v, y, l, m.turn[i][ti], m.turn[j][tj])
			}
		}
	}
}

// pairOf says how two bodies may lie: clear of each other with air along one axis, or clear of each other along two.
func (m *model) pairOf(i, j int) {
	var clear, air [3][2]literal
	for axis := range 3 {
		clear[axis] = [2]literal{m.beforeWith(touching, i, j, axis), m.beforeWith(touching, j, i, axis)}
		air[axis] = [2]literal{m.beforeWith(aired, i, j, axis), m.beforeWith(aired, j, i, axis)}
		for n := range 2 {
			if air[axis][n] != clear[axis][n] {
				m.add(air[axis][n].not(), clear[axis][n])
			}
		}
		m.add(clear[axis][0].not(), clear[axis][1].not())
	}
	if air == clear {
		m.add(clear[0][0], clear[0][1], clear[1][0], clear[1][1], clear[2][0], clear[2][1])
	} else {
		// Air along one axis, or clear along two: whichever axis is left out of the three, one of the other two is clear, or it has air.
		for axis := range 3 {
			u, v := (axis+1)%3, (axis+2)%3
			m.add(air[axis][0], air[axis][1], clear[u][0], clear[u][1], clear[v][0], clear[v][1])
		}
	}
	if m.task.apart[[2]int{i, j}] > 0 {
		var clause []literal
		for axis := range 2 {
			for _, l := range [2]literal{m.beforeWith(parted, i, j, axis), m.beforeWith(parted, j, i, axis)} {
				clause = append(clause, l)
			}
			m.add(m.beforeWith(parted, i, j, axis).not(), clear[axis][0])
			m.add(m.beforeWith(parted, j, i, axis).not(), clear[axis][1])
		}
		m.add(clause...)
	}
	// The larger the two, the sooner they are looked at.
	weight := float64(m.task.weight(i)) * float64(m.task.weight(j))
	for axis := range 3 {
		for n := range 2 {
			for _, l := range [2]literal{clear[axis][n], air[axis][n]} {
				if l > 1 {
					m.heat[l>>1] = max(m.heat[l>>1], weight)
				}
			}
		}
	}
}

// weight is a body's share of the room, by which the search orders its questions.
func (t *task) weight(n int) float64 {
	share := 1.0
	for axis := range 3 {
		share *= float64(t.solids[n].size[0][axis]) / float64(max(t.room[axis], 1))
	}
	return share
}

// places reads the arrangement that the searcher found.
func (m *model) places() []Place {
	list := make([]Place, len(m.task.p.Items))
	for n := range list {
		for axis := range 3 {
			low, _ := m.bounds(m.at[n][axis])
			list[n].At[axis] = int(low) * m.task.unit[axis]
		}
		for turn, l := range m.turn[n] {
			if m.value[l] > 0 {
				list[n].Turn = m.task.solids[n].turns[turn]
			}
		}
	}
	return list
}
