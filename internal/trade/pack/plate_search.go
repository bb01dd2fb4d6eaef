package pack

import "fmt"

// plateSearch settles one plate. Its searches take turns, and each turn is longer than the one before.
type plateSearch struct {
	f      plate
	o      *Options
	again  *gapAgain
	clause *race // clause learning, for plates that leave more over; nil at first
	steps  int64
}

// Searches that count on little waste are of no use where more than one part in so many stays free.
const (
	gapsUpTo    = 12
	columnsUpTo = 8
	// Clause learning is slower by step but stronger where more stays free.
	clausesFrom    = 60
	stepsPerClause = 64
)

// run gives the searches limit steps, more or less.
func (s *plateSearch) run(p *Problem, limit int64) Answer {
	f := s.f
	answer := func(v Verdict, spots []spot, why string) Answer {
		why = fmt.Sprintf("%s, in %d steps", why, s.steps)
		if v != Found {
			return Answer{Verdict: v, Why: why, Steps: s.steps}
		}
		return found(p, f.places(p, spots), why, s.steps)
	}
	if no := f.cannot(); no != "" {
		return Answer{Verdict: Impossible, Why: no}
	}
	share := f.share
	if s.clause == nil && share(clausesFrom) && f.rectangles() <= 100 {
		race, a, over := newRace(p, *s.o)
		if over && a.Verdict != NotFound {
			return a
		}
		s.clause = race
	}
	if s.again == nil {
		s.again = newGapAgain(f, s.o.Seed)
	}
	// Each search's share of the steps: where nothing may be wasted, gaps tell most.
	hasty, columns, gaps := limit/8, limit, limit/8
	switch {
	case f.waste == 0:
		hasty, columns, gaps = limit/4, limit/8, limit
	case !f.suitsColumns():
		hasty, gaps = limit, limit/2
	}
	v, spots := s.again.run(s.o, hasty)
	s.steps += hasty
	if v != NotFound || s.o.stopped() {
		return answer(v, spots, map[bool]string{true: "found by filling gaps", false: "every way of filling gaps was ruled out"}[v == Found])
	}
	if f.suitsColumns() {
		t := f
		if f.w > f.h {
			t = f.transposed()
		}
		c := newColumnSearch(t, s.o, columns)
		v := c.run()
		s.steps += c.steps
		if v == Found && f.w > f.h {
			for i, at := range c.spots {
				c.spots[i].x, c.spots[i].y = at.y, at.x
			}
		}
		if v != NotFound || s.o.stopped() {
			return answer(v, c.spots, map[bool]string{true: "found by columns", false: "every way of filling columns was ruled out"}[v == Found])
		}
	}
	if f.waste == 0 || !share(gapsUpTo) {
		g := newGapSearch(f, s.o, gaps)
		v := g.run()
		s.steps += g.steps
		if v != NotFound || s.o.stopped() {
			return answer(v, g.spots, map[bool]string{true: "found by filling gaps", false: "every way of filling gaps was ruled out"}[v == Found])
		}
	}
	if s.clause != nil {
		if a, over := s.clause.run(s.clause.model.deadEnds() + limit/stepsPerClause); over {
			return a
		}
	}
	return answer(NotFound, nil, "neither a filling nor a proof")
}

// deadEnds is how many a model met so far; none if there is no model yet.
func (m *model) deadEnds() int64 {
	if m == nil {
		return 0
	}
	return m.conflicts
}

// cannot says why a plate can't be filled, if that is plain to see.
func (f *plate) cannot() string {
	if f.waste < 0 {
		return fmt.Sprintf("the rectangles' area is greater than the room's by %d", -f.waste*int64(f.unit[0])*int64(f.unit[1]))
	}
	for _, k := range f.kinds {
		if (k.w > f.w || k.h > f.h) && (!k.turns || k.h > f.w || k.w > f.h) {
			return fmt.Sprintf("a rectangle of %d by %d is too long for the room", int(k.w)*f.unit[0], int(k.h)*f.unit[1])
		}
	}
	return ""
}

// share reports whether at least one part in n of the plate stays free.
func (f *plate) share(n int64) bool { return f.waste*n >= int64(f.w)*int64(f.h) }

// rectangles is how many are to be placed.
func (f *plate) rectangles() int {
	n := 0
	for _, k := range f.kinds {
		n += len(k.items)
	}
	return n
}

// suitsColumns reports whether the plate is of the sort that columnSearch is good at: few columns, not many items, little waste.
func (f *plate) suitsColumns() bool {
	return f.rectangles() <= 50 && max(f.w, f.h) <= 600 && !f.share(columnsUpTo)
}

// transposed is the plate with x and y swapped.
func (f *plate) transposed() plate {
	t := *f
	t.w, t.h = f.h, f.w
	t.unit = Vec{f.unit[1], f.unit[0], 1}
	t.kinds = make([]kind, len(f.kinds))
	for i, k := range f.kinds {
		t.kinds[i] = kind{w: k.h, h: k.w, turns: k.turns, items: k.items}
	}
	return t
}
