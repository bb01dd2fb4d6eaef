package pack

import (
	"cmp"
	"fmt"
	"slices"
)

// Least is the outcome of a search for the smallest room.
type Least struct {
	Answer
	// Room is the smallest room found; Places lie in it.
	Room Vec
	// Size is what was to be small: the area of Room for LeastBox, its height for LeastStrip.
	Size int
	// Lower is the largest figure proved that Size can't go below; equal to Size when Room is proved smallest.
	Lower int
}

// LeastBox finds the room of the least area that holds all items, whatever its width and height; p.Room counts for nothing.
//
// Rooms are tried in the order of their area. Each is refuted or filled; what can't be settled in time keeps Lower at its area. Items
// may want nothing but a place in the plane: with air, rails, fixed places, limits, blocks or distances the answer is NotFound.
func LeastBox(p *Problem, o Options) Least { return least(p, o, false) }

// LeastStrip finds the least height of a room as wide as p.Room that holds all items. It asks of them what LeastBox asks.
func LeastStrip(p *Problem, o Options) Least { return least(p, o, true) }

// Searches get more steps from round to round, so that a room that is hard to settle doesn't keep the others waiting for ever.
const (
	firstSteps = 1 << 16
	moreSteps  = 8
)

// leastSearch goes through rooms by their size.
type leastSearch struct {
	p     *Problem
	o     *Options
	f     plate // as wide and high as any room could be
	strip bool
	swaps bool  // a room turned by a quarter holds the same
	area  int64 // of all rectangles
	// Least width and height of any room.
	narrow, low     int32
	widths, heights sums // what a side of a room can be; nil if anything
	open            []*candidate
	best            Least
	steps           int64
}

// candidate is a room to be settled.
type candidate struct {
	w, h   int32
	size   int64
	search *plateSearch
	higher bool // the next higher room of the same width is a candidate as well
}

func least(p *Problem, o Options, strip bool) Least {
	q := *p
	q.Room = Vec{longestSide, longestSide, 1}
	if strip {
		q.Room[0] = min(p.Room[0], longestSide)
	}
	f, plain := plateOf(&q)
	switch {
	case !plain:
		return Least{Answer: Answer{Why: "the least room is looked for only where plain rectangles are all that is wanted"}}
	case len(p.Items) == 0:
		return Least{Answer: Answer{Verdict: Found, Why: "there is nothing to place", Places: []Place{}}, Room: Vec{0, 0, 1}}
	}
	s := &leastSearch{p: p, o: &o, f: f, strip: strip, swaps: !strip}
	s.measure()
	if strip && s.narrow > f.w {
		return Least{Answer: Answer{Verdict: Impossible, Why: "an item is wider than the strip"}}
	}
	s.firstFilled()
	if s.best.Verdict != Found {
		return s.best
	}
	s.gather()
	for limit := int64(firstSteps); s.round(limit); limit *= moreSteps {
	}
	s.best.Steps = s.steps
	return s.best
}

// measure works out what any room must have.
func (s *leastSearch) measure() {
	var w, h int64
	for _, k := range s.f.kinds {
		n := int64(len(k.items))
		s.area += k.area() * n
		a, b := k.w, k.h
		if k.turns {
			a, b = min(a, b), min(a, b)
			w, h = w+n*int64(max(k.w, k.h)), h+n*int64(max(k.w, k.h))
		} else {
			w, h = w+n*int64(a), h+n*int64(b)
			s.swaps = s.swaps && a == b
		}
		s.narrow, s.low = max(s.narrow, a), max(s.low, b)
	}
	// All that is pushed left and down makes sides that are sums of the rectangles'.
	const most = 1 << 16
	if w < most && h < most {
		s.widths, s.heights = cleared(nil, int(w>>6)+1), cleared(nil, int(h>>6)+1)
		for _, k := range s.f.kinds {
			for range k.items {
				if k.turns {
					s.widths.add(k.w, k.h)
					s.heights.add(k.h, k.w)
				} else {
					s.widths.add(k.w, 0)
					s.heights.add(k.h, 0)
				}
			}
		}
	}
}

// firstHeight is the least height of a room of the given width that isn't ruled out at a glance, and at least from.
func (s *leastSearch) firstHeight(w, from int32) int32 {
	h := max(from, s.low, int32((s.area+int64(w)-1)/int64(w)))
	if s.swaps {
		h = max(h, w)
	}
	return s.heights.above(h)
}

func (s *leastSearch) sizeOf(w, h int32) int64 {
	if s.strip {
		return int64(h)
	}
	return int64(w) * int64(h)
}

// candidate makes one of a room.
func (s *leastSearch) candidate(w, h int32) *candidate {
	f := s.f
	f.w, f.h = w, h
	f.waste = int64(w)*int64(h) - s.area
	return &candidate{w: w, h: h, size: s.sizeOf(w, h), search: &plateSearch{f: f, o: s.o}}
}

// problem is the problem in the candidate's room.
func (s *leastSearch) problem(c *candidate) *Problem {
	q := *s.p
	q.Room = Vec{int(c.w) * s.f.unit[0], int(c.h) * s.f.unit[1], 1}
	return &q
}

// firstFilled finds a room to begin with, by trying ever roomier ones.
func (s *leastSearch) firstFilled() {
	for slack := int64(0); ; slack += 1 + slack/4 {
		area := s.area + s.area*slack/100
		side := int32(1)
		for int64(side)*int64(side) < area {
			side++
		}
		for n := range int32(6) {
			w := max(s.narrow, side-side*n/10)
			if s.strip {
				w = s.f.w
			}
			h := max(s.low, int32((area+int64(w)-1)/int64(w)))
			c := s.candidate(w, h)
			v, spots := newGapAgain(c.search.f, s.o.Seed).run(s.o, 4*tryAtLeast)
			s.steps += 4 * tryAtLeast
			if v == Found {
				s.better(c, found(s.problem(c), s.f.places(s.p, spots), "the first room tried that could be filled", s.steps))
				return
			}
			if s.o.stopped() {
				s.best.Why = "stopped before any room was filled"
				return
			}
			if s.strip {
				break
			}
		}
	}
}

// better keeps a filled room, without what is free at its upper and right edge.
func (s *leastSearch) better(c *candidate, a Answer) {
	if a.Verdict != Found {
		return
	}
	room := Vec{0, 0, 1}
	for i, at := range a.Places {
		size := s.p.Items[i].Size
		if at.Turn == Quarter {
			size[0], size[1] = size[1], size[0]
		}
		room[0], room[1] = max(room[0], at.At[0]+size[0]), max(room[1], at.At[1]+size[1])
	}
	if s.strip {
		room[0] = s.p.Room[0]
	}
	size := room[1]
	if !s.strip {
		size *= room[0]
	}
	if s.best.Verdict == Found && size >= s.best.Size {
		return
	}
	s.best.Answer, s.best.Room, s.best.Size = a, room, size
	if s.o.Watch != nil {
		s.o.Watch(a)
	}
}

// unitSize is the size of the smallest change of size.
func (s *leastSearch) unitSize() int {
	if s.strip {
		return s.f.unit[1]
	}
	return s.f.unit[0] * s.f.unit[1]
}

// beats reports whether a room would be smaller than the best that was filled.
func (s *leastSearch) beats(c *candidate) bool {
	return c.size*int64(s.unitSize()) < int64(s.best.Size)
}

// gather makes the first candidate of each width.
func (s *leastSearch) gather() {
	if s.strip {
		s.push(s.candidate(s.f.w, s.firstHeight(s.f.w, 0)))
		return
	}
	for w := s.widths.above(s.narrow); w > 0; w = s.widths.above(w + 1) {
		h := s.firstHeight(w, 0)
		if int64(w)*int64(max(s.low, w*int32(boolTo(s.swaps))))*int64(s.unitSize()) >= int64(s.best.Size) {
			break
		}
		if h > 0 {
			s.push(s.candidate(w, h))
		}
	}
}

func boolTo(b bool) int {
	if b {
		return 1
	}
	return 0
}

// push keeps a candidate in the order of size, if it is smaller than the best room.
func (s *leastSearch) push(c *candidate) {
	if !s.beats(c) {
		return
	}
	at, _ := slices.BinarySearchFunc(s.open, c, bySize)
	s.open = slices.Insert(s.open, at, c)
}

func bySize(a, b *candidate) int { return cmp.Or(cmp.Compare(a.size, b.size), cmp.Compare(a.w, b.w)) }

// round gives every candidate that would be better than the best a turn; it reports whether another round could tell more.
func (s *leastSearch) round(limit int64) bool {
	var later []*candidate
	stopped := false
	for len(s.open) > 0 && s.beats(s.open[0]) {
		if stopped = s.o.stopped() || s.o.Steps > 0 && s.steps > s.o.Steps; stopped {
			break
		}
		c := s.open[0]
		s.open = slices.Delete(s.open, 0, 1)
		before := c.search.steps
		a := c.search.run(s.problem(c), limit)
		s.steps += c.search.steps - before
		switch a.Verdict {
		case Found:
			s.better(c, a)
			continue
		case NotFound:
			later = append(later, c)
		}
		if !c.higher {
			c.higher = true
			if h := s.heights.above(c.h + 1); h > 0 {
				s.push(s.candidate(c.w, h))
			}
		}
	}
	for _, c := range later {
		s.push(c)
	}
	s.open = slices.DeleteFunc(s.open, func(c *candidate) bool { return !s.beats(c) })
	if len(s.open) == 0 {
		s.best.Lower = s.best.Size
		s.best.Why = fmt.Sprintf("every smaller room was ruled out, in %d steps", s.steps)
		return false
	}
	s.best.Lower = int(s.open[0].size) * s.unitSize()
	s.best.Why = fmt.Sprintf("the smallest room filled; smaller ones, down to %d, are neither filled nor ruled out after %d steps", s.best.Lower, s.steps)
	return !stopped
}

// above is the least length in the set that is at least n, 0 if there is none; any length is in a nil set.
func (s sums) above(n int32) int32 {
	if s == nil {
		return n
	}
	for ; int(n>>6) < len(s); n++ {
		if s[n>>6]>>(uint(n)&63)&1 != 0 {
			return n
		}
	}
	return 0
}
