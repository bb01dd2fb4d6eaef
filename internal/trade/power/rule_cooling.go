package power

import (
	"slices"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
)

var tooSlowForFan = explain.Rule[Result]{
	Name: "too-slow-for-the-motor-fan", Title: "at the lowest frequency the motor's own fan cools too little for this load", Severity: explain.Check, Sets: explain.Everywhere,
	Why:    "the winding overheats though the current is no more than the plate's; the drive may not notice",
	Source: coolingSource,
	Check: func(r Result, report *explain.Report) {
		c := r.Cooling
		if !c.Allowed.OK() || !c.Needed.OK() || c.Allowed.Value >= c.Needed.Value-1e-9 {
			return
		}
		report.At(c.Lowest, explain.Say("at {} the motor may give about {} of its torque at this duty, the work asks {}", c.Lowest.Value, c.Allowed.Value, c.Needed.Value),
			explain.Say("stay at {} or above for long work, use belts and back gear for slow work, or put a separately driven blower on the motor; a drive can't multiply torque", quantityOrUnknown(c.Slowest)))
	},
}

// bursting are the machines whose wheel, blade or drum can burst or throw work when it turns too fast.
var bursting = []string{"saw", "band saw", "grinder", "sander", "planer"}

var wheelOverspeed = explain.Rule[Result]{
	Name: "wheel-or-blade-faster-than-before", Title: "the wheel, blade or drum would turn faster than the machine was made for", Severity: explain.Danger, Sets: explain.Everywhere,
	Why:    "a wheel that bursts or a blade that lets go goes through whoever stands there",
	Source: explain.Practice("the marked speed of wheels and blades is never exceeded"),
	Check: func(r Result, report *explain.Report) {
		m := &r.Job.Machine
		f := r.Plate.Frequency
		if !m.MostSpeed.Set || !f.OK() || m.MostSpeed.Value <= f.Value*1.001 || !slices.Contains(bursting, string(m.Type.Value)) {
			return
		}
		report.At(m.MostSpeed, explain.Say("{} turns it {} faster than at the plate's {}", m.MostSpeed.Value, quantity.Part(m.MostSpeed.Value, f.Value)-1, f.Value),
			explain.Say("set the highest frequency to {}, unless the marked speed of wheel, blade and bearings is known and higher", f.Value))
	},
}

var motorOverspeed = explain.Rule[Result]{
	Name: "motor-well-above-its-plate-speed", Title: "the motor would run far above its plate speed", Severity: explain.Check, Sets: explain.Everywhere,
	Why:    "bearings, fan and rotor bars are made for the plate speed; torque falls off as well",
	Source: explain.Source{Work: "NEMA MG 1", Place: "12.52 and 30.2.2.3"}.Remembered(),
	Check: func(r Result, report *explain.Report) {
		m := r.Job.Machine.MostSpeed
		f := r.Plate.Frequency
		if !m.Set || !f.OK() || m.Value <= f.Value*1.25 {
			return
		}
		report.At(m, explain.Say("{} is {} of the plate's {}, and torque there is about {}", m.Value, quantity.Part(m.Value, f.Value), f.Value, quantity.Part(r.Voltage.BaseFrequency.Value, m.Value)),
			explain.Say("stay below {} without the motor maker's word, and check chuck, spindle and pulleys", f.Value*1.25))
	},
}

var dutyUnknown = explain.Rule[Result]{
	Name: "duty-not-known", Title: "how much of an hour the motor runs isn't given", Severity: explain.Note, Sets: explain.Everywhere,
	Why:    "duty decides how hot motor and box get; without it the sheet takes the worst",
	Source: explain.Practice("duty decides the heat"),
	Check: func(r Result, report *explain.Report) {
		if !r.Job.Machine.Duty.Set {
			report.At(r.Job.Machine.Duty, explain.Say("how much of an hour the motor runs isn't given: taken to be all of it"),
				explain.Say("write machine: duty, such as 30 %; a smaller box and slower running may then pass"))
		}
	},
}

// ratedMinutes returns the minutes of a short-time rating, 0 for a continuous or unknown one.
func ratedMinutes(rating quantity.Text) float64 {
	switch rating {
	case "60 min":
		return 60
	case "30 min":
		return 30
	case "15 min":
		return 15
	case "5 min":
		return 5
	}
	return 0
}

var timeRated = explain.Rule[Result]{
	Name: "time-rated-motor-run-longer", Title: "a motor rated for minutes runs for longer", Severity: explain.Must, Sets: explain.Everywhere,
	Why:    "it was sold small because it was to rest: at full load it burns after its minutes",
	Source: explain.NEC("430.33").Remembered(),
	Check: func(r Result, report *explain.Report) {
		t := r.Job.Motor.TimeRating
		minutes := ratedMinutes(t.Value)
		d := demandsOf(r.Job)
		if minutes == 0 {
			return
		}
		// its load over the hour, root mean square, against what its minutes at full load put into it
		most := 0.95 * minutes / 60
		if float64(d.load.Value)*float64(d.load.Value)*float64(d.duty.Value) <= most {
			return
		}
		report.At(t, explain.Say("rated {} and used {} of an hour at {} load", quantity.Text(t.Typed), d.duty.Value, d.load.Value),
			explain.Say("run it no more than {} of an hour at full load, with rests, or fit a continuous-rated motor of more power", quantity.Ratio(most)))
	},
}
