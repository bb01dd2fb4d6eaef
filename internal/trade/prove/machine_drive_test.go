package prove

import (
	"strings"
	"testing"
)

// TestDriveLogic plays inputs to a drive, moment by moment, and looks at what it does. Each moment names the inputs that are on; "dead" is a
// drive without power. Source: common practice, as booklets of general-purpose drives describe two-wire and three-wire control,
// start on power-up, restart after safe torque off, and the lost reference.
func TestDriveLogic(t *testing.T) {
	inputs := map[string]command{"fwd": runForward, "rev": runReverse, "dir": reverseDirection, "stop": stopCommand, "jog": jogCommand,
		"reset": resetCommand, "healthy": externalFault, "s1": safeOffOne, "s2": safeOffTwo}
	const (
		stands   = "stands"
		forward  = "forward"
		backward = "backward"
	)
	type moments []string // "inputs: what it does"
	for _, c := range []struct {
		name   string
		rules  driveRules
		has    string
		played moments
	}{
		{"three-wire starts on a press and holds", driveRules{threeWire: true}, "fwd stop",
			moments{"stop: stands", "stop fwd: forward", "stop: forward", ": stands", "stop: stands"}},
		{"three-wire: stop wins over start, and letting go of stop starts nothing", driveRules{threeWire: true}, "fwd stop",
			moments{"stop: stands", "fwd: stands", "stop fwd: stands", "stop: stands", "stop fwd: forward"}},
		{"three-wire: a start held while the power comes starts nothing", driveRules{threeWire: true}, "fwd stop",
			moments{"dead: stands", "stop fwd: stands", "stop: stands", "stop fwd: forward"}},
		{"three-wire: the supply dips, nothing starts again", driveRules{threeWire: true}, "fwd stop",
			moments{"stop: stands", "stop fwd: forward", "stop: forward", "dead: stands", "stop: stands"}},
		{"three-wire set to start on power-up", driveRules{threeWire: true, powerUp: true}, "fwd stop",
			moments{"dead: stands", "stop fwd: forward"}},
		{"three-wire backwards", driveRules{threeWire: true}, "fwd rev stop",
			moments{"stop: stands", "stop rev: backward", "stop: backward", ": stands"}},
		{"two-wire runs while closed", driveRules{}, "fwd rev",
			moments{": stands", "fwd: forward", ": stands", "rev: backward", "fwd rev: stands"}},
		{"two-wire waits for a fresh command after a dip", driveRules{}, "fwd",
			moments{": stands", "fwd: forward", "dead: stands", "fwd: stands", ": stands", "fwd: forward"}},
		{"two-wire set to run on power-up restarts by itself", driveRules{powerUp: true}, "fwd",
			moments{": stands", "fwd: forward", "dead: stands", "fwd: forward"}},
		{"direction by an input of its own", driveRules{}, "fwd dir",
			moments{": stands", "fwd dir: backward", "fwd: forward"}},
		{"both safe-off channels are needed", driveRules{threeWire: true, safe: 1<<safeOffOne | 1<<safeOffTwo}, "fwd stop s1 s2",
			moments{"stop s1 s2: stands", "stop fwd s1 s2: forward", "stop s1: stands", "stop s1 s2: stands", "stop fwd s1 s2: forward"}},
		{"two-wire: safe off comes back, and a command that stayed starts nothing", driveRules{safe: 1 << safeOffOne}, "fwd s1",
			moments{"s1: stands", "fwd s1: forward", "fwd: stands", "fwd s1: stands", "s1: stands", "fwd s1: forward"}},
		{"two-wire set to start after a reset", driveRules{safe: 1 << safeOffOne, afterReset: true}, "fwd s1",
			moments{"s1: stands", "fwd s1: forward", "fwd: stands", "fwd s1: forward"}},
		{"a command given while safe off is asked for is none", driveRules{safe: 1 << safeOffOne}, "fwd s1",
			moments{"s1: stands", ": stands", "fwd: stands", "fwd s1: stands"}},
		{"jog runs while it is held, from a press, from standstill", driveRules{threeWire: true}, "fwd stop jog",
			moments{"stop: stands", "stop jog: forward", "stop: stands", "stop fwd: forward", "stop jog: forward", "stop: forward", "jog: stands", "stop jog: stands"}},
		{"an external fault stays until the reset", driveRules{threeWire: true}, "fwd stop healthy reset",
			moments{"stop healthy: stands", "stop fwd healthy: forward", "stop: stands", "stop fwd healthy: stands", "stop healthy reset: stands", "stop healthy: stands", "stop fwd healthy: forward"}},
	} {
		var d driveMemory
		var has commands
		for word := range strings.FieldsSeq(c.has) {
			has.put(inputs[word], true)
		}
		for n, moment := range c.played {
			on, want, _ := strings.Cut(moment, ":")
			sees := driveSees{fed: on != "dead", has: has, reference: 500, motor: joinedForward}
			if sees.fed {
				for word := range strings.FieldsSeq(on) {
					sees.high.put(inputs[word], true)
				}
			}
			sees.low = sees.high
			d.step(&c.rules, &sees)
			got := map[int8]string{0: stands, 1: forward, -1: backward}[d.running]
			if want = strings.TrimSpace(want); got != want {
				t.Errorf("%s: moment %d (%s): got %s, want %s", c.name, n, moment, got, want)
			}
		}
	}
}

// TestDriveInputBetweenItsLimits: between its two limits an input stays what it was.
func TestDriveInputBetweenItsLimits(t *testing.T) {
	var d driveMemory
	between := driveSees{fed: true, has: 1 << runForward, low: 1 << runForward}
	on := driveSees{fed: true, has: 1 << runForward, high: 1 << runForward, low: 1 << runForward}
	rules := driveRules{powerUp: true}
	if d.step(&rules, &between); d.running != 0 {
		t.Error("got it running from between the limits, want it standing")
	}
	if d.step(&rules, &on); d.running != 1 {
		t.Error("got it standing above the upper limit, want it running")
	}
	if d.step(&rules, &between); d.running != 1 {
		t.Error("got it standing between the limits after it was on, want it running on")
	}
}

// TestDriveReference: what the speed is, and what becomes of it when the reference is lost.
func TestDriveReference(t *testing.T) {
	for _, c := range []struct {
		name      string
		rules     driveRules
		reference int16
		running   int8
		speed     int16
	}{
		{"a knob", driveRules{powerUp: true, speedFrom: "knob"}, 470, 1, 470},
		{"lost, the drive can't tell", driveRules{powerUp: true, speedFrom: "knob"}, 0, 1, 0},
		{"lost, it stops", driveRules{powerUp: true, speedFrom: "knob", lostBelow: 50, lostStops: true}, 0, 0, 0},
		{"lost, it holds", driveRules{powerUp: true, speedFrom: "knob", lostBelow: 50, lostHolds: true}, 0, 1, 300},
		{"a keypad", driveRules{powerUp: true, speedFrom: "drive keypad"}, 0, 1, keypadSpeed},
	} {
		d := driveMemory{}
		d.step(&c.rules, &driveSees{fed: true, has: 1 << runForward, high: 1 << runForward, low: 1 << runForward, reference: 300, motor: joinedForward})
		d.step(&c.rules, &driveSees{fed: true, has: 1 << runForward, high: 1 << runForward, low: 1 << runForward, reference: c.reference, motor: joinedForward})
		if d.running != c.running || d.running != 0 && d.speed != c.speed {
			t.Errorf("%s: got running %d at %d, want %d at %d", c.name, d.running, d.speed, c.running, c.speed)
		}
	}
}
