package plan_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/input/job"
	"drivewright/internal/plan"
	"drivewright/internal/trade/circuit"
	"drivewright/internal/trade/prove"
)

// madeLathe is a job whose circuit the program makes. The verbs are for how the run is held, the drive's start logic and
// what it does after a reset.
const madeLathe = `drivewright: 1
rules: us
supply: {voltage: 240 V, phases: 1}
controls: {run held by: %s, jog: yes, guard switch: stops the run, foot brake: stops the run}
stations:
  - {name: apron, kind: box on the machine, has: "start, stop, emergency stop, jog, guard switch, foot brake", cable: 9 ft}
drive control: {start logic: %s, safe torque off: two channels, starts after reset: %s}
`

// TestCircuitRulesAgreeWithTheSimulation puts mistakes into a made circuit and asks two that know nothing of one another: the
// rules, which trace what can reach what, and the simulation, which presses every button in turn. Where the one says that a
// stop doesn't stop, that letting go starts the machine, or that it doesn't start at all, so must the other.
func TestCircuitRulesAgreeWithTheSimulation(t *testing.T) {
	relay, drive := fmt.Sprintf(madeLathe, "a relay", "two-wire", "no"), fmt.Sprintf(madeLathe, "the drive", "three-wire", "no")
	eager := fmt.Sprintf(madeLathe, "the drive", "three-wire", "yes")
	same := []struct{ traced, simulated []string }{
		{[]string{"stop-does-not-stop", "emergency-stop-does-not-stop", "guard-or-foot-brake-does-not-stop"}, []string{"runs-on-after-a-stop"}},
		{[]string{"restarts-when-the-stop-is-let-go", "restarts-when-the-emergency-stop-is-released", "restarts-when-guard-or-foot-brake-is-let-go"}, []string{"starts-when-a-stop-is-taken-back"}},
		{[]string{"start-does-nothing", "run-not-held"}, []string{"circuit-does-not-run"}},
	}
	for _, c := range []struct {
		what, job string
		role      circuit.Role // of the device whose terminals a wire joins, or which is left out
		from, to  string
		says      int // which of same must be said; -1: none
	}{
		{"nothing wrong, held by a relay", relay, "", "", "", -1},
		{"nothing wrong, held by the drive", drive, "", "", "", -1},
		{"a drive that starts after a reset, three-wire: no command is left over", eager, "", "", "", -1},
		{"a bridge across the stop", relay, circuit.Stop, "11", "12", 0},
		{"a bridge across the stop, three-wire", drive, circuit.Stop, "11", "12", 0},
		{"a bridge across the guard switch", drive, circuit.Guard, "11", "12", 0},
		{"a bridge across the foot brake", relay, circuit.FootBrake, "11", "12", 0},
		{"a bridge across one contact of the emergency stop: the other still takes the torque", drive, circuit.EmergencyRole, "11", "12", -1},
		{"the stop left out, and with it the way through it", drive, circuit.Stop, "", "", 2},
		{"the guard switch left out, and with it the way through it", relay, circuit.Guard, "", "", 2},
	} {
		file := c.job
		p := plan.Make(job.Read("lathe.job.yaml", []byte(file)))
		if c.role != "" {
			d := p.Circuit.Circuit.ByRole(c.role)[0]
			if c.from != "" {
				file += fmt.Sprintf("wires:\n  - {name: 99, from: %q, to: %q}\n", d.Pin(c.from), d.Pin(c.to))
			} else {
				file = strings.Replace(file, "controls: {", "controls: {without: "+d.Tag+", ", 1)
			}
			p = plan.Make(job.Read("lathe.job.yaml", []byte(file)))
		}
		said := map[string]string{}
		report := prove.Proof{Report: prove.Break(&p.Circuit.Circuit, false)}
		for _, f := range slices.Concat(p.Findings, explain.Judge(prove.Rules(), explain.US, report)) {
			said[f.Rule] = f.Message.Show(quantity.InchUnits)
		}
		for n, pair := range same {
			traced := slices.ContainsFunc(pair.traced, func(rule string) bool { return said[rule] != "" })
			simulated := slices.ContainsFunc(pair.simulated, func(rule string) bool { return said[rule] != "" })
			if want := n == c.says; traced != want || simulated != want {
				t.Errorf("%s: %v: the rules say it: %t, the simulation says it: %t, want %t", c.what, pair.simulated, traced, simulated, want)
			}
		}
	}
}
