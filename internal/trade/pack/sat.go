package pack

// The searcher below settles true-or-false questions by learning a clause from every dead end, and knows whole numbers besides: a
// number x is a row of questions "x is at most v", and a difference "x + c is at most y" passes bounds from one to the other. It is
// what Fit's proofs rest on, so it is kept small. The method is clause learning with two watched literals and lazily explained
// bounds (Marques-Silva and Sakallah 1999; Eén and Sörensson 2003; Ohrimenko, Stuckey and Codish 2009).

// literal is a question (its number doubled) or its contrary (the same plus one).
type literal int32

func (l literal) not() literal { return l ^ 1 }

const (
	noLiteral literal = -1
	yes       literal = 0 // always true
)

// cause is why a literal is true. from is the place of a clause in the arena if it isn't negative, or one of the below.
type cause struct{ from, other int32 }

const (
	decided    = -1 // it was tried, or is true from the start
	byOther    = -2 // the literal in other implies it
	difference = -3 // difference number difference-from; other is the index of the lower bound that x had, where a guard was refuted
)

// number is a whole number to be found, one of values.
type number struct {
	values []int32
	first  int32 // question "at most values[0]"; there is none for the last value, which is always so
	// It lies from values[low] to values[high].
	low, high int32
	table     []int32 // index of the greatest value not above values[0]+i
	asX, asY  []int32 // the differences in which it is x, and y
}

// atMost returns the index of the greatest value not above v, or -1.
func (n *number) atMost(v int32) int32 {
	first, last := n.values[0], n.values[len(n.values)-1]
	switch {
	case v < first:
		return -1
	case v >= last:
		return int32(len(n.values)) - 1
	case n.table != nil:
		return n.table[v-first]
	}
	lo, hi := 0, len(n.values)-1 // values[lo] <= v < values[hi]
	for hi-lo > 1 {
		if mid := (lo + hi) / 2; n.values[mid] <= v {
			lo = mid
		} else {
			hi = mid
		}
	}
	return int32(lo)
}

// less says: if all guards are true, then x + c <= y.
type less struct {
	x, y, c int32
	guards  [3]literal // yes where there are fewer
}

type watcher struct {
	clause  int32 // place in the arena
	blocker literal
}

// A clause in the arena is its length, its quality (levels when learnt; 0 if it was given), its age mark, then its literals.
const clauseHead = 3

// searcher holds the question and the state of the search for an answer.
type searcher struct {
	value []int8 // by literal: 1 true, -1 false, 0 open
	level []int32
	why   []cause
	owner []int32 // by question: the number that it is about, or -1
	trail []literal
	marks []int32 // length of the trail at each level
	head  int     // of the trail that was looked at

	watch  [][]watcher // by literal: clauses to look at when it becomes true, since its contrary is watched
	binary [][]literal // by literal: what it implies
	arena  []int32
	learnt []int32
	waste  int

	numbers  []number
	lesses   []less
	guarded  [][]int32 // by literal: differences that it guards
	profiles []profile
	changed  []int32 // numbers whose bounds moved: 2*number for the lower one, +1 for the upper
	queued   []bool

	bad     bool      // it is refuted for good
	clash   []literal // true literals that can't all be true
	reasons []literal // a stack for antecedents
	seen    []byte
	toClear []int32
	newest  []literal // the clause being learnt
	levels  []int64   // stamps for counting levels
	stamp   int64

	heat    []float64
	heap    []int32
	heapAt  []int32
	step    float64
	phase   []bool
	restart restarts

	conflicts int64
	passed    int64 // literals looked at
}

func newSearcher() *searcher {
	s := &searcher{step: 1}
	q := s.question(-1)
	s.value[yes], s.value[yes.not()] = 1, -1
	s.why[q] = cause{decided, 0}
	s.trail = append(s.trail, yes)
	s.restart.begin()
	return s
}

// question adds a question about a number, or about none if owner is -1.
func (s *searcher) question(owner int32) int32 {
	q := int32(len(s.level))
	s.value = append(s.value, 0, 0)
	s.level = append(s.level, 0)
	s.why = append(s.why, cause{decided, 0})
	s.owner = append(s.owner, owner)
	s.watch = append(s.watch, nil, nil)
	s.binary = append(s.binary, nil, nil)
	s.guarded = append(s.guarded, nil, nil)
	s.seen = append(s.seen, 0)
	s.levels = append(s.levels, 0)
	s.heat = append(s.heat, 0)
	s.heapAt = append(s.heapAt, -1)
	s.phase = append(s.phase, owner >= 0)
	return q
}

// free adds a question of its own and returns it as a literal.
func (s *searcher) free() literal { return literal(2 * s.question(-1)) }

// number adds a whole number with the values that it may take, in rising order, at least one.
func (s *searcher) number(values []int32) int32 {
	k := int32(len(s.numbers))
	n := number{values: values, first: int32(len(s.level)), high: int32(len(values)) - 1}
	if span := values[len(values)-1] - values[0]; span < 1<<14 {
		n.table = make([]int32, span+1)
		at := int32(0)
		for i := range n.table {
			if at+1 < int32(len(values)) && values[at+1] <= values[0]+int32(i) {
				at++
			}
			n.table[i] = at
		}
	}
	s.numbers = append(s.numbers, n)
	s.queued = append(s.queued, false, false)
	for range len(values) - 1 {
		s.question(k)
	}
	return k
}

// upTo is the literal "number k is at most values[i]".
func (s *searcher) upTo(k, i int32) literal {
	if i >= int32(len(s.numbers[k].values))-1 {
		return yes
	}
	if i < 0 {
		return yes.not()
	}
	return literal(2 * (s.numbers[k].first + i))
}

// addLess adds a difference between numbers x and y under the guards.
func (s *searcher) addLess(x, y, c int32, guards ...literal) {
	l := less{x: x, y: y, c: c, guards: [3]literal{yes, yes, yes}}
	d := int32(len(s.lesses))
	n := 0
	for _, g := range guards {
		if g == yes {
			continue
		}
		l.guards[n] = g
		n++
		s.guarded[g] = append(s.guarded[g], d)
	}
	s.lesses = append(s.lesses, l)
	s.numbers[x].asX = append(s.numbers[x].asX, d)
	s.numbers[y].asY = append(s.numbers[y].asY, d)
	if !s.bad && !s.pass(d) {
		s.bad = true
	}
}

// add adds a clause: at least one of the literals is true. It must be called before the search, or at level 0.
func (s *searcher) add(clause ...literal) {
	s.newest = s.newest[:0]
	for n, l := range clause {
		if s.value[l] > 0 {
			return
		}
		if s.value[l] < 0 {
			continue
		}
		again := false
		for _, before := range clause[:n] {
			if before == l.not() {
				return
			}
			again = again || before == l
		}
		if !again {
			s.newest = append(s.newest, l)
		}
	}
	switch len(s.newest) {
	case 0:
		s.bad = true
	case 1:
		s.set(s.newest[0], cause{decided, 0})
	case 2:
		s.pair(s.newest[0], s.newest[1])
	default:
		s.store(s.newest, 0)
	}
}

func (s *searcher) pair(a, b literal) {
	s.binary[a.not()] = append(s.binary[a.not()], b)
	s.binary[b.not()] = append(s.binary[b.not()], a)
}

// store puts a clause of three or more literals into the arena, and watches its first two.
func (s *searcher) store(clause []literal, quality int32) int32 {
	at := int32(len(s.arena))
	s.arena = append(s.arena, int32(len(clause)), quality, 0)
	for _, l := range clause {
		s.arena = append(s.arena, int32(l))
	}
	s.watch[clause[0].not()] = append(s.watch[clause[0].not()], watcher{at, clause[1]})
	s.watch[clause[1].not()] = append(s.watch[clause[1].not()], watcher{at, clause[0]})
	return at
}

// set makes an open literal true, and with it all weaker bounds of its number.
func (s *searcher) set(l literal, c cause) {
	q := int32(l >> 1)
	s.put(l, c)
	k := s.owner[q]
	if k < 0 {
		return
	}
	n := &s.numbers[k]
	i := q - n.first
	weaker := cause{byOther, int32(l)}
	if c.from <= difference {
		weaker = c // each bound is explained by the difference itself, as weakly as will do
	}
	if l&1 == 0 {
		for j := i + 1; j < n.high; j++ {
			s.put(literal(2*(n.first+j)), weaker)
		}
		n.high = i
		s.move(2*k + 1)
	} else {
		for j := i - 1; j >= n.low; j-- {
			s.put(literal(2*(n.first+j)+1), weaker)
		}
		n.low = i + 1
		s.move(2 * k)
	}
}

func (s *searcher) put(l literal, c cause) {
	q := l >> 1
	s.value[l], s.value[l^1] = 1, -1
	s.level[q] = int32(len(s.marks))
	s.why[q] = c
	s.trail = append(s.trail, l)
}

// move notes that a bound moved.
func (s *searcher) move(bound int32) {
	if !s.queued[bound] {
		s.queued[bound] = true
		s.changed = append(s.changed, bound)
	}
}

// pass passes bounds along a difference. It reports false, with the clash, if they contradict one another.
func (s *searcher) pass(d int32) bool {
	l := &s.lesses[d]
	open := noLiteral
	for _, g := range l.guards {
		switch v := s.value[g]; {
		case v > 0:
		case v < 0 || open != noLiteral && open != g:
			return true
		default:
			open = g
		}
	}
	x, y := &s.numbers[l.x], &s.numbers[l.y]
	least := x.values[x.low] + l.c
	most := y.values[y.high]
	if open != noLiteral {
		if least > most {
			s.set(open.not(), cause{difference - d, x.low})
		}
		return true
	}
	if least > most {
		s.clash = s.explainLess(s.clash[:0], l, x.low, yes)
		return false
	}
	if i := x.atMost(most - l.c); i < x.high {
		s.set(s.upTo(l.x, i), cause{difference - d, 0})
	}
	if i := y.atMost(least - 1); i >= y.low {
		s.set(s.upTo(l.y, i).not(), cause{difference - d, 0})
	}
	return true
}

// explainLess appends what makes a difference impossible: its guards but one, x not below values[low], and y as high as will do.
func (s *searcher) explainLess(to []literal, l *less, low int32, but literal) []literal {
	for _, g := range l.guards {
		if g != yes && g != but {
			to = append(to, g)
		}
	}
	x, y := &s.numbers[l.x], &s.numbers[l.y]
	if low > 0 {
		to = append(to, s.upTo(l.x, low-1).not())
	}
	if upper := s.upTo(l.y, y.atMost(x.values[low]+l.c-1)); upper != yes {
		to = append(to, upper)
	}
	return to
}

// antecedents appends true literals that together imply the true literal p, all set before it.
func (s *searcher) antecedents(to []literal, p literal) []literal {
	c := s.why[p>>1]
	switch {
	case c.from == decided:
		return to
	case c.from == byOther:
		return append(to, literal(c.other))
	case c.from >= 0:
		size := s.arena[c.from]
		for _, l := range s.arena[c.from+clauseHead : c.from+clauseHead+size] {
			if literal(l) != p {
				to = append(to, literal(l).not())
			}
		}
		return to
	}
	l := &s.lesses[difference-c.from]
	q := int32(p >> 1)
	switch k := s.owner[q]; {
	case k == l.x && p&1 == 0: // x <= values[i] since y is small
		for _, g := range l.guards {
			if g != yes {
				to = append(to, g)
			}
		}
		x := &s.numbers[k]
		upper := s.upTo(l.y, s.numbers[l.y].atMost(x.values[q-x.first+1]+l.c-1))
		if upper != yes {
			to = append(to, upper)
		}
		return to
	case k == l.y && p&1 == 1: // y > values[i] since x is large
		for _, g := range l.guards {
			if g != yes {
				to = append(to, g)
			}
		}
		y := &s.numbers[k]
		if i := s.numbers[l.x].atMost(y.values[q-y.first] - l.c); i >= 0 {
			to = append(to, s.upTo(l.x, i).not())
		}
		return to
	}
	return s.explainLess(to, l, c.other, p.not())
}

// propagate draws all simple conclusions. It reports false, with the clash, if there is a contradiction.
func (s *searcher) propagate() bool {
	for {
		for s.head < len(s.trail) {
			p := s.trail[s.head]
			s.head++
			s.passed++
			for _, q := range s.binary[p] {
				switch v := s.value[q]; {
				case v < 0:
					s.clash = append(s.clash[:0], p, q.not())
					return false
				case v == 0:
					s.set(q, cause{byOther, int32(p)})
				}
			}
			if !s.visit(p) {
				return false
			}
			for _, d := range s.guarded[p] {
				if !s.pass(d) {
					return false
				}
			}
		}
		if len(s.changed) == 0 {
			for n := range s.profiles {
				if !s.check(&s.profiles[n]) {
					return false
				}
			}
			return true
		}
		bound := s.changed[len(s.changed)-1]
		s.changed = s.changed[:len(s.changed)-1]
		s.queued[bound] = false
		list := s.numbers[bound>>1].asX
		if bound&1 == 1 {
			list = s.numbers[bound>>1].asY
		}
		for _, d := range list {
			if !s.pass(d) {
				return false
			}
		}
	}
}

// visit looks at the clauses that watch the contrary of p, which just became true.
func (s *searcher) visit(p literal) bool {
	list := s.watch[p]
	kept := 0
	for n := 0; n < len(list); n++ {
		w := list[n]
		if s.value[w.blocker] > 0 {
			list[kept] = w
			kept++
			continue
		}
		body := s.arena[w.clause+clauseHead : w.clause+clauseHead+s.arena[w.clause]]
		if literal(body[0]) == p.not() {
			body[0], body[1] = body[1], body[0]
		}
		first := literal(body[0])
		if first != w.blocker && s.value[first] > 0 {
			list[kept] = watcher{w.clause, first}
			kept++
			continue
		}
		found := false
		for i := 2; i < len(body); i++ {
			if l := literal(body[i]); s.value[l] >= 0 {
				body[1], body[i] = body[i], body[1]
				s.watch[l.not()] = append(s.watch[l.not()], watcher{w.clause, first})
				found = true
				break
			}
		}
		if found {
			continue
		}
		list[kept] = watcher{w.clause, first}
		kept++
		if s.value[first] < 0 {
			s.clash = s.clash[:0]
			for _, l := range body {
				s.clash = append(s.clash, literal(l).not())
			}
			kept += copy(list[kept:], list[n+1:])
			s.watch[p] = list[:kept]
			return false
		}
		s.set(first, cause{w.clause, 0})
	}
	s.watch[p] = list[:kept]
	return true
}

// back undoes everything above a level.
func (s *searcher) back(level int) {
	if len(s.marks) <= level {
		return
	}
	keep := int(s.marks[level])
	for n := len(s.trail) - 1; n >= keep; n-- {
		l := s.trail[n]
		q := int32(l >> 1)
		s.value[l], s.value[l^1] = 0, 0
		s.phase[q] = l&1 == 0
		if k := s.owner[q]; k >= 0 {
			number := &s.numbers[k]
			i := q - number.first
			if l&1 == 0 {
				number.high = max(number.high, i+1)
			} else {
				number.low = min(number.low, i)
			}
		}
		if s.heapAt[q] < 0 {
			s.push(q)
		}
	}
	s.trail = s.trail[:keep]
	s.marks = s.marks[:level]
	s.head = keep
	for _, bound := range s.changed {
		s.queued[bound] = false
	}
	s.changed = s.changed[:0]
}
