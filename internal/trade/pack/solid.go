package pack

import "fmt"

// solid is one body of a problem made ready for a proof: an item, or a block that stands already.
type solid struct {
	turns []Turn
	size  [][3]int32 // by turn
	air   [][6]int32 // by turn
	// The body's lower corner lies from low to high, in one turn or another; wall holds the limits by turn.
	low, high [3]int32
	wall      [][6]int32 // by turn: least and greatest coordinate along x, y and z
	rail      int
	offset    int32 // y of the body above the rail's own line
	block     bool
	kind      int // bodies of one kind can't be told apart; each kind's first one's index
}

// task is a problem made ready for a proof: lengths divided by what divides them all, which loses no arrangement that matters, as
// everything can be pushed to the left, down and back until it rests on something.
type task struct {
	p      *Problem
	solids []solid // items first, in their order, then blocks
	room   [3]int32
	unit   [3]int
	apart  map[[2]int]int32 // by pair of solids, the smaller first
	rails  map[int]int32    // height of the tallest body on each rail
	aired  bool
}

// prepare makes a task of the problem. no tells that the problem has no answer for a plain reason, wrong that it makes no sense.
func prepare(p *Problem) (t *task, no, wrong string) {
	return prepareFor(p, false)
}

// prepareFor is prepare; with wires a turn also counts that only moves a pin.
func prepareFor(p *Problem, wires bool) (t *task, no, wrong string) {
	if wrong = senseless(p); wrong != "" {
		return nil, "", wrong
	}
	t = &task{p: p, apart: map[[2]int]int32{}, rails: map[int]int32{}}
	t.findUnits()
	for axis := range 3 {
		t.room[axis] = int32(p.Room[axis] / t.unit[axis])
	}
	for _, a := range p.Aparts {
		key := [2]int{min(a.A, a.B), max(a.A, a.B)}
		t.apart[key] = max(t.apart[key], int32(a.Distance/t.unit[0]))
	}
	for _, it := range p.Items {
		if it.Rail != 0 {
			t.rails[it.Rail] = max(t.rails[it.Rail], int32(it.onRail()/t.unit[1]))
		}
	}
	for n := range p.Items {
		turns := p.Items[n].turns()
		if wires {
			turns = p.wiredTurns(n)
		}
		s, fits := t.solidOf(&p.Items[n], turns)
		if !fits {
			return nil, fmt.Sprintf("item %d has no place by itself, whatever the others do", n), ""
		}
		s.kind = n
		for m := range n {
			if t.alike(m, n) {
				s.kind = t.solids[m].kind
				break
			}
		}
		t.solids = append(t.solids, s)
	}
	for _, b := range p.Blocks {
		s := solid{turns: []Turn{AsGiven}, size: make([][3]int32, 1), air: make([][6]int32, 1), wall: make([][6]int32, 1), block: true}
		for axis := range 3 {
			at := int32(b.At[axis] / t.unit[axis])
			s.size[0][axis] = int32(b.Size[axis] / t.unit[axis])
			s.low[axis], s.high[axis] = at, at
			s.wall[0][2*axis], s.wall[0][2*axis+1] = at, at
		}
		s.kind = len(t.solids)
		t.solids = append(t.solids, s)
	}
	return t, "", ""
}

// onRail is the height of an item as it is mounted on its rail.
func (it *Item) onRail() int {
	turn := AsGiven
	if it.Fixed != nil {
		turn = it.Fixed.Turn
	}
	size, _ := it.turned(turn)
	return size[1]
}

// longest is the greatest length that a proof handles: sums of it stay within 32 bits.
const longest = 1 << 27

// senseless returns what makes the problem one that can't be asked, or "".
func senseless(p *Problem) string {
	bad := func(v Vec, least, greatest int) bool {
		for _, x := range v {
			if x < least || x > greatest {
				return true
			}
		}
		return false
	}
	if bad(p.Room, 0, longest) {
		return fmt.Sprintf("the room's sides must lie between 0 and %d", longest)
	}
	parity := map[int]int{}
	for n, it := range p.Items {
		if bad(it.Size, 1, longest) {
			return fmt.Sprintf("the sides of item %d must lie between 1 and %d", n, longest)
		}
		for _, air := range it.Air {
			if air < 0 || air > longest {
				return fmt.Sprintf("the air of item %d must lie between 0 and %d", n, longest)
			}
		}
		if it.Fixed != nil && (it.Fixed.Turn < AsGiven || it.Fixed.Turn > TurnZXY || bad(it.Fixed.At, -longest, longest)) {
			return fmt.Sprintf("the place of item %d makes no sense", n)
		}
		if bad(it.From, -longest, longest) || bad(it.To, -longest, longest) {
			return fmt.Sprintf("the limits of item %d make no sense", n)
		}
		if it.Rail < 0 {
			return fmt.Sprintf("the rail of item %d is negative", n)
		}
		if it.Rail > 0 {
			odd := 1 + it.onRail()&1
			if before := parity[it.Rail]; before != 0 && before != odd {
				return fmt.Sprintf("the heights of the items on rail %d are odd and even, so that their middles never meet in whole units; use half the unit", it.Rail)
			}
			parity[it.Rail] = odd
		}
	}
	for n, b := range p.Blocks {
		if bad(b.Size, 0, longest) || bad(b.At, -longest, longest) {
			return fmt.Sprintf("block %d makes no sense", n)
		}
	}
	for _, a := range p.Aparts {
		if a.A < 0 || a.B < 0 || a.A >= len(p.Items) || a.B >= len(p.Items) || a.A == a.B || a.Distance < 0 || a.Distance > longest {
			return "two items are kept apart that aren't two items of the problem"
		}
	}
	return ""
}

// findUnits finds, for each axis, the greatest length that divides every length that a pushed-together arrangement is a sum of. The
// room's far walls and upper limits don't count: they only cut off.
func (t *task) findUnits() {
	p := t.p
	turned := false
	unit := [3]int{}
	put := func(axis, length int) { unit[axis] = commonDivisor(unit[axis], max(length, -length)) }
	for _, it := range p.Items {
		for _, turn := range it.turns() {
			turned = turned || turn != AsGiven
			size, air := it.turned(turn)
			for axis := range 3 {
				put(axis, size[axis])
				put(axis, air[2*axis])
				put(axis, air[2*axis+1])
			}
		}
		for axis := range 3 {
			put(axis, it.From[axis])
			if it.Fixed != nil {
				put(axis, it.Fixed.At[axis])
			}
		}
		if it.Rail != 0 {
			// Offsets on a rail are half the difference of two heights.
			for _, other := range p.Items {
				if other.Rail == it.Rail {
					put(1, (other.onRail()-it.onRail())/2)
				}
			}
		}
	}
	for _, b := range p.Blocks {
		for axis := range 3 {
			put(axis, b.At[axis])
			put(axis, b.Size[axis])
		}
	}
	for _, a := range p.Aparts {
		put(0, a.Distance)
		put(1, a.Distance)
	}
	if len(p.Aparts) > 0 || turned {
		g := commonDivisor(unit[0], unit[1])
		unit[0], unit[1] = g, g
	}
	for axis := range 3 {
		t.unit[axis] = max(unit[axis], 1)
	}
}

// solidOf makes a solid of an item that may take these turns. It reports false if no turn leaves the item a place.
func (t *task) solidOf(it *Item, turns []Turn) (solid, bool) {
	s := solid{rail: it.Rail}
	if it.Rail != 0 {
		s.offset = (t.rails[it.Rail] - int32(it.onRail()/t.unit[1])) / 2
	}
next:
	for _, turn := range turns {
		size, air := it.turned(turn)
		var sz [3]int32
		var gaps, wall [6]int32
		for axis := range 3 {
			sz[axis] = int32(size[axis] / t.unit[axis])
			low, high := it.From[axis], t.p.Room[axis]-size[axis]
			near, far := air[2*axis], air[2*axis+1]
			gaps[2*axis], gaps[2*axis+1] = int32(near/t.unit[axis]), int32(far/t.unit[axis])
			if t.p.Open[2*axis] {
				near = 0
			}
			if t.p.Open[2*axis+1] {
				far = 0
			}
			low, high = max(low, near), high-far
			if it.To != (Vec{}) {
				high = min(high, it.To[axis])
			}
			if it.Fixed != nil {
				low, high = max(low, it.Fixed.At[axis]), min(high, it.Fixed.At[axis])
			}
			if low > high {
				continue next
			}
			wall[2*axis], wall[2*axis+1] = ceiling(low, t.unit[axis]), floor(high, t.unit[axis])
			if wall[2*axis] > wall[2*axis+1] {
				continue next
			}
		}
		s.turns = append(s.turns, turn)
		s.size = append(s.size, sz)
		s.air = append(s.air, gaps)
		s.wall = append(s.wall, wall)
		t.aired = t.aired || gaps != [6]int32{}
	}
	if len(s.turns) == 0 {
		return s, false
	}
	for axis := range 3 {
		s.low[axis], s.high[axis] = s.wall[0][2*axis], s.wall[0][2*axis+1]
		for _, wall := range s.wall {
			s.low[axis], s.high[axis] = min(s.low[axis], wall[2*axis]), max(s.high[axis], wall[2*axis+1])
		}
	}
	return s, true
}

func floor(a, b int) int32 {
	q := a / b
	if a%b < 0 {
		q--
	}
	return int32(q)
}

func ceiling(a, b int) int32 { return -floor(-a, b) }

// alike reports whether two items can't be told apart in a question of fit.
func (t *task) alike(a, b int) bool {
	x, y := &t.p.Items[a], &t.p.Items[b]
	if x.Fixed != nil || y.Fixed != nil || x.Air != y.Air || x.AirStays != y.AirStays || x.Rail != y.Rail || x.From != y.From || x.To != y.To || len(t.apart) > 0 {
		return false
	}
	if x.Size == y.Size && x.Turns == y.Turns {
		return true
	}
	// Bricks given in different positions are the same if all turns are allowed, and so are plates that may be turned by a quarter.
	if x.Turns != y.Turns || x.Turns == Unturned || x.Rail != 0 || x.Air != [6]int{} {
		return false
	}
	if x.Turns == QuarterTurns {
		return x.Size[0] == y.Size[1] && x.Size[1] == y.Size[0] && x.Size[2] == y.Size[2]
	}
	return sorted(x.Size) == sorted(y.Size)
}

func sorted(v Vec) Vec {
	a, b, c := min(v[0], v[1], v[2]), 0, max(v[0], v[1], v[2])
	b = v[0] + v[1] + v[2] - a - c
	return Vec{a, b, c}
}
