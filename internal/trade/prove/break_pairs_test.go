package prove

import (
	"maps"
	"slices"
	"testing"
)

// TestPairsAgainstDoingEverything tries every pair of faults of the smaller circuits with nothing left out and nothing remembered, and
// finds the pairs that are reported, and for each hidden fault whether one more of those that show nothing makes it dangerous.
func TestPairsAgainstDoingEverything(t *testing.T) {
	all := circuits(t)
	pairs := 0
	for _, name := range slices.Sorted(maps.Keys(all)) {
		if len(all[name].Wires) > 22 {
			continue
		}
		trial := newTrial(newModel(all[name]))
		b := newBreaking(trial)
		for _, err := range []error{b.singles(t.Context()), b.secondFaults(t.Context())} {
			if err != nil {
				t.Fatal(err)
			}
		}
		reported, tried, err := b.pairs(t.Context())
		if err != nil {
			t.Fatal(err)
		}
		got := map[string]Class{}
		for _, f := range reported {
			got[f.Name] = f.Class
		}
		class := func(changes ...Change) Class {
			builder := newBuilder(trial.m)
			networks, _ := b.networks(builder, changes, map[string]*network{}, false)
			r := newMachine(trial.m, newShelf())
			r.fit(networks, changes)
			return trial.run(r, everywhere, comesAbout(changes), StartsByItself).class
		}
		alone := make([]Class, len(b.faults))
		for n, f := range b.faults {
			alone[n] = class(f.changes...)
		}
		second := make([]bool, len(b.faults))
		want := 0
		for n, f := range b.faults {
			for k, o := range b.faults[:n] {
				together := class(append(slices.Clone(o.changes), f.changes...)...)
				if together < min(alone[n], alone[k]) && together < HiddenDanger {
					want++
					if c, there := got[o.name+", and "+f.name]; !there || c != together {
						t.Errorf("%s: %s, and %s: got class %d (reported: %v), want %d", name, o.name, f.name, c, there, together)
					}
				}
				if alone[n] == none && alone[k] == none && together < HiddenDanger {
					second[n], second[k] = true, true
				}
			}
		}
		if want != len(reported) || tried != len(b.faults)*(len(b.faults)-1)/2 {
			t.Errorf("%s: got %d pairs of %d tried, want %d", name, len(reported), tried, want)
		}
		for n, f := range b.faults {
			g := b.groups[b.of[n]]
			if f.sort != bondSort && alone[n] == none && !g.harmless && g.with >= 0 != second[n] {
				t.Errorf("%s: %s: got a second fault that makes it dangerous: %v, want %v", name, f.name, g.with >= 0, second[n])
			}
		}
		pairs += want
	}
	if pairs < 20 {
		t.Errorf("got only %d pairs that are worse together", pairs)
	}
}

// TestEachChannelHidesTheOthersFailure: an emergency stop with one contact into the drive's input and one into the coil of the supply contactor
// has two channels on two supplies. One contact that sticks shows nothing; both take the emergency stop away. Source: NFPA 79 and IEC 60204-1,
// 9.4, redundancy and its tests (from memory).
func TestEachChannelHidesTheOthersFailure(t *testing.T) {
	c := circuits(t)["tool-grinder"]
	r := wordless(c, true)
	for _, name := range []string{"contact 11-12 of PB2 doesn't open", "contact 21-22 of PB2 doesn't open", "CON1 stays pulled in"} {
		if f := fault(t, r, name); f.Class != HiddenDanger || f.With == "" {
			t.Errorf("%s: got class %d with %q, want it hidden and dangerous with one more", name, f.Class, f.With)
		}
	}
	both := slices.IndexFunc(r.Pairs, func(f Fault) bool {
		return f.Name == "contact 11-12 of PB2 doesn't open, and contact 21-22 of PB2 doesn't open"
	})
	if both < 0 || r.Pairs[both].Class != EmergencyStopLost {
		t.Error("both contacts stuck isn't among the pairs, or doesn't take the emergency stop away")
	}
}
