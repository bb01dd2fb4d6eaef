package prove

import (
	"os"
	"strings"
	"testing"

	"drivewright/internal/trade/circuit"
)

// testCircuit reads one of the circuits written for tests.
func testCircuit(t testing.TB, name string, replace ...string) *circuit.Circuit {
	t.Helper()
	text, err := os.ReadFile("testdata/circuits/" + name + ".job.yaml")
	if err != nil {
		t.Fatal(err)
	}
	for n := 0; n+1 < len(replace); n += 2 {
		if !strings.Contains(string(text), replace[n]) {
			t.Fatalf("%s has no %q", name, replace[n])
		}
		text = []byte(strings.ReplaceAll(string(text), replace[n], replace[n+1]))
	}
	return circuitOf(t, name, string(text))
}

// rig is a machine to press buttons on.
type rig struct {
	t       testing.TB
	m       *model
	machine *machine
}

func newRig(t testing.TB, c *circuit.Circuit, changes ...Change) *rig {
	m := newModel(c)
	r := &rig{t, m, newMachine(m, newShelf())}
	r.fit(changes...)
	r.machine.now = m.dead(true)
	r.machine.settle()
	return r
}

// fit builds the networks with the changes in them.
func (r *rig) fit(changes ...Change) {
	b := newBuilder(r.m)
	var networks []*network
	for _, p := range b.build(changes...) {
		networks = append(networks, b.finish(p, string(b.sign(p))))
	}
	r.machine.fit(networks, changes)
}

// set moves a device into a position by its number, and supply switches the utility's supply.
func (r *rig) set(tag string, to uint8) *rig {
	r.machine.do(&action{device: r.device(tag), to: to})
	return r
}

func (r *rig) supply(on bool) *rig {
	aim := aimLost
	if on {
		aim = aimPower
	}
	r.machine.do(&action{device: -1, aim: aim, supply: on})
	return r
}

func (r *rig) device(tag string) int {
	for n, d := range r.m.circuit.Devices {
		if d.Tag == tag {
			return n
		}
	}
	r.t.Fatalf("there is no device %s", tag)
	return -1
}

func (r *rig) in(tag string) bool { return r.machine.now.at[r.device(tag)] == 1 }

// off is the change that takes a wire off.
func off(t testing.TB, c *circuit.Circuit, name string) Change {
	for n, w := range c.Wires {
		if w.Name == name {
			return Change{Kind: WireOff, Wire: n}
		}
	}
	t.Fatalf("there is no wire %s", name)
	return Change{}
}

// TestSealInTruthTable is the published truth table of start, stop and seal-in. Source: Lessons In Electric
// Circuits, vol. IV Digital, "Ladder logic": press start, coil in; release,
// it stays; press stop, it drops; release, it stays out; both pressed, out; supply lost and returned, out.
func TestSealInTruthTable(t *testing.T) {
	r := newRig(t, testCircuit(t, "seal-in"))
	for _, step := range []struct {
		does string
		do   func()
		want bool
	}{
		{"rest", func() {}, false},
		{"press start", func() { r.set("S2", 1) }, true},
		{"release start", func() { r.set("S2", 0) }, true},
		{"press stop", func() { r.set("S1", 1) }, false},
		{"release stop", func() { r.set("S1", 0) }, false},
		{"both pressed from rest, stop first", func() { r.set("S1", 1).set("S2", 1) }, false},
		{"released again", func() { r.set("S2", 0).set("S1", 0) }, false},
		{"running", func() { r.set("S2", 1).set("S2", 0) }, true},
		{"both pressed while it is in", func() { r.set("S2", 1).set("S1", 1) }, false},
		{"released again", func() { r.set("S2", 0).set("S1", 0) }, false},
		{"running", func() { r.set("S2", 1).set("S2", 0) }, true},
		{"supply lost", func() { r.supply(false) }, false},
		{"supply returned", func() { r.supply(true) }, false},
	} {
		step.do()
		if got := r.in("K1"); got != step.want {
			t.Errorf("%s: got the coil in %v, want %v", step.does, got, step.want)
		}
	}
}

// TestSupplyLostAndReturned: two-wire control restarts by itself, three-wire control doesn't. Source: the same, and
// chapters on two-wire and three-wire control in open course texts.
func TestSupplyLostAndReturned(t *testing.T) {
	two := newRig(t, testCircuit(t, "maintained-switch")).set("S1", 1)
	if !two.in("K1") {
		t.Fatal("two-wire: got the coil out with the switch on, want in")
	}
	if two.supply(false); two.in("K1") {
		t.Error("two-wire: got the coil in without a supply, want out")
	}
	if two.supply(true); !two.in("K1") {
		t.Error("two-wire: got the coil out when the supply returns, want in again: that is its danger")
	}
	three := newRig(t, testCircuit(t, "seal-in")).set("S2", 1).set("S2", 0)
	if three.supply(false).supply(true); three.in("K1") {
		t.Error("three-wire: got the coil in when the supply returns, want out")
	}
}

// TestStopWireBreaks: a stop that is open at rest can't stop any more when its wire breaks; one that is closed at rest stops at once.
// Source: the same ("Ladder logic").
func TestStopWireBreaks(t *testing.T) {
	c := testCircuit(t, "stop-open-at-rest")
	r := newRig(t, c).set("S2", 1).set("S2", 0)
	if r.set("S1", 1); r.in("K1") {
		t.Fatal("open at rest, whole: got the coil in with stop pressed, want out")
	}
	r.set("S1", 0).set("S2", 1).set("S2", 0)
	r.fit(off(t, c, "4"))
	r.machine.settle()
	if !r.in("K1") {
		t.Error("open at rest, wire 4 off: got the coil out, want in: nothing shows")
	}
	if r.set("S1", 1); !r.in("K1") {
		t.Error("open at rest, wire 4 off: got the coil out with stop pressed, want in: it can't be stopped")
	}

	c = testCircuit(t, "seal-in")
	r = newRig(t, c).set("S2", 1).set("S2", 0)
	r.fit(off(t, c, "2a"))
	if r.machine.settle(); r.in("K1") {
		t.Error("closed at rest, wire 2a off: got the coil in, want out at once")
	}
}

// TestDelayRelayRunsOut: the contacts of a delay relay stay while its time runs, and only then.
func TestDelayRelayRunsOut(t *testing.T) {
	r := newRig(t, testCircuit(t, "maintained-switch", "kind: relay", "kind: delay relay", "contacts: 13-14 open}", "contacts: 17-18 open, delay: 3 s}"))
	r.set("S1", 1).set("S1", 0)
	if !r.in("K1") {
		t.Error("got the delay relay out at once, want in")
	}
	r.machine.do(&action{device: -1, aim: aimWait})
	if r.in("K1") {
		t.Error("got the delay relay in after its time, want out")
	}
	if r.set("S1", 1).set("S1", 0).set("S1", 1); !r.in("K1") {
		t.Error("got the delay relay out although its coil came back in time")
	}
	if r.machine.do(&action{device: -1, aim: aimWait}); !r.in("K1") {
		t.Error("got the delay relay out with its coil on")
	}
}

// TestRelayThatBreaksItsOwnCoilChatters: a relay fed through its own closed contact never rests.
func TestRelayThatBreaksItsOwnCoilChatters(t *testing.T) {
	r := newRig(t, testCircuit(t, "seal-in", "0.7 W, contacts: 13-14 open", "0.7 W, contacts: 13-14 closed"))
	if !r.machine.now.seen.chatters {
		t.Error("got a relay at rest, want it to chatter")
	}
	if !r.machine.now.seen.torque {
		t.Error("got no torque of a relay that pulls in again and again")
	}
}
