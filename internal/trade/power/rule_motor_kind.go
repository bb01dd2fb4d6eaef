package power

import (
	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
)

var motorSinglePhase = explain.Rule[Result]{
	Name: "motor-is-single-phase", Title: "a single-phase motor can't run on a three-phase drive", Severity: explain.Must, Decides: true, Sets: explain.Everywhere,
	Why:    "its start winding and capacitor burn, or take the drive's transistors with them",
	Source: explain.Physics("a single-phase motor has no third phase to feed"),
	Check: func(r Result, report *explain.Report) {
		m := &r.Job.Motor
		if isSinglePhaseMotor(m) {
			report.At(m.Phases, explain.Say("this motor is single-phase: capacitor, start switch, two to four leads"),
				explain.Say("run it on the single-phase supply as it is, or fit a three-phase motor of {} and 230 V", quantityOrUnknownGiven(m.Power.Set, m.Power.Value)))
		}
	},
}

var motorMayBeSinglePhase = explain.Rule[Result]{
	Name: "motor-may-be-single-phase", Title: "the motor looks like a single-phase one", Severity: explain.Must, Decides: true, Sets: explain.Everywhere,
	Why:    "a single-phase motor on a drive burns its start winding and capacitor, or takes the drive's transistors with them",
	Source: explain.Practice("capacitor, start switch, two to four leads: a single-phase motor"),
	Check: func(r Result, report *explain.Report) {
		m := &r.Job.Motor
		if !maybeSinglePhase(&r) {
			return
		}
		remedy := explain.Say("look at the plate for PH 1 or PH 3, for a capacitor's hump and for a switch that clicks when it slows down, and write motor: phases; a single-phase motor runs on the supply as it is, without a drive")
		f := r.Plate.EfficiencyFactor
		switch {
		case f.OK() && float64(f.Value) < leastEfficiencyFactor(m.Power.Value) && m.Leads.Set:
			report.At(m.Leads, explain.Say("{} leads, and {} at {} for {} would be efficiency × power factor of {} on three phases: this looks like a single-phase motor",
				m.Leads.Value, r.Motor.Nameplate.Value, r.Voltage.Wanted.Value, m.Power.Value, f.Value), remedy)
		case f.OK() && float64(f.Value) < leastEfficiencyFactor(m.Power.Value):
			report.At(m.Currents, explain.Say("{} at {} for {} would be efficiency × power factor of {} on three phases: this looks like a single-phase motor",
				r.Motor.Nameplate.Value, r.Voltage.Wanted.Value, m.Power.Value, f.Value), remedy)
		default:
			report.At(m.Leads, explain.Say("{} leads are no three-phase motor's, which has 3, 6, 9 or 12: this looks like a single-phase motor", m.Leads.Value), remedy)
		}
	},
}

// quantityOrUnknownGiven is quantityOrUnknown for a value that the user may not have written.
func quantityOrUnknownGiven(set bool, v quantity.Value) quantity.Value {
	if !set {
		return quantity.Text("its power")
	}
	return v
}

var brakeAtMotor = explain.Rule[Result]{
	Name: "brake-fed-from-the-motor-terminals", Title: "the brake's coil is fed from the motor's terminals", Severity: explain.Must, Sets: explain.Everywhere,
	Why:    "under a drive the volts there are low at low speed: the brake drags, burns and lets the motor burn with it",
	Source: explain.Practice("brake motors on drives"),
	Check: func(r Result, report *explain.Report) {
		b := r.Job.Motor.Brake
		if b.Value == "at the motor terminals" {
			report.At(b, explain.Say("the brake would get the drive's output instead of mains"),
				explain.Say("take its leads off the motor's terminals, feed its rectifier from the supply through a relay of the drive, and set the brake only when the motor stands"))
		}
	},
}

var speedSwitchLive = explain.Rule[Result]{
	Name: "two-speed-switch-behind-the-drive", Title: "a speed switch between drive and motor", Severity: explain.Must, Sets: explain.Everywhere,
	Why:    "opening or changing windings under power can kill the drive, and the two windings take different currents",
	Source: explain.Practice("drive instructions: nothing is switched between drive and motor"),
	Check: func(r Result, report *explain.Report) {
		m := &r.Job.Motor
		if !severalSpeeds(m) || m.SpeedPlan.Set && m.SpeedPlan.Value != "still switched" {
			return
		}
		remedy := explain.Say("fix the motor on one winding, the faster as a rule, take the switch out of the motor leads and size for that winding's current, which may be the larger")
		if m.SpeedPlan.Set {
			report.At(m.SpeedPlan, explain.Say("the speed switch would still change windings under the drive"), remedy)
			return
		}
		report.At(m.Speeds, explain.Say("the motor has {} speeds and what happens to its speed switch isn't said", m.Speeds.Value), remedy)
	},
}

var severalMotors = explain.Rule[Result]{
	Name: "several-motors-on-one-drive", Title: "the machine has more three-phase motors than the one a drive serves", Severity: explain.Must, Sets: explain.Everywhere,
	Why:    "on one drive all motors change speed together, none is protected by itself, and switching one in under way trips or kills the drive",
	Source: explain.NEC("430.124(C)").Remembered(),
	Check: func(r Result, report *explain.Report) {
		n := motorsOnMachine(r.Job)
		if n < 2 {
			return
		}
		var about explain.Because = r.Job.Machine.Motors
		if !r.Job.Machine.Motors.Set {
			for k := range r.Job.Loads {
				if l := &r.Job.Loads[k]; l.Sort.Value == "three-phase motor" {
					about = l.Sort
					break
				}
			}
		}
		report.At(about, explain.Say("{} three-phase motors would hang on one drive", n),
			explain.Say("give each its own drive, replace small ones by single-phase motors, or use a rotary converter for all; write under loads where each of the others is fed from"))
	},
}

var smallMotorBeside = explain.Rule[Result]{
	Name: "small-motor-needs-its-own-supply", Title: "a small three-phase motor beside the main one needs a supply of its own", Severity: explain.Check, Sets: explain.Everywhere,
	Why:    "on the main motor's drive a pump would slow down and stop with the spindle, unprotected; on one phase it burns",
	Source: explain.NEC("430.124(C)").Remembered(),
	Check: func(r Result, report *explain.Report) {
		for k := range r.Job.Loads {
			l := &r.Job.Loads[k]
			if !smallBeside(l, r.Job) || l.Fed.Value == "drive output" && !l.Fused.Set {
				continue // motor-on-the-drive-without-its-own-overload speaks of the latter
			}
			what := quantity.Text("the small motor")
			if l.Name.Set {
				what = "the " + l.Name.Value
			}
			report.At(l.Sort, explain.Say("{} of {} has three phases too, and the drive serves the main motor alone", what, quantity.Text(l.Power.Typed)),
				explain.Say("give it a small drive of its own, or fit a single-phase one of the same flow or power, and write under loads where it is fed from"))
		}
	},
}

var loadOnDriveOutput = explain.Rule[Result]{
	Name: "load-fed-from-the-drive-output", Title: "something other than the motor hangs on the drive's output", Severity: explain.Must, Sets: explain.Everywhere,
	Why:    "a lamp, coil, transformer or brake burns on the drive's pulses and changing volts, and may trip or kill the drive",
	Source: explain.Practice("drive instructions: only a three-phase motor on the output"),
	Check: func(r Result, report *explain.Report) {
		for k := range r.Job.Loads {
			l := &r.Job.Loads[k]
			if l.Fed.Value != "drive output" || l.Sort.Value == "three-phase motor" {
				continue
			}
			what := quantity.Text("this load")
			switch {
			case l.Name.Set:
				what = "the " + l.Name.Value
			case l.Sort.Set:
				what = "the " + l.Sort.Value
			}
			report.At(l.Fed, explain.Say("{} would be fed from the drive's output", what),
				explain.Say("feed it from the supply behind the main switch, with its own fuse"))
		}
	},
}

var secondMotorUnprotected = explain.Rule[Result]{
	Name: "motor-on-the-drive-without-its-own-overload", Title: "a second motor on the drive without an overload of its own", Severity: explain.Must, Sets: explain.Everywhere,
	Why:    "the drive measures the sum of both currents: the smaller motor burns long before it notices",
	Source: explain.NEC("430.124(C)").Remembered(),
	Check: func(r Result, report *explain.Report) {
		for k := range r.Job.Loads {
			l := &r.Job.Loads[k]
			if l.Fed.Value == "drive output" && l.Sort.Value == "three-phase motor" && !l.Fused.Set {
				report.At(l.Fed, explain.Say("this motor would share the drive and has no overload relay of its own"),
					explain.Say("give it its own supply or drive; if it must share, an overload relay set to its plate current, its contact in the drive's stop circuit"))
			}
		}
	},
}
