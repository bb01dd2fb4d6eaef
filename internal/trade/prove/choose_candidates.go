package prove

import (
	"math"
	mathbits "math/bits"
	"slices"
	"sync"

	"drivewright/internal/trade/circuit"
)

// bitset is a set of small numbers.
type bitset []uint64

func newBitset(n int) bitset         { return make(bitset, (n+63)/64) }
func (b bitset) has(n int) bool      { return b[n/64]>>(n%64)&1 == 1 }
func (b bitset) add(n int)           { b[n/64] |= 1 << (n % 64) }
func (b bitset) remove(n int)        { b[n/64] &^= 1 << (n % 64) }
func (b bitset) equal(c bitset) bool { return slices.Equal(b, c) }

func (b bitset) count() int {
	n := 0
	for _, w := range b {
		n += mathbits.OnesCount64(w)
	}
	return n
}

// within reports whether every member of b is one of c.
func (b bitset) within(c bitset) bool {
	for n, w := range b {
		if w&^c[n] != 0 {
			return false
		}
	}
	return true
}

// each calls f with every member in turn.
func (b bitset) each(f func(n int)) {
	for i, w := range b {
		for w != 0 {
			f(i*64 + mathbits.TrailingZeros64(w))
			w &= w - 1
		}
	}
}

// candidate is a reading that could be taken: two probes, and how the switches stand.
type candidate struct {
	p, q  int // in deadBox.probes
	setup int
}

// column is a candidate with the mistakes that it catches, the cheapest of all that catch exactly these.
type column struct {
	candidate
	cost   int
	caught bitset // of mistakes
}

// weighing is every candidate reading weighed against every mistake.
type weighing struct {
	box        *deadBox
	setups     []setup
	mistakes   []Mistake
	altered    []altered
	columns    []column
	candidates int
	marks      [][]uint64 // of each mistake: what the box looks like with it, by setup
	healthy    []uint64
	pinMarks   []uint64 // of each probe's and each setup's name
	setupMarks []uint64

	lock   sync.Mutex
	expect map[string]expectation // by the reading's name
}

// weigh finds which mistakes each candidate catches. Cost: setups × mistakes looks at the box, and the pairs of probes that
// each mistake makes read wrong.
func (b *deadBox) weigh(setups []setup, mistakes []Mistake) *weighing {
	w := &weighing{box: b, setups: setups, mistakes: mistakes, marks: make([][]uint64, len(mistakes))}
	w.markNames()
	for n := range mistakes {
		w.altered = append(w.altered, b.alter(mistakes[n].Changes...))
		w.marks[n] = make([]uint64, len(setups))
	}
	probes := len(b.probes)
	pairs := probes * (probes - 1) / 2
	words := (len(mistakes) + 63) / 64
	caught := make([]uint64, pairs*words)
	known := map[uint64][]int{}
	var sound, wrong view
	var c classes
	for n := range setups {
		clear(caught)
		s := &setups[n]
		b.look(&sound, s, &unaltered)
		mark := b.mark(&sound)
		w.healthy = append(w.healthy, mark)
		for i := range mistakes {
			b.glance(&wrong, s, &w.altered[i])
			w.marks[i][n] = b.mark(&wrong)
			if w.marks[i][n] == mark {
				continue
			}
			wrong.solve()
			c.sort(b.probes, &sound, &wrong)
			bit := uint64(1) << (i % 64)
			c.pairs(b, func(one, other []int) {
				for _, p := range one {
					for _, q := range other {
						caught[pairIndex(p, q)*words+i/64] |= bit
					}
				}
			}, &sound, &wrong)
		}
		w.candidates += pairs
		w.keep(n, caught, words, known)
	}
	return w
}

// pairIndex numbers the pairs of probes.
func pairIndex(p, q int) int {
	if p < q {
		p, q = q, p
	}
	return p*(p-1)/2 + q
}

// keep takes over the candidates of one setup that catch anything, of those that catch the same the cheapest.
func (w *weighing) keep(setup int, caught []uint64, words int, known map[uint64][]int) {
	base := w.setupCost(setup)
	for p := range w.box.probes {
		for q := range p {
			n := pairIndex(p, q)
			set := bitset(caught[n*words : (n+1)*words])
			mark := uint64(fnvOffset)
			any := uint64(0)
			for _, x := range set {
				mark = stir(mark, x)
				any |= x
			}
			if any == 0 {
				continue
			}
			c := candidate{q, p, setup}
			cost := base + w.pairCost(q, p)
			old := -1
			for _, k := range known[mark] {
				if w.columns[k].caught.equal(set) {
					old = k
					break
				}
			}
			if old < 0 {
				known[mark] = append(known[mark], len(w.columns))
				w.columns = append(w.columns, column{c, cost, slices.Clone(set)})
			} else if cost < w.columns[old].cost {
				w.columns[old].candidate, w.columns[old].cost = c, cost
			}
		}
	}
}

// setupCost is what it takes to set the switches; pairCost what it takes to reach two terminals. The figures only weigh readings
// against each other that catch the same. Source: common practice.
func (w *weighing) setupCost(n int) int {
	cost := 0
	for _, d := range w.setups[n].devices {
		switch device := w.box.devices[d]; {
		case device.relay:
			cost += 12
		case device.held:
			cost += 8
		default:
			cost += 5
		}
	}
	return cost
}

func (w *weighing) pairCost(p, q int) int {
	a, b := w.box.device(p), w.box.device(q)
	cost := 0
	for _, d := range []*circuit.Device{a, b} {
		switch d.Kind {
		case circuit.TerminalBlock, circuit.GroundBar:
		default:
			cost += 2
		}
	}
	if a.Place != b.Place {
		cost += 6 // with a long lead, or two people
	}
	return cost
}

// device returns the device that a probe is on.
func (b *deadBox) device(probe int) *circuit.Device {
	return b.wiring.Circuit.Device(b.wiring.Pins[b.probes[probe]].Device)
}

const fnvOffset = 14695981039346656037

// stir takes one more number into a mark. Source: FNV-1a (draft-eastlake-fnv), here word by word with a final mix, so that marks of
// nearly equal things differ.
func stir(mark, x uint64) uint64 {
	mark ^= x
	mark *= 0x9e3779b97f4a7c15
	return mark ^ mark>>29
}

// mark returns a number that two views share only if the probes are joined alike and the same resistances lie between.
func (b *deadBox) mark(v *view) uint64 {
	v.names = reuse(v.names, v.groups)
	for n := range v.names {
		v.names[n] = -1
	}
	next := 0
	name := func(g int) uint64 {
		if v.names[g] < 0 {
			v.names[g] = next
			next++
		}
		return uint64(v.names[g])
	}
	mark := uint64(fnvOffset)
	for _, n := range b.probes {
		mark = stir(mark, name(v.group[n]))
	}
	for _, e := range v.edges {
		a, z := name(e.a), name(e.b)
		if a > z {
			a, z = z, a
		}
		mark = stir(mark, a<<32|z)
		mark = stir(stir(mark, math.Float64bits(e.nominal)), math.Float64bits(e.least))
	}
	return mark
}

// classes sorts the probes by the group that they are in with and without a mistake: those of one class read alike.
type classes struct {
	members [][]int
	sound   []int // the group of each class without the mistake
	wrong   []int // and with it
	of      map[[2]int]int
}

func (c *classes) sort(probes []int, sound, wrong *view) {
	if c.of == nil {
		c.of = map[[2]int]int{}
	}
	clear(c.of)
	c.sound, c.wrong = c.sound[:0], c.wrong[:0]
	for p, n := range probes {
		key := [2]int{sound.group[n], wrong.group[n]}
		k, there := c.of[key]
		if !there {
			k = len(c.sound)
			c.of[key] = k
			c.sound, c.wrong = append(c.sound, key[0]), append(c.wrong, key[1])
			if k < len(c.members) {
				c.members[k] = c.members[k][:0]
			} else {
				c.members = append(c.members, nil)
			}
		}
		c.members[k] = append(c.members[k], p)
	}
}

// pairs calls f for every two classes between which the mistake is seen.
func (c *classes) pairs(b *deadBox, f func(one, other []int), sound, wrong *view) {
	for i := range c.sound {
		for j := range i {
			healthy := sound.betweenGroups(c.sound[i], c.sound[j])
			found := wrong.betweenGroups(c.wrong[i], c.wrong[j])
			if healthy != found && healthy.useful() && b.tells(healthy, found) {
				f(c.members[i], c.members[j])
			}
		}
	}
}
