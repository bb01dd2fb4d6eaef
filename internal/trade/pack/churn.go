package pack

import (
	"math"
	"slices"
)

// pull is a wire that pulls at an item: its pin, by turn and twice the length from the item's corner, and where it comes from.
type pull struct {
	own    []Vec
	to     int // item, or -1
	toPin  []Vec
	weight int32
}

// tie lets the wires pull in the yard from now on.
func (y *yard) tie() {
	y.pulls = make([][]pull, len(y.bodies))
	offsets := func(pin Pin) []Vec {
		if pin.Item < 0 {
			return []Vec{pin.At}
		}
		it := &y.t.p.Items[pin.Item]
		list := make([]Vec, 0, 2)
		for k, turn := range y.t.solids[pin.Item].turns {
			at := Vec{}
			for axis := range at {
				switch {
				case pin.Centre:
					at[axis] = int(y.t.solids[pin.Item].size[k][axis])
				case turn == Quarter && axis == 0:
					at[axis] = 2*it.Size[1] - pin.At[1]
				default:
					at[axis] = pin.At[turnAxes[turn][axis]]
				}
			}
			list = append(list, at)
		}
		return list
	}
	for _, n := range y.t.p.Nets {
		for _, ends := range [2][2]Pin{{n.A, n.B}, {n.B, n.A}} {
			if own, other := ends[0], ends[1]; own.Item >= 0 && own.Item != other.Item && n.Weight > 0 {
				y.pulls[own.Item] = append(y.pulls[own.Item], pull{offsets(own), other.Item, offsets(other), int32(n.Weight)})
			}
		}
	}
}

// strain is one wire at the mover along an axis: its length is twice the mover's coordinate plus off, either way.
type strain struct{ off, weight int32 }

// strains lists the wires at an item and its crew, along an axis.
func (y *yard) strains(n, axis int) {
	y.taut = y.taut[:0]
	crew := y.crew[n][:1]
	if axis == 1 {
		crew = y.crew[n]
	}
	for _, i := range crew {
		for k := range y.pulls[i] {
			pl := &y.pulls[i][k]
			if pl.to >= 0 && axis == 1 && len(crew) > 1 && y.t.solids[pl.to].rail == y.t.solids[i].rail {
				continue // both ends move
			}
			off := 2*(y.bodies[i].at[axis]-y.bodies[n].at[axis]) + int32(pl.own[y.bodies[i].turn][axis])
			if pl.to >= 0 {
				off -= 2*y.bodies[pl.to].at[axis] + int32(pl.toPin[y.bodies[pl.to].turn][axis])
			} else {
				off -= int32(pl.toPin[0][axis])
			}
			y.taut = append(y.taut, strain{off, pl.weight})
		}
	}
}

// wireAt is what the strained wires cost with the mover at the coordinate.
func (y *yard) wireAt(at int32) int64 {
	sum := int64(0)
	for _, s := range y.taut {
		d := 2*at + s.off
		sum += int64(s.weight) * int64(max(d, -d))
	}
	return sum
}

// wireOf is what the wires at an item and its crew cost where it lies.
func (y *yard) wireOf(n int) int64 {
	sum := int64(0)
	for axis := range 3 {
		y.strains(n, axis)
		sum += y.wireAt(y.bodies[n].at[axis])
	}
	return sum
}

// churner looks for arrangements with short wires by pulling an item to where its wires want it, and mending what that breaks with
// the wires pulling all the time. What is mended and isn't much worse is gone on from (annealing: Kirkpatrick, Gelatt and Vecchi 1983).
type churner struct {
	w         *wiring
	y         *yard
	now       []lain
	wire      int64
	heat      float64
	unit      int64 // what a clash weighs against a wire
	tried, ok int64
}

func newChurner(w *wiring, seed uint64) *churner {
	c := &churner{w: w, y: newYard(w.task, seed)}
	c.y.tie()
	weight := 0
	for _, n := range w.p.Nets {
		weight += n.Weight
	}
	c.unit = max(int64(4*weight/max(len(w.p.Nets), 1)), 1)
	return c
}

// begin starts from an arrangement.
func (c *churner) begin(places []Place, heat float64) {
	c.w.take(places)
	c.now = append(c.now[:0], c.w.yard.bodies...)
	c.wire = int64(Measure(c.w.p, places))
	c.heat = heat
}

// try makes one change. It reports whether the arrangement at hand changed.
func (c *churner) try() bool {
	c.tried++
	y := c.y
	copy(y.bodies, c.now)
	for i := range y.weight {
		y.weight[i] = 1
	}
	y.scale = c.unit
	y.measure()
	n := y.chance.IntN(y.items)
	if y.stuck[n] {
		return false
	}
	switch y.chance.IntN(3) {
	case 0:
		m := y.chance.IntN(y.items)
		y.exchange(n, m)
	default:
		// Clashes count for little at first.
		y.scale = max(c.unit>>(1+y.chance.IntN(4)), 1)
		y.jump(n)
		y.scale = c.unit
	}
	for range 15 + 2*y.items {
		if !y.step() {
			return c.settle()
		}
	}
	return false
}

// settle takes the arrangement in the yard, which is right, if it is good enough.
func (c *churner) settle() bool {
	c.ok++
	wire := int64(Measure(c.w.p, c.y.places()))
	// Sliding shortens the wires by a little; it isn't worth the trouble if they are much longer.
	if float64(wire) > float64(c.wire)*1.08+c.heat*3 {
		return false
	}
	places := c.w.adopt(c.y.places())
	wire = int64(Measure(c.w.p, places))
	if wire > c.wire && c.y.chance.Float64() >= math.Exp(float64(c.wire-wire)/max(c.heat, 1e-9)) {
		return false
	}
	c.w.take(places)
	c.now = append(c.now[:0], c.w.yard.bodies...)
	changed := wire != c.wire
	c.wire = wire
	return changed
}

// exchange puts two items where the other was, middle on middle.
func (y *yard) exchange(n, m int) {
	if n == m || y.stuck[m] {
		return
	}
	a, b := y.bodies[n], y.bodies[m]
	for _, pair := range [2][2]int{{n, m}, {m, n}} {
		from, to := &a, &b
		if pair[0] == m {
			from, to = &b, &a
		}
		for axis := range 3 {
			if axis == 1 && (len(y.crew[pair[0]]) > 1 || len(y.crew[pair[1]]) > 1) {
				continue
			}
			low, high := y.limits(pair[0], axis)
			at := to.at[axis] + (to.size[axis]-from.size[axis])/2
			y.bodies[pair[0]].at[axis] = min(max(at, low), high)
		}
	}
	y.measureOf(n)
	y.measureOf(m)
}

// jump puts an item, in one of its turns, where its wires and the clashes together cost least, looking along each axis in turn.
func (y *yard) jump(n int) {
	y.lay(n, y.chance.IntN(len(y.t.solids[n].turns)))
	for axis := range 3 {
		low, high := y.limits(n, axis)
		y.move(n, axis, min(max(y.bodies[n].at[axis], low), high))
	}
	for range 2 {
		for axis := range 3 {
			at, _ := y.best(n, axis)
			y.move(n, axis, at)
		}
	}
	for _, m := range y.crew[n] {
		y.measureOf(m)
	}
}

// run churns for so many tries, cooling down from the heat, and leaves what was best with the wiring.
func (c *churner) run(tries int, heat float64, o *Options) {
	c.begin(slices.Clone(c.w.places), heat)
	for n := range tries {
		if n&15 == 15 && o.stopped() {
			return
		}
		c.heat = heat * float64(tries-n) / float64(tries)
		c.try()
	}
}

// compose makes an arrangement from nothing: everything goes where its wires want it, then what clashes gives way. It reports false if
// that doesn't come to an end.
func (c *churner) compose(steps int, o *Options) bool {
	y := c.y
	y.scale = max(c.unit/4, 1)
	y.strew()
	for range 2 {
		for n := range y.items {
			if !y.stuck[n] {
				y.jump(n)
			}
		}
	}
	y.measure()
	for n := range steps {
		if n&63 == 63 && o.stopped() {
			return false
		}
		if !y.step() {
			c.w.adopt(y.places())
			return true
		}
	}
	return false
}
