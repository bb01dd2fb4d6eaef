package circuit

import (
	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
)

// loadRules judge what else on the machine turns.
var loadRules = []explain.Rule[Result]{motorOutlivesEmergencyStop}

var motorOutlivesEmergencyStop = explain.Rule[Result]{
	Name: "emergency-stop-leaves-a-motor-running", Title: "a second motor runs on when the emergency stop is pushed", Severity: explain.Check, Sets: explain.Everywhere,
	Why:    "a feed roller or a pump goes on pulling while everybody believes that the machine is dead",
	Source: machineBooks("9.2.5.4.1 (the emergency stop overrides all other functions)", "9.2.3.4.1"),
	Check: func(r Result, report *explain.Report) {
		if r.Job.Controls.Circuit.Value == "by hand only" || len(emergencies(&r.Circuit)) == 0 {
			return
		}
		contactor := len(r.Circuit.ByRole(SupplyContactor)) > 0
		for n := range r.Job.Loads {
			l := &r.Job.Loads[n]
			behind := contactor && (!l.Fed.Set || l.Fed.Value == "behind the main switch")
			if !motorLoad(l) || l.Runs.Value == "with the motor" || l.Fed.Value == "drive output" || behind {
				continue
			}
			name := l.Name.Value
			if name == "" {
				name = quantity.Text("second motor")
			}
			report.At(l.Name, explain.Say("the emergency stop takes the drive's torque away, but the {} runs on", name),
				explain.Say("write runs: with the motor, so that a contactor follows the run; or take an emergency stop that cuts the power, and feed it behind the main switch; or record why it can hurt nobody"))
		}
	},
}
