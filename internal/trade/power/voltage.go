package power

import (
	"fmt"
	"math"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/input/catalogue"
	"drivewright/internal/input/job"
)

// motorTolerance is how far the volts on a motor may lie from its plate at full power: 10 %.
// Source: the repair trade's rules of thumb (EASA, 2025); NEMA MG 1 12.44, from memory.
const motorTolerance = 0.10

// toleranceSource is where motorTolerance is published.
var toleranceSource = explain.Source{Work: "EASA, three-phase motor rules of thumb", Edition: "2025", Place: "voltage tolerance of 10 %"}

// singlePhaseBook is the drive maker's manual that gives figures for a three-phase-input drive on a single-phase supply.
var singlePhaseBook = explain.Source{Work: "a drive maker's product manual", Place: "chapter on single-phase input"}

var driveOutputVoltage = &explain.Formula{
	Name: "drive-output-voltage", Title: "most that a drive can put on the motor",
	Words: "{supply voltage} × {volts out per volt in}",
	Inputs: []explain.Parameter{
		supplyVoltageParameter,
		{Name: "volts out per volt in", Kind: quantity.KindFactor, Help: "1; 2 for a voltage doubler; 0.908 for a three-phase drive on one phase", Example: "1", Default: "1"},
	},
	Result: quantity.KindVoltage, Source: explain.Physics("an inverter's output can't exceed what its DC link is charged to"),
	Compute: explain.Of2(func(v quantity.Voltage, gain quantity.Factor) (explain.Answer, error) {
		return explain.Is(quantity.Scale(v, gain))
	}),
}

var voltageRatio = &explain.Formula{
	Name: "voltage-ratio", Title: "ratio of a nameplate's two voltages",
	Words: "{higher voltage} ÷ {lower voltage}",
	Inputs: []explain.Parameter{
		{Name: "higher voltage", Kind: quantity.KindVoltage, Help: "on the plate", Example: "460 V"},
		{Name: "lower voltage", Kind: quantity.KindVoltage, Help: "on the plate", Example: "230 V"},
	},
	Result: quantity.KindFactor, Source: explain.Physics("definition"),
	Compute: explain.Of2(func(high, low quantity.Voltage) (explain.Answer, error) {
		if low <= 0 {
			return explain.Answer{}, fmt.Errorf("the lower voltage must be above zero")
		}
		return explain.Is(quantity.Factor(high / low))
	}),
}

// The two ways in which a motor can have two voltages.
const (
	seriesParallel = "coils in parallel for the lower voltage, in series for the higher"
	starDelta      = "delta for the lower voltage, star for the higher"
)

var voltageMeaning = &explain.Formula{
	Name: "voltage-ratio-meaning", Title: "how a motor of two voltages is reconnected",
	Words:  "what {voltage ratio} says: 1.9 to 2.1 series or parallel, 1.65 to 1.85 star or delta",
	Inputs: []explain.Parameter{{Name: "voltage ratio", Kind: quantity.KindFactor, Help: "higher over lower nameplate voltage", Example: "2"}},
	Result: quantity.KindText, Source: explain.Source{Work: "NEMA MG 1", Place: "part 2, terminal markings; IEC 60034-8"}.Remembered(),
	Compute: explain.Of1(func(ratio quantity.Factor) (explain.Answer, error) {
		switch {
		case ratio >= 1.9 && ratio <= 2.1:
			return explain.Answer{Value: quantity.Text(seriesParallel), Words: "{voltage ratio} lies within 1.9 to 2.1: series or parallel"}, nil
		case ratio >= 1.65 && ratio <= 1.85:
			return explain.Answer{Value: quantity.Text(starDelta), Words: "{voltage ratio} lies within 1.65 to 1.85: star or delta"}, nil
		}
		return explain.Answer{}, fmt.Errorf("a ratio of %s is neither 2 (series or parallel) nor 1.73 (star or delta): read the plate again", ratio.Show(quantity.InchUnits))
	}),
}

var baseFrequency = &explain.Formula{
	Name: "base-frequency", Title: "output frequency up to which the motor has full torque",
	Words: "{plate frequency} × {available voltage} ÷ {motor voltage}, at most {plate frequency}",
	Inputs: []explain.Parameter{
		plateFrequencyParameter,
		availableParameter,
		motorVoltageParameter,
	},
	Result: quantity.KindFrequency, Source: explain.Physics("flux, and so torque, follows volts per hertz"),
	Compute: explain.Of3(func(f quantity.Frequency, available, wanted quantity.Voltage) (explain.Answer, error) {
		if wanted <= 0 {
			return explain.Answer{}, fmt.Errorf("the motor voltage must be above zero")
		}
		if available >= wanted {
			return explain.Answer{Value: f, Words: "{plate frequency}, as {available voltage} is no less than {motor voltage}"}, nil
		}
		return explain.Answer{Value: f * quantity.Frequency(available/wanted), Words: "{plate frequency} × {available voltage} ÷ {motor voltage}"}, nil
	}),
}

var powerLeft = &explain.Formula{
	Name: "power-left", Title: "part of the nameplate power that an under-supplied motor gives",
	Words: "{available voltage} ÷ {motor voltage}, at most 100 %",
	Inputs: []explain.Parameter{
		availableParameter,
		motorVoltageParameter,
	},
	Result: quantity.KindRatio, Source: explain.Physics("above the base frequency the torque falls as the speed rises: the power stays what it was there"),
	Compute: explain.Of2(func(available, wanted quantity.Voltage) (explain.Answer, error) {
		if wanted <= 0 {
			return explain.Answer{}, fmt.Errorf("the motor voltage must be above zero")
		}
		return explain.Is(min(quantity.Part(available, wanted), 1))
	}),
}

// voltage fills r.Voltage for a drive that makes gain volts out of each volt in.
func voltage(r *Result, gain explain.Known[quantity.Factor]) {
	m := &r.Job.Motor
	r.Voltage = VoltageAnswer{}
	v := &r.Voltage
	v.Gain = gain
	v.Available = explain.Derive[quantity.Voltage](driveOutputVoltage, "most volts on the motor", r.Job.Supply.Voltage, gain)
	v.Wanted = wantedVoltage(m, v.Available)
	low, high := plateVoltages(m)
	v.Ratio = explain.Derive[quantity.Factor](voltageRatio, "ratio of the plate's voltages", high, low)
	if !low.OK() {
		v.Ratio = absentFrom[quantity.Factor]("ratio of the plate's voltages", low.Why().Note, m.Voltages)
	}
	v.Meaning = explain.Derive[quantity.Text](voltageMeaning, "what the plate's voltages mean", v.Ratio)
	if m.Voltages.Set && len(m.Voltages.Value) == 1 {
		v.Meaning = explain.Chosen[quantity.Text]("what the plate's voltages mean", "one voltage only", "{"+m.Voltages.Name+"} is one figure", explain.Source{}, m.Voltages)
	}
	f := plateFrequency(r.Job)
	v.BaseFrequency = explain.Derive[quantity.Frequency](baseFrequency, "base frequency", f, v.Available, v.Wanted)
	v.FullPower = explain.Derive[quantity.Ratio](powerLeft, "part of the nameplate power that is left", v.Available, v.Wanted)
	if p, ok := connectionAt(m, v.Wanted.Value); ok && v.Available.OK() {
		v.Enough = p.reached(v.Available.Value)
	}
}

// outOfReach reports whether a drive on this supply leaves the motor less of its power than the work asks. Nothing else is
// settled then: which drive, wire and breaker follow depends on the way out that is taken.
func outOfReach(r *Result) bool {
	v := r.Voltage
	return v.Available.OK() && v.Wanted.OK() && !v.Enough && v.FullPower.Value < demandsOf(r.Job).load.Value
}

// plateVoltages returns the lowest and the highest voltage of the plate; both missing when it has fewer than two.
func plateVoltages(m *job.Motor) (low, high explain.Known[quantity.Voltage]) {
	volts := m.Voltages.Value
	if !m.Voltages.Set || len(volts) < 2 {
		needs := explain.Say("the plate gives one voltage")
		if !m.Voltages.Set {
			needs = explain.Say("needs " + m.Voltages.Name)
		}
		return explain.Absent[quantity.Voltage]("lower nameplate voltage", needs), explain.Absent[quantity.Voltage]("higher nameplate voltage", needs)
	}
	top := volts[0]
	for _, v := range volts {
		top = max(top, v)
	}
	// the highest of the lower group: of 208/230/460 V the pair is 230/460
	bottom := quantity.Voltage(0)
	for _, v := range volts {
		if v < top*0.75 {
			bottom = max(bottom, v)
		}
	}
	if bottom == 0 {
		needs := explain.Say("the plate's voltages are one range")
		return explain.Absent[quantity.Voltage]("lower nameplate voltage", needs), explain.Absent[quantity.Voltage]("higher nameplate voltage", needs)
	}
	return explain.Chosen("lower nameplate voltage", bottom, "the lower of {"+m.Voltages.Name+"}", explain.Source{}, m.Voltages),
		explain.Chosen("higher nameplate voltage", top, "the higher of {"+m.Voltages.Name+"}", explain.Source{}, m.Voltages)
}

// wantedVoltage returns the nameplate voltage to connect for: the nearest that the drive can make within the motor's
// tolerance, the lowest on the plate when it can make none. Of a connection with a range it is the voltage of the range that
// the motor gets: 208 V of 208-230 V on a 208 V supply, where the motor has its full power and the table's 208 V current.
func wantedVoltage(m *job.Motor, available explain.Known[quantity.Voltage]) explain.Known[quantity.Voltage] {
	const name = "motor voltage to connect for"
	volts := m.Voltages.Value
	if !m.Voltages.Set || len(volts) == 0 {
		k := explain.Absent[quantity.Voltage](name, explain.Say("needs "+m.Voltages.Name))
		k.Why().Inputs = []explain.Input{{As: m.Voltages.Name, Reason: m.Voltages.Why()}}
		return k
	}
	ranges := plateRanges(m)
	if len(ranges) == 1 && (!available.OK() || ranges[0].low == ranges[0].high) {
		return explain.Chosen(name, ranges[0].high, "the only one of {"+m.Voltages.Name+"}", explain.Source{}, m.Voltages)
	}
	if !available.OK() {
		k := explain.Absent[quantity.Voltage](name, explain.Say("needs "+available.Why().Name))
		k.Why().Inputs = []explain.Input{{As: available.Why().Name, Reason: available.Why()}}
		return k
	}
	least, best := ranges[0], -1
	off := func(p plateRange) float64 { return math.Abs(float64(available.Value - p.at(available.Value))) }
	for n, p := range ranges {
		if p.low < least.low {
			least = p
		}
		if p.reached(available.Value) && (best < 0 || off(p) < off(ranges[best])) {
			best = n
		}
	}
	if best < 0 {
		return explain.Chosen(name, least.at(available.Value), "the lowest of {"+m.Voltages.Name+"}, though {"+available.Why().Name+"} doesn't reach it", toleranceSource, m.Voltages, available)
	}
	p := ranges[best]
	k := explain.Chosen(name, p.at(available.Value), "the one of {"+m.Voltages.Name+"} nearest to {"+available.Why().Name+"} that it reaches within 10 %", toleranceSource, m.Voltages, available)
	if p.low < p.high {
		k = k.Noted(explain.Say("the plate makes the motor for anything from {} to {} on this connection", p.low, p.high))
	}
	return k
}

// ownGain returns what the user's own drive makes of each volt in.
func ownGain(j *job.Job) explain.Known[quantity.Factor] {
	const name = "volts out per volt in"
	d := &j.Drive
	if d.OutputVoltage.Set && d.InputVoltage.Set && len(d.InputVoltage.Value) > 0 {
		highest := d.InputVoltage.Value[0]
		for _, v := range d.InputVoltage.Value {
			highest = max(highest, v)
		}
		if ratio := d.OutputVoltage.Value / highest; ratio > 1.1 || ratio < 0.95 {
			return explain.Chosen(name, quantity.Factor(ratio), "{"+d.OutputVoltage.Name+"} ÷ {"+d.InputVoltage.Name+"}", explain.Physics("a drive's output follows its input"), d.OutputVoltage, d.InputVoltage)
		}
	}
	if d.OutputVoltage.Set && !d.InputVoltage.Set && j.Supply.Voltage.Set && d.OutputVoltage.Value > 1.5*j.Supply.Voltage.Value {
		return explain.Chosen[quantity.Factor](name, 2, "{"+d.OutputVoltage.Name+"} is about twice {"+j.Supply.Voltage.Name+"}: a doubler", explain.Practice("doubler drives"), d.OutputVoltage, j.Supply.Voltage)
	}
	if d.InputPhases.Set && d.InputPhases.Value == 3 && supplyPhases(j).Value == 1 {
		return deratedGain()
	}
	return plainGain()
}

// plainGain is the gain of a drive whose output follows its input.
func plainGain() explain.Known[quantity.Factor] {
	return explain.Constant[quantity.Factor]("volts out per volt in", 1, explain.Physics("a drive's output can't exceed its input"))
}

// deratedGain is the gain of a three-phase-input drive on a single-phase supply, whose DC link sags between the charging
// pulses: 228 V of supply make 207 V at the motor.
func deratedGain() explain.Known[quantity.Factor] {
	return explain.Constant[quantity.Factor]("volts out per volt in", 0.908, singlePhaseBook)
}

// doublerGain is the gain of a drive that charges its DC link from both half waves in turn.
func doublerGain() explain.Known[quantity.Factor] {
	return explain.Constant[quantity.Factor]("volts out per volt in", 2, explain.Physics("a doubler charges each half of its DC link to the supply's peak"))
}

// wantsDoubler reports whether the job, which names no drive, is one for a typical doubler: a supply of the 120 V class, a
// motor that needs more and is no larger than doublers are made.
func wantsDoubler(j *job.Job) bool {
	list := catalogue.DoublerDrives()
	if !j.Supply.Voltage.Set || supplyPhases(j).Value != 1 || len(list) == 0 {
		return false
	}
	largest := list[len(list)-1]
	v := j.Supply.Voltage.Value
	return v >= largest.Least && v <= largest.Most && (!j.Motor.Power.Set || j.Motor.Power.Value <= largest.Power*1.015)
}
