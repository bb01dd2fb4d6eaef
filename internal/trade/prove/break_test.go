package prove

import (
	"context"
	"errors"
	"fmt"
	"maps"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"drivewright/internal/trade/circuit"
)

// sealInByHand is every single fault of testdata/circuits/seal-in.job.yaml with what it does, worked out on paper. The current goes
// XS:+, wire 1, S1 (closed), wire 2a, S2 with K1's own contact beside it through 2b and 3b, wire 3a, coil K1, wire 0, XS:-.
// A fault is there before the power, or happens while it runs; the worse of the two counts.
var sealInByHand = []struct {
	fault string
	class Class
	why   string
}{
	{"wire 1 (XS:+ to S1:11) is off", StopsByItself, "nothing is fed any more: the coil drops out while it runs"},
	{"wire 2a (S1:12 to S2:13) is off", StopsByItself, "it feeds start and hold alike"},
	{"wire 2b (S2:13 to K1:13) is off", StopsByItself, "the hold isn't fed: it drops out when start is let go"},
	{"wire 3a (S2:14 to K1:A1) is off", CannotStart, "start doesn't reach the coil; while it runs the hold feeds it and nothing shows"},
	{"wire 3b (K1:14 to K1:A1) is off", StopsByItself, "the hold doesn't reach the coil: it drops out when start is let go"},
	{"wire 0 (K1:A2 to XS:-) is off", StopsByItself, "the coil has no return"},
	{"XS gives no 24 V any more", StopsByItself, "nothing is fed"},
	{"contact 11-12 of S1 doesn't close", StopsByItself, "as wire 1 off"},
	{"contact 11-12 of S1 doesn't open", StopLost, "stop changes nothing: the coil stays in"},
	{"contact 11-12 of S1 is of the wrong type: open instead of closed at rest", StopLost, "it starts only while stop is held, just when it must not"},
	{"S1 is jammed at rest", StopLost, "its contact stays closed"},
	{"contact 13-14 of S2 doesn't close", CannotStart, "nothing gets to the coil; while it runs the hold feeds it"},
	{"contact 13-14 of S2 doesn't open", StartsByItself, "the coil is fed as soon as the power is on"},
	{"contact 13-14 of S2 is of the wrong type: closed instead of open at rest", StartsByItself, "the same, with no hand on it"},
	{"S2 is jammed at rest", CannotStart, "it can't be pressed"},
	{"contact 13-14 of K1 doesn't close", StopsByItself, "no hold: it drops out when start is let go"},
	{"contact 13-14 of K1 doesn't open", StartsByItself, "the hold feeds the coil as soon as the power is on"},
	{"contact 13-14 of K1 is of the wrong type: closed instead of open at rest", StartsByItself,
		"the coil is fed as soon as the power is on, breaks its own current, and buzzes"},
	{"K1 never pulls in", StopsByItself, "it doesn't hold what runs, and doesn't start"},
	{"K1 stays pulled in", StartsByItself, "its contact holds the coil as soon as the power is on"},
	{"the coil of K1 is open", StopsByItself, "the same as one that never pulls in"},
	{"terminals + and - of XS touch", StopsByItself, "the supply is shorted and its protection trips"},
	{"terminals 11 and 12 of S1 touch", StopLost, "stop is bridged"},
	{"terminals 13 and 14 of S2 touch", StartsByItself, "start is bridged"},
	{"terminals A1 and A2 of K1 touch", StopsByItself, "the coil is bridged; what feeds it is shorted"},
	{"terminals A2 and 13 of K1 touch", StopsByItself, "the feed behind stop is shorted to the return"},
	{"terminals 13 and 14 of K1 touch", StartsByItself, "the hold is bridged"},
}

func TestSealInByHand(t *testing.T) {
	r := wordless(testCircuit(t, "seal-in"), false)
	got := map[string]Class{}
	for _, f := range r.Faults {
		got[f.Name] = f.Class
	}
	for _, want := range sealInByHand {
		class, there := got[want.fault]
		switch {
		case !there:
			t.Errorf("%s: isn't in the report", want.fault)
		case class != want.class:
			t.Errorf("%s: got class %d, want %d: %s", want.fault, class, want.class, want.why)
		}
		delete(got, want.fault)
	}
	for name := range got {
		t.Errorf("%s: in the report, but not in the list by hand", name)
	}
	if len(r.Whole) > 0 {
		t.Errorf("got dangers of the whole circuit, want none: %v", r.Whole)
	}
}

// wordless breaks the circuit and leaves the devices' words out of the names, which are the circuit's business.
func wordless(c *circuit.Circuit, pairs bool) Report {
	r := Break(c, pairs)
	for _, list := range [][]Fault{r.Faults, r.Pairs} {
		for n := range list {
			for _, d := range c.Devices {
				list[n].Name = strings.ReplaceAll(list[n].Name, d.Tag+" ("+d.Words+")", d.Tag)
				list[n].With = strings.ReplaceAll(list[n].With, d.Tag+" ("+d.Words+")", d.Tag)
			}
		}
	}
	return r
}

// fault returns the fault of the report whose name begins so; of a wire, that it is off.
func fault(t *testing.T, r Report, name string) Fault {
	t.Helper()
	for _, f := range r.Faults {
		if strings.HasPrefix(f.Name, name) && (!strings.HasPrefix(name, "wire") || strings.HasSuffix(f.Name, "is off")) {
			return f
		}
	}
	t.Fatalf("there is no fault %q", name)
	return Fault{}
}

func wantFault(t *testing.T, r Report, name string, class Class, sequence, seen string) {
	t.Helper()
	f := fault(t, r, name)
	if got := strings.Join(f.Sequence, ", "); f.Class != class || got != sequence || f.Seen != seen {
		t.Errorf("%s: got class %d, %q, %q; want %d, %q, %q", name, f.Class, got, f.Seen, class, sequence, seen)
	}
}

// TestMaintainedSwitchRestarts: the two-wire circuit has its danger with nothing broken. Source: NFPA 79, 7.5.3, and IEC 60204-1, 7.5:
// no restart by itself when the supply returns (from memory); Lessons In Electric Circuits, vol. IV, "Ladder logic".
func TestMaintainedSwitchRestarts(t *testing.T) {
	r := Break(testCircuit(t, "maintained-switch"), false)
	if len(r.Whole) != 1 || r.Whole[0].Class != StartsByItself {
		t.Fatalf("got %v, want the restart alone", r.Whole)
	}
	f := r.Whole[0]
	want := []string{"switch the supply on", "turn run switch (S1) to on", "the supply fails", "the supply returns"}
	if got := f.Sequence; !slices.Contains(got, want[2]) || got[len(got)-1] != want[3] || f.Seen != "the motor starts" || f.Remedy.Empty() {
		t.Errorf("got %q, %q, remedy %q; want it to start when the supply returns", got, f.Seen, f.Remedy.Format)
	}
	if f.Place == nil || f.Place.Path == "" || !f.Place.Span.Known() {
		t.Errorf("got no place in the job file")
	}
}

// TestStopOpenAtRestLosesItsWire: the stop that is open at rest has its danger in its wires. Source: Lessons In
// Electric Circuits, vol. IV, "Ladder logic".
func TestStopOpenAtRestLosesItsWire(t *testing.T) {
	r := wordless(testCircuit(t, "stop-open-at-rest"), false)
	for _, wire := range []string{"wire 1a ", "wire 4 ", "wire 0a "} {
		wantFault(t, r, wire, StopLost, "switch the supply on, press start (S2), press stop (S1)", "the motor keeps running")
	}
	if f := fault(t, r, "wire 4"); !strings.Contains(f.Remedy.Format, "closed at rest") {
		t.Errorf("got the remedy %q, want contacts that are closed at rest", f.Remedy.Format)
	}
	wantFault(t, r, "the coil of K2", StopLost, "switch the supply on, press start (S2), press stop (S1)", "the motor keeps running")
	// one that is closed at rest stops instead
	for _, f := range Break(testCircuit(t, "seal-in"), false).Faults {
		if strings.HasPrefix(f.Name, "wire") && f.Class <= HiddenDanger {
			t.Errorf("%s: got class %d with a stop that is closed at rest, want nothing dangerous", f.Name, f.Class)
		}
	}
}

// TestTwoChannelStop reasons through the faults of an emergency stop with two contacts, and of the speed knob.
func TestTwoChannelStop(t *testing.T) {
	r := wordless(testCircuit(t, "two-channel-stop"), true)
	if len(r.Whole) > 0 {
		t.Errorf("got dangers of the whole circuit, want none: %v", r.Whole)
	}
	// One welded contact shows nothing: the other takes the torque away. Both welded lose the emergency stop.
	one, other := "contact 11-12 of S0 doesn't open", "contact 21-22 of S0 doesn't open"
	if f := fault(t, r, one); f.Class != HiddenDanger || f.With != other {
		t.Errorf("%s: got class %d with %q, want %d with %q", one, f.Class, f.With, HiddenDanger, other)
	}
	pair := slices.IndexFunc(r.Pairs, func(f Fault) bool { return f.Name == one+", and "+other })
	if pair < 0 || r.Pairs[pair].Class != EmergencyStopLost || r.Pairs[pair].Seen != "the motor keeps running" {
		t.Errorf("got no pair of both channels welded that loses the emergency stop")
	}
	// A wire of either channel off takes the torque away at once.
	wantFault(t, r, "wire 4 ", StopsByItself, "turn the main switch (Q1) on, press start (S2), the fault happens", "the motor stops")
	wantFault(t, r, "wire 5 ", StopsByItself, "turn the main switch (Q1) on, press start (S2), the fault happens", "the motor stops")
	// A mushroom that can't be pushed loses both channels.
	wantFault(t, r, "S0 is jammed", EmergencyStopLost, "turn the main switch (Q1) on, press start (S2), push emergency stop (S0) in", "the motor keeps running")
	// The knob: its lower end open leaves the wiper near the top; its upper end or wiper open leaves it at nought.
	if f := fault(t, r, "wire 6 "); f.Class != RunsAway {
		t.Errorf("wire 6 off: got class %d, want %d: the wiper goes up to the reference supply", f.Class, RunsAway)
	}
	for _, wire := range []string{"wire 7 ", "wire 8 "} {
		if f := fault(t, r, wire); f.Class != Other || f.Seen != "the motor runs at 0 % speed" {
			t.Errorf("%soff: got class %d, %q; want %d and nought: the drive runs at its lowest speed", wire, f.Class, f.Seen, Other)
		}
	}
	wantFault(t, r, "the knob R1 is joined end for end", RunsAway, "turn the main switch (Q1) on, press start (S2), turn the knob (R1) low", "the motor goes to 93 % speed")
	// A bond that is off shows nothing, and a live wire on the frame then stays live.
	if f := fault(t, r, "wire PEb"); f.Class != HiddenDanger || f.With == "" {
		t.Errorf("wire PEb off: got class %d, want %d", f.Class, HiddenDanger)
	}
	// Two motor leads touching trip the drive.
	if f := fault(t, r, "terminals U and V of M1 touch"); f.Class != StopsByItself {
		t.Errorf("U and V touch: got class %d, want %d", f.Class, StopsByItself)
	}
}

// TestSameCircuitSameReport: two runs say the same, and the order in which the wires stand in the file changes nothing but the
// order of the report.
func TestSameCircuitSameReport(t *testing.T) {
	all := circuits(t)
	for _, name := range slices.Sorted(maps.Keys(all)) {
		c := all[name]
		first, second := Break(c, false), Break(c, false)
		if diff := cmp.Diff(plain(first), plain(second), cmp.AllowUnexported(Fault{})); diff != "" {
			t.Errorf("%s: the second run differs:\n%s", name, diff)
		}
		shuffled := *c
		shuffled.Wires = slices.Clone(c.Wires)
		r := rand.New(rand.NewPCG(1, 2))
		r.Shuffle(len(shuffled.Wires), func(i, j int) {
			shuffled.Wires[i], shuffled.Wires[j] = shuffled.Wires[j], shuffled.Wires[i]
		})
		third := Break(&shuffled, false)
		if diff := cmp.Diff(told(first), told(third)); diff != "" {
			t.Errorf("%s: with the wires in another order:\n%s", name, diff)
		}
		if diff := cmp.Diff(first.Script, third.Script); diff != "" {
			t.Errorf("%s: the script with the wires in another order:\n%s", name, diff)
		}
	}
}

// TestScriptInOneGo plays the whole script on one machine, from the first action to the last: each part of it must leave the machine as
// the next one expects it, and so show what it shows by itself.
func TestScriptInOneGo(t *testing.T) {
	for name, c := range circuits(t) {
		m := newModel(c)
		trial := newTrial(m)
		r := newMachine(m, newShelf())
		r.fit(trial.networks, nil)
		r.now.copyFrom(&trial.dead)
		play := func(actions []action, want []sight) {
			for n := range actions {
				if r.do(&actions[n]); r.now.seen != want[n] {
					t.Errorf("%s: %s: got %+v, want %+v", name, actions[n].words, r.now.seen, want[n])
				}
			}
		}
		play(trial.script.first, trial.first)
		for n, s := range trial.script.segments {
			play(s.does, trial.shown[n])
		}
		play(trial.script.last, trial.last)
	}
}

// TestNumbersAreOnlyNames: wires under other numbers give the same faults in the same order.
func TestNumbersAreOnlyNames(t *testing.T) {
	for name, c := range circuits(t) {
		renamed := *c
		renamed.Wires, renamed.Cables = slices.Clone(c.Wires), slices.Clone(c.Cables)
		other := map[string]string{}
		for n := range renamed.Wires {
			w := &renamed.Wires[n]
			other[w.Name] = fmt.Sprintf("n%d", len(renamed.Wires)-n)
			w.Name = other[w.Name]
		}
		for n := range renamed.Cables {
			k := &renamed.Cables[n]
			k.Cores = slices.Clone(k.Cores)
			for i := range k.Cores {
				k.Cores[i].Wire = other[k.Cores[i].Wire]
			}
		}
		type what struct {
			changes  []Change
			class    Class
			sequence []string
			seen     string
		}
		strip := func(r Report) (list []what) {
			for _, f := range r.Faults {
				list = append(list, what{f.Changes, f.Class, f.Sequence, f.Seen})
			}
			return list
		}
		if diff := cmp.Diff(strip(Break(c, false)), strip(Break(&renamed, false)), cmp.AllowUnexported(what{})); diff != "" {
			t.Errorf("%s under other wire numbers:\n%s", name, diff)
		}
	}
}

// plain is the report without the places in the file, which point into trees.
func plain(r Report) Report {
	strip := func(list []Fault) []Fault {
		out := slices.Clone(list)
		for n := range out {
			out[n].Place = nil
		}
		return out
	}
	r.Whole, r.Faults, r.Pairs = strip(r.Whole), strip(r.Faults), strip(r.Pairs)
	return r
}

// told tells what each fault of a report does. Two faults at the ends of one wire may be named after either.
func told(r Report) map[string]string {
	all := map[string]string{}
	for _, f := range r.Faults {
		all[f.Name] = fmt.Sprint(f.Class, " ", f.Seen, " / ", f.Expected, " ", f.Sequence)
	}
	return all
}

// miswired is the circuit with the ends of some wires on other terminals: a circuit that nobody would think of, and that still does
// something.
func miswired(c *circuit.Circuit, r *rand.Rand) *circuit.Circuit {
	out := *c
	out.Wires = slices.Clone(c.Wires)
	for range 1 + r.IntN(3) {
		d := &c.Devices[r.IntN(len(c.Devices))]
		out.Wires[r.IntN(len(out.Wires))].To = d.Pin(d.Terminals[r.IntN(len(d.Terminals))])
	}
	return &out
}

// TestNothingIsSkippedThatCounts: leaving out segments that no network of a fault can change, sharing the work of faults that make
// the same networks, and remembering solutions give what doing everything gives.
func TestNothingIsSkippedThatCounts(t *testing.T) {
	all := circuits(t)
	small := []string{"seal-in", "stop-open-at-rest", "maintained-switch", "two-channel-stop", "three-wire-relay"}
	for n := range 50 {
		all[fmt.Sprintf("random circuit %d", n)] = miswired(all[small[n%len(small)]], rand.New(rand.NewPCG(uint64(n), 5)))
	}
	tried, random := 0, map[Class]int{}
	for _, name := range slices.Sorted(maps.Keys(all)) {
		trial := newTrial(newModel(all[name]))
		b := newBreaking(trial)
		if err := b.singles(t.Context()); err != nil {
			t.Fatal(err)
		}
		for n, f := range b.faults {
			builder := newBuilder(trial.m)
			networks, _ := b.networks(builder, f.changes, map[string]*network{}, false)
			r := newMachine(trial.m, newShelf())
			r.fit(networks, f.changes)
			want, got := trial.run(r, everywhere, comesAbout(f.changes), everything), b.groups[b.of[n]].verdict
			if got.class == Hidden || got.class == Harmless {
				got.class = none
			}
			if got.class != want.class || got.reaches != want.reaches {
				t.Errorf("%s: %s: got class %d of %b, want %d of %b with everything done", name, f.name, got.class, got.reaches, want.class, want.reaches)
			}
			tried++
			if strings.HasPrefix(name, "random") {
				random[want.class]++
			}
		}
	}
	if tried < 1000 {
		t.Errorf("got only %d faults", tried)
	}
	if random[StartsByItself] < 20 || random[StopsByItself] < 20 || random[none] < 100 {
		t.Errorf("random circuits show too little: %v", random)
	}
}

// TestSequencesShowTheirFault plays each fault's sequence from a dead machine, on a machine of its own, and finds the same class at its
// end: nothing that is needed was cut.
func TestSequencesShowTheirFault(t *testing.T) {
	all := circuits(t)
	for _, name := range slices.Sorted(maps.Keys(all)) {
		r := Break(all[name], false)
		m := newModel(all[name])
		trial := newTrial(m)
		known := map[string]action{}
		for _, a := range trial.script.first {
			known[a.words] = a
		}
		for _, s := range trial.script.segments {
			for _, a := range s.does {
				known[a.words] = a
			}
		}
		for _, f := range r.Faults {
			if len(f.Sequence) == 0 {
				if f.Class < HiddenDanger {
					t.Errorf("%s: %s: class %d without a sequence", name, f.Name, f.Class)
				}
				continue
			}
			builder := newBuilder(m)
			b := &breaking{t: trial}
			networks, _ := b.networks(builder, f.Changes, map[string]*network{}, false)
			w := &worker{machine: newMachine(m, newShelf()), whole: newMachine(m, newShelf())}
			w.whole.fit(trial.networks, nil)
			w.machine.fit(networks, f.Changes)
			for c := StartsByItself; c < HiddenDanger; c++ {
				if _, shown := f.Showing(c); shown != f.Reaches.Has(c) {
					t.Errorf("%s: %s reaches class %d: %v, and it is shown: %v", name, f.Name, c, f.Reaches.Has(c), shown)
				}
			}
			for _, s := range append([]Showing{{Class: f.Class, Sequence: f.Sequence}}, f.Also...) {
				story := tale{struck: -1}
				for _, words := range s.Sequence {
					if words == "the fault happens" {
						story.struck = len(story.does)
						continue
					}
					a, there := known[words]
					if !there {
						t.Fatalf("%s: %q isn't in the script", f.Name, words)
					}
					story.does = append(story.does, a)
				}
				found, _ := trial.replay(w, story)
				if found == 0 && story.struck >= 0 { // it may have happened while the machine stood
					story.idle = true
					found, _ = trial.replay(w, story)
				}
				if !found.Has(s.Class) || found.worst() < f.Class {
					t.Errorf("%s: %s: %q shows class %d, want %d", name, f.Name, s.Sequence, found.worst(), s.Class)
				}
			}
		}
	}
}

// TestWorstFirst: the report's order, and that every dangerous fault says what would help.
func TestWorstFirst(t *testing.T) {
	for name, c := range circuits(t) {
		r := Break(c, false)
		for n, f := range r.Faults {
			if n > 0 && f.Class < r.Faults[n-1].Class {
				t.Errorf("%s: %s stands behind something less bad", name, f.Name)
			}
			if f.Class.Dangerous() && f.Remedy.Empty() {
				t.Errorf("%s: %s (class %d) has no remedy", name, f.Name, f.Class)
			}
			if f.Class == HiddenDanger && f.With == "" {
				t.Errorf("%s: %s is hidden and dangerous with what?", name, f.Name)
			}
		}
	}
}

// TestBreakGivesUp: a context that has ended ends the work, and says so.
func TestBreakGivesUp(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	r, err := BreakWithin(ctx, testCircuit(t, "seal-in"), true)
	if !errors.Is(err, context.Canceled) {
		t.Errorf("got %v, want %v", err, context.Canceled)
	}
	if len(r.Script) == 0 {
		t.Error("got no script, want what was found until then")
	}
}

// TestBreakTakesWhatComes: circuits that aren't whole, or nothing at all, are no reason to fall over.
func TestBreakTakesWhatComes(t *testing.T) {
	if r := Break(&circuit.Circuit{}, true); len(r.Faults) > 0 || r.Problem != "" {
		t.Errorf("an empty circuit: got %d faults, %q", len(r.Faults), r.Problem)
	}
	for name, c := range circuits(t) { // each device left out in turn
		if len(c.Devices) > 20 {
			continue // the smaller ones hold every kind of device too
		}
		for n := range c.Devices {
			part := *c
			part.Devices = slices.Delete(slices.Clone(c.Devices), n, n+1)
			r := Break(&part, false)
			for _, f := range r.Faults {
				if f.Name == "" || len(f.Changes) == 0 {
					t.Errorf("%s without %s: a fault without a name or change", name, c.Devices[n].Tag)
				}
			}
		}
	}
	many := &circuit.Circuit{}
	for n := range 300 {
		d, err := circuit.NewDevice(circuit.PushButton, circuit.Spec{Tag: fmt.Sprintf("S%d", n)})
		if err != nil {
			t.Fatal(err)
		}
		many.Devices = append(many.Devices, d)
	}
	if r := Break(many, false); r.Problem == "" {
		t.Error("300 buttons: got no word on why nothing was simulated")
	}
}
