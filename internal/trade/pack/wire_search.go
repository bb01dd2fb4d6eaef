package pack

// search settles relations until no arrangement with shorter wires is left, until the steps are used up, or, under assumptions, until
// these are ruled out. Each better arrangement is kept.
func (w *wiring) search(conflicts int64, assumptions []literal, o *Options) outcome {
	s := w.m.searcher
	if s.bad {
		return refuted
	}
	end := s.conflicts + conflicts
	if need := len(s.level) + len(assumptions) + 2; len(s.levels) < need {
		s.levels = append(s.levels, make([]int64, need-len(s.levels))...)
	}
	defer func() {
		s.back(0)
		w.retreat()
	}()
	for turn := 0; ; turn++ {
		fine := s.propagate()
		next := noLiteral
		if fine {
			if s.conflicts >= end || turn&127 == 127 && o.stopped() {
				return undecided
			}
			if s.restart.due(s.conflicts, len(s.trail)) {
				s.back(0)
				w.retreat()
				continue
			}
			for len(s.marks) < len(assumptions) && next == noLiteral {
				switch l := assumptions[len(s.marks)]; s.value[l] {
				case 1:
					s.marks = append(s.marks, int32(len(s.trail)))
				case -1:
					return refuted
				default:
					next = l
				}
			}
			if next == noLiteral {
				w.retreat()
				for fine = w.check(); fine; fine = w.check() {
					if next = w.choose(); next != noLiteral {
						break
					}
					// All lies right: this is the best under these relations, or if a turn was a guess at least as good as before.
					if !w.improve() {
						next = w.openTurn()
						break
					}
				}
				if fine && next == noLiteral {
					return undecided // rounding stood in the way; can't be with all turns known
				}
			}
		}
		if !fine {
			if !s.learn() {
				return refuted
			}
			w.retreat()
			if s.restart.forgetAt(s.conflicts) {
				s.forget()
			}
			continue
		}
		s.marks = append(s.marks, int32(len(s.trail)))
		s.set(next, cause{decided, 0})
	}
}

// spread lays the bodies where the flows put them.
func (w *wiring) spread() {
	for n := range w.yard.bodies {
		for k, l := range w.m.turn[n] {
			if v := w.m.value[l]; v > 0 || v < 0 && w.turns[n] == k {
				w.turns[n] = k
				if v < 0 {
					w.turns[n] = w.otherTurn(n)
				}
			}
		}
		w.yard.lay(n, w.turns[n])
		b := &w.yard.bodies[n]
		for axis := range w.axes {
			a := &w.axes[axis]
			b.at[axis] = (a.flow.potential[a.node[n]] + a.plus[n] - b.size[axis]) >> 1
		}
	}
}

// otherTurn is the first turn of a body that isn't ruled out.
func (w *wiring) otherTurn(n int) int {
	for k, l := range w.m.turn[n] {
		if w.m.value[l] >= 0 {
			return k
		}
	}
	return 0
}

// openTurn returns a literal that settles a turn that is still open, as it is preferred.
func (w *wiring) openTurn() literal {
	for n := range w.turns {
		if l := w.m.turn[n][w.turns[n]]; w.m.value[l] == 0 {
			return l
		}
	}
	return noLiteral
}

// outside reports whether a body lies beyond the limits of its turn.
func (w *wiring) outside(n int) bool {
	b := &w.yard.bodies[n]
	wall := &w.task.solids[n].wall[b.turn]
	for axis := range 3 {
		if b.at[axis] < wall[2*axis] || b.at[axis] > wall[2*axis+1] {
			return true
		}
	}
	return false
}

// choose finds what to settle next: of the pairs that clash where the flows put them the one that most dead ends were owed to, and for
// it the relation that moves it least. It returns noLiteral if nothing clashes.
func (w *wiring) choose() literal {
	w.spread()
	n := len(w.yard.bodies)
	s := w.m.searcher
	bestScore, bestI, bestJ := -1.0, -1, -1
	turn := noLiteral
	for i := range w.yard.items {
		if l := w.m.turn[i][w.turns[i]]; s.value[l] == 0 && w.outside(i) {
			return l.not()
		}
		for j := i + 1; j < n; j++ {
			lack := w.yard.clash(i, j)
			if lack <= 0 {
				continue
			}
			score, open := 0.0, false
			for _, c := range w.choices[i*n+j] {
				if s.value[c.literal] == 0 {
					open = true
					score = max(score, s.heat[c.literal>>1])
				}
			}
			if !open {
				// All is settled but a turn.
				for _, b := range [2]int{i, j} {
					if l := w.m.turn[b][w.turns[b]]; s.value[l] == 0 && turn == noLiteral {
						turn = l
					}
				}
				continue
			}
			score += 1e-12 * float64(lack)
			if score > bestScore {
				bestScore, bestI, bestJ = score, i, j
			}
		}
	}
	if bestI < 0 {
		return turn
	}
	best, hottest := noLiteral, 0.0
	for _, c := range w.choices[bestI*n+bestJ] {
		if s.value[c.literal] != 0 {
			continue
		}
		if h := s.heat[c.literal>>1]; best == noLiteral || h > hottest {
			hottest, best = h, c.literal
		}
	}
	if best == noLiteral {
		for _, c := range w.choices[bestI*n+bestJ] {
			if s.value[c.literal] == 0 {
				return c.literal
			}
		}
	}
	return best
}

// improve keeps the arrangement that the flows have led to, if it is right and better than the best.
func (w *wiring) improve() bool {
	places := w.yard.places()
	wire := int64(Measure(w.p, places))
	if wire >= w.best || len(Check(w.p, places)) > 0 {
		return false
	}
	w.best, w.places = wire, places
	return true
}
