package power

import (
	"fmt"
	"math"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/input/catalogue"
	"drivewright/internal/input/job"
)

var converterAmpacity = &explain.Formula{
	Name: "converter-ampacity", Title: "least ampacity of the single-phase conductors to a phase converter, variable loads",
	Words:  "{converter input current} × 125 %",
	Inputs: []explain.Parameter{{Name: "converter input current", Kind: quantity.KindCurrent, Help: "single-phase, on its nameplate", Example: "32 A"}},
	Result: quantity.KindCurrent, Source: explain.NEC("455.6(A)(1)").Remembered(),
	Compute: explain.Of1(func(i quantity.Current) (explain.Answer, error) {
		return explain.Is(quantity.Scale(i, 125*quantity.Percent))
	}),
}

var converterFixedAmpacity = &explain.Formula{
	Name: "converter-ampacity-fixed-load", Title: "least ampacity of the single-phase conductors to a phase converter with fixed loads",
	Words: "{three-phase full-load current} × 250 % × {output voltage} ÷ {input voltage}",
	Inputs: []explain.Parameter{
		{Name: "three-phase full-load current", Kind: quantity.KindCurrent, Help: "sum of the motors", Example: "15.2 A"},
		{Name: "output voltage", Kind: quantity.KindVoltage, Help: "three-phase", Example: "240 V"},
		{Name: "input voltage", Kind: quantity.KindVoltage, Help: "single-phase", Example: "240 V"},
	},
	Result: quantity.KindCurrent, Source: explain.NEC("455.6(A)(2)").Remembered(),
	Compute: explain.Of3(func(i quantity.Current, out, in quantity.Voltage) (explain.Answer, error) {
		if in <= 0 {
			return explain.Answer{}, fmt.Errorf("the input voltage must be above zero")
		}
		return explain.Is(quantity.Scale(quantity.Scale(i, 250*quantity.Percent), quantity.Part(out, in)))
	}),
}

// staticPower is the part of the plate power that a motor gives on a static converter, which lets it run on one phase.
const staticPower = quantity.Ratio(2.0 / 3)

var staticConverterCurrent = &explain.Formula{
	Name: "static-converter-current", Title: "supply current of a motor that a static converter started, at the two thirds of its power that it then gives",
	Words:  "√3 × ⅔ × {motor current}",
	Inputs: []explain.Parameter{motorCurrentParameter},
	Result: quantity.KindCurrent, Source: explain.Practice("a three-phase motor on one phase gives about two thirds of its power"),
	Compute: explain.Of1(func(i quantity.Current) (explain.Answer, error) {
		return explain.Is(quantity.Scale(quantity.Current(math.Sqrt(3))*i, staticPower))
	}),
}

var motorConductorAmpacity = &explain.Formula{
	Name: "motor-branch-ampacity", Title: "least ampacity of the conductors of a motor's own branch circuit",
	Words:  "{motor current} × 125 %",
	Inputs: []explain.Parameter{{Name: "motor current", Kind: quantity.KindCurrent, Help: "full-load current from the table, not the nameplate", Example: "14 A"}},
	Result: quantity.KindCurrent, Source: explain.NEC("430.22"),
	Compute: explain.Of1(func(i quantity.Current) (explain.Answer, error) {
		return explain.Is(quantity.Scale(i, 125*quantity.Percent))
	}),
}

// compareWays fills r.Ways. Motor side and supply side have run. With a three-phase supply there is nothing to compare.
func compareWays(r *Result) {
	if supplyPhases(r.Job).Value == 3 || !r.Job.Supply.Voltage.Set || !r.Job.Motor.Power.Set {
		return
	}
	drive, derated := singlePhaseDriveWay(r), deratedDriveWay(r)
	if r.Drive.Own {
		if onOnePhase(*r) {
			derated.own(r)
		} else {
			drive.own(r)
		}
	}
	r.Ways = []Way{drive, derated, rotaryWay(r), staticWay(r), newMotorWay(r)}
	if w, ok := stepUpWay(r); ok {
		r.Ways = append(r.Ways, w)
	}
	onlyOneMotor(r)
	for n := range r.Ways {
		w := &r.Ways[n]
		if w.short {
			// Figures of what can't work would be read as figures to buy by.
			*w = Way{Name: w.Name, Why: w.Why, Braking: w.Braking, Reversible: w.Reversible, FullTorque: w.FullTorque}
		}
		if !w.Current.OK() {
			w.Current = explain.Absent[quantity.Current]("input current, "+w.Name, w.Why)
		}
	}
}

// own puts the user's own drive in the place of a typical one.
func (w *Way) own(r *Result) {
	d := r.Drive
	if !d.Output.OK() || !d.Needed.OK() || !d.Input.OK() {
		return
	}
	w.Size, w.Input, w.Current, w.Losses = d.Marked.Value, d.Input.Value, d.Input, quantityOrUnknown(d.Losses)
	w.Why = explain.Say("your own: gives {} here, {} needed", d.Output.Value, d.Needed.Value)
	w.Feasible = r.Voltage.Enough && d.Output.Value >= d.Needed.Value
	w.FullTorque = quantityOrUnknown(r.Voltage.FullPower)
	if !r.Voltage.Enough {
		w.Why = explain.Say("your own makes only {} of the motor's {}", quantityOrUnknown(r.Voltage.Available), quantityOrUnknown(r.Voltage.Wanted))
	}
	if !w.PriceQuoted {
		w.Price = nil // it is there already
	}
	least := quantity.Scale(d.Input.Value, r.Code.DriveConductor.Value)
	w.wire(r, least, least)
}

// onlyOneMotor marks the ways that the motors of the machine rule out.
func onlyOneMotor(r *Result) {
	single, motors := isSinglePhaseMotor(&r.Job.Motor), motorsOnMachine(r.Job)
	for n := range r.Ways {
		w := &r.Ways[n]
		byDrive := w.Braking == driveBraking
		switch {
		case single && w.Name == newMotorName:
			w.Why = explain.Say("the motor is one already: it runs on the supply as it is")
		case single:
			w.Feasible, w.Why = false, explain.Say("the motor is single-phase")
		case motors > 1 && (byDrive || w.Name == newMotorName):
			w.Feasible, w.Why = false, explain.Say("serves one of {} motors", motors)
		}
	}
}

// newMotorName is the name of the way that replaces the motor.
const newMotorName = "single-phase motor instead"

// wire fills conductor and device of a way whose circuit must carry the least ampacity; device is the smallest standard
// rating of at least the given current. Behind a motor's own device, which stands high for the start, the conductor goes by its
// ampacity alone.
func (w *Way) wire(r *Result, least, device quantity.Current) {
	rating, ok := r.Code.Standard.AtLeast(device, false)
	if !ok {
		return
	}
	w.Device = rating
	if !r.Code.hasTables() {
		return
	}
	b := &r.Branch
	suited := min(rating, least)
	if device > least { // a motor's device, set for the start: the small-conductor limits don't apply (NFPA 70, 240.4(G))
		suited = 1
	}
	size := explain.Derive[quantity.Conductor](smallestBranchConductor, "branch conductor of this way",
		explain.Constant("least ampacity of this way", least, explain.Source{}), explain.Constant("device of this way", suited, explain.Source{}),
		b.Insulation, b.Terminals, b.Ambient, b.Together)
	if size.OK() {
		w.Conductor = size.Value
	}
}

// priced fills the price of a way: the quoted one, else the typical.
func (w *Way) priced(quoted job.Given[quantity.Money], typical quantity.Money) {
	w.Price = typical
	if quoted.Set {
		w.Price, w.PriceQuoted = quoted.Value, true
	}
}

// lowSpeed is the least useful frequency under a drive: where the motor's own cooling still carries the work.
func lowSpeed(r *Result) quantity.Value {
	if !r.Cooling.Slowest.OK() {
		return nil
	}
	return max(r.Cooling.Slowest.Value, 3) // below some 3 Hz a motor on a plain drive turns in jerks: common practice
}

const (
	driveBraking = "ramp; faster with a resistor"
	plainBraking = "none: it coasts"
	undoDrive    = "yes"
)

// shortOf says what is left where a gain leaves the motor short of volts.
func shortOf(r *Result, gain quantity.Factor) (left quantity.Ratio, enough bool) {
	wanted := r.Voltage.Wanted
	if !wanted.OK() {
		return 0, false
	}
	available := quantity.Scale(r.Job.Supply.Voltage.Value, gain)
	return min(quantity.Part(available, wanted.Value), 1), available >= wanted.Value*(1-motorTolerance)
}

// driveWay fills what two ways by drive have in common.
func driveWay(r *Result, name string, list []catalogue.Drive, kept explain.Known[quantity.Ratio], gain quantity.Factor, quoted job.Given[quantity.Money]) Way {
	w := Way{Name: name, Braking: driveBraking, Reversible: undoDrive, LowSpeed: lowSpeed(r)}
	needed := r.Drive.Needed
	if !needed.OK() {
		w.Why = explain.Say("needs " + needed.Why().Name)
		return w
	}
	if v := r.Job.Supply.Voltage.Value; !madeFor(list, v) {
		w.Why = explain.Say("not commonly made for {}", v)
		return w
	}
	left, enough := shortOf(r, gain)
	w.FullTorque = left
	factor := deratings(r.Job).factor()
	for n := range list {
		d := &list[n]
		if quantity.Scale(quantity.Scale(d.Output, kept.Value), factor) < needed.Value {
			continue
		}
		input := explain.Part("input current, "+name, d.Input, d.Name)
		if kept.Value < 1 {
			rated := explain.Part("rated three-phase input current, "+name, d.Input, d.Name)
			input = explain.Derive[quantity.Current](deratedInput, "input current, "+name, rated, kept)
		}
		w.Size, w.Input, w.Current = d.Output, input.Value, input
		w.Losses = d.Losses
		w.priced(quoted, d.Price)
		w.Feasible = enough
		w.Why = explain.Say("{} marked output, {} needed", d.Output, needed.Value)
		if !enough {
			w.short = true
			w.Why = explain.Say("makes only {} of the motor's {}", quantity.Scale(r.Job.Supply.Voltage.Value, gain), r.Voltage.Wanted.Value)
		}
		least := quantity.Scale(input.Value, r.Code.DriveConductor.Value)
		w.wire(r, least, least)
		return w
	}
	w.Why = explain.Say("no typical drive of this kind gives {} here", needed.Value)
	return w
}

func singlePhaseDriveWay(r *Result) Way {
	list, gain := catalogue.SinglePhaseDrives(), quantity.Factor(1)
	if wantsDoubler(r.Job) {
		list, gain = catalogue.DoublerDrives(), 2
	}
	return driveWay(r, "single-phase-input drive", list, allKept, gain, r.Job.Costs.Drive)
}

func deratedDriveWay(r *Result) Way {
	list := catalogue.ThreePhaseDrives()
	if r.Job.Supply.Voltage.Value > 300 {
		list = catalogue.HighVoltageDrives()
	}
	w := driveWay(r, "three-phase-input drive, derated", list, halfKept, deratedGain().Value, r.Job.Costs.ThreePhaseDrive)
	if w.Feasible {
		w.Why = explain.Say("run at half of {}: only if its maker allows one phase and lets the phase-loss trip be set off", w.Size)
	}
	return w
}

// houseVoltage reports whether the voltage is one of the 208 to 240 V class, for which converters are made.
func houseVoltage(v quantity.Voltage) bool { return v >= 187 && v <= 264 }

func rotaryWay(r *Result) Way {
	w := Way{Name: "rotary converter", Braking: plainBraking, LowSpeed: quantity.Text("plate speed only"), Reversible: undoDrive}
	j := r.Job
	p := j.Motor.Power.Value
	hard := j.Machine.HardStart.Value == "heavy wheel" || j.Machine.HardStart.Value == "loaded"
	several := motorsOnMachine(j) > 1
	if !houseVoltage(j.Supply.Voltage.Value) {
		w.Why = explain.Say("commonly made for 208 to 240 V, not for {}", j.Supply.Voltage.Value)
		return w
	}
	for _, c := range catalogue.RotaryConverters() {
		largest := c.Light
		if hard {
			largest = c.Hard
		}
		if largest < p*0.985 {
			continue
		}
		input := explain.Part("rated input current of the rotary converter", c.Input, c.Source.String())
		w.Size, w.Input, w.Current = c.Power, c.Input, explain.Renamed("input current, rotary converter", input)
		w.Losses = c.Idle
		w.priced(j.Costs.Converter, c.Price)
		left, enough := shortOf(r, 1)
		w.Feasible = enough
		w.FullTorque = quantity.Ratio(1)
		w.Why = explain.Say("starts one motor of {} after another; it hums and idles at {} whenever it is on", largest, c.Idle)
		if several {
			w.Why = explain.Say("serves every motor of the machine, started one after another, the largest {}; idles at {}", largest, c.Idle)
		}
		if !enough {
			// Across the line the torque falls with the square of the volts; the power left is no figure to work with.
			w.short, w.FullTorque = true, nil
			w.Why = explain.Say("only with a step-up transformer behind it: the motor asks {}, and on the supply's own volts would have {} of its torque", r.Voltage.Wanted.Value, left*left)
			return w
		}
		least := converterCircuit(r, input)
		if !several && c.Power > p {
			// It is large for the start; running, it draws for the one motor that it feeds.
			power := explain.Part("power of the rotary converter", c.Power, c.Source.String())
			w.Current = explain.Chosen("input current, rotary converter", quantity.Scale(input.Value, quantity.Part(p, c.Power)),
				"{"+input.Why().Name+"} × {"+j.Motor.Power.Name+"} ÷ {"+power.Why().Name+"}", explain.Practice("input current in proportion to the load"), input, j.Motor.Power, power)
			w.Input = w.Current.Value
		}
		w.wire(r, least.Value, least.Value)
		return w
	}
	w.Why = explain.Say("no typical one starts a motor of {}", p)
	return w
}

// converterCircuit is the least ampacity of the conductors to a rotary converter: 250 % of the full-load current of one motor
// that stays the only one, 125 % of the converter's own input current where the loads change.
func converterCircuit(r *Result, input explain.Known[quantity.Current]) explain.Known[quantity.Current] {
	const name = "least ampacity to the rotary converter"
	if !r.Code.hasTables() {
		return explain.Constant(name, quantity.Scale(input.Value, r.Code.DriveConductor.Value), r.Code.DriveConductor.Why().Source)
	}
	if supply := job.Known(r.Job.Supply.Voltage); motorsOnMachine(r.Job) == 1 && r.Motor.Table.OK() && supply.OK() {
		return explain.Derive[quantity.Current](converterFixedAmpacity, name, r.Motor.Table, supply, supply)
	}
	return explain.Derive[quantity.Current](converterAmpacity, name, input)
}

func staticWay(r *Result) Way {
	w := Way{Name: "static converter", Braking: plainBraking, LowSpeed: quantity.Text("plate speed only"), FullTorque: staticPower, Reversible: undoDrive}
	j := r.Job
	if !r.Motor.Nameplate.OK() {
		w.Why, w.FullTorque = explain.Say("needs "+r.Motor.Nameplate.Why().Name), nil
		return w
	}
	if !houseVoltage(j.Supply.Voltage.Value) {
		w.Why = explain.Say("commonly made for 208 to 240 V, not for {}", j.Supply.Voltage.Value)
		return w
	}
	_, enough := shortOf(r, 1)
	load := demandsOf(j).load
	for _, c := range catalogue.StaticConverters() {
		if c.Power < j.Motor.Power.Value*0.985 {
			continue
		}
		input := explain.Derive[quantity.Current](staticConverterCurrent, "input current, static converter", r.Motor.Nameplate)
		w.Size, w.Input, w.Current = c.Power, input.Value, input
		w.Price = c.Price
		switch {
		case !enough:
			w.short, w.FullTorque = true, nil
			w.Why = explain.Say("the supply's {} isn't the motor's {}", j.Supply.Voltage.Value, r.Voltage.Wanted.Value)
		case load.Value > staticPower:
			w.Why = explain.Say("leaves about {} of the power, {} is asked; the motor runs hot on one phase", staticPower, load.Value)
		default:
			w.Feasible = true
			w.Why = explain.Say("starts it and lets it run on one phase, at about {} of its power", staticPower)
		}
		least := quantity.Scale(input.Value, 125*quantity.Percent)
		w.wire(r, least, 2*least) // the start takes a device of some 250 % of the current
		return w
	}
	w.Why = explain.Say("no typical one starts a motor of {}", j.Motor.Power.Value)
	return w
}

func newMotorWay(r *Result) Way {
	w := Way{Name: newMotorName, Braking: plainBraking, LowSpeed: quantity.Text("plate speed only"), Reversible: "yes, if the old motor is kept"}
	j := r.Job
	if v := j.Supply.Voltage.Value; v > 264 {
		w.Why = explain.Say("single-phase motors are not commonly made for {}", v)
		return w
	}
	volts := explain.Renamed("voltage of a single-phase motor", job.Known(j.Supply.Voltage))
	table := r.Code.Motor.SinglePhase
	current := explain.Absent[quantity.Current]("input current, single-phase motor", explain.Say("this rule set has no table of single-phase motors: read the new motor's plate"))
	if table != nil {
		current = explain.Derive[quantity.Current](table, "input current, single-phase motor", j.Motor.Power, volts)
	}
	for _, m := range catalogue.SinglePhaseMotors() {
		if m.Power < j.Motor.Power.Value*0.985 {
			continue
		}
		if table != nil && !current.OK() {
			break
		}
		w.Feasible = true
		w.Size, w.Current = m.Power, current
		w.FullTorque = quantity.Ratio(1)
		w.Losses = quantity.Power(float64(m.Power) * (1/float64(m.Efficiency) - 1))
		w.priced(j.Costs.Motor, m.Price)
		w.Why = explain.Say("one speed, no soft start, reverse only at rest; frame, shaft and pulley must be matched")
		if current.OK() {
			w.Input = current.Value
			least := explain.Derive[quantity.Current](motorConductorAmpacity, "least ampacity to a single-phase motor", current)
			w.wire(r, least.Value, quantity.Scale(current.Value, 250*quantity.Percent))
		}
		return w
	}
	w.Why = explain.Say("single-phase motors of {} are not commonly made for {}", j.Motor.Power.Value, j.Supply.Voltage.Value)
	return w
}

// stepUpWay is a transformer and a drive of the 480 V class, for motors that ask for volts the supply doesn't have; false where
// there is no call for it.
func stepUpWay(r *Result) (Way, bool) {
	size, m := r.Voltage.StepUp, r.Motor.Nameplate
	if !size.OK() || !m.OK() {
		return Way{}, false
	}
	w := Way{Name: "step-up transformer and 480 V drive, derated", Braking: driveBraking, Reversible: undoDrive, LowSpeed: lowSpeed(r),
		FullTorque: min(quantity.Part(steppedUp(), r.Voltage.Wanted.Value), 1)}
	d, high := stepUpDrive(r)
	if d == nil {
		return w, false
	}
	input := explain.Derive[quantity.Current](transformerPrimary, "input current, step-up transformer and 480 V drive", high, secondaryVoltage, job.Known(r.Job.Supply.Voltage))
	w.Size, w.Input, w.Current = size.Value, input.Value, input
	w.Losses = d.Losses
	for _, t := range catalogue.StepUpTransformers() {
		if t.Rating == size.Value {
			w.Losses = d.Losses + t.Losses
			w.Price = d.Price + t.Price
		}
	}
	w.Feasible = true
	w.Why = explain.Say("the motor gets its own volts: transformer of {}, drive of {} marked output run at half of it, if its maker allows one phase", size.Value, d.Output)
	least := quantity.Scale(input.Value, r.Code.DriveConductor.Value)
	w.wire(r, least, least)
	return w, true
}

// secondaryVoltage is what a step-up transformer makes of a 240 V supply.
var secondaryVoltage = explain.Assume[quantity.Voltage]("secondary voltage", 480, explain.Practice("step-up transformers"), explain.Say("240 to 480 V"))

var transformerPrimary = &explain.Formula{
	Name: "transformer-primary-current", Title: "current that a transformer draws for what it delivers",
	Words: "{secondary current} × {secondary voltage} ÷ {primary voltage}",
	Inputs: []explain.Parameter{
		{Name: "secondary current", Kind: quantity.KindCurrent, Help: "drawn from it", Example: "10 A"},
		{Name: "secondary voltage", Kind: quantity.KindVoltage, Help: "that it delivers", Example: "480 V"},
		{Name: "primary voltage", Kind: quantity.KindVoltage, Help: "that it is fed with", Example: "240 V"},
	},
	Result: quantity.KindCurrent, Source: explain.Physics("equal apparent power on both sides"),
	Compute: explain.Of3(func(i quantity.Current, secondary, primary quantity.Voltage) (explain.Answer, error) {
		if primary <= 0 {
			return explain.Answer{}, fmt.Errorf("the primary voltage must be above zero")
		}
		return explain.Is(i * quantity.Current(secondary/primary))
	}),
}
