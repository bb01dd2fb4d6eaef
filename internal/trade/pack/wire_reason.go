package pack

// thin drops from the clash of a bound what the bound is also reached without, the latest first: the clause that is learnt then rules
// out more, and sooner. It gives up after a few that can't be done without, as each trial solves the flows anew.
func (w *wiring) thin() {
	s := w.m.searcher
	w.thinBase()
	left := append(w.thinned[:0], s.clash...)
	for failures := 0; failures < thinFailures; {
		drop := -1
		for n, l := range left {
			q := l >> 1
			if w.turnOf[q] < 0 && w.tried[q] != w.checks && s.level[q] > 0 && (drop < 0 || s.level[q] > s.level[left[drop]>>1]) {
				drop = n
			}
		}
		if drop < 0 {
			break
		}
		l := left[drop]
		w.tried[l>>1] = w.checks
		if w.holdsWithout(left, l) {
			w.explainBound()
			left = append(left[:0], s.clash...)
		} else {
			failures++
		}
	}
	s.clash = append(s.clash[:0], left...)
	w.thinned = left
}

// thinFailures is after how many that can't be done without the rest is kept.
const thinFailures = 3

// thinBase saves the flows as they are without any decision but those about turns.
func (w *wiring) thinBase() {
	s := w.m.searcher
	base := 0
	for base+1 < w.depth && w.frames[base+1].level == 0 {
		base++
	}
	w.frames[base].load(w)
	for n := range w.turns {
		for _, l := range w.m.turn[n] {
			if l != yes && s.value[l] > 0 && s.level[l>>1] > 0 {
				w.reword(n)
				break
			}
		}
	}
	w.thinFrom.save(w)
}

// holdsWithout reports whether the bound reaches the best with the rules of the literals in the list but one.
func (w *wiring) holdsWithout(list []literal, but literal) bool {
	w.thinFrom.load(w)
	for _, l := range list {
		if l == but {
			continue
		}
		for _, r := range w.rulesOf[l] {
			if g := &w.rules[r].guards; g[0] != but && g[1] != but && g[2] != but {
				w.enter(r)
			}
		}
	}
	for axis := range w.axes {
		f := &w.axes[axis].flow
		if !f.solve(w.best - w.bound() + f.value) {
			return false
		}
		if w.bound() >= w.best {
			return true
		}
	}
	return false
}
