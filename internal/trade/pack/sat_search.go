package pack

// outcome of a search.
type outcome int

const (
	undecided outcome = iota
	satisfied
	refuted
)

// search looks for an answer until one is found, the question is refuted, or so many conflicts were met. Assumptions are taken as
// true for this call only: refuted then means under them, unless the searcher is bad, which is for good.
func (s *searcher) search(conflicts int64, assumptions []literal, stopped func() bool) outcome {
	if s.bad {
		return refuted
	}
	end := s.conflicts + conflicts
	for q := range s.level {
		if s.heapAt[q] < 0 && s.value[2*q] == 0 {
			s.push(int32(q))
		}
	}
	if need := len(s.level) + len(assumptions) + 2; len(s.levels) < need {
		s.levels = append(s.levels, make([]int64, need-len(s.levels))...)
	}
	for turn := 0; ; turn++ {
		if !s.propagate() {
			if !s.learn() {
				return refuted
			}
			if s.restart.forgetAt(s.conflicts) {
				s.forget()
			}
			continue
		}
		if s.conflicts >= end || turn&31 == 31 && stopped != nil && stopped() {
			s.back(0)
			return undecided
		}
		if s.restart.due(s.conflicts, len(s.trail)) {
			s.back(0)
			continue
		}
		next := noLiteral
		for len(s.marks) < len(assumptions) {
			switch l := assumptions[len(s.marks)]; s.value[l] {
			case 1:
				s.marks = append(s.marks, int32(len(s.trail))) // an empty level keeps the count
				continue
			case -1:
				s.back(0)
				return refuted
			default:
				next = l
			}
			break
		}
		if next == noLiteral {
			q := s.hottest()
			if q < 0 {
				return satisfied
			}
			next = literal(2 * q)
			if !s.phase[q] {
				next++
			}
		}
		s.marks = append(s.marks, int32(len(s.trail)))
		s.set(next, cause{decided, 0})
	}
}

// restarts decides when to begin anew from the first level. It takes turns between two manners: often, when the clauses learnt of
// late are worse than usual (good for proofs), and seldom (good for finding).
type restarts struct {
	recent, usual float64 // moving means of the clauses' quality
	since         int64   // conflict of the last restart
	seen          int64
	steady        bool  // the manner
	change        int64 // conflict at which the manner changes
	span          int64
	luby          int64
	forgetNext    int64
	forgetSpan    int64
}

func (r *restarts) begin() {
	r.span, r.change = 1000, 1000
	r.forgetSpan, r.forgetNext = 2000, 2000
}

func (r *restarts) learnt(quality int32) {
	q := float64(quality)
	r.seen++
	// Early means are over fewer clauses.
	r.recent += (q - r.recent) * max(1.0/32, 1/float64(r.seen))
	r.usual += (q - r.usual) * max(1.0/4096, 1/float64(r.seen))
}

func (r *restarts) forgetAt(conflicts int64) bool {
	if conflicts < r.forgetNext {
		return false
	}
	r.forgetSpan += 300
	r.forgetNext = conflicts + r.forgetSpan
	return true
}

func (r *restarts) due(conflicts int64, _ int) bool {
	if conflicts >= r.change {
		r.steady = !r.steady
		r.span += r.span / 2
		r.change = conflicts + r.span
		r.since = conflicts
	}
	if r.steady {
		if conflicts-r.since < 512*lubyTerm(r.luby) {
			return false
		}
		r.luby++
	} else if conflicts-r.since < 30 || r.recent*0.85 < r.usual {
		return false
	}
	r.since = conflicts
	return true
}

// lubyTerm is term n of 1 1 2 1 1 2 4 …
func lubyTerm(n int64) int64 {
	size, k := int64(1), int64(0)
	for size < n+1 {
		size = 2*size + 1
		k++
	}
	for size-1 != n {
		size = (size - 1) / 2
		k--
		n %= size
	}
	return 1 << k
}

// warm makes a question likelier to be tried next.
func (s *searcher) warm(q int32) {
	s.heat[q] += s.step
	if s.heapAt[q] >= 0 {
		s.up(s.heapAt[q])
	}
}

// cool scales all heat down before it overflows.
func (s *searcher) cool() {
	for q := range s.heat {
		s.heat[q] *= 1e-100
	}
	s.step *= 1e-100
}

// hottest takes the open question with the most heat out of the heap; -1 if none is open.
func (s *searcher) hottest() int32 {
	for len(s.heap) > 0 {
		q := s.heap[0]
		last := s.heap[len(s.heap)-1]
		s.heap = s.heap[:len(s.heap)-1]
		s.heapAt[q] = -1
		if q != last {
			s.heap[0] = last
			s.heapAt[last] = 0
			s.down(0)
		}
		if s.value[2*q] == 0 {
			return q
		}
	}
	return -1
}

func (s *searcher) push(q int32) {
	s.heapAt[q] = int32(len(s.heap))
	s.heap = append(s.heap, q)
	s.up(s.heapAt[q])
}

// before orders the heap; the older question comes first among equals.
func (s *searcher) before(a, b int32) bool {
	return s.heat[a] > s.heat[b] || s.heat[a] == s.heat[b] && a < b
}

func (s *searcher) up(at int32) {
	q := s.heap[at]
	for at > 0 {
		parent := (at - 1) / 2
		if !s.before(q, s.heap[parent]) {
			break
		}
		s.heap[at] = s.heap[parent]
		s.heapAt[s.heap[at]] = at
		at = parent
	}
	s.heap[at] = q
	s.heapAt[q] = at
}

func (s *searcher) down(at int32) {
	q := s.heap[at]
	for {
		child := 2*at + 1
		if child >= int32(len(s.heap)) {
			break
		}
		if child+1 < int32(len(s.heap)) && s.before(s.heap[child+1], s.heap[child]) {
			child++
		}
		if !s.before(s.heap[child], q) {
			break
		}
		s.heap[at] = s.heap[child]
		s.heapAt[s.heap[at]] = at
		at = child
	}
	s.heap[at] = q
	s.heapAt[q] = at
}
