package pack

// frame is the state of the flows at a level of the search, to go back to.
type frame struct {
	level int // of the searcher
	seen  int // how much of the trail was looked at
	axes  [3]frameAxis
}

type frameAxis struct {
	arcs             []arc
	arcOf            []int32
	potential        []int32
	parent, by, deep []int32
	wishes           []wish
	value, steady    int64
}

// save takes the state of the flows.
func (f *frame) save(w *wiring) {
	for axis := range w.axes {
		a, k := &w.axes[axis], &f.axes[axis]
		k.arcs = append(k.arcs[:0], a.flow.arcs...)
		k.arcOf = append(k.arcOf[:0], a.arcOf...)
		k.potential = append(k.potential[:0], a.flow.potential...)
		k.parent = append(k.parent[:0], a.flow.parent...)
		k.by = append(k.by[:0], a.flow.by...)
		k.deep = append(k.deep[:0], a.flow.depth...)
		k.wishes = append(k.wishes[:0], a.wishes...)
		k.value, k.steady = a.flow.value, a.steady
	}
}

// load gives the flows the state back.
func (f *frame) load(w *wiring) {
	for axis := range w.axes {
		a, k := &w.axes[axis], &f.axes[axis]
		a.flow.arcs = append(a.flow.arcs[:0], k.arcs...)
		a.arcOf = append(a.arcOf[:0], k.arcOf...)
		copy(a.flow.potential, k.potential)
		copy(a.flow.parent, k.parent)
		copy(a.flow.by, k.by)
		copy(a.flow.depth, k.deep)
		copy(a.wishes, k.wishes)
		a.flow.value, a.steady = k.value, k.steady
	}
}

// keep saves the state on top of the frames.
func (w *wiring) keep() {
	if w.depth == len(w.frames) {
		w.frames = append(w.frames, frame{})
	}
	f := &w.frames[w.depth]
	w.depth++
	f.level, f.seen = len(w.m.marks), len(w.m.trail)
	f.save(w)
}

// retreat drops the frames of levels that the searcher has left.
func (w *wiring) retreat() {
	for w.depth > 1 && w.frames[w.depth-1].level > len(w.m.marks) {
		w.depth--
	}
}

// bound is what the wires cost at the least, by the flows as they stand.
func (w *wiring) bound() int64 {
	sum := int64(0)
	for axis := range w.axes {
		sum += w.axes[axis].flow.value + w.axes[axis].steady
	}
	return sum
}

// check takes what became true since the last time into the flows. It reports false, with the searcher's clash, if the wires can't be
// shorter than the best known, or if the relations contradict one another.
func (w *wiring) check() bool {
	w.checks++
	s := w.m.searcher
	if w.depth == 0 {
		w.keep()
		w.frames[0].seen, w.frames[0].level = 0, -1 // the frame at the bottom knows nothing
	}
	top := &w.frames[w.depth-1]
	top.load(w)
	news := s.trail[top.seen:]
	for _, l := range news {
		for _, r := range w.rulesOf[l] {
			w.enter(r)
		}
	}
	for _, l := range news {
		if n := w.turnOf[l>>1]; n >= 0 {
			w.reword(int(n))
		}
	}
	for axis := range w.axes {
		f := &w.axes[axis].flow
		enough := w.best - w.bound() + f.value
		if !f.solve(enough) {
			w.explainLoop(axis)
			return false
		}
		if w.bound() >= w.best {
			w.explainBound()
			w.thin()
			return false
		}
	}
	if top.level == len(s.marks) {
		w.depth--
	}
	w.keep()
	if len(s.marks) == 0 {
		w.floor = max(w.floor, w.bound())
	}
	return true
}

// enter makes an arc of a rule if all its guards are true. A guard that came true with another of the same rule must not enter it twice.
func (w *wiring) enter(r int32) {
	ru := &w.rules[r]
	for _, g := range ru.guards {
		if w.m.value[g] <= 0 {
			return
		}
	}
	a := &w.axes[ru.axis]
	for n := len(a.arcOf) - 1; n >= 0 && a.arcOf[n] >= 0 && ru.guards[1] != yes; n-- {
		if a.arcOf[n] == r {
			return
		}
	}
	a.flow.want(ru.from, ru.to, ru.worth, endless)
	a.arcOf = append(a.arcOf, r)
}

// reword words anew the wishes of the nets at a body whose turn is known better.
func (w *wiring) reword(n int) {
	for axis := range w.axes {
		a := &w.axes[axis]
		changed := false
		for k := range a.wishes {
			if net := &w.p.Nets[a.wishes[k].net]; net.A.Item == n || net.B.Item == n {
				w.word(axis, &a.wishes[k])
				changed = true
			}
		}
		if changed {
			a.flow.rework()
		}
	}
}

// rework finds potentials, depths and worth anew after arcs have changed what they are worth.
func (f *flow) rework() {
	f.stamp++
	f.marked[0] = f.stamp
	var place func(n int32)
	place = func(n int32) {
		if f.marked[n] == f.stamp {
			return
		}
		up := f.parent[n]
		place(up)
		f.marked[n] = f.stamp
		f.depth[n] = f.depth[up] + 1
		if a := &f.arcs[f.by[n]]; a.to == n {
			f.potential[n] = f.potential[up] + a.worth
		} else {
			f.potential[n] = f.potential[up] - a.worth
		}
	}
	for n := range f.parent {
		place(int32(n))
	}
	f.value = 0
	for n := range f.arcs {
		f.value += int64(f.arcs[n].flow) * int64(f.arcs[n].worth)
	}
}

// explainLoop makes the clash of arcs that contradict one another.
func (w *wiring) explainLoop(axis int) {
	a := &w.axes[axis]
	w.m.clash = w.m.clash[:0]
	for _, n := range a.flow.loop {
		if r := a.arcOf[n]; r >= 0 {
			w.blame(w.rules[r].guards[:]...)
		}
	}
}

// explainBound makes the clash of all that the bound rests on: arcs with flow, and the turns by which wires were worded.
func (w *wiring) explainBound() {
	w.m.clash = w.m.clash[:0]
	for axis := range w.axes {
		a := &w.axes[axis]
		for n := range a.flow.arcs {
			if r := a.arcOf[n]; r >= 0 && a.flow.arcs[n].flow > 0 {
				w.blame(w.rules[r].guards[:]...)
			}
		}
		for k := range a.wishes {
			wi := &a.wishes[k]
			if wi.steady == 0 && (wi.arc < 0 || a.flow.arcs[wi.arc].flow == 0 && a.flow.arcs[wi.arc+1].flow == 0) {
				continue
			}
			net := &w.p.Nets[wi.net]
			for _, item := range [2]int{net.A.Item, net.B.Item} {
				if item >= 0 {
					w.blameTurn(item)
				}
			}
		}
	}
}

// blameTurn adds to the clash what is known of a body's turn.
func (w *wiring) blameTurn(n int) {
	for _, l := range w.m.turn[n] {
		switch {
		case l == yes:
		case w.m.value[l] > 0:
			w.blame(l)
		case w.m.value[l] < 0:
			w.blame(l.not())
		}
	}
}

// blame adds true literals to the clash, once each.
func (w *wiring) blame(list ...literal) {
next:
	for _, l := range list {
		if l == yes {
			continue
		}
		for _, before := range w.m.clash {
			if before == l {
				continue next
			}
		}
		w.m.clash = append(w.m.clash, l)
	}
}
