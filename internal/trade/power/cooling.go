package power

import (
	"fmt"
	"math"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/input/job"
)

// coolingSource is where the curve of a motor with its own fan comes from. It is recalled, and the least sure figure of this
// stage: the low end of the band that is remembered.
var coolingSource = explain.Source{Work: "NEMA MG 1", Edition: "2016", Place: "part 30, torque of self-cooled motors over speed"}.Remembered()

// coolingCurve is the torque that a fan-cooled motor may give all day, over its speed, both as parts of the plate's.
var coolingCurve = []struct{ speed, torque float64 }{{0, 0.35}, {0.10, 0.45}, {0.25, 0.60}, {0.50, 0.80}, {1, 1}}

// coolTorque returns the torque that the curve allows at a part of the plate's speed.
func coolTorque(speed float64) float64 {
	for n := 1; n < len(coolingCurve); n++ {
		a, b := coolingCurve[n-1], coolingCurve[n]
		if speed <= b.speed {
			return a.torque + (b.torque-a.torque)*(max(speed, 0)-a.speed)/(b.speed-a.speed)
		}
	}
	return 1
}

// coolSpeed returns the least part of the plate's speed at which the curve allows the torque.
func coolSpeed(torque float64) float64 {
	if torque <= coolingCurve[0].torque {
		return 0
	}
	for n := 1; n < len(coolingCurve); n++ {
		a, b := coolingCurve[n-1], coolingCurve[n]
		if torque <= b.torque {
			return a.speed + (b.speed-a.speed)*(torque-a.torque)/(b.torque-a.torque)
		}
	}
	return 1
}

// ownFan reports whether the motor's cooling falls with its speed.
func ownFan(enclosure quantity.Text) bool { return enclosure != "blower" && enclosure != "TENV" }

var enclosureChoices = []string{"TEFC", "ODP", "TENV", "blower"}

var selfCooledTorque = &explain.Formula{
	Name: "self-cooled-torque", Title: "torque that a motor may give all day at a low frequency",
	Words: "curve for {enclosure} at {frequency} ÷ {plate frequency}: 100 % at full speed, 80 % at half, 60 % at a quarter, 45 % at a tenth",
	Inputs: []explain.Parameter{
		outputFrequencyParameter,
		plateFrequencyParameter,
		enclosureParameter,
	},
	Result: quantity.KindRatio, Source: coolingSource,
	Compute: explain.Of3(func(f, plate quantity.Frequency, enclosure quantity.Text) (explain.Answer, error) {
		if plate <= 0 {
			return explain.Answer{}, fmt.Errorf("the plate frequency must be above zero")
		}
		if !ownFan(enclosure) {
			return explain.Answer{Value: quantity.Ratio(1), Words: "100 % at {frequency} of {plate frequency}: with {enclosure} the cooling doesn't depend on the motor's speed"}, nil
		}
		return explain.Answer{Value: quantity.Ratio(coolTorque(float64(f / plate))),
			Note: explain.Say("a rough curve, from memory and taken low: the motor's maker may allow more")}, nil
	}),
}

// restCounts is how well a motor cools at rest against running at speed with its own fan: a third.
const restCounts = 1.0 / 3

// heatingShare is the part of the cooling of a cycle that falls to the running time, when rest counts only in part.
func heatingShare(duty quantity.Ratio) float64 {
	d := float64(min(duty, 1))
	return d / (d + (1-d)*restCounts)
}

var dutyTorque = &explain.Formula{
	Name: "duty-torque", Title: "torque that a motor may give at a low frequency when it rests between",
	Words: "{all-day torque} ÷ √({duty} ÷ ({duty} + ⅓ × (1 − {duty}))), at most 100 %: root mean square over the cycle, rest counting a third",
	Inputs: []explain.Parameter{
		{Name: "all-day torque", Kind: quantity.KindRatio, Help: "that it may give without rest", Example: "66.7 %"},
		{Name: "duty", Kind: quantity.KindRatio, Help: "how much of an hour it runs", Example: "40 %"},
	},
	Result: quantity.KindRatio, Source: explain.Practice("root-mean-square load of intermittent duty, a motor at rest with its own fan cooling a third as well").Remembered(),
	Compute: explain.Of2(func(torque, duty quantity.Ratio) (explain.Answer, error) {
		if duty <= 0 {
			return explain.Answer{}, fmt.Errorf("duty must be above zero")
		}
		return explain.Is(quantity.Ratio(min(float64(torque)/math.Sqrt(heatingShare(duty)), 1)))
	}),
}

// The words for how the work's torque goes with speed.
const fallingTorque = "falling with speed"

var torqueNeeded = &explain.Formula{
	Name: "torque-needed", Title: "torque that the work asks at a frequency",
	Words: "{load}; × ({frequency} ÷ {plate frequency})² where {torque demand} is falling with speed",
	Inputs: []explain.Parameter{
		{Name: "load", Kind: quantity.KindRatio, Help: "against the nameplate, at full speed", Example: "75 %"},
		{Name: "torque demand", Kind: quantity.KindText, Help: "how the torque goes with speed", Example: "constant", Choices: []string{"constant", fallingTorque}},
		outputFrequencyParameter,
		plateFrequencyParameter,
	},
	Result: quantity.KindRatio, Source: explain.Practice("cutting asks the same torque at any speed, fans and centrifugal pumps the square of the speed"),
	Compute: explain.Of4(func(load quantity.Ratio, demand quantity.Text, f, plate quantity.Frequency) (explain.Answer, error) {
		if demand != fallingTorque {
			return explain.Answer{Value: load, Words: "{load}, as the work asks {torque demand} torque at {frequency} as at {plate frequency}"}, nil
		}
		if plate <= 0 {
			return explain.Answer{}, fmt.Errorf("the plate frequency must be above zero")
		}
		s := float64(f / plate)
		return explain.Answer{Value: load * quantity.Ratio(s*s), Words: "{load} × ({frequency} ÷ {plate frequency})², as {torque demand}"}, nil
	}),
}

var slowestCool = &explain.Formula{
	Name: "slowest-cool-frequency", Title: "least frequency at which a motor may carry its load for hours",
	Words: "frequency at which the curve for {enclosure}, {plate frequency} at full speed, raised for {duty}, meets {load}",
	Inputs: []explain.Parameter{
		{Name: "load", Kind: quantity.KindRatio, Help: "torque against the nameplate", Example: "75 %"},
		{Name: "duty", Kind: quantity.KindRatio, Help: "how much of an hour it runs", Example: "100 %", Default: "100 %"},
		plateFrequencyParameter,
		enclosureParameter,
	},
	Result: quantity.KindFrequency, Source: coolingSource,
	Compute: explain.Of4(func(load, duty quantity.Ratio, plate quantity.Frequency, enclosure quantity.Text) (explain.Answer, error) {
		if !ownFan(enclosure) {
			return explain.Answer{Value: quantity.Frequency(0), Note: explain.Say("its cooling doesn't depend on its speed")}, nil
		}
		torque := float64(load) * math.Sqrt(heatingShare(duty))
		answer := explain.Answer{Value: plate * quantity.Frequency(coolSpeed(torque))}
		if torque > 1 {
			answer.Note = explain.Say("the load is more than the motor may carry at any speed")
		}
		return answer, nil
	}),
}

var topSpeed = &explain.Formula{
	Name: "top-shaft-speed", Title: "motor speed at the highest frequency",
	Words: "{plate speed} × {highest frequency} ÷ {plate frequency}",
	Inputs: []explain.Parameter{
		{Name: "plate speed", Kind: quantity.KindRotation, Help: "full-load rpm", Example: "1740 rpm"},
		{Name: "highest frequency", Kind: quantity.KindFrequency, Help: "drive output", Example: "75 Hz"},
		plateFrequencyParameter,
	},
	Result: quantity.KindRotation, Source: explain.Physics("speed follows frequency, slip apart"),
	Compute: explain.Of3(func(n quantity.Rotation, f, plate quantity.Frequency) (explain.Answer, error) {
		if plate <= 0 {
			return explain.Answer{}, fmt.Errorf("the plate frequency must be above zero")
		}
		return explain.Is(n * quantity.Rotation(f/plate))
	}),
}

// demands are what the machine asks of the motor, with what is assumed where the job doesn't say.
type demands struct {
	load, duty explain.Known[quantity.Ratio]
	torque     explain.Known[quantity.Text]
	enclosure  explain.Known[quantity.Text]
}

// demandsOf returns the demands of the job.
func demandsOf(j *job.Job) demands {
	m := &j.Machine
	return demands{
		load:      job.Or(m.Load, 1, explain.Practice("a machine worked hard"), explain.Say("not said: taken to work at full load")),
		duty:      job.Or(m.Duty, 1, explain.Practice("a machine that runs all hour"), explain.Say("not said: taken to run without rest; less duty allows more")),
		torque:    job.Or(m.Torque, "constant", explain.Practice("cutting machines"), explain.Say("not said: taken to ask the same torque at any speed")),
		enclosure: job.Or(j.Motor.Enclosure, "TEFC", explain.Practice("most motors have their fan on the shaft"), explain.Say("not said: taken to have its fan on its own shaft")),
	}
}

// withoutRest is the duty of work that goes on for hours: whatever the machine's usual duty, such work has no rest in it.
var withoutRest = explain.Constant("duty of work that goes on for hours", 100*quantity.Percent, explain.Physics("no rest"))

// cooling fills r.Cooling. nameplate has run.
func cooling(r *Result) {
	m, c := &r.Job.Machine, &r.Cooling
	d := demandsOf(r.Job)
	f := r.Plate.Frequency
	c.Lowest = job.Known(m.LeastSpeed)
	allDay := explain.Derive[quantity.Ratio](selfCooledTorque, "all-day torque at the lowest frequency", m.LeastSpeed, f, d.enclosure)
	c.Allowed = explain.Derive[quantity.Ratio](dutyTorque, "torque allowed at the lowest frequency", allDay, d.duty)
	c.Needed = explain.Derive[quantity.Ratio](torqueNeeded, "torque needed at the lowest frequency", d.load, d.torque, m.LeastSpeed, f)
	if d.torque.Value == fallingTorque {
		c.Slowest = explain.Chosen[quantity.Frequency]("slowest frequency for hours", 0, "any, as {"+d.torque.Why().Name+"}: the heat falls faster than the cooling", coolingSource, d.torque)
	} else {
		c.Slowest = explain.Derive[quantity.Frequency](slowestCool, "slowest frequency for hours", d.load, withoutRest, f, d.enclosure)
	}
	c.Overtime = explain.Derive[quantity.Rotation](topSpeed, "motor speed at the highest frequency", r.Job.Motor.Speed, m.MostSpeed, f)
}
