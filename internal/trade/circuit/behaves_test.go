package circuit_test

import (
	"context"
	"io/fs"
	"math/rand/v2"
	"strings"
	"testing"

	"drivewright/examples"
	"drivewright/internal/base/quantity"
	"drivewright/internal/trade/circuit"
	"drivewright/internal/trade/prove"
)

// asAsked reports whether the job asks for a circuit that can do what such a circuit must: it isn't made with a setting that
// contradicts another, which the rules report.
func asAsked(r circuit.Result) bool {
	p := r.Choices
	contactor := len(r.Circuit.ByRole(circuit.SupplyContactor)) > 0
	switch {
	case len(r.Mistakes) > 0, p.StartStop.Value != "buttons at the drive terminals", p.MotorSwitch.Value != "none", p.EmergencyStop.Value == "a drive input":
		return false
	case contactor && p.Supply.Value == "the drive's 24 V": // it would have to pull in without power
		return false
	case p.Supply.Value == "the drive's 24 V" && draws(r.Circuit) > 0.7*float64(r.Side.InputVoltage.Value)*float64(r.Side.SupplyCurrent.Value):
		return false
	case p.SupplyCurrent.OK() && draws(r.Circuit) > 0.9*float64(p.Voltage.Value)*float64(p.SupplyCurrent.Value):
		return false
	case p.Supply.Value == "a transformer" && len(r.Circuit.ByKind(circuit.Readout)) > 1: // they hang on the drive's 24 V
		return false
	case (p.HeldBy.Value == "a relay") == (r.Side.StartLogic.Value == "three-wire"):
		return false
	}
	return true
}

// draws is what coils, lamps and readouts take all together, in watts.
func draws(c circuit.Circuit) float64 {
	watts := 0.0
	for _, d := range c.Devices {
		for _, e := range d.Elements {
			if (e.Kind == circuit.Coil || e.Kind == circuit.LampElement || e.Kind == circuit.Electronics) && e.Ohms > 0 {
				watts += float64(e.Volts) * float64(e.Volts) / float64(e.Ohms)
			}
		}
	}
	return watts
}

// TestMadeCircuitsDoWhatTheyMust simulates mixtures of functions with nothing broken: Start starts, Stop and the emergency stop
// stop, nothing starts or restarts by itself. Sources: NFPA 79 and IEC 60204-1, 9.2 (start only by a start, stop before start,
// a reset that starts nothing), 7.5 (no restart when the supply returns), from memory; the worked examples CT1 and CT2 of
// three-wire control (start, stop and seal-in; supply lost and returned).
func TestMadeCircuitsDoWhatTheyMust(t *testing.T) {
	random := rand.New(rand.NewPCG(5, 6))
	tried := 0
	for range 2500 {
		text := randomJob(random)
		_, r := made(t, "mixture.job.yaml", text)
		if !asAsked(r) {
			continue
		}
		tried++
		checkBehaviour(t, r)
		if t.Failed() {
			t.Fatalf("mixture:\n%s", text)
		}
	}
	if tried < 200 {
		t.Errorf("only %d mixtures could be tried", tried)
	}
}

// TestExamplesDoWhatTheyMust: so do the examples.
func TestExamplesDoWhatTheyMust(t *testing.T) {
	names, err := fs.Glob(examples.Files, "*.job.yaml")
	if err != nil || len(names) < 3 {
		t.Fatalf("got %d examples (%v)", len(names), err)
	}
	for _, name := range names {
		text, err := fs.ReadFile(examples.Files, name)
		if err != nil {
			t.Fatal(err)
		}
		_, r := made(t, name, string(text))
		checkBehaviour(t, r)
	}
}

func checkBehaviour(t *testing.T, r circuit.Result) {
	t.Helper()
	ctx, cancel := context.WithCancel(t.Context())
	cancel() // no faults: only what the whole circuit does
	report, _ := prove.BreakWithin(ctx, &r.Circuit, false)
	for _, f := range report.Whole {
		t.Errorf("with nothing broken: %s after %s: %s, not %s", f.Name, strings.Join(f.Sequence, ", "), f.Seen, f.Expected)
	}
	starts, stops := 0, 0
	running := false
	for n, s := range report.Script {
		torque := s.State.Torque
		switch {
		case strings.HasPrefix(s.Action, "press start"), strings.HasPrefix(s.Action, "press jog"):
			if torque && !running {
				starts++
			}
		case strings.HasPrefix(s.Action, "press stop"):
			if torque {
				t.Errorf("step %d, %s: the motor has torque", n, s.Action)
			}
			if running {
				stops++
			}
		case strings.HasPrefix(s.Action, "push emergency stop"):
			ramps := r.Choices.EmergencyStop.Value == quantity.Text("ramp then cuts the power")
			if torque && !ramps {
				t.Errorf("step %d, %s: the motor has torque", n, s.Action)
			}
		default:
			if torque && !running && !strings.HasPrefix(s.Action, "turn") {
				t.Errorf("step %d, %s: the motor starts", n, s.Action)
			}
		}
		running = torque
	}
	if starts == 0 || stops == 0 {
		t.Errorf("in %d steps it was started %d times and stopped %d times", len(report.Script), starts, stops)
	}
}

// TestNoSingleFaultTakesTheEmergencyStop breaks mixtures one fault at a time: whatever wire comes off, whatever contact of an
// emergency stop sticks, whatever two neighbours touch, pushing it still stops the motor. Only a button that is jammed in its
// housing can't be helped by wiring, nor a wrong contact in the relays that hold the run while the drive ramps down.
// A load that follows the motor hangs on one contactor, which may weld: a rule tells of it.
// Source: NFPA 79 and IEC 60204-1, 9.4.1 (failure of control circuits), from memory.
func TestNoSingleFaultTakesTheEmergencyStop(t *testing.T) {
	random := rand.New(rand.NewPCG(7, 8))
	for tried := 0; tried < 25; {
		text := randomJob(random)
		_, r := made(t, "mixture.job.yaml", text)
		if !asAsked(r) || r.Choices.EmergencyStop.Value == "none" || r.Choices.EmergencyStop.Value == "ramp then cuts the power" && r.Choices.HeldBy.Value == "a relay" {
			continue
		}
		tried++
		for _, f := range prove.Break(&r.Circuit, false).Faults {
			if f.Class == prove.EmergencyStopLost && !f.LoadOnly && f.Changes[0].Kind != prove.NeverMoves {
				t.Errorf("%s: after %s, %s", f.Name, strings.Join(f.Sequence, ", "), f.Seen)
			}
		}
		if t.Failed() {
			t.Fatalf("mixture:\n%s", text)
		}
	}
}
