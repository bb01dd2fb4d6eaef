package pack

// wiring looks for the arrangement with the shortest wires. Which body lies on which side of which is a matter of questions, which
// the searcher settles and learns about; where everything then lies is three flows, one for each axis. A relation that is true
// becomes an arc; the flows' worth is what the wires cost at the least, and the arcs that carry flow are the reason for it, of
// which the searcher makes a clause. Coordinates are twice the middles of the bodies, which a turn doesn't change.
type wiring struct {
	p     *Problem
	task  *task // in the caller's unit
	m     *model
	axes  [3]wiringAxis
	rules []rule
	// rulesOf tells, by literal, in which rules it is a guard.
	rulesOf [][]int32
	// choices are the literals that may put a pair right: by pair i*n+j with i < j.
	choices  [][]choice
	twins    [][]int
	yard     *yard   // holds the bodies where the flows put them
	turns    []int   // by body: the turn that it has, or has by preference
	turnOf   []int32 // by question: the body whose turn it is about, or -1
	pinned   []int   // by body: the one turn to reckon with; nil if all that are still possible
	frames   []frame
	depth    int // frames in use
	best     int64
	places   []Place
	floor    int64 // what is proved that no arrangement goes below
	checks   int64
	tried    []int64 // by question: the check in which it was tried to do without it
	thinned  []literal
	thinFrom frame
}

// wiringAxis is one axis: its net, and how bodies and wires hang on it.
type wiringAxis struct {
	flow   flow
	node   []int32 // by body; 0 if it stands still
	plus   []int32 // twice the body's middle is the node's potential and this
	low    []int32 // by node less one
	wishes []wish
	steady int64   // what the wires cost whatever the flow does
	arcOf  []int32 // by arc: its rule, or -1
}

// wish is one net along one axis: two arcs of the flow, for either end lying too far on one side.
type wish struct {
	net    int
	arc    int32 // the first of the two; -1 if both ends hang on one node
	weight int32
	known  bool // the turns of both ends are known, or don't matter
	steady int64
}

// rule is an arc that holds while its guards are true.
type rule struct {
	guards   [3]literal
	from, to int32
	worth    int32
	axis     int8
}

// choice is a relation that would help to put a pair right.
type choice struct {
	literal literal
	axis    int
	kind    gapKind
	swapped bool // j lies before i
}

// newWiring makes the search for a problem whose nets cost something. It returns nil if the problem can't be asked, or has no answer.
func newWiring(p *Problem, seed uint64) *wiring {
	coarse, no, wrong := prepareFor(p, true)
	if no != "" || wrong != "" || coarse.tooFine() {
		return nil
	}
	fine, ok := wholeUnits(p)
	if !ok {
		return nil
	}
	w := &wiring{p: p, task: fine, m: bareModel(coarse, true), yard: newYard(fine, seed), best: 1 << 62}
	w.orderTwins()
	if w.m.bad {
		return nil
	}
	n := len(fine.solids)
	w.turns = make([]int, n)
	w.choices = make([][]choice, n*n)
	for axis := range 3 {
		w.nodes(axis)
	}
	for j := range n {
		for i := range j {
			w.pairRules(i, j)
		}
	}
	w.rulesOf = make([][]int32, len(w.m.value))
	for r := range w.rules {
		if ru := &w.rules[r]; ru.guards == [3]literal{yes, yes, yes} {
			a := &w.axes[ru.axis]
			a.flow.want(ru.from, ru.to, ru.worth, endless)
			a.arcOf = append(a.arcOf, -1)
		}
		for _, g := range w.rules[r].guards {
			if g != yes {
				w.rulesOf[g] = append(w.rulesOf[g], int32(r))
			}
		}
	}
	w.turnOf = make([]int32, len(w.m.level))
	w.tried = make([]int64, len(w.m.level))
	for q := range w.turnOf {
		w.turnOf[q] = -1
	}
	for b := range n {
		for _, l := range w.m.turn[b] {
			if l != yes {
				w.turnOf[l>>1] = int32(b)
			}
		}
	}
	w.m.levels = append(w.m.levels, make([]int64, len(w.m.level))...)
	return w
}

// nodes hangs the bodies along one axis on nodes, with the limits of the room, and the wires on them.
func (w *wiring) nodes(axis int) {
	a := &w.axes[axis]
	a.node, a.plus = make([]int32, len(w.task.solids)), make([]int32, len(w.task.solids))
	rails := map[int]int32{}
	var high []int32
	for n := range w.task.solids {
		s := &w.task.solids[n]
		low, top := 2*s.wall[0][2*axis]+s.size[0][axis], 2*s.wall[0][2*axis+1]+s.size[0][axis]
		for turn := range s.turns {
			low = min(low, 2*s.wall[turn][2*axis]+s.size[turn][axis])
			top = max(top, 2*s.wall[turn][2*axis+1]+s.size[turn][axis])
		}
		shared := axis == 1 && s.rail != 0 && !s.block
		if low == top && !shared {
			a.plus[n] = low
			continue
		}
		node, there := int32(0), false
		if shared {
			node, there = rails[s.rail]
		}
		if there {
			a.low[node-1], high[node-1] = max(a.low[node-1], low), min(high[node-1], top)
		} else {
			a.low, high = append(a.low, low), append(high, top)
			node = int32(len(a.low))
			if shared {
				rails[s.rail] = node
			}
		}
		a.node[n] = node
		for turn := range s.turns {
			if l := w.m.turn[n][turn]; len(s.turns) > 1 {
				turnLow, turnTop := 2*s.wall[turn][2*axis]+s.size[turn][axis], 2*s.wall[turn][2*axis+1]+s.size[turn][axis]
				if turnLow > low {
					w.rules = append(w.rules, rule{[3]literal{l, yes, yes}, 0, node, turnLow, int8(axis)})
				}
				if turnTop < top {
					w.rules = append(w.rules, rule{[3]literal{l, yes, yes}, node, 0, -turnTop, int8(axis)})
				}
			}
		}
	}
	a.flow.begin(a.low)
	for v, top := range high {
		a.flow.want(int32(v+1), 0, -top, endless)
	}
	for n := range w.p.Nets {
		w.hang(axis, n)
	}
	for range a.flow.arcs {
		a.arcOf = append(a.arcOf, -1)
	}
}

// hang hangs a net on its nodes.
func (w *wiring) hang(axis, net int) {
	a := &w.axes[axis]
	n := &w.p.Nets[net]
	wi := wish{net: net, arc: -1, weight: int32(n.Weight)}
	from, to := int32(0), int32(0)
	if n.A.Item >= 0 {
		from = a.node[n.A.Item]
	}
	if n.B.Item >= 0 {
		to = a.node[n.B.Item]
	}
	if from != to && n.Weight > 0 {
		wi.arc = int32(len(a.flow.arcs))
		a.flow.want(from, to, 0, wi.weight)
		a.flow.want(to, from, 0, wi.weight)
	}
	a.wishes = append(a.wishes, wi)
	w.word(axis, &a.wishes[net])
}

// pinsAlong returns where a pin lies along the axis from its node, in each turn that its body may have.
func (w *wiring) pinsAlong(axis int, pin Pin, each func(offset int32)) {
	if pin.Item < 0 {
		each(int32(pin.At[axis]))
		return
	}
	a, s, it := &w.axes[axis], &w.task.solids[pin.Item], &w.p.Items[pin.Item]
	for k, turn := range s.turns {
		if !w.mayTurn(pin.Item, k) {
			continue
		}
		offset := a.plus[pin.Item]
		if !pin.Centre {
			at := int32(pin.At[turnAxes[turn][axis]])
			if turn == Quarter && axis == 0 {
				at = int32(2*it.Size[1] - pin.At[1])
			}
			offset += at - s.size[k][axis]
		}
		each(offset)
	}
}

// mayTurn reports whether a body may still have the turn.
func (w *wiring) mayTurn(n, turn int) bool {
	if w.pinned != nil {
		return w.pinned[n] == turn
	}
	return w.m.value[w.m.turn[n][turn]] >= 0
}

// odd reports whether the places that a pin may have along the axis are odd numbers; mixed if that depends on the turn.
func (w *wiring) odd(axis int, pin Pin) (odd, mixed bool) {
	if pin.Item < 0 {
		return pin.At[axis]&1 == 1, false
	}
	s, it := &w.task.solids[pin.Item], &w.p.Items[pin.Item]
	first := true
	for k, turn := range s.turns {
		if !w.mayTurn(pin.Item, k) {
			continue
		}
		at := int(s.size[k][axis])
		if !pin.Centre {
			at = pin.At[turnAxes[turn][axis]]
			if turn == Quarter && axis == 0 {
				at = 2*it.Size[1] - pin.At[1]
			}
		}
		is := at&1 == 1
		if !first && is != odd {
			return false, true
		}
		odd, first = is, false
	}
	return odd, false
}

// word gives a wish the strongest words that hold in all turns that are still possible.
//
// The ends lie d apart, a number between least and most by the turns; falling short of either costs the net's weight. Where it is known
// that d is odd, it is never 0: the length is then 1 and what goes beyond 1 on either side, which keeps the coordinates whole.
func (w *wiring) word(axis int, wi *wish) {
	a := &w.axes[axis]
	n := &w.p.Nets[wi.net]
	least, most := int32(far), int32(-far)
	w.pinsAlong(axis, n.A, func(offsetA int32) {
		w.pinsAlong(axis, n.B, func(offsetB int32) {
			least, most = min(least, offsetA-offsetB), max(most, offsetA-offsetB)
		})
	})
	oddA, mixedA := w.odd(axis, n.A)
	oddB, mixedB := w.odd(axis, n.B)
	short := int32(0)
	if !mixedA && !mixedB && oddA != oddB {
		short = 1
	}
	wi.known = least == most && !mixedA && !mixedB
	a.steady -= wi.steady
	if wi.arc < 0 {
		wi.steady = int64(wi.weight) * int64(max(least, -most, short))
	} else {
		wi.steady = int64(wi.weight) * int64(short)
		a.flow.arcs[wi.arc].worth = least - short
		a.flow.arcs[wi.arc+1].worth = -most - short
	}
	a.steady += wi.steady
}

// pairRules makes the arcs of a pair's relations.
func (w *wiring) pairRules(i, j int) {
	t := w.task
	if t.solids[i].block && t.solids[j].block {
		return
	}
	kinds := []gapKind{touching, aired}
	if t.apart[[2]int{i, j}] > 0 {
		kinds = append(kinds, parted)
	}
	list := &w.choices[i*len(t.solids)+j]
	for axis := range 3 {
		for swap := range 2 {
			before, behind := i, j
			if swap == 1 {
				before, behind = j, i
			}
			touch := w.m.beforeWith(touching, before, behind, axis)
			for _, kind := range kinds {
				if kind == parted && axis == 2 {
					continue
				}
				l := w.m.beforeWith(kind, before, behind, axis)
				if l == yes.not() || kind != touching && l == touch && l != yes {
					continue
				}
				if l != yes {
					*list = append(*list, choice{l, axis, kind, swap == 1})
				}
				w.relation(l, kind, before, behind, axis)
			}
		}
	}
}

// relation makes the arcs of "i lies before j": what holds in all turns, and what more is so in some.
func (w *wiring) relation(l literal, kind gapKind, i, j, axis int) {
	t, a := w.task, &w.axes[axis]
	from, to := a.node[i], a.node[j]
	if from == to {
		return
	}
	si, sj := &t.solids[i], &t.solids[j]
	reach := func(ti, tj int) int32 {
		return si.size[ti][axis] + sj.size[tj][axis] + 2*t.gap(kind, i, ti, j, tj, axis) + a.plus[i] - a.plus[j]
	}
	rows, columns := make([]int32, len(si.turns)), make([]int32, len(sj.turns))
	least := reach(0, 0)
	for ti := range si.turns {
		for tj := range sj.turns {
			v := reach(ti, tj)
			least = min(least, v)
			if tj == 0 || v < rows[ti] {
				rows[ti] = v
			}
			if ti == 0 || v < columns[tj] {
				columns[tj] = v
			}
		}
	}
	add := func(worth int32, more ...literal) {
		guards := [3]literal{l, yes, yes}
		copy(guards[1:], more)
		w.rules = append(w.rules, rule{guards, from, to, worth, int8(axis)})
	}
	add(least)
	for ti, v := range rows {
		if v > least {
			add(v, w.m.turn[i][ti])
		}
	}
	for tj, v := range columns {
		if v > least {
			add(v, w.m.turn[j][tj])
		}
	}
	for ti := range rows {
		for tj := range columns {
			if v := reach(ti, tj); v > max(rows[ti], columns[tj]) {
				add(v, w.m.turn[i][ti], w.m.turn[j][tj])
			}
		}
	}
}
