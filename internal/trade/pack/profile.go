package pack

import "slices"

// profile watches how much of the room's height (in a solid room, of its cross-section) the bodies take up along an axis. Bodies
// that all stand in one column must find room one above another in it, in whatever order: the questions of who lies beside whom
// would have to try each order, a sum sees it at once. The sums are over windows of the axis (energetic reasoning: Baptiste, Le
// Pape and Nuijten 2001), explained to the searcher by the bounds that they rest on.
type profile struct {
	parts  []profilePart
	height int64
	active []int32 // parts that can't avoid the window, while one is looked at
	window []profileWindow
	edges  [2][]int32 // where windows begin and end
}

// profilePart is a body along the axis.
type profilePart struct {
	number, plus int32
	turns        []literal
	length       []int32 // by turn
	tall         []int64 // by turn: how much of the height it takes
	least        int32   // length in any turn
	lowest       int64   // height in any turn
}

// profileWindow is a part as it stands now.
type profileWindow struct {
	first, last int32 // least and greatest coordinate
	length      int32
	tall        int64
	turn        literal // what length and tall rest on
}

// newProfile makes the profile along an axis of boxes that never overlap.
func (m *model) newProfile(c crate, axis int) profile {
	u, v := (axis+1)%3, (axis+2)%3
	p := profile{height: int64(c.room[u]) * int64(c.room[v])}
	for n := range c.boxes {
		at := m.at[n][axis]
		part := profilePart{number: at.number, plus: at.plus, turns: m.turn[n]}
		for turn, size := range c.boxes[n] {
			length, tall := int32(size[axis]), int64(size[u])*int64(size[v])
			part.length, part.tall = append(part.length, length), append(part.tall, tall)
			if turn == 0 {
				part.least, part.lowest = length, tall
			}
			part.least, part.lowest = min(part.least, length), min(part.lowest, tall)
		}
		p.parts = append(p.parts, part)
	}
	p.window = make([]profileWindow, len(p.parts))
	return p
}

// overlap is how long a stretch of the window from a to b the part can't help lying in.
func (w *profileWindow) overlap(a, b int32) int32 {
	return max(0, min(b-a, w.length, w.first+w.length-a, b-w.last))
}

// check looks at the windows between the bodies' bounds. It reports false, with the clash, if one is too full.
func (s *searcher) check(p *profile) bool {
	p.edges[0], p.edges[1] = p.edges[0][:0], p.edges[1][:0]
	for n := range p.parts {
		part := &p.parts[n]
		number := &s.numbers[part.number]
		w := profileWindow{first: number.values[number.low] + part.plus, last: number.values[number.high] + part.plus,
			length: part.least, tall: part.lowest, turn: yes}
		if len(part.turns) > 1 {
			for turn, l := range part.turns {
				if s.value[l] > 0 {
					w.length, w.tall, w.turn = part.length[turn], part.tall[turn], l
				}
			}
		}
		p.window[n] = w
		p.edges[0] = once(p.edges[0], w.first)
		if w.last < w.first+w.length {
			p.edges[0] = once(p.edges[0], w.last)
			p.edges[1] = once(p.edges[1], w.first+w.length)
		}
		p.edges[1] = once(p.edges[1], w.last+w.length)
	}
	slices.Sort(p.edges[1])
	for _, a := range p.edges[0] {
		// Of each part, the length that it can't help having behind a.
		p.active = p.active[:0]
		total := int64(0)
		for n := range p.window {
			w := &p.window[n]
			if behind := min(w.length, w.first+w.length-a); behind > 0 {
				p.active = append(p.active, int32(n))
				total += w.tall * int64(behind)
			}
		}
		for _, b := range p.edges[1] {
			if b <= a {
				continue
			}
			energy := -p.height * int64(b-a)
			if total+energy <= 0 {
				break // nor in any longer window
			}
			for _, n := range p.active {
				w := &p.window[n]
				energy += w.tall * int64(w.overlap(a, b))
			}
			if energy > 0 {
				s.explainWindow(p, a, b, energy-1)
				return false
			}
		}
	}
	return true
}

// once adds a value to a list that doesn't have it.
func once(list []int32, v int32) []int32 {
	for _, x := range list {
		if x == v {
			return list
		}
	}
	return append(list, v)
}

// explainWindow makes the clash of a window that is too full by spare + 1. Parts that the spare makes up for are left out, and one
// bound is loosened by what remains.
func (s *searcher) explainWindow(p *profile, a, b int32, spare int64) {
	s.clash = s.clash[:0]
	p.active = p.active[:0]
	for n := range p.window {
		if p.window[n].overlap(a, b) > 0 {
			p.active = append(p.active, int32(n))
		}
	}
	for {
		drop, most := -1, int64(0)
		for i, n := range p.active {
			w := &p.window[n]
			if e := w.tall * int64(w.overlap(a, b)); e <= spare && e > most {
				drop, most = i, e
			}
		}
		if drop < 0 {
			break
		}
		spare -= most
		p.active = append(p.active[:drop], p.active[drop+1:]...)
	}
	for _, n := range p.active {
		w, part := &p.window[n], &p.parts[n]
		overlap := w.overlap(a, b)
		if less := min(spare/w.tall, int64(overlap)-1); less > 0 {
			overlap -= int32(less)
			spare -= less * w.tall
		}
		number := &s.numbers[part.number]
		if w.turn != yes {
			s.clash = append(s.clash, w.turn)
		}
		// It begins no earlier than lets it reach so far into the window, and no later.
		if i := number.atMost(a + overlap - w.length - part.plus - 1); i >= 0 {
			s.clash = append(s.clash, s.upTo(part.number, i).not())
		}
		if l := s.upTo(part.number, number.atMost(b-overlap-part.plus)); l != yes {
			s.clash = append(s.clash, l)
		}
	}
}
