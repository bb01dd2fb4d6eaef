package prove

import (
	"cmp"
	"fmt"
	"hash/fnv"
	"slices"
	"strings"

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
	w := b.weigh(b.setups(), b.mistakes())
	sheet.Setups, sheet.Candidates = len(w.setups), w.candidates
	columns := w.sift()
	sets, cost := make([]bitset, len(columns)), make([]int, len(columns))
	for n := range columns {
		sets[n], cost[n] = columns[n].caught, columns[n].cost
	}
	chosen, bound := fewest(len(w.mistakes), sets, cost)
	sheet.Bound = bound
	sheet.Mistakes = w.mistakes
	list := w.cheapest(columns, chosen)
	list = w.inOrder(list)
	for _, k := range list {
		n := len(sheet.Readings)
		k.caught.each(func(m int) { sheet.Mistakes[m].CaughtBy = append(sheet.Mistakes[m].CaughtBy, n) })
		sheet.Readings = append(sheet.Readings, w.reading(k))
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
	name(sheet.Readings)
	return sheet
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
	r := Reading{From: w.box.wiring.Pins[p], To: w.box.wiring.Pins[q], Settings: s.settings, Clips: s.held > 0}
	r.Expect = v.between(p, q).band(0, v.nominal(p, q))
	r.Proves = w.proves(k)
	return r
}

// letters are those of a reading's name that nobody takes for another or for a word.
const letters = "23456789BCDFGHJKLMNPQRSTVWXZ"

// name names the readings by where the probes go and how the switches stand, so that a name stays while the circuit does.
func name(readings []Reading) {
	used := map[string]bool{}
	for n := range readings {
		id := readings[n].id(4)
		for length := 5; used[id]; length++ {
			id = readings[n].id(length)
		}
		used[id] = true
		readings[n].ID = id
	}
}

// id makes the name with the given number of letters.
func (r *Reading) id(length int) string {
	ends := []string{r.From.String(), r.To.String()}
	slices.Sort(ends)
	var settings []string
	for _, s := range r.Settings {
		settings = append(settings, s.Device+"="+s.Position)
	}
	slices.Sort(settings)
	h := fnv.New64a()
	fmt.Fprint(h, strings.Join(ends, " "), "\n", strings.Join(settings, "\n"))
	sum := h.Sum64()
	id := []byte{'R'}
	for range length {
		id = append(id, letters[sum%uint64(len(letters))])
		sum /= uint64(len(letters))
	}
	return string(id)
}

// inOrder puts the readings into the order of the least walking and switching.
func (w *weighing) inOrder(list []column) []column {
	slices.SortStableFunc(list, func(a, b column) int { return cmp.Compare(a.setup, b.setup) })
	return list
}

func (w *weighing) proves(k column) string { return "" }

func (w *weighing) whyNot(n int) string { return "" }
