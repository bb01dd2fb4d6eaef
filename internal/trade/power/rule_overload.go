package power

import (
	"slices"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
)

var overloadNotSet = explain.Rule[Result]{
	Name: "overload-setting-not-set", Title: "the drive's overload current isn't set for this motor", Severity: explain.Check, Sets: explain.Everywhere,
	Why:    "at its factory setting the drive lets a smaller motor burn without a word",
	Source: bothSets("430.124", "IEC 60204-1 7.3"),
	Check: func(r Result, report *explain.Report) {
		g := &r.Job.Drive
		if !r.Drive.Own || g.ThermalSet.Set || g.Thermal.Value == "no" || !r.Overload.Setting.OK() {
			return
		}
		report.At(firstOfDrive(r), explain.Say("no overload setting is written, so it stands at the factory's figure"),
			explain.Say("set the motor's rated current in the drive to {} and write overload setting", r.Overload.Setting.Value))
	},
}

// firstOfDrive is the first thing written of the drive, to hang a finding on.
func firstOfDrive(r Result) explain.Because {
	g := &r.Job.Drive
	if g.Name.Set || g.InputPhases.Set || g.InputVoltage.Set || g.OutputVoltage.Set {
		return firstGiven(g)
	}
	if g.Output.Set {
		return g.Output
	}
	return g.Input
}

var overloadTooHigh = explain.Rule[Result]{
	Name: "overload-setting-too-high", Title: "the overload is set higher than this motor bears", Severity: explain.Must, Sets: explain.Everywhere,
	Why:    "the motor burns before the protection trips",
	Source: bothSets("430.32(A)(1)", "IEC 60204-1 7.3"),
	Check: func(r Result, report *explain.Report) {
		s := r.Job.Drive.ThermalSet
		if !s.Set || !r.Overload.Most.OK() || s.Value <= r.Overload.Most.Value*1.0005 {
			return
		}
		remedy := explain.Say("set it to {}; {} is the most", r.Overload.Setting.Value, r.Overload.Most.Value)
		if r.Overload.IfStart.Value > r.Overload.Most.Value*1.0005 {
			remedy = explain.Say("set it to {}; {} is the most, {} only if it won't start or carry its load otherwise", r.Overload.Setting.Value, r.Overload.Most.Value, r.Overload.IfStart.Value)
		}
		report.At(s, explain.Say("{} is set and {} is the most for a motor of {}", s.Value, r.Overload.Most.Value, r.Motor.Nameplate.Value), remedy)
	},
}

var overloadTooLow = explain.Rule[Result]{
	Name: "overload-setting-too-low", Title: "the overload is set well below the motor's current", Severity: explain.Check, Sets: explain.Everywhere,
	Why:    "it trips in honest work, and sooner or later somebody turns it up too far; it may be the current of the other connection",
	Source: bothSets("430.6(A)(2)", "IEC 60204-1 7.3"),
	Check: func(r Result, report *explain.Report) {
		s, o := r.Job.Drive.ThermalSet, r.Overload.Setting
		if !s.Set || !o.OK() || s.Value >= o.Value*0.85 {
			return
		}
		report.At(s, explain.Say("{} is set, the motor's plate says {} at {}", s.Value, o.Value, quantityOrUnknown(r.Voltage.Wanted)),
			explain.Say("set it to {}", o.Value))
	},
}

var noOverload = explain.Rule[Result]{
	Name: "motor-without-overload-protection", Title: "nothing protects the motor against running too hot", Severity: explain.Must, Sets: explain.Everywhere,
	Why:    "a blunt tool or a dry bearing burns the winding, and a burning winding can start a fire",
	Source: bothSets("430.124 and 430.32", "IEC 60204-1 7.3"),
	Check: func(r Result, report *explain.Report) {
		t, h := r.Job.Drive.Thermal, r.Job.Machine.OldHeaters
		if t.Value != "no" || h.Value == "fitted" {
			return
		}
		report.At(t, explain.Say("the drive has no electronic overload and the old relay isn't there or isn't fit"),
			explain.Say("fit an overload relay in the motor leads, set to {}, its contact in the drive's stop circuit, or choose a drive that has one", quantityOrUnknown(r.Overload.Setting)))
	},
}

var oldHeaters = explain.Rule[Result]{
	Name: "old-overload-heaters-not-fit", Title: "the old overload is missing, bypassed or of the wrong size", Severity: explain.Check, Sets: explain.Everywhere,
	Why:    "the old starter looks like protection and is none",
	Source: bothSets("430.32", "IEC 60204-1 7.3"),
	Check: func(r Result, report *explain.Report) {
		h, t := r.Job.Machine.OldHeaters, r.Job.Drive.Thermal
		if !slices.Contains([]quantity.Text{"missing", "bypassed", "wrong size"}, h.Value) || t.Value == "yes" || t.Value == "no" {
			return
		}
		report.At(h, explain.Say("the old overload is {}, so the drive's own must protect the motor", h.Value),
			explain.Say("see in the drive's booklet that it has motor overload protection with thermal memory, set it to {}, and write electronic overload: yes", quantityOrUnknown(r.Overload.Setting)))
	},
}

var autoReset = explain.Rule[Result]{
	Name: "protector-that-resets-by-itself", Title: "the protector in the motor resets by itself", Severity: explain.Danger, Sets: explain.Everywhere,
	Why:    "when it has cooled the machine can start while a hand is at the work",
	Source: bothSets("430.43", "IEC 60204-1 7.3.1"),
	Check: func(r Result, report *explain.Report) {
		t := r.Job.Motor.Thermal
		if t.Value == "automatic reset" {
			report.At(t, explain.Say("the protector closes again by itself when it cools"),
				explain.Say("lead its contact to the drive's external-fault input, set fault reset to manual and the count of automatic resets to 0; don't leave it in the motor leads, where it would open them under the drive"))
		}
	},
}

var sensorUnused = explain.Rule[Result]{
	Name: "winding-sensor-not-to-be-wasted", Title: "the motor has a heat sensor in its winding", Severity: explain.Note, Sets: explain.Everywhere,
	Why:    "it feels the heat of slow running that a current measurement misses",
	Source: bothSets("430.126", "IEC 60204-1 7.3.3"),
	Check: func(r Result, report *explain.Report) {
		t := r.Job.Motor.Thermal
		if t.Value == "switch" || t.Value == "thermistor" {
			report.At(t, explain.Say("a {} is built into the winding", t.Value),
				explain.Say("wire it to the drive's external-fault input, screened and apart from the motor leads; a thermistor needs the drive's own thermistor input or a relay"))
		}
	},
}
