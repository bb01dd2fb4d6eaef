package power

import (
	"strings"
	"testing"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
)

// TestEachLeakageCureSaysWhatItCures: 14 mA of drive and 4.27 m of screened lead at 0.15 mA/m are 14.6 mA; with the filter's link out
// 3 + 0.64 = 3.64 mA are left, 73 % of a 5 mA device: less, and still too much.
func TestEachLeakageCureSaysWhatItCures(t *testing.T) {
	const saw = "drivewright: 1\nrules: us\nsupply: {voltage: 240 V, phases: 1, ground-fault protection: class A 5 mA}\n" +
		"motor: {power: 3 hp, voltage: 230/460 V, current: 8.4/4.2 A, cable: 14 ft, cable screened: yes}\n" +
		"drive: {input phases: 1, output current: 10.5 A, input current: 23 A, leakage: 14 mA, leakage filter out: 3 mA, filter: built in}\n"
	said := func(text string) string {
		return inOrder(Size(motorJob(t, text)).Leakage.WaysOut).Show(quantity.InchUnits)
	}
	first := said(saw)
	for _, want := range []string{"3.64 mA in all, 72.8 % of 5 mA, by itself not enough", "860 µA or less would hold"} {
		if !strings.Contains(first, want) && !strings.Contains(first, strings.Replace(want, "860 µA", "0.86 mA", 1)) {
			t.Errorf("the ways out don't say %q: %s", want, first)
		}
	}
	if better := said(strings.Replace(saw, "class A 5 mA", "30 mA", 1)); !strings.Contains(better, "12.1 % of 30 mA, which holds") {
		t.Errorf("on 30 mA the link out cures it: %s", better)
	}
}

// TestLeakageAsksForASecondGroundOnFixedWiringToo: IEC 61800-5-1 4.3.5.5.2, from memory: above 3.5 mA fixed wiring has a protective
// conductor of 10 mm² or a second one.
func TestLeakageAsksForASecondGroundOnFixedWiringToo(t *testing.T) {
	job := func(connection, leak string) Result {
		return Size(motorJob(t, "drivewright: 1\nrules: us\nsupply: {voltage: 240 V, phases: 1, breaker: 30 A, connection: "+connection+"}\nmotor: {power: 3 hp, voltage: 230/460 V, current: 8.4/4.2 A, cable: 0 ft}\n"+
			"drive: {input phases: 1, output current: 10.5 A, input current: 23 A, leakage: "+leak+"}\n"))
	}
	for _, c := range []struct {
		connection, leak string
		asked            bool
	}{{"hard-wired", "3.4 mA", false}, {"hard-wired", "9 mA", true}, {"cord and plug", "3.4 mA", false}, {"cord and plug", "4 mA", true}} {
		r := job(c.connection, c.leak)
		if asked := r.Grounding.Second.Value != "not asked for"; asked != c.asked {
			t.Errorf("%s at %s: %s", c.leak, c.connection, r.Grounding.Second.Value)
		}
		if spoke := len(explain.Judge([]explain.Rule[Result]{singleGroundWithLeakage}, explain.US, r)) > 0; spoke != c.asked {
			t.Errorf("%s at %s: the rule spoke %v, want %v", c.leak, c.connection, spoke, c.asked)
		}
	}
}

// TestNoCordWhereNoReceptacleReaches: the remedies of a machine that no receptacle carries don't ask for a thicker cord.
func TestNoCordWhereNoReceptacleReaches(t *testing.T) {
	r := Size(motorJob(t, "drivewright: 1\nrules: us\nsupply: {voltage: 240 V, phases: 1, breaker: 30 A, connection: cord and plug, receptacle: L6-30, cord: 10 AWG}\n"+
		"motor: {power: 7.5 hp, voltage: 230/460 V, current: 19.4/9.7 A}\ndrive: {input phases: 1, output current: 25 A, input current: 51 A}\n"))
	said := 0
	for _, f := range explain.Judge(Rules(), explain.US, r) {
		remedy := f.Remedy.Show(quantity.InchUnits)
		if strings.Contains(remedy, "use a cord of") {
			t.Errorf("%s: %s, though no receptacle reaches", f.Rule, remedy)
		}
		if f.Rule == "cord-too-small" && strings.Contains(remedy, "hard-wire the machine") {
			said++
		}
	}
	if said != 1 {
		t.Errorf("the small cord's finding should ask to hard-wire the machine")
	}
}

// TestSlowestForHoursHasNoRestInIt: the curve of a motor with its own fan gives 80 % at half speed and 60 % at a quarter, so 75 % at
// 43.75 % of 60 Hz = 26.25 Hz, whatever the usual duty.
func TestSlowestForHoursHasNoRestInIt(t *testing.T) {
	for _, duty := range []string{"40 %", "100 %"} {
		r := Size(motorJob(t, "drivewright: 1\nmachine: {duty: "+duty+", load: 75 %, torque: constant}\nsupply: {voltage: 240 V, phases: 1}\nmotor: {power: 5 hp, voltage: 230/460 V, current: 13.4/6.7 A, frequency: 60 Hz, enclosure: TEFC}\n"))
		near(t, "slowest for hours at a duty of "+duty, r.Cooling.Slowest, 26.25, 1e-6)
	}
}
