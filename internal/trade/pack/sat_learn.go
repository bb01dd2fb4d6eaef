package pack

import "slices"

// learn turns the clash into a clause that forbids it, goes back to where the clause says something new, and sets that. It reports
// false if the question is refuted for good.
func (s *searcher) learn() bool {
	s.conflicts++
	top := int32(0)
	for _, l := range s.clash {
		top = max(top, s.level[l>>1])
	}
	if top == 0 {
		s.bad = true
		return false
	}
	s.back(int(top))
	clause := append(s.newest[:0], noLiteral)
	open, at := 0, len(s.trail)
	antecedents := s.clash
	for {
		for _, l := range antecedents {
			q := int32(l >> 1)
			if s.seen[q] != 0 || s.level[q] == 0 {
				continue
			}
			s.seen[q] = inClause
			s.toClear = append(s.toClear, q)
			s.warm(q)
			if s.level[q] == top {
				open++
			} else {
				clause = append(clause, l.not())
			}
		}
		for at--; s.seen[s.trail[at]>>1] == 0; at-- {
		}
		p := s.trail[at]
		open--
		if open == 0 {
			clause[0] = p.not()
			break
		}
		s.reasons = s.antecedents(s.reasons[:0], p)
		antecedents = s.reasons
	}
	clause = s.shorten(clause)
	for _, q := range s.toClear {
		s.seen[q] = 0
	}
	s.toClear = s.toClear[:0]
	s.newest = clause

	quality := s.countLevels(clause)
	s.restart.learnt(quality)
	back := 0
	for n := 1; n < len(clause); n++ { // the second watch goes to the latest of the others
		if level := int(s.level[clause[n]>>1]); level > back {
			back = level
			clause[1], clause[n] = clause[n], clause[1]
		}
	}
	s.back(back)
	switch len(clause) {
	case 1:
		s.set(clause[0], cause{decided, 0})
	case 2:
		s.pair(clause[0], clause[1])
		s.set(clause[0], cause{byOther, int32(clause[1].not())})
	default:
		c := s.store(clause, quality)
		s.learnt = append(s.learnt, c)
		s.set(clause[0], cause{c, 0})
	}
	s.step *= 1 / 0.95
	if s.step > 1e100 {
		s.cool()
	}
	return true
}

// What is known of a question while a clause is learnt.
const (
	inClause = 1
	implied  = 2 // follows from the clause's others
	needed   = 3 // doesn't
)

// shorten drops literals that follow from the others.
func (s *searcher) shorten(clause []literal) []literal {
	s.stamp++
	for _, l := range clause[1:] {
		s.levels[s.level[l>>1]] = s.stamp
	}
	kept := 1
	for _, l := range clause[1:] {
		if s.why[l>>1].from == decided || !s.follows(l.not(), 0) {
			clause[kept] = l
			kept++
		}
	}
	return clause[:kept]
}

// follows reports whether the true literal p follows from literals of the clause.
func (s *searcher) follows(p literal, depth int) bool {
	base := len(s.reasons)
	s.reasons = s.antecedents(s.reasons, p)
	all := true
	for n := base; n < len(s.reasons); n++ {
		l := s.reasons[n]
		q := int32(l >> 1)
		if s.level[q] == 0 || s.seen[q] == inClause || s.seen[q] == implied {
			continue
		}
		if s.seen[q] == needed || s.why[q].from == decided || s.levels[s.level[q]] != s.stamp || depth > 200 {
			all = false
			break
		}
		if s.follows(l, depth+1) {
			s.seen[q] = implied
		} else {
			s.seen[q] = needed
			all = false
		}
		s.toClear = append(s.toClear, q)
		if !all {
			break
		}
	}
	s.reasons = s.reasons[:base]
	return all
}

// countLevels returns at how many levels the clause's literals were set: the fewer, the more it will be of use.
func (s *searcher) countLevels(clause []literal) int32 {
	s.stamp++
	n := int32(0)
	for _, l := range clause {
		if level := s.level[l>>1]; s.levels[level] != s.stamp {
			s.levels[level] = s.stamp
			n++
		}
	}
	return n
}

// forget drops the worse half of the learnt clauses, and closes up the arena when much of it is waste.
func (s *searcher) forget() {
	inUse := func(c int32) bool {
		l := literal(s.arena[c+clauseHead])
		w := s.why[l>>1]
		return s.value[l] > 0 && w.from == c
	}
	var doubtful []int32
	kept := s.learnt[:0]
	for _, c := range s.learnt {
		if s.arena[c+1] <= 2 || inUse(c) {
			kept = append(kept, c)
		} else {
			doubtful = append(doubtful, c)
		}
	}
	slices.SortStableFunc(doubtful, func(a, b int32) int {
		if q := s.arena[a+1] - s.arena[b+1]; q != 0 {
			return int(q)
		}
		return int(s.arena[a] - s.arena[b])
	})
	half := len(doubtful) / 2
	kept = append(kept, doubtful[:half]...)
	for _, c := range doubtful[half:] {
		s.arena[c+2] = 1
		s.waste += int(s.arena[c]) + clauseHead
	}
	slices.Sort(kept) // by age
	s.learnt = kept
	for l := range s.watch {
		list := s.watch[l][:0]
		for _, w := range s.watch[l] {
			if s.arena[w.clause+2] == 0 {
				list = append(list, w)
			}
		}
		s.watch[l] = list
	}
	if s.waste > len(s.arena)/4 {
		s.closeUp()
	}
}

// closeUp moves the clauses that are left together.
func (s *searcher) closeUp() {
	for _, l := range s.trail { // a clause that is a cause tells where it goes
		if w := s.why[l>>1]; w.from >= 0 {
			s.arena[w.from+2] = -int32(l>>1) - 1
		}
	}
	for l := range s.watch {
		s.watch[l] = s.watch[l][:0]
	}
	s.learnt = s.learnt[:0]
	to := int32(0)
	for at := int32(0); at < int32(len(s.arena)); {
		size := s.arena[at] + clauseHead
		mark := s.arena[at+2]
		if mark <= 0 {
			copy(s.arena[to:], s.arena[at:at+size])
			s.arena[to+2] = 0
			if mark < 0 {
				s.why[-mark-1].from = to
			}
			if s.arena[to+1] > 0 {
				s.learnt = append(s.learnt, to)
			}
			a, b := literal(s.arena[to+clauseHead]), literal(s.arena[to+clauseHead+1])
			s.watch[a.not()] = append(s.watch[a.not()], watcher{to, b})
			s.watch[b.not()] = append(s.watch[b.not()], watcher{to, a})
			to += size
		}
		at += size
	}
	s.arena = s.arena[:to]
	s.waste = 0
}
