package prove

import (
	"fmt"
	"hash/fnv"
	"math"
	"slices"

	"drivewright/internal/trade/circuit"
)

// Meter chooses the fewest readings on the unpowered box that catch every single wiring mistake that readings can catch, in the
// order in which they are walked best. The same circuit gives the same sheet.
func Meter(c *circuit.Circuit) MeterSheet {
	b := newDeadBox(Number(c))
	sheet := MeterSheet{}
	if len(b.probes) < 2 {
		return sheet
	}
	setups, mistakes := b.setups(), b.mistakes()
	if b.effort(setups, mistakes) > mostEffort {
		sheet.Problem = fmt.Sprintf("with %d terminals and %d wrong ways to wire it the circuit is larger than the choice of readings takes", len(b.probes), len(mistakes))
		sheet.Before, sheet.Pulled, sheet.Tests = b.before(), b.pulledPins(), b.tests()
		return sheet
	}
	w := b.weigh(setups, mistakes)
	sheet.Setups, sheet.Candidates = len(w.setups), w.candidates
	columns := w.sift()
	sets, cost := make([]bitset, len(columns)), make([]int, len(columns))
	for n := range columns {
		sets[n], cost[n] = columns[n].caught, columns[n].cost
	}
	chosen, bound := fewest(len(w.mistakes), sets, cost)
	sheet.Bound = bound
	sheet.Mistakes = w.mistakes
	for _, k := range w.inOrder(w.cheapest(columns, chosen)) {
		n := len(sheet.Readings)
		k.caught.each(func(m int) { sheet.Mistakes[m].CaughtBy = append(sheet.Mistakes[m].CaughtBy, n) })
		sheet.Readings = append(sheet.Readings, w.reading(k))
		sheet.Readings[n].ID = w.unused(k.candidate, sheet.Readings[:n])
	}
	for n := range sheet.Mistakes {
		m := &sheet.Mistakes[n]
		sheet.Ways += 1 + len(m.Also)
		if m.CaughtBy != nil {
			sheet.Caught++
			sheet.WaysCaught += 1 + len(m.Also)
		} else if m.Why == "" {
			m.Why = w.whyNot(n)
		}
	}
	sheet.Before, sheet.Pulled = b.before(), b.pulledPins()
	sheet.Tests = b.tests()
	w.columns = nil
	sheet.weighing = w
	return sheet
}

// mostEffort is how much work the choice of readings takes on, in multiplications: some ten seconds of it. A box of a hundred
// terminals asks for a hundredth part.
const mostEffort = 6e9

// effort estimates the work of weighing every reading against every mistake: one inverse for each island of resistances, and one
// truth for each pair of probes.
func (b *deadBox) effort(setups []setup, mistakes []Mistake) float64 {
	var sound view
	probes, largest := float64(len(b.probes)), 0.0
	total := func() float64 {
		return float64(len(setups)) * float64(len(mistakes)) * (largest + probes*probes/2)
	}
	for n := range setups {
		if total() > mostEffort {
			break // more only makes it worse
		}
		b.look(&sound, &setups[n], &unaltered)
		inverses := 0.0
		for _, size := range sound.most.size {
			inverses += math.Pow(float64(size), 3)
		}
		largest = max(largest, inverses)
	}
	return total()
}

// cheapest exchanges each chosen column for the cheapest one that catches whatever the others don't.
func (w *weighing) cheapest(columns []column, chosen []int) []column {
	times := make([]int, len(w.mistakes))
	for _, k := range chosen {
		columns[k].caught.each(func(m int) { times[m]++ })
	}
	var list []column
	for _, k := range chosen {
		needed := newBitset(len(w.mistakes))
		columns[k].caught.each(func(m int) {
			if times[m]--; times[m] == 0 {
				needed.add(m)
			}
		})
		best := k
		for n := range columns {
			if columns[n].cost < columns[best].cost && needed.within(columns[n].caught) {
				best = n
			}
		}
		columns[best].caught.each(func(m int) { times[m]++ })
		list = append(list, columns[best])
	}
	return list
}

// reading makes a reading of a candidate.
func (w *weighing) reading(k column) Reading {
	s := &w.setups[k.setup]
	var v view
	w.box.look(&v, s, &unaltered)
	p, q := w.box.probes[k.p], w.box.probes[k.q]
	if w.box.conducts(&v, p, q) {
		p, q = q, p
	}
	r := Reading{ID: w.name(k.candidate), From: w.box.wiring.Pins[p], To: w.box.wiring.Pins[q], Settings: s.settings, Clips: s.held > 0}
	wires := 0.0
	between := v.between(p, q)
	if between.joined() {
		wires = along(w.box.steps(s, false), p, q)
	}
	r.Expect = between.band(wires, v.nominal(p, q))
	r.Proves = w.proves(k)
	return r
}

// conducts reports whether a diode could conduct with the red probe on p and the black one on q.
func (b *deadBox) conducts(v *view, p, q int) bool {
	for _, d := range b.diodes {
		if v.group[d.A] == v.group[p] || v.group[d.B] == v.group[q] {
			return true
		}
	}
	return false
}

// letters are those of a reading's name that nobody takes for another or for a word.
const letters = "23456789BCDFGHJKLMNPQRSTVWXZ"

// name names a reading by where the probes go and how the switches stand, so that a name stays while the circuit does.
func (w *weighing) name(c candidate) string {
	p, q := w.pinMarks[c.p], w.pinMarks[c.q]
	return id(stir(stir(min(p, q), max(p, q)), w.setupMarks[c.setup]), 4)
}

// unused is name, made longer where another reading of the sheet has it.
func (w *weighing) unused(c candidate, others []Reading) string {
	name := w.name(c)
	for slices.ContainsFunc(others, func(r Reading) bool { return r.ID == name }) {
		name += "2"
	}
	return name
}

// id writes a mark as a name.
func id(mark uint64, length int) string {
	name := []byte{'R'}
	for range length {
		name = append(name, letters[mark%uint64(len(letters))])
		mark /= uint64(len(letters))
	}
	return string(name)
}

// textMark is the mark of a text: FNV-1a.
func textMark(text string) uint64 {
	h := fnv.New64a()
	h.Write([]byte(text))
	return h.Sum64()
}

// markNames makes the marks that names are made of.
func (w *weighing) markNames() {
	for _, n := range w.box.probes {
		w.pinMarks = append(w.pinMarks, textMark(w.box.wiring.Pins[n].String()))
	}
	for _, s := range w.setups {
		mark := uint64(0)
		for _, set := range s.settings {
			mark += textMark(set.Device + "=" + set.Position)
		}
		w.setupMarks = append(w.setupMarks, mark)
	}
}

// candidatesBy calls f with every candidate and its name, in the order of setups and probes.
func (w *weighing) candidatesBy(f func(c candidate, id string)) {
	for n := range w.setups {
		for p := range w.box.probes {
			for q := range p {
				c := candidate{q, p, n}
				f(c, w.name(c))
			}
		}
	}
}
