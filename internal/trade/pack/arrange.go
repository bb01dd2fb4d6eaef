package pack

import "math/rand/v2"

// arrange looks for places for all items by moving one at a time to where it is least in the others' way. Whatever clashes for long
// weighs ever more, which drives the search out of dead ends (guided local search: Voudouris and Tsang 1999; for packing Faroe,
// Pisinger and Zachariasen 2003). It proves nothing: ok is false when the steps are used up.
func arrange(p *Problem, o Options) (places []Place, ok bool) {
	t, fits := wholeUnits(p)
	if !fits {
		return nil, false
	}
	y := newYard(t, o.Seed)
	steps := o.Steps
	if steps == 0 {
		steps = 200_000
	}
	round := int64(400 + 60*y.items)
	for taken := int64(0); taken < steps; {
		y.strew()
		for end := min(steps, taken+round); taken < end; taken++ {
			if taken&63 == 63 && o.stopped() {
				return nil, false
			}
			if !y.step() {
				return y.places(), true
			}
		}
		round += round / 4
	}
	return nil, false
}

// wholeUnits makes a task of the problem in the caller's own unit, for searches in which not everything is pushed together. It
// reports false if an item has no place by itself, or if the problem makes no sense.
func wholeUnits(p *Problem) (*task, bool) {
	if senseless(p) != "" {
		return nil, false
	}
	t := &task{p: p, unit: [3]int{1, 1, 1}, apart: map[[2]int]int32{}, rails: map[int]int32{}}
	for axis := range 3 {
		t.room[axis] = int32(p.Room[axis])
	}
	for _, a := range p.Aparts {
		key := [2]int{min(a.A, a.B), max(a.A, a.B)}
		t.apart[key] = max(t.apart[key], int32(a.Distance))
	}
	for n := range p.Items {
		if it := &p.Items[n]; it.Rail != 0 {
			t.rails[it.Rail] = max(t.rails[it.Rail], int32(it.onRail()))
		}
	}
	for n := range p.Items {
		s, fits := t.solidOf(&p.Items[n], p.wiredTurns(n))
		if !fits {
			return nil, false
		}
		t.solids = append(t.solids, s)
	}
	for _, b := range p.Blocks {
		s := solid{turns: []Turn{AsGiven}, size: make([][3]int32, 1), air: make([][6]int32, 1), wall: make([][6]int32, 1), block: true}
		for axis := range 3 {
			s.size[0][axis] = int32(b.Size[axis])
			s.low[axis], s.high[axis] = int32(b.At[axis]), int32(b.At[axis])
			s.wall[0][2*axis], s.wall[0][2*axis+1] = s.low[axis], s.low[axis]
		}
		t.solids = append(t.solids, s)
	}
	return t, true
}

// far is more than any distance.
const far = 1 << 28

// lain is a body as it lies at the moment.
type lain struct {
	at, size [3]int32
	air      [6]int32
	turn     int // index into the solid's turns
}

// yard is an arrangement in the making, in which bodies may still clash.
type yard struct {
	t      *task
	bodies []lain // items first, then blocks
	items  int
	apart  []int32 // by pair: distance to keep
	never  []uint8 // by pair i, j: bit axis is set if i can't lie before j along that axis
	lack   []int32 // by pair: how far they are from lying right
	weight []int32 // by pair
	// crew is what moves with an item along y: all that hang on its rail.
	crew   [][]int
	stuck  []bool // items with no freedom
	chance *rand.Rand
	bad    [][2]int // pairs that clash, made anew when wanted
	near   []beside
	// Where wires pull, a clash of 1 weighs scale times its weight against them.
	scale int64
	pulls [][]pull
	taut  []strain
	tries []int32
}

// beside is what a body that is moved along an axis meets in another, as a function of where it comes to lie.
type beside struct {
	at, size   int32 // of the other
	own        int32 // size of the one that is moved, and its place above the mover's
	plus       int32
	before     int32 // gap to the other if the mover lies before it, and behind it
	behind     int32
	still      int32 // what is lacking whatever the axis does
	across     int32 // what is lacking along the nearer of the other axes
	noBefore   bool
	noBehind   bool
	apart      int32 // distance to keep, or 0; apartStill is what is lacking for it along the other axis
	apartStill int32
	weight     int32
}

func newYard(t *task, seed uint64) *yard {
	n := len(t.solids)
	y := &yard{t: t, bodies: make([]lain, n), items: len(t.p.Items), apart: make([]int32, n*n), never: make([]uint8, n*n),
		lack: make([]int32, n*n), weight: make([]int32, n*n), crew: make([][]int, n), stuck: make([]bool, n), scale: 1,
		chance: rand.New(rand.NewPCG(seed, 0x9e3779b97f4a7c15))}
	for i := range n {
		a := &t.solids[i]
		y.stuck[i] = a.block || len(a.turns) == 1 && a.low == a.high
		y.crew[i] = []int{i}
		for j := range n {
			b := &t.solids[j]
			y.apart[i*n+j] = t.apart[[2]int{min(i, j), max(i, j)}]
			if a.rail != 0 && a.rail == b.rail && i != j {
				y.crew[i] = append(y.crew[i], j)
			}
			for axis := range 3 {
				least := a.size[0][axis]
				for _, size := range a.size {
					least = min(least, size[axis])
				}
				if a.low[axis]+least > b.high[axis] {
					y.never[i*n+j] |= 1 << axis
				}
			}
		}
	}
	return y
}

// lay gives a body a turn.
func (y *yard) lay(n, turn int) {
	s, b := &y.t.solids[n], &y.bodies[n]
	b.turn, b.size, b.air = turn, s.size[turn], s.air[turn]
}

// strew begins anew: every item at a place by chance, the large ones first and each at once moved to where it clashes least.
func (y *yard) strew() {
	for i := range y.weight {
		y.weight[i] = 1
	}
	for n := range y.bodies {
		s := &y.t.solids[n]
		y.lay(n, y.chance.IntN(len(s.turns)))
		y.throw(n)
	}
	y.measure()
}

// throw puts an item anywhere within its limits; all on a rail go to the same line.
func (y *yard) throw(n int) {
	s, b := &y.t.solids[n], &y.bodies[n]
	wall := s.wall[b.turn]
	for axis := range 3 {
		b.at[axis] = wall[2*axis] + y.chance.Int32N(wall[2*axis+1]-wall[2*axis]+1)
	}
	if s.rail == 0 {
		return
	}
	low, high := y.limits(n, 1)
	line := low + y.chance.Int32N(max(high-low, 0)+1) - s.offset
	for _, m := range y.crew[n] {
		y.bodies[m].at[1] = line + y.t.solids[m].offset
	}
}

// limits returns between which coordinates an item may be moved along the axis, with what moves along with it.
func (y *yard) limits(n, axis int) (low, high int32) {
	wall := &y.t.solids[n].wall[y.bodies[n].turn]
	low, high = wall[2*axis], wall[2*axis+1]
	if axis == 1 && len(y.crew[n]) > 1 {
		for _, m := range y.crew[n][1:] {
			plus := y.t.solids[m].offset - y.t.solids[n].offset
			wall := &y.t.solids[m].wall[y.bodies[m].turn]
			low, high = max(low, wall[2]-plus), min(high, wall[3]-plus)
		}
	}
	return low, high
}

// alongAxis returns what two bodies lack to be clear of each other along an axis, with no gap and with their air: negative or 0 if
// they are.
func (y *yard) alongAxis(i, j, axis int) (touch, air int32) {
	a, b := &y.bodies[i], &y.bodies[j]
	n := len(y.bodies)
	touch, air = far, far
	if y.never[i*n+j]>>axis&1 == 0 {
		touch = a.at[axis] + a.size[axis] - b.at[axis]
		air = touch + max(a.air[2*axis+1], b.air[2*axis])
	}
	if y.never[j*n+i]>>axis&1 == 0 {
		behind := b.at[axis] + b.size[axis] - a.at[axis]
		touch = min(touch, behind)
		air = min(air, behind+max(b.air[2*axis+1], a.air[2*axis]))
	}
	return touch, air
}

// clash returns how far two bodies are from lying right: 0 if they do.
func (y *yard) clash(i, j int) int32 {
	var touch [3]int32
	lack := int32(far)
	for axis := range 3 {
		var air int32
		touch[axis], air = y.alongAxis(i, j, axis)
		lack = min(lack, max(air, 0))
	}
	for axis := range 3 {
		lack = min(lack, max(touch[axis], 0)+max(touch[(axis+1)%3], 0))
	}
	if d := y.apart[i*len(y.bodies)+j]; d > 0 {
		lack = max(lack, min(touch[0], touch[1])+d)
	}
	return lack
}

// measure finds all clashes anew.
func (y *yard) measure() {
	for i := range y.items {
		y.measureOf(i)
	}
}

// measureOf finds the clashes of one item anew.
func (y *yard) measureOf(i int) {
	n := len(y.bodies)
	for j := range n {
		if i != j {
			c := y.clash(i, j)
			y.lack[i*n+j], y.lack[j*n+i] = c, c
		}
	}
}

// clashing lists the pairs that clash, of which at least one can move.
func (y *yard) clashing() [][2]int {
	y.bad = y.bad[:0]
	n := len(y.bodies)
	for i := range y.items {
		for j := i + 1; j < n; j++ {
			if y.lack[i*n+j] > 0 {
				y.bad = append(y.bad, [2]int{i, j})
			}
		}
	}
	return y.bad
}

// meet lists what a body meets when it and its crew are moved along the axis, and the least cost that remains whatever the place.
func (y *yard) meet(n, axis int) {
	y.near = y.near[:0]
	count := len(y.bodies)
	crew := y.crew[n][:1]
	if axis == 1 {
		crew = y.crew[n]
	}
	u, v := (axis+1)%3, (axis+2)%3
	for _, i := range crew {
		a := &y.bodies[i]
		for j := range count {
			if j == i || axis == 1 && len(crew) > 1 && y.t.solids[j].rail == y.t.solids[i].rail && !y.t.solids[j].block {
				continue
			}
			touchU, airU := y.alongAxis(i, j, u)
			touchV, airV := y.alongAxis(i, j, v)
			touchU, touchV = max(touchU, 0), max(touchV, 0)
			b := beside{still: max(min(airU, airV, touchU+touchV), 0), across: min(touchU, touchV), apart: y.apart[i*count+j]}
			if b.apart > 0 {
				switch axis {
				case 0:
					b.apartStill = touchU + b.apart
				case 1:
					b.apartStill = touchV + b.apart
				default:
					b.apart = 0
				}
				if axis == 0 || axis == 1 {
					other := 1 - axis
					touch, _ := y.alongAxis(i, j, other)
					b.apartStill = max(touch+b.apart, 0)
					if b.apartStill == 0 {
						b.apart = 0
					}
				}
			}
			if b.still == 0 && b.apart == 0 {
				continue
			}
			o := &y.bodies[j]
			b.at, b.size, b.own, b.plus = o.at[axis], o.size[axis], a.size[axis], a.at[axis]-y.bodies[n].at[axis]
			b.before, b.behind = max(a.air[2*axis+1], o.air[2*axis]), max(o.air[2*axis+1], a.air[2*axis])
			b.noBefore, b.noBehind = y.never[i*count+j]>>axis&1 == 1, y.never[j*count+i]>>axis&1 == 1
			b.weight = y.weight[i*count+j]
			y.near = append(y.near, b)
		}
	}
}

// cost returns the weighted clashes if the mover lies at the coordinate, or more than the limit.
func (y *yard) cost(at int32, limit int64) int64 {
	sum := y.wireAt(at)
	if sum > limit {
		return sum
	}
	for n := range y.near {
		b := &y.near[n]
		touch, air := int32(far), int32(far)
		if !b.noBefore {
			touch = at + b.plus + b.own - b.at
			air = touch + b.before
		}
		if !b.noBehind {
			behind := b.at + b.size - at - b.plus
			touch, air = min(touch, behind), min(air, behind+b.behind)
		}
		lack := min(b.still, max(air, 0), max(touch, 0)+b.across)
		if b.apart > 0 {
			lack = max(lack, min(b.apartStill, touch+b.apart))
		}
		if lack > 0 {
			sum += int64(lack) * int64(b.weight) * y.scale
			if sum > limit {
				return sum
			}
		}
	}
	return sum
}

// best finds the coordinate along the axis at which the item, with its crew, clashes least; among equals one by chance.
func (y *yard) best(n, axis int) (at int32, cost int64) {
	low, high := y.limits(n, axis)
	y.meet(n, axis)
	y.tries = append(y.tries[:0], low, high)
	for m := range y.near {
		b := &y.near[m]
		front, back := b.at-b.own-b.plus, b.at+b.size-b.plus
		y.tries = append(y.tries, front-b.before, back+b.behind)
		if b.across < b.still && b.before > 0 {
			y.tries = append(y.tries, front)
		}
		if b.across < b.still && b.behind > 0 {
			y.tries = append(y.tries, back)
		}
		if b.apart > 0 {
			y.tries = append(y.tries, front-b.apart, back+b.apart)
		}
	}
	if y.pulls != nil {
		y.strains(n, axis)
		for _, s := range y.taut {
			y.tries = append(y.tries, -s.off>>1)
		}
	}
	at, cost = y.bodies[n].at[axis], int64(1)<<62
	equals := 0
	for _, v := range y.tries {
		if v < low || v > high {
			continue
		}
		switch c := y.cost(v, cost); {
		case c < cost:
			at, cost, equals = v, c, 1
		case c == cost && v != at:
			equals++
			if y.chance.IntN(equals) == 0 {
				at = v
			}
		}
	}
	return at, cost
}

// move puts the item at the coordinate, with its crew.
func (y *yard) move(n, axis int, at int32) {
	by := at - y.bodies[n].at[axis]
	crew := y.crew[n][:1]
	if axis == 1 {
		crew = y.crew[n]
	}
	for _, m := range crew {
		y.bodies[m].at[axis] += by
	}
}

// costOf is the item's weighted clashes where it lies.
func (y *yard) costOf(n int) int64 {
	sum := int64(0)
	count := len(y.bodies)
	for _, i := range y.crew[n] {
		for j := range count {
			if j != i {
				sum += int64(y.lack[i*count+j]) * int64(y.weight[i*count+j]) * y.scale
			}
		}
	}
	return sum
}

// step takes one clash and tries to end it. It reports false if there is none.
func (y *yard) step() bool {
	bad := y.clashing()
	if len(bad) == 0 {
		return false
	}
	pair := bad[y.chance.IntN(len(bad))]
	n := pair[y.chance.IntN(2)]
	if y.stuck[n] {
		n = pair[0] + pair[1] - n
	}
	if y.stuck[n] {
		return true
	}
	before := y.costOf(n)
	if y.pulls != nil {
		before += y.wireOf(n)
	}
	was := y.bodies[n]
	type choice struct {
		turn int
		axis int
		at   [3]int32
	}
	bestCost := int64(1) << 62
	var best choice
	turns := len(y.t.solids[n].turns)
	for k := range turns {
		turn := (was.turn + k) % turns
		y.bodies[n] = was
		if turn != was.turn {
			y.lay(n, turn)
			// It turns about its middle, as far as its limits let it.
			wall := &y.t.solids[n].wall[turn]
			for axis := range 3 {
				at := was.at[axis] + (was.size[axis]-y.bodies[n].size[axis])/2
				y.bodies[n].at[axis] = min(max(at, wall[2*axis]), wall[2*axis+1])
			}
		}
		wires := int64(0)
		if y.pulls != nil {
			wires = y.wireOf(n)
		}
		for axis := range 3 {
			if s := &y.t.solids[n]; s.wall[turn][2*axis] == s.wall[turn][2*axis+1] {
				continue
			}
			at, cost := y.best(n, axis)
			if y.pulls != nil {
				cost += wires - y.wireAt(y.bodies[n].at[axis])
			}
			// What moves along the other axes doesn't include the crew's own clashes.
			if axis != 1 && len(y.crew[n]) > 1 {
				cost += y.costOf(n) - y.costAlone(n)
			}
			if cost < bestCost {
				bestCost = cost
				best = choice{turn, axis, y.bodies[n].at}
				best.at[axis] = at
			}
		}
	}
	y.bodies[n] = was
	if bestCost >= before {
		count := len(y.bodies)
		for _, pair := range bad {
			y.weight[pair[0]*count+pair[1]]++
			y.weight[pair[1]*count+pair[0]]++
		}
		if bestCost > before || y.chance.IntN(2) == 0 {
			return true
		}
	}
	if bestCost < int64(1)<<62 {
		y.lay(n, best.turn)
		for axis := range 3 {
			if axis == 1 {
				y.move(n, axis, best.at[axis])
			} else {
				y.bodies[n].at[axis] = best.at[axis]
			}
		}
		for _, m := range y.crew[n] {
			y.measureOf(m)
		}
	}
	return true
}

// costAlone is the weighted clashes of one item without its crew.
func (y *yard) costAlone(n int) int64 {
	sum := int64(0)
	count := len(y.bodies)
	for j := range count {
		if j != n {
			sum += int64(y.lack[n*count+j]) * int64(y.weight[n*count+j]) * y.scale
		}
	}
	return sum
}

// places reads the arrangement.
func (y *yard) places() []Place {
	list := make([]Place, y.items)
	for n := range list {
		b := &y.bodies[n]
		list[n].Turn = y.t.solids[n].turns[b.turn]
		for axis := range 3 {
			list[n].At[axis] = int(b.at[axis])
		}
	}
	return list
}
