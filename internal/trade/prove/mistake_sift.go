package prove

import (
	"fmt"
	"slices"

	"drivewright/internal/trade/circuit"
)

// sift leaves out the mistakes that change nothing, puts those together that look the same in every setup, and returns the
// columns over what is left.
func (w *weighing) sift() []column {
	first := map[string]int{} // of those that look the same, the first that was met
	into := make([]int, len(w.mistakes))
	var mistakes []Mistake
	var change []altered
	var marks [][]uint64
	for n, m := range w.mistakes {
		into[n] = -1
		key := fmt.Sprint(w.marks[n])
		if slices.Equal(w.marks[n], w.healthy) {
			if m.Why = w.noChange(m.Changes[0]); m.Why == "" {
				continue // the same potential: nothing is wrong
			}
			key = m.Name
		}
		k, there := first[key]
		if !there {
			k = len(mistakes)
			first[key] = k
			mistakes = append(mistakes, m)
			change = append(change, w.altered[n])
			marks = append(marks, w.marks[n])
			into[n] = k
			continue
		}
		old := &mistakes[k]
		if m.Weight > old.Weight {
			old.Name, m.Name = m.Name, old.Name
			old.Look, old.Changes = m.Look, m.Changes
		}
		old.Also = append(old.Also, m.Name)
		old.Weight += m.Weight
	}
	columns := make([]column, len(w.columns))
	for n, c := range w.columns {
		set := newBitset(len(mistakes))
		c.caught.each(func(m int) {
			if into[m] >= 0 {
				set.add(into[m])
			}
		})
		columns[n] = column{c.candidate, c.cost, set}
	}
	w.mistakes, w.altered, w.marks, w.columns = mistakes, change, marks, columns
	return columns
}

// noChange says why a mistake that no setup shows is a mistake all the same; empty where it is none.
func (w *weighing) noChange(c Change) string {
	switch c.Kind {
	case WireOff:
		return "another way joins its two ends, so that the circuit is whole without it"
	case Dead, Turned:
		switch p := w.box.wiring.Parts[c.Part]; p.Kind {
		case circuit.LampElement:
			return "an ohmmeter sees a lamp with light-emitting diodes as open whether it is whole or dead; see it light at the first power"
		case circuit.DiodeElement:
			return "the ohms range may show a diode either way; the diode test, among the tests below, shows it"
		case circuit.Source:
			return "it needs power: the polarity is measured before anything is fed, among the tests below"
		default:
			return "what lies beside it reads the same with and without it"
		}
	case StuckOpen, StuckClosed, Inverted:
		return "another way runs past the contact in every position that a hand can bring it into"
	case WireMoved, WiresSwapped, Bridged, NeverMoves:
	}
	return ""
}
