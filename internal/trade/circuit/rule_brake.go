package circuit

import (
	"strings"

	"drivewright/internal/base/explain"
)

// brakeRules judge the spring brake on the motor.
var brakeRules = []explain.Rule[Result]{brakeNotInTheCircuit}

var brakeNotInTheCircuit = explain.Rule[Result]{
	Name: "brake-not-in-the-circuit", Title: "the motor has a spring brake, and nothing in the circuit lifts it", Severity: explain.Must, Sets: explain.Everywhere,
	Why:    "a spring brake holds while its coil has no power: the motor then runs against it, and burns or strips its lining",
	Source: explain.Practice("a spring brake behind a drive: its coil has the mains, never the drive's output, through a relay that the drive pulls in when the motor has torque"),
	Check: func(r Result, report *explain.Report) {
		if r.Job == nil || r.Job.Motor.Brake.Value != "own supply" || len(r.Circuit.Devices) == 0 {
			return
		}
		for n := range r.Circuit.Devices {
			if d := &r.Circuit.Devices[n]; d.Role != FootBrake && strings.Contains(d.Words, "brake") {
				return // by hand; whether it works is for the simulation
			}
		}
		report.At(r.Job.Motor.Brake, explain.Say("the motor's spring brake isn't in this circuit: it was not made, and stays on"),
			explain.Say("write it by hand: a load named motor brake, its rectifier or coil fused and fed behind the main switch and the supply contactor, through a relay on an output of the drive that is set to motor running (off at zero speed), and a varistor across its coil; then read its coil's volts at the first run"))
	},
}
